package due_test

import (
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/due"
	"coilward/model/husbandry"
)

// tub is a new tub, added now.
func (w *world) tub(name string, every int) model.PlaceID {
	w.t.Helper()
	change := w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: name, Kind: husbandry.Tub, CleanEvery: every}}}})
	return model.PlaceID{ID: change.Documents[0]}
}

func (w *world) move(to model.PlaceID) {
	w.t.Helper()
	w.do(husbandry.Move{Animal: w.animal, Place: to, At: w.now()})
}

func (w *world) clean(ago int, extent husbandry.CleanExtent, places ...model.PlaceID) {
	w.t.Helper()
	w.do(husbandry.Clean{Tables: w.tables, Places: places, At: w.about(ago).At, Cleaning: husbandry.Cleaning{Extent: extent}})
}

// A place in which somebody lives is cleaned as often as the keeper set, counted
// from the last full clean; an empty one owes nothing.
func TestCleanWhereSomebodyLives(t *testing.T) {
	w := newWorld(t, ball())
	w.list() // what comes after is told by the changes alone
	w.pass(-60 * day)
	tub := w.tub("Tub 1", 14)
	w.pass(60 * day)
	if all := w.of(due.Clean); len(all) > 0 {
		t.Fatalf("an empty tub: %+v", all)
	}
	w.move(tub)
	o := w.one(due.Clean)
	if o.Of.Name != "Tub 1" || o.Subject != tub.Subject() || o.State != due.Late || o.Reasons[0].Key != "due.why.never-cleaned" || o.Act != due.ActClean {
		t.Errorf("never cleaned: %+v", o)
	}
	w.clean(14, husbandry.Full, tub)
	if o := w.one(due.Clean); o.State != due.Today || o.Since != w.today()-14 {
		t.Errorf("cleaned 14 days ago: %+v", o)
	}
	w.clean(0, husbandry.Spot, tub)
	if o := w.one(due.Clean); o.State != due.Today {
		t.Errorf("a spot clean counted as a full one: %+v", o)
	}
	w.refused(w.answer(o, due.PutOff, 3, ""), "due.gone") // the earlier cause
}

func (w *world) answered(what due.What, days int) {
	w.t.Helper()
	w.do(w.answer(w.one(due.Clean), what, days, ""))
}

// What a place owes is answered as any other job, and comes again.
func TestACleaningIsAnswered(t *testing.T) {
	w := newWorld(t, ball())
	tub := w.tub("Tub 1", 14)
	w.move(tub)
	w.pass(15 * day)
	w.answered(due.DoneElsewhere, 0)
	if o := w.one(due.Clean); o.State != due.Later || o.Day(w.today()) != w.today()+14 {
		t.Errorf("done: %+v", o)
	}
	w.pass(14 * day)
	if o := w.one(due.Clean); o.State != due.Today {
		t.Errorf("14 days later: %+v", o)
	}
}

// Who moves out, and who dies, leaves a tub that owes nothing.
func TestAnEmptiedTubOwesNothing(t *testing.T) {
	for name, leave := range map[string]func(*world) model.Command{
		"moved out": func(w *world) model.Command { return husbandry.MoveOut{Animal: w.animal, At: w.now()} },
		"died": func(w *world) model.Command {
			return animals.SetStatus{ID: w.animal, Base: w.revision(), Status: animals.Died, Day: model.Date{Day: w.today() - 1, Precision: model.ToDay}}
		},
	} {
		w := newWorld(t, ball())
		w.move(w.tub("Tub 1", 14))
		w.one(due.Clean)
		w.pass(5 * day)
		w.do(leave(w))
		if all := w.of(due.Clean); len(all) > 0 {
			t.Errorf("%s: %+v", name, all)
		}
		if _, err := w.c.Undo(); err != nil {
			t.Fatal(err)
		}
		w.one(due.Clean)
	}
}

// The places that were not cleaned as far as the substrate this month are named.
func TestNotCleanedThisMonth(t *testing.T) {
	w := newWorld(t, ball())
	tub := w.tub("Tub 1", 14)
	w.move(tub)
	for extent, named := range map[husbandry.CleanExtent]int{husbandry.Spot: 1, husbandry.Substrate: 0, husbandry.Full: 0} {
		w.clean(0, extent, tub)
		for _, u := range w.list().Undone[0] {
			if u.Doing == due.Cleaned && (len(u.With) != named || u.Of != 1) {
				t.Errorf("%s: %d of %d are named, want %d", extent, len(u.With), u.Of, named)
			}
		}
		if _, err := w.c.Undo(); err != nil {
			t.Fatal(err)
		}
	}
}

// A place that cannot be read is told, and hides nothing of what animals owe.
func TestUnreadPlacesAreTold(t *testing.T) {
	w := newWorld(t, ball())
	w.move(w.tub("Tub 1", 14))
	n := len(w.list().Items)
	w.do(put{model.Document{Type: model.TypePlace, ID: model.ID{9}, At: w.now(), Version: 1, Body: []byte(`[]`)}})
	l := w.list()
	if len(l.Unread) != 1 || l.Unread[0].Of.Subject.Kind != model.SubjectPlace || len(l.Items) != n-1 {
		t.Errorf("unread %+v, %d items of %d", l.Unread, len(l.Items), n)
	}
	if _, err := w.c.Undo(); err != nil {
		t.Fatal(err)
	}
	if l := w.list(); len(l.Unread) != 0 || len(l.Items) != n {
		t.Errorf("mended: unread %+v, %d items of %d", l.Unread, len(l.Items), n)
	}
}
