package round_test

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/knowledge"
	"coilward/model/round"
)

// onPaper is a round as it would be typed in.
func (b *begun) onPaper(at model.Moment, looks ...round.Look) round.Record {
	c := round.Record{Begin: round.Begin{Tables: tablesOf, Order: "ill-newcomers", At: at}, Looks: looks}
	for _, a := range b.all {
		c.Stops = append(c.Stops, round.Planned{Animals: []model.AnimalID{a}})
	}
	return c
}

func (b *begun) looked(n int, c round.Class) round.Look {
	return round.Look{Animals: []model.AnimalID{b.all[n]}, Class: c.String()}
}

func (b *begun) now() model.Moment { return model.MomentOf(b.clock.Now()) }

// alike takes from a round what is its own alone: ids, revision and the hours of the looks.
func alike(s round.Stored) round.Stored {
	s.ID, s.Revision, s.Ended = model.RoundID{}, 0, model.Moment{}
	s.Looks = slices.Clone(s.Looks)
	for i := range s.Looks {
		s.Looks[i].ID, s.Looks[i].At = model.EntryID{}, model.Moment{}
	}
	return s
}

// What is typed in from paper is kept as the same round on the shelf is, whatever was left
// out or noted on it.
func TestRecord_IsAsOnTheShelf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(t, "boxes")
		b := newBegun(quiet{}, n)
		start := b.now()
		if err := b.begin(); err != nil {
			t.Fatal(err)
		}
		o, _ := tablesOf.Round("ill-newcomers")
		var looks []round.Look
		rank := 0
		for i := range rapid.IntRange(1, n).Draw(t, "come to") {
			rank = rapid.IntRange(rank, len(o.Classes)-1).Draw(t, "rank")
			l := round.Look{Animals: b.all[i : i+1], Class: o.Classes[rank], Passed: i > 0 && rapid.Bool().Draw(t, "left out"), Note: rapid.SampledFrom([]string{"", "shed lies there"}).Draw(t, "note")}
			looks = append(looks, l)
			b.clock.Pass(time.Minute)
			if _, err := b.Do(round.LookInto{Tables: tablesOf, Round: b.id, Look: l}); err != nil {
				t.Fatal(err)
			}
		}
		b.end(quiet{})
		onShelf := b.read(quiet{})
		if _, err := b.Undo(); err != nil { // its end, so that it is out of the way
			t.Fatal(err)
		}
		for range looks {
			if _, err := b.Undo(); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := b.Undo(); err != nil {
			t.Fatal(err)
		}
		change, err := b.Do(b.onPaper(start, looks...))
		if err != nil {
			t.Fatal(err)
		}
		b.id = model.RoundID{ID: change.Documents[0]}
		typed := b.read(quiet{})
		if typed.Open() || typed.Ended != start || onShelf.Open() {
			t.Fatalf("ended %v, on the shelf %v", typed.Ended, onShelf.Ended)
		}
		if got, want := alike(typed), alike(onShelf); !slices.EqualFunc(got.Looks, want.Looks, sameLook) || got.At != want.At || got.Order != want.Order || got.Again != want.Again || len(got.Stops) != len(want.Stops) {
			t.Fatalf("typed in %+v\non the shelf %+v", got, want)
		}
	})
}

func sameLook(a, b round.StoredLook) bool {
	return a.Place == b.Place && slices.Equal(a.Animals, b.Animals) && a.Class == b.Class && a.Passed == b.Passed && a.Note == b.Note
}

// What is refused of a round on paper, and what is asked; afterwards nothing of it is there.
func TestRecord_Refused(t *testing.T) {
	b := newBegun(t, 3)
	b.clock.Pass(48 * time.Hour)
	morning := b.now()
	b.clock.Pass(5 * time.Hour)
	all := []round.Look{b.looked(0, round.Resident), b.looked(1, round.NearPositive), b.looked(2, round.Ill)}
	ahead := b.now()
	ahead.UTC++
	none := b.onPaper(morning, all...)
	none.Order = "backwards"
	twice := b.onPaper(morning, all...)
	twice.Stops = append(twice.Stops, twice.Stops[0])
	foreign := b.onPaper(morning, all...)
	foreign.Stops = foreign.Stops[:2]
	for name, c := range map[string]struct {
		round.Record
		reason string
	}{
		"ahead":            {b.onPaper(ahead, all...), "day.future"},
		"back":             {b.onPaper(morning, all[0], all[2], all[1]), "round.back"},
		"twice":            {b.onPaper(morning, all[0], all[0]), "round.looked"},
		"nobody looked at": {b.onPaper(morning, round.Look{Animals: b.all[:1], Class: "resident", Passed: true}), "round.none-looked"},
		"nothing":          {b.onPaper(morning), "round.none-looked"},
		"no such class":    {b.onPaper(morning, round.Look{Animals: b.all[:1], Class: "clean"}), "choice.unknown"},
		"no such order":    {none, "choice.unknown"},
		"two of one":       {twice, "round.twice"},
		"not in it":        {foreign, "round.not-in"},
	} {
		if _, err := b.Do(c.Record); reason(err) != c.reason {
			t.Errorf("%s: %v, want %s", name, err, c.reason)
		}
	}
	var last []round.Stored
	read := func() {
		t.Helper()
		if err := b.View(func(v model.View) (err error) { last, err = round.Last(v, 9); return err }); err != nil {
			t.Fatal(err)
		}
	}
	if read(); len(last) != 0 {
		t.Fatalf("kept: %+v", last)
	}
	sheet := b.onPaper(morning, all...)
	if err := b.View(func(v model.View) error { sheet.ID = model.RoundID{ID: v.NewID()}; return nil }); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Do(sheet); err != nil {
		t.Fatal(err)
	}
	if read(); len(last) != 1 || last[0].ID != sheet.ID || last[0].At != morning || last[0].Looks[2].At != morning {
		t.Fatalf("kept: %+v", last)
	}
	if _, err := b.Do(sheet); reason(err) != "round.recorded" {
		t.Errorf("the same sheet: %v", err)
	}
	sheet.ID = model.RoundID{}
	if _, err := b.Do(sheet); reason(err) != "round.again-tools" {
		t.Errorf("another of that day: %v", err)
	}
}

