package handover_test

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/handover"
	"coilward/model/quarantine"
)

// into takes a record in for one of those that are here.
func (k *keeper) into(r handover.Record, here model.AnimalID) error {
	_, err := k.c.Do(handover.TakeIn{Tables: k.tables, Record: r, Key: "AAAA", Sum: "a list", Into: here, At: k.at(), Protocol: "python"})
	return err
}

// find is an animal as it stands.
func (k *keeper) find(id model.AnimalID) (a animals.Stored, err error) {
	k.view(func(v model.View) error { a, err = animals.Find(v, id); return nil })
	return a, err
}

// An animal that was entered by hand and its papers are one: what was typed stays, what was
// not known is filled in, later papers go to the same one, and all of it can be undone.
func TestOneThatWasEnteredByHand(t *testing.T) {
	now := start()
	from, id, by := seller(t, now)
	to := newKeeper(t, now)
	typed := animals.Animal{Name: "Juno", Morph: "pastel, I think", Note: "came in a blue box", Chip: animals.Chip{Digits: "276098102204417", Standard: animals.ChipISO}}
	here := model.AnimalID{ID: to.do(animals.Add{Animal: typed})[0]}
	weight := to.do(care.Weigh{About: care.About{Animal: here, At: to.at()}, Weight: care.Weight{Mass: model.Grams(1410)}})[0]
	if err := to.into(from.record(id), here); err != nil {
		t.Fatal(err)
	}
	a, err := to.find(here)
	if err != nil || a.Name != "Juno" || a.Morph != typed.Morph || a.Note != typed.Note || a.Chip.Digits != typed.Chip.Digits || a.Sex != animals.Female || a.Species != "python-regius" {
		t.Errorf("it is %+v, %v", a, err)
	}
	if _, err := to.find(id); err == nil {
		t.Error("there are two")
	}
	if got := to.entries(here); len(got) != 3 || got[weight].Kind != care.KindWeight {
		t.Errorf("%d entries", len(got))
	}
	to.view(func(v model.View) error {
		if all, err := quarantine.Of(v, here); err != nil || len(all) != 0 {
			t.Errorf("a quarantine of one that was here: %+v, %v", all, err)
		}
		if taken, _, ok, err := handover.TakenOf(v, id); err != nil || !ok || taken.Here() != here {
			t.Errorf("remembered is %+v, %v, %v", taken, ok, err)
		}
		return nil
	})
	*now = now.Add(48 * time.Hour)
	meal := from.do(care.Feed{About: care.About{Animal: id, At: from.at(), By: by}, Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}})[0]
	if err := to.takeIn(from.record(id), "AAAA"); err != nil {
		t.Fatal(err)
	}
	if got := to.entries(here); len(got) != 4 || got[meal].Kind != care.KindMeal {
		t.Errorf("later papers: %d entries", len(got))
	}
	if err := to.into(from.record(id), here); reason(err) != "papers.nothing-new" {
		t.Errorf("once more: %v", err)
	}
	for range 2 {
		if _, err := to.c.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if got := to.entries(here); len(got) != 1 {
		t.Errorf("undone, %d entries", len(got))
	}
	if a, err := to.find(here); err != nil || a.Sex != animals.SexUnknown || a.Note != typed.Note {
		t.Errorf("undone it is %+v, %v", a, err)
	}
	if err := to.takeIn(from.record(id), "AAAA"); reason(err) != "name.twice" {
		t.Errorf("undone, taken in as another of that name: %v", err)
	}
}

