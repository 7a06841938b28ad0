package round_test

import (
	"slices"
	"testing"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/powercut"
	"coilward/model/rescue"
	"coilward/model/round"
	"coilward/model/storetest"
)

// cold is a collection with one animal that nothing else is known of.
type cold struct {
	t      *testing.T
	c      *collection.Collection
	clock  *storetest.Clock
	tables *knowledge.Tables
	ash    animals.Stored
}

func newCold(t *testing.T) *cold {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	c, clock := storetest.New(t)
	w := &cold{t: t, c: c, clock: clock, tables: tables}
	id := model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: "Ash", Species: "python-regius", Status: animals.Kept}})[0]}
	w.view(func(v model.View) (err error) { w.ash, err = animals.Find(v, id); return err })
	return w
}

func (w *cold) do(command model.Command) []model.ID {
	w.t.Helper()
	change, err := w.c.Do(command)
	if err != nil {
		w.t.Fatal(command.Name(), err)
	}
	return change.Documents
}

func (w *cold) view(read func(model.View) error) {
	w.t.Helper()
	if err := w.c.View(read); err != nil {
		w.t.Fatal(err)
	}
}

// cut notes a power cut of a night that ended now.
func (w *cold) cut(coldest *model.Temperature) {
	w.t.Helper()
	until := model.MomentOf(w.clock.Now())
	from := until
	from.UTC -= 10 * 3600
	w.do(powercut.Note{From: from, Cut: powercut.Cut{Until: until, Whole: true, Coldest: coldest}})
}

func (w *cold) today() model.Day { return model.MomentOf(w.clock.Now()).Day() }

// stands are the class of the animal, with why, and why it has its turn in a rescue.
func (w *cold) stands() (d round.Dweller, why []knowledge.RescueID) {
	w.t.Helper()
	w.view(func(v model.View) error {
		house, err := round.ReadHouse(v, w.tables)
		if err != nil || len(house.Dwellers) != 1 {
			w.t.Fatalf("%v, %d dwellers", err, len(house.Dwellers))
		}
		d = house.Dwellers[0]
		warm, err := rescue.Read(v, w.tables)
		if err != nil {
			return err
		}
		why = warm.Turns[0].Why
		if got := warm.Class[w.ash.ID]; got != d.Facts.Class() {
			w.t.Errorf("it counts as %s on a round and as %s in a rescue", d.Facts.Class(), got)
		}
		return nil
	})
	return d, why
}

// One that was chilled in a power cut is looked at again on a round, until that is answered or the
// days of the watch are over; and it comes early to the warm for all of those days. The warmth
// of a room: assumed; the days: common practice, no source.
func TestOneThatWasChilledIsKnownToTheRoundAndTheRescue(t *testing.T) {
	w := newCold(t)
	chilled := []round.Reason{{Why: round.WhyChilled, Since: model.Date{Day: w.today(), Precision: model.ToDay}}}
	expect := func(when string, class round.Class, reasons []round.Reason, early bool) {
		t.Helper()
		d, why := w.stands()
		if d.Facts.Class() != class || !slices.Equal(d.Reasons, reasons) {
			t.Errorf("%s: it counts as %s because of %+v, want %s because of %+v", when, d.Facts.Class(), d.Reasons, class, reasons)
		}
		if slices.Contains(why, knowledge.RescueChilled) != early {
			t.Errorf("%s: it has its turn for %v; chilled before: %v", when, why, early)
		}
	}
	expect("before", round.Resident, nil, false)
	w.cut(&model.Temperature{Hundredths: 2000})
	expect("as warm as a room may be", round.Resident, nil, false)
	w.cut(nil)
	expect("not measured", round.Resident, nil, false)
	w.cut(&model.Temperature{Hundredths: 1200})
	expect("chilled", round.LookAgain, chilled, true)
	list, err := due.NewBook(w.tables).Bring(t.Context(), w.c, nil)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(list.Items, func(i due.Item) bool { return i.Job == due.SeeVet })
	if i < 0 {
		t.Fatalf("the vet is not due: %+v", list.Items)
	}
	w.do(due.Respond{Tables: w.tables, Key: list.Items[i].Key, What: due.DoneElsewhere, Why: "the vet was called"})
	expect("answered", round.Resident, nil, true)
	if _, err := w.c.Undo(); err != nil {
		t.Fatal(err)
	}
	w.clock.Pass(14 * 24 * time.Hour)
	expect("on the last day of the watch", round.LookAgain, chilled, true)
	w.clock.Pass(24 * time.Hour)
	expect("after it", round.Resident, nil, false)
}

// What is said of food after a power cut is what Due says: the vet is asked of one that was
// chilled, and otherwise food waits until all has been as warm as usual for a day (common
// practice, no source).
func TestAgainstFood_AfterAPowerCut(t *testing.T) {
	for _, c := range []struct {
		name    string
		coldest *model.Temperature
		days    int
		want    round.Against
	}{
		{"today", nil, 0, round.Against{PowerCut: true}},
		{"yesterday", &model.Temperature{Hundredths: 2300}, 1, round.Against{PowerCut: true}},
		{"two days ago", nil, 2, round.Against{}},
		{"chilled today", &model.Temperature{Hundredths: 1200}, 0, round.Against{ForVet: true}},
		{"chilled 14 days ago", &model.Temperature{Hundredths: 1200}, 14, round.Against{ForVet: true}},
		{"chilled 15 days ago", &model.Temperature{Hundredths: 1200}, 15, round.Against{}},
	} {
		w := newCold(t)
		w.cut(c.coldest)
		w.clock.Pass(time.Duration(c.days) * 24 * time.Hour)
		var known round.Known
		w.view(func(v model.View) (err error) { known, err = round.Know(v, w.tables, w.ash, v.Now()); return err })
		if got := known.AgainstFood(w.tables, round.Resident, nil, w.today()); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
		list, err := due.NewBook(w.tables).Bring(t.Context(), w.c, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range list.Items {
			if says := i.Caution == "due.caution.power-cut-feed"; i.Job == due.Offer && (says != c.want.PowerCut || (i.Caution == "due.caution.ask-vet") != c.want.ForVet) {
				t.Errorf("%s: Due says %s", c.name, i.Caution)
			}
		}
	}
}