// A moment that is given is that of the round; it is asked of one before an animal came, and
// a look does not lie before the round.
func TestBegin_Moment(t *testing.T) {
	b := newBegun(t, 1)
	came := model.Date{Day: b.now().Day(), Precision: model.ToDay}
	change, err := b.Do(animals.Add{Animal: animals.Animal{Name: "Birch", Species: "python-regius", Status: animals.Kept, Since: came}})
	if err != nil {
		t.Fatal(err)
	}
	birch := model.AnimalID{ID: change.Documents[0]}
	begin := round.Begin{Tables: tablesOf, Order: "ill-newcomers", At: b.now(), Stops: []round.Planned{{Animals: []model.AnimalID{birch}}}}
	begin.At.UTC -= 30 * 24 * 3600
	if _, err := b.Do(begin); reason(err) != "day.before-arrival" {
		t.Errorf("before it came: %v", err)
	}
	begin.At = b.now()
	begin.At.UTC++
	if _, err := b.Do(begin); reason(err) != "day.future" {
		t.Errorf("ahead: %v", err)
	}
	b.clock.Pass(3 * time.Hour)
	begin.At = b.now()
	begin.At.UTC -= 3600
	if change, err = b.Do(begin); err != nil {
		t.Fatal(err)
	}
	b.id = model.RoundID{ID: change.Documents[0]}
	look := round.LookInto{Tables: tablesOf, Round: b.id, Look: round.Look{Animals: []model.AnimalID{birch}, Class: "newcomer"}, At: begin.At}
	look.At.UTC--
	if _, err := b.Do(look); reason(err) != "round.before-begin" {
		t.Errorf("before the round: %v", err)
	}
	look.At.UTC += 3602
	if _, err := b.Do(look); reason(err) != "day.future" {
		t.Errorf("a look ahead: %v", err)
	}
	look.At = begin.At
	if _, err := b.Do(look); err != nil {
		t.Fatal(err)
	}
	if s := b.read(t); s.At != begin.At || s.Looks[0].At != begin.At {
		t.Errorf("begun %v, looked %v, want %v", s.At, s.Looks[0].At, begin.At)
	}
}

// Between two rounds lies what the tables say of the classes that were looked at and of what
// is suspected of those animals; what was left out counts for nothing.
func TestBetweenRounds(t *testing.T) {
	look := func(c round.Class, passed bool, n int) round.StoredLook {
		return round.StoredLook{Look: round.Look{Animals: []model.AnimalID{animal(n)}, Class: c.String(), Passed: passed}}
	}
	crypto := []round.Stop{{Animals: []model.AnimalID{animal(1)}, Against: []knowledge.TargetID{"cryptosporidium"}}}
	for name, c := range map[string]struct {
		looks   []round.StoredLook
		stops   []round.Stop
		means   []string
		minutes int
		untimed int
	}{
		"residents alone":                      {[]round.StoredLook{look(round.Resident, false, 0)}, crypto, nil, 0, 0},
		"ill":                                  {[]round.StoredLook{look(round.Resident, false, 0), look(round.Ill, false, 1)}, nil, []string{"hypochlorite-half"}, 10, 0},
		"the ill was left out":                 {[]round.StoredLook{look(round.Resident, false, 0), look(round.Ill, true, 1)}, nil, nil, 0, 0},
		"cryptosporidium is suspected":         {[]round.StoredLook{look(round.Resident, false, 1)}, crypto, []string{"hydrogen-peroxide-6"}, 4, 0},
		"a newcomer, of whom nothing is known": {[]round.StoredLook{look(round.Newcomer, false, 1)}, nil, []string{"peroxymonosulfate-1", "hydrogen-peroxide-6"}, 10, 1},
	} {
		b := round.BetweenRounds(tablesOf, round.Stored{Looks: c.looks}, c.stops)
		var means []string
		minutes := 0
		for _, u := range b.Uses {
			means, minutes = append(means, string(u.Means)), max(minutes, u.Minutes)
		}
		if !slices.Equal(means, c.means) || minutes != c.minutes || len(b.Untimed) != c.untimed || !b.Rounds || !slices.Contains(b.Measures, "clothes") {
			t.Errorf("%s: %+v", name, b)
		}
	}
}
