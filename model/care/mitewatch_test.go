package care_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// byDay are looks for mites by day.
type byDay = care.MiteDays

// atIt is where a look counts.
var atIt = []care.MiteWhere{care.OnAnimal}

const (
	none, speck, mite = care.NoMites, care.MiteSpeck, care.SeveralMites
)

// always is a watch of so many days, whatever becomes known.
func always(days int) care.Lasting { return func(model.Day) int { return days } }

// weekly are looks of that grade, a week apart from the first day to the last.
func weekly(m byDay, g care.MiteGrade, from, to model.Day) byDay {
	for day := from; day <= to; day += 7 {
		m[day] = g
	}
	return m
}

// The watch lasts 42 days from the last mites: an egg of 98 hours, a larva of 47
// and an unfed nymph of 31 days are 37 (memory: Wozniak and DeNardo 2000), adults
// live 40 (seen: an article summarising Camin 1953); looks are at most 10 days apart
// (common practice, no source).
func TestMiteDays_Watch(t *testing.T) {
	tables := shipped(t)
	for _, c := range []struct {
		name  string
		looks byDay
		days  int
		today model.Day
		ends  model.Day // 0: no end is told
		next  model.Day // 0: nothing is watched for
	}{
		{"no look", byDay{}, 42, 1100, 0, 0},
		{"none seen", byDay{1000: none}, 42, 1001, 0, 0},
		{"mites today", byDay{1000: mite}, 42, 1000, 1042, 1007},
		{"one clear look", byDay{1000: mite, 1007: none}, 42, 1007, 1042, 1014},
		{"weekly, a day too early", weekly(byDay{1000: mite}, none, 1006, 1041), 42, 1041, 1042, 1048},
		{"weekly, to the day", weekly(byDay{1000: mite}, none, 1007, 1042), 42, 1042, 0, 0},
		{"the same where it is cool", weekly(byDay{1000: mite}, none, 1007, 1042), 77, 1042, 1077, 1049},
		{"to the day where it is cool", weekly(byDay{1000: mite}, none, 1007, 1077), 77, 1077, 0, 0},
		{"a gap of ten days", byDay{1000: mite, 1010: none, 1020: none, 1030: none, 1040: none, 1042: none}, 42, 1042, 0, 0},
		{"one of eleven", byDay{1000: mite, 1011: none, 1020: none, 1030: none, 1040: none, 1042: none}, 42, 1042, 1053, 1049},
		{"a gap that is not over", byDay{1000: mite, 1007: none}, 42, 1030, 1072, 1014},
		{"a speck", byDay{1000: speck}, 42, 1001, 0, 1003},
		{"a speck, then none", byDay{1000: speck, 1003: none}, 42, 1003, 0, 0},
		{"a speck is neither", byDay{1000: mite, 1007: none, 1014: speck}, 42, 1014, 1042, 1017},
		{"and no look to bridge a gap", byDay{1000: mite, 1007: none, 1014: speck, 1018: none}, 42, 1018, 1060, 1025},
		{"nor to end it", func() byDay { m := weekly(byDay{1000: mite}, none, 1007, 1035); m[1042] = speck; return m }(), 42, 1042, 1042, 1045},
		{"a speck when it was over", func() byDay { m := weekly(byDay{1000: mite}, none, 1007, 1042); m[1050] = speck; return m }(), 42, 1050, 0, 1053},
		{"mites again", weekly(byDay{900: mite, 1000: mite}, none, 907, 991), 42, 1000, 1042, 1007},
		{"what is still to come", byDay{1000: none, 1010: mite}, 42, 1005, 0, 0},
		{"nobody looked for more than half a year", byDay{1000: mite}, 42, 1211, 1253, 1007},
		{"nor for years", byDay{1000: mite}, 42, 3000, 3042, 1007},
		{"one clear look, and then nobody looked", byDay{1000: mite, 1007: none}, 42, 1300, 1342, 1014},
		{"long ago, and looked at since", byDay{1000: mite, 1100: none, 1200: none}, 42, 1211, 1253, 1207},
		{"years ago, and looked at since", byDay{1000: mite, 2000: none, 2010: none}, 42, 2012, 2042, 2017},
		{"years ago, and over", weekly(byDay{1000: mite}, none, 2000, 2042), 42, 2045, 0, 0},
		{"a speck, and nobody looked for more than half a year", byDay{1000: speck}, 42, 1211, 0, 1003},
	} {
		w, watching := c.looks.Watch(tables, nil, always(c.days), c.today)
		if watching != (c.next > 0) || w.Ends != c.ends || w.Next != c.next {
			t.Errorf("%s: %+v, %v; want ends %d, next %d", c.name, w, watching, c.ends, c.next)
		}
	}
}

