package history

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// known are recent days that settle everything, but for what is left out; after
// them stands what is far older than the tables look back.
func known(t *testing.T, recent, old []care.Body) timeline {
	t.Helper()
	l := timeline{read: new(int)}
	put := func(at int, kind string, version int, body any) {
		d := model.Document{Type: model.TypeEntry, Kind: kind, ID: model.ID{1, byte(len(l.days))}, At: day(at)}
		if err := d.Encode(version, body); err != nil {
			t.Fatal(err)
		}
		l.days = append(l.days, d)
	}
	put(2000, exam.KindCheck, exam.CheckVersion, exam.Check{})
	for i, b := range recent {
		put(1999-i, b.Kind(), care.Version, b)
	}
	for i, b := range old {
		put(1000-i, b.Kind(), care.Version, b)
	}
	for i := range 3 { // what settles the rest stands before it, so that it is read
		put(900-i, care.KindNote, care.Version, care.Note{Text: "calm"})
	}
	return l
}

// What is decisive and old is read, as far back as it lies; and where nothing is,
// the old days are not read.
func TestLatelyReadsBackToWhatDecides(t *testing.T) {
	weight := func(grams int64) care.Body { return care.Weight{Mass: model.Grams(grams)} }
	clean, shed := waste(care.Formed, care.White), care.Shed{StuckEyeCaps: care.No, StuckTailTip: care.No}
	full := []care.Body{weight(900), weight(910), meal(care.Took), shed, clean, clean, clean}
	less := func(without ...int) (bodies []care.Body) {
		left := map[int]bool{}
		for _, i := range without {
			left[i] = true
		}
		for i, b := range full {
			if !left[i] {
				bodies = append(bodies, b)
			}
		}
		return bodies
	}
	with := func(bodies []care.Body, more ...care.Body) []care.Body {
		return append(append([]care.Body{}, more...), bodies...)
	}
	stuck, tip := care.Shed{StuckEyeCaps: care.Yes, StuckTailTip: care.No}, care.Shed{StuckEyeCaps: care.No, StuckTailTip: care.Yes}
	notLooked := care.Shed{}
	tb := tables(t)
	for _, c := range []struct {
		name        string
		recent, old []care.Body
		reads       bool // the old days
	}{
		{"nothing is missing", with(full, mitesAt(care.OneMite), weight(920)), []care.Body{stuck, waste(care.Blood, care.White), mitesAt(care.SeveralMites)}, false},
		{"a look for mites of late", full, []care.Body{stuck, waste(care.Blood, care.White), mitesAt(care.SeveralMites)}, true},
		{"and none long ago", full, []care.Body{stuck, waste(care.Blood, care.White)}, true},
		{"a speck that nobody answered", full, []care.Body{mitesAt(care.MiteSpeck)}, true},
		{"the last meal", with(less(2), meal(care.Refused)), []care.Body{meal(care.Took)}, true},
		{"the last weight", less(0, 1), []care.Body{weight(300), weight(290)}, true},
		{"the weight before the last", less(1), []care.Body{weight(300)}, true},
		{"eye caps of the last shed", with(less(3), care.Shed{StuckTailTip: care.No}), []care.Body{stuck}, true},
		{"no shed of late", less(3), []care.Body{stuck, stuck}, true},
		{"eye caps of two sheds in a row", with(less(3), stuck), []care.Body{stuck, shed}, true},
		{"eye caps that were left only once", with(less(3), stuck), []care.Body{shed, stuck}, true},
		{"the tail tip", with(less(3), care.Shed{StuckEyeCaps: care.No}), []care.Body{tip}, true},
		{"a shed that nobody looked at", with(less(3), notLooked), []care.Body{tip, stuck}, true},
		{"faeces", less(4, 5, 6), []care.Body{waste(care.Blood, care.White)}, true},
		{"blood that was not seen once", less(5, 6), []care.Body{waste(care.Blood, care.White)}, true},
		{"mites, and one look since", with(full, mitesAt(care.NoMites)), []care.Body{mitesAt(care.SeveralMites)}, true},
		{"mites, and two looks since, a day apart", with(full, mitesAt(care.NoMites), mitesAt(care.NoMites)), []care.Body{mitesAt(care.SeveralMites)}, true},
		{"mites, and two looks since, a week apart", with(append(full, mitesAt(care.NoMites)), mitesAt(care.NoMites)), []care.Body{mitesAt(care.SeveralMites)}, true},
		{"mites, and a look on each day of 78 since", append(append([]care.Body{}, full...), slices.Repeat([]care.Body{mitesAt(care.NoMites)}, 78)...), []care.Body{mitesAt(care.SeveralMites)}, false},
		{"mites, and a look on each day of 77 since", append(append([]care.Body{}, full...), slices.Repeat([]care.Body{mitesAt(care.NoMites)}, 77)...), []care.Body{mitesAt(care.SeveralMites)}, true},
		{"mites seen of late", with(full, mitesAt(care.OneMite)), []care.Body{mitesAt(care.SeveralMites)}, false},
		{"the mass when prey was brought up", with(append(less(0, 1, 2), meal(care.Regurgitated)), weight(900), weight(890), meal(care.Took)), []care.Body{weight(60)}, true},
		{"the mass when an eye cap was left", append(less(3), stuck), []care.Body{weight(60), shed}, true},
		{"the mass when the tail tip was left", append(less(3), tip), []care.Body{weight(60)}, true},
		{"the mass when there was blood", append(full, waste(care.Blood, care.White)), []care.Body{weight(60)}, true},
		{"the mass when mites were seen", append(full, mitesAt(care.OneMite)), []care.Body{weight(60)}, true},
	} {
		l := known(t, c.recent, c.old)
		judged := func(r Records, err error) any {
			t.Helper()
			if err != nil {
				t.Fatal(err)
			}
			watch, _ := r.MiteDays().Watch(tb, r.Treated(), func(model.Day) int { return tb.Value(knowledge.ValueMiteWatchCool) }, day(2000).Day())
			return struct {
				Watch    care.MiteWatch
				Standing Standing
				Context  exam.Context
				Caps     int
			}{watch, r.Stand(tb, nil, day(2000)), r.Context, r.StuckCaps()}
		}
		all := judged(Read(tb, l, animals.Stored{}, day(2000)))
		*l.read = 0
		lately := judged(Lately(tb, l, animals.Stored{}, nil, day(2000)))
		read := *l.read > 2+len(c.recent) // the check, the recent days, and the one at which it stops
		if diff := cmp.Diff(all, lately, cmp.AllowUnexported(model.Moment{})); diff != "" {
			t.Errorf("%s: all (-), lately (+):\n%s", c.name, diff)
		}
		if read != c.reads {
			t.Errorf("%s: the old days were read: %v, want %v", c.name, read, c.reads)
		}
	}
}