// What was noted by hand and what the papers tell alike of the same day stands once, as it was
// noted here; what differs in what counts, or is of another day, stands beside it.
func TestNotedByHandAndTold(t *testing.T) {
	rat := care.Meal{Prey: care.Rat, Outcome: care.Refused}
	own := care.Beside{Note: "typed from the paper"}
	for name, c := range map[string]struct {
		typed []care.Body
		days  int // ago
		want  int // entries in the end; the papers tell of a weight of 1432 g and of a rat that was refused
	}{
		"nothing":                       {nil, 0, 2},
		"the same weight and meal":      {[]care.Body{care.Weight{Mass: model.Grams(1432), Beside: own}, rat}, 0, 2},
		"one rat, and how it was":       {[]care.Body{care.Meal{Prey: care.Rat, Count: 1, State: care.Thawed, Each: model.Grams(90), Outcome: care.Refused}}, 0, 2},
		"the same meal twice":           {[]care.Body{rat, rat}, 0, 3},
		"another weight":                {[]care.Body{care.Weight{Mass: model.Grams(1433)}}, 0, 3},
		"a meal that was taken":         {[]care.Body{care.Meal{Prey: care.Rat, Outcome: care.Took}}, 0, 3},
		"another prey":                  {[]care.Body{care.Meal{Prey: care.Mouse, Outcome: care.Refused}}, 0, 3},
		"two rats":                      {[]care.Body{care.Meal{Prey: care.Rat, Count: 2, Outcome: care.Refused}}, 0, 3},
		"the same of the day before":    {[]care.Body{rat}, 1, 3},
		"a shed, of which none is told": {[]care.Body{care.Shed{Skin: care.Whole}}, 0, 3},
	} {
		t.Run(name, func(t *testing.T) {
			now := start()
			from, id, by := seller(t, now)
			to := newKeeper(t, now)
			here := model.AnimalID{ID: to.do(animals.Add{Animal: animals.Animal{Name: "Typed"}})[0]}
			at := to.at()
			at.UTC -= int64(c.days) * 24 * 60 * 60
			about := care.About{Animal: here, At: at, Confirmed: model.Confirmed{"day.before-arrival"}}
			typed := map[model.ID]bool{}
			for _, body := range c.typed {
				switch b := body.(type) {
				case care.Weight:
					typed[to.do(care.Weigh{About: about, Weight: b})[0]] = true
				case care.Meal:
					typed[to.do(care.Feed{About: about, Meal: b})[0]] = true
				case care.Shed:
					typed[to.do(care.RecordShed{About: about, Shed: b})[0]] = true
				}
			}
			if err := to.into(from.record(id), here); err != nil {
				t.Fatal(err)
			}
			got := to.entries(here)
			for entry := range typed {
				if _, stands := got[entry]; !stands {
					t.Errorf("%s, noted here, is gone", entry)
				}
			}
			if len(got) != c.want {
				t.Errorf("%d entries, want %d", len(got), c.want)
			}
			*now = now.Add(24 * time.Hour)
			next := from.do(care.Feed{About: care.About{Animal: id, At: from.at(), By: by}, Meal: rat})[0]
			if err := to.takeIn(from.record(id), "AAAA"); err != nil {
				t.Fatal(err)
			}
			if got := to.entries(here); len(got) != c.want+1 || got[next].Kind != care.KindMeal {
				t.Errorf("after later papers %d entries, want %d", len(got), c.want+1)
			}
		})
	}
}

// Papers of one that is here go to no other, and to nothing that is no animal.
func TestIntoAnother(t *testing.T) {
	now := start()
	from, id, _ := seller(t, now)
	to := newKeeper(t, now)
	other := model.AnimalID{ID: to.do(animals.Add{Animal: animals.Animal{Name: "Ada"}})[0]}
	if err := to.into(from.record(id), model.AnimalID{ID: model.ID{77}}); err == nil {
		t.Error("taken in for an animal that is not there")
	}
	if err := to.takeIn(from.record(id), "AAAA"); err != nil {
		t.Fatal(err)
	}
	if err := to.into(from.record(id), other); reason(err) != "papers.here" {
		t.Errorf("for another: %v", err)
	}
	if err := to.into(from.record(id), id); reason(err) != "papers.nothing-new" {
		t.Errorf("for itself: %v", err)
	}
}

// One that was removed here comes with all its entries when its papers are taken in anew,
// be it by its own id or as the one that it was joined with.
func TestRemovedAndTakenInAgain(t *testing.T) {
	for _, joined := range []bool{false, true} {
		now := start()
		from, id, _ := seller(t, now)
		to := newKeeper(t, now)
		here := id
		if joined {
			here = model.AnimalID{ID: to.do(animals.Add{Animal: animals.Animal{Name: "Typed"}})[0]}
		}
		if err := to.into(from.record(id), here); err != nil {
			t.Fatal(err)
		}
		for entry := range to.entries(here) {
			to.do(care.Remove{Entry: model.EntryID{ID: entry}})
		}
		var begun []quarantine.Stored
		to.view(func(v model.View) (err error) { begun, err = quarantine.Of(v, here); return err })
		for _, q := range begun {
			to.do(quarantine.Remove{ID: q.ID})
		}
		to.do(animals.Remove{ID: here})
		if err := to.takeIn(from.record(id), "AAAA"); err != nil {
			t.Fatal(err)
		}
		if got := to.entries(id); len(got) != 2 {
			t.Errorf("joined %v: %d entries", joined, len(got))
		}
	}
}

// The id of what remembers the papers, and those that photos get, are no ids of entries.
func TestIdsOfOnesOwnMaking(t *testing.T) {
	now := start()
	from, id, _ := seller(t, now)
	to := newKeeper(t, now)
	r := from.record(id)
	r.Entries[0].ID = model.EntryID{ID: handover.TakenID(id)}
	if err := to.takeIn(r, "AAAA"); reason(err) != "papers.id" {
		t.Errorf("the id of what remembers: %v", err)
	}
	r = from.record(id)
	when := r.Entries[0].When
	r.Photos = []handover.Photo{{When: when}, {When: when}}
	photos := []model.PhotoID{"aa", "aa"}
	if _, err := to.c.Do(handover.TakeIn{Tables: to.tables, Record: r, Photos: photos, At: to.at(), Protocol: "python", Key: "A", Sum: "b"}); err != nil {
		t.Fatal(err)
	}
	if got := to.entries(id); len(got) != 3 {
		t.Errorf("one photo twice: %d entries", len(got))
	}
}