// Older looks say nothing more once mites were seen, or none was for as long as the
// longest watch: 77 days, with looks at most 10 days apart.
func TestMiteDays_Decided(t *testing.T) {
	tables := shipped(t)
	for name, c := range map[string]struct {
		looks   byDay
		decided bool
	}{
		"no look":                 {byDay{}, false},
		"mites":                   {byDay{1000: mite}, true},
		"a speck":                 {byDay{1000: speck}, false},
		"one clear look":          {byDay{1000: none}, false},
		"77 days":                 {weekly(byDay{}, none, 1000, 1077), true},
		"76 days":                 {func() byDay { m := weekly(byDay{}, none, 1000, 1070); m[1076] = none; return m }(), false},
		"77 days, ten days apart": {byDay{1000: none, 1010: none, 1020: none, 1030: none, 1040: none, 1050: none, 1060: none, 1070: none, 1077: none}, true},
		"77 days, and one gap":    {byDay{1000: none, 1010: none, 1021: none, 1030: none, 1040: none, 1050: none, 1060: none, 1070: none, 1077: none}, false},
		"77 days, and then a gap": {func() byDay { m := weekly(byDay{}, none, 1000, 1077); m[1200] = none; return m }(), true},
		"a speck bridges no gap":  {func() byDay { m := weekly(byDay{}, none, 1000, 1077); m[1035] = speck; return m }(), false},
		"a gap, and then 77 days": {func() byDay { m := weekly(byDay{}, none, 1000, 1077); m[900] = none; return m }(), true},
	} {
		if c.looks.Decided(tables) != c.decided {
			t.Errorf("%s: decided %v", name, !c.decided)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		looks, older := byDay{}, byDay{}
		for day := model.Day(900); day < 1100; day++ {
			if rapid.IntRange(0, 4).Draw(t, "looked") > 0 {
				continue
			}
			g := rapid.SampledFrom([]care.MiteGrade{none, none, none, none, speck, mite}).Draw(t, "grade")
			if older[day] = g; day >= 1000 {
				looks[day] = g
			}
		}
		if !looks.Decided(tables) {
			return
		}
		today := model.Day(rapid.IntRange(1100, 1150).Draw(t, "today"))
		a, one := looks.Watch(tables, nil, always(77), today)
		if b, other := older.Watch(tables, nil, always(77), today); a != b || one != other {
			t.Fatalf("%+v, with what is older %+v", a, b)
		}
	})
}

// Looks of one day count once, as the worst of them.
func TestMiteDays_LooksOfOneDay(t *testing.T) {
	tables := shipped(t)
	entry := func(day model.Day, g care.MiteGrade) care.Entry {
		return care.Entry{At: model.Moment{UTC: int64(day) * 86400}, Body: care.MiteLook{Grade: g, Where: atIt}}
	}
	within := care.MiteDaysOf([]care.Entry{entry(1000, none), entry(1000, none), entry(1000, mite)})
	if within.Gone(tables, 999, 1) || within.Gone(tables, 1000, 1) {
		t.Error("mites, and none within the minute, are gone")
	}
	if w, watching := within.Watch(tables, nil, always(42), 1000); !watching || w.Mites != 1000 {
		t.Errorf("mites, and none within the minute: %+v", w)
	}
	for name, c := range map[string]struct {
		m    byDay
		gone bool
	}{
		"none":                     {byDay{}, false},
		"two of a week":            {byDay{1007: none, 1014: none}, true},
		"two of six days":          {byDay{1007: none, 1013: none}, false},
		"three, first and last so": {byDay{1007: none, 1010: none, 1014: none}, true},
		"one":                      {byDay{1014: none}, false},
		"one and a speck":          {byDay{1007: speck, 1014: none}, false},
		"of the day itself":        {byDay{1000: none, 1007: none}, false},
	} {
		if c.m.Gone(tables, 1000, 2) != c.gone {
			t.Errorf("%s: gone %v", name, !c.gone)
		}
	}
}

// One look without mites more never makes the watch longer, and with mites it lasts
// all its days from them; warmth makes it no longer than the cold does; what is still to come counts nothing; the order of the entries is nothing to it.
func TestMiteDays_Properties(t *testing.T) {
	tables := shipped(t)
	rapid.Check(t, func(t *rapid.T) {
		grade := rapid.SampledFrom([]care.MiteGrade{none, none, none, speck, mite})
		day := rapid.IntRange(900, 1000)
		var entries []care.Entry
		for range rapid.IntRange(0, 25).Draw(t, "looks") {
			entries = append(entries, care.Entry{At: model.Moment{UTC: int64(day.Draw(t, "day")) * 86400}, Body: care.MiteLook{Grade: grade.Draw(t, "grade"), Where: atIt}})
		}
		days := rapid.SampledFrom([]int{tables.Value(knowledge.ValueMiteWatch), tables.Value(knowledge.ValueMiteWatchCool)}).Draw(t, "days")
		watch := func(entries []care.Entry) (care.MiteWatch, bool) {
			return care.MiteDaysOf(entries).Watch(tables, nil, always(days), 1000)
		}
		before, watching := watch(entries)
		if w, again := watch(rapid.Permutation(entries).Draw(t, "order")); w != before || again != watching {
			t.Fatalf("%+v, in another order %+v", before, w)
		}
		more := func(day int, g care.MiteGrade) (care.MiteWatch, bool) {
			return watch(append(entries[:len(entries):len(entries)], care.Entry{At: model.Moment{UTC: int64(day) * 86400}, Body: care.MiteLook{Grade: g, Where: atIt}}))
		}
		at := day.Draw(t, "one more")
		if w, longer := more(at, none); longer && !watching || w.Ends > before.Ends {
			t.Fatalf("%+v, with one look without mites more %+v", before, w)
		}
		if w, longer := more(at, mite); at+days > 1000 && (!longer || w.Ends < model.Day(at+days)) {
			t.Fatalf("%+v, with mites on day %d %+v", before, at, w)
		}
		if w, longer := more(1000+rapid.IntRange(1, 50).Draw(t, "to come"), grade.Draw(t, "grade to come")); w != before || longer != watching {
			t.Fatalf("%+v, with a look to come %+v", before, w)
		}
		if w, _ := care.MiteDaysOf(entries).Watch(tables, nil, always(tables.Value(knowledge.ValueMiteWatch)), 1000); days > 42 && w.Ends > before.Ends {
			t.Fatalf("warm %+v, cool %+v", w, before)
		}
	})
}