// many is a record of that many entries.
func many(tb testing.TB, n int) (*keeper, handover.Record) {
	now := start()
	from, id, _ := seller(tb, now)
	r := from.record(id)
	when, by := r.Entries[0].When, r.Entries[0].By
	when.Day -= 3000
	r.Entries = nil
	for i := range n {
		one := when
		one.Day += model.Day(i / 20)
		r.Entries = append(r.Entries, handover.Entry{ID: model.EntryID{ID: model.ID{1, 2, 3, byte(i >> 16), byte(i >> 8), byte(i)}}, Kind: care.KindWeight, When: one, By: by, Body: json.RawMessage(`{"mass":{"mg":1432000}}`)})
	}
	return newKeeper(tb, now), r
}

// BenchmarkTakeIn takes in records of some entries: ten times as many cost about ten times
// as much.
func BenchmarkTakeIn(b *testing.B) {
	for _, n := range []int{500, 5_000, handover.MaxList} {
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				to, r := many(b, n)
				b.StartTimer()
				if err := to.takeIn(r, "AAAA"); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/entry")
		})
	}
}

// Before anything is taken in it is told which of those here it may be, and how the papers
// stand to those before.
func TestHowPapersStand(t *testing.T) {
	now := start()
	from, id, by := seller(t, now)
	chip := animals.Chip{Digits: "276098102204417", Standard: animals.ChipISO}
	a, err := from.find(id)
	if err != nil {
		t.Fatal(err)
	}
	a.Chip = chip
	from.do(animals.Change{ID: id, Base: a.Revision, Animal: a.Animal})
	to := newKeeper(t, now)
	ids := map[string]model.AnimalID{}
	for _, a := range []animals.Animal{{Name: "Ada"}, {Name: "JUNO"}, {Name: "Zora", Chip: chip}, {Name: "Bo"}} {
		ids[a.Name] = model.AnimalID{ID: to.do(animals.Add{Animal: a})[0]}
	}
	stand := func(r handover.Record, key, sum string) (s handover.Stand) {
		to.view(func(v model.View) (err error) { s, err = handover.StandOf(v, r, key, sum); return err })
		return s
	}
	first := from.record(id)
	s := stand(first, "AAAA", "a list")
	var names []string
	for _, c := range s.Candidates {
		names = append(names, c.Name)
		if !c.Lives || c.SameChip != (c.Name == "Zora") || c.ID != ids[c.Name] {
			t.Errorf("one it may be: %+v", c)
		}
	}
	if got := strings.Join(names, " "); got != "Zora JUNO Ada Bo" || s.Before != nil || !s.Here.IsZero() || s.Older || s.OtherKey || s.Same {
		t.Errorf("it may be %s; %+v", got, s)
	}
	*now = now.Add(time.Hour)
	from.do(care.Feed{About: care.About{Animal: id, At: from.at(), By: by}, Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}})
	second := from.record(id)
	if err := to.into(second, ids["Zora"]); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		record                handover.Record
		key, sum              string
		same, older, otherKey bool
	}{
		"the same":           {second, "AAAA", "a list", true, false, false},
		"the one before":     {first, "AAAA", "another list", false, true, false},
		"of another key":     {second, "BBBB", "another list", false, false, true},
		"older, another key": {first, "BBBB", "another list", false, true, true},
	} {
		s := stand(c.record, c.key, c.sum)
		if s.Before == nil || s.Before.Issued != second.Issued.UTC || s.Same != c.same || s.Older != c.older || s.OtherKey != c.otherKey || s.Here != ids["Zora"] || !s.Lives || len(s.Candidates) != 0 {
			t.Errorf("%s: %+v", name, s)
		}
	}
	other := newKeeper(t, now) // in whatever order they came
	for _, name := range []string{"Juno", "Bo", "Ada"} {
		other.do(animals.Add{Animal: animals.Animal{Name: name}})
	}
	other.view(func(v model.View) (err error) { s, err = handover.StandOf(v, first, "AAAA", ""); return err })
	if len(s.Candidates) != 3 || s.Candidates[0].Name != "Juno" || s.Candidates[1].Name != "Ada" {
		t.Errorf("it may be %+v", s.Candidates)
	}
	// no chip is no likeness
	first.Animal.ID, first.Animal.Chip = model.AnimalID{ID: model.ID{4}}, animals.Chip{}
	if s := stand(first, "AAAA", ""); len(s.Candidates) != 4 || s.Candidates[0].Name != "JUNO" {
		t.Errorf("without a chip: %+v", s)
	}
}