// A treatment hides mites as long as it acts: the watch counts from the later of the
// last mites and the last day on which one acts that was begun before it was over; 42
// days from there, with looks at most 10 days apart.
func TestMiteDays_WatchCountsFromTheTreatment(t *testing.T) {
	tables := shipped(t)
	clear := func(to model.Day) byDay { return weekly(byDay{1000: mite}, none, 1007, to) }
	for _, c := range []struct {
		name    string
		looks   byDay
		treated []care.Treated
		today   model.Day
		acts    model.Day // 0: it counts from the mites
		ends    model.Day // 0: it is over
	}{
		{"none", clear(1042), nil, 1042, 0, 0},
		{"one that acts for a month", clear(1042), []care.Treated{{On: 1001, Acts: 1031}}, 1042, 1031, 1073},
		{"the same, to the day", func() byDay { m := clear(1070); m[1073] = none; return m }(), []care.Treated{{On: 1001, Acts: 1031}}, 1073, 1031, 0},
		{"and one day before", func() byDay { m := clear(1070); m[1072] = none; return m }(), []care.Treated{{On: 1001, Acts: 1031}}, 1072, 1031, 1073},
		{"the later of two", clear(1042), []care.Treated{{On: 1001, Acts: 1031}, {On: 1008, Acts: 1020}}, 1042, 1031, 1073},
		{"one that acts still", clear(1007), []care.Treated{{On: 1001, Acts: 1031}}, 1007, 1031, 1073},
		{"one of before the mites, that acts beyond them", clear(1042), []care.Treated{{On: 990, Acts: 1010}}, 1042, 1010, 1052},
		{"one that ended with the last mites", clear(1042), []care.Treated{{On: 990, Acts: 1000}}, 1042, 0, 0},
		{"one on the day on which it was over", clear(1042), []care.Treated{{On: 1042, Acts: 1042}}, 1042, 1042, 1084},
		{"one after it was over", clear(1049), []care.Treated{{On: 1043, Acts: 1060}}, 1049, 0, 0},
		{"one to come", clear(1007), []care.Treated{{On: 1008, Acts: 1060}}, 1007, 0, 1042},
	} {
		w, watching := c.looks.Watch(tables, c.treated, always(42), c.today)
		if watching != (c.ends > 0) || w.Ends != c.ends || watching && w.Acts != c.acts {
			t.Errorf("%s: %+v, %v; want from %d, ends %d", c.name, w, watching, c.acts, c.ends)
		}
	}
	if w, watching := (byDay{1000: none}).Watch(tables, []care.Treated{{On: 990, Acts: 1020}}, always(42), 1001); watching {
		t.Errorf("treated, and none were ever seen: %+v", w)
	}
	entry := func(on, until model.Day) care.Entry {
		return care.Entry{At: model.Moment{UTC: int64(on) * 86400}, Body: care.MiteTreatment{What: "a bath", Until: model.Date{Day: until, Precision: model.ToDay}}}
	}
	got := care.TreatedOf([]care.Entry{entry(1008, 1020), {At: model.Moment{UTC: 1005 * 86400}, Body: care.MiteTreatment{What: "a bath"}}, entry(1001, 1031), {Body: care.MiteLook{}}})
	if want := []care.Treated{{On: 1001, Acts: 1031}, {On: 1005, Acts: 1005}, {On: 1008, Acts: 1020}}; !slices.Equal(got, want) {
		t.Errorf("of entries: %+v, want %+v", got, want)
	}
}

// A watch that is over stays over, though it grows cool later; cool on its last day makes
// it longer. 42 and 77 days: as above.
func TestMiteDays_WatchThatIsOverStaysOver(t *testing.T) {
	tables := shipped(t)
	looks := weekly(byDay{1000: mite}, none, 1007, 1049)
	for cool, watching := range map[model.Day]bool{1000: true, 1041: true, 1042: true, 1043: false, 1049: false} {
		lasts := func(until model.Day) int {
			if until >= cool {
				return 77
			}
			return 42
		}
		w, still := looks.Watch(tables, nil, lasts, 1049)
		if still != watching || watching && w.Ends != 1077 {
			t.Errorf("cool from day %d: %+v, %v", cool, w, still)
		}
	}
}
