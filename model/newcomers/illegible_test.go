package newcomers_test

import (
	"errors"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	"coilward/model/storetest"
)

// bad is a quarantine that no version can read.
func (w *world) bad(of model.AnimalID, id byte) model.QuarantineID {
	w.t.Helper()
	d := model.Document{Type: model.TypeQuarantine, Version: 1, ID: model.ID{id}, At: w.now(), Subjects: []model.Subject{of.Subject()}, Body: []byte(`[]`)}
	w.do(storetest.Put{Documents: []model.Document{d}})
	return model.QuarantineID{ID: d.ID}
}

// A quarantine that cannot be read hides no other, and is told with whom it is of.
func TestAQuarantineThatCannotBeReadHidesNoOther(t *testing.T) {
	w := begin(t)
	other := w.came("Ash", w.tubs[1][0])
	bad := w.bad(other, 1)
	gone := w.came("Elder", w.tubs[1][1])
	w.bad(gone, 2)
	w.do(animals.SetStatus{ID: gone, Base: 1, Status: animals.Sold, Day: model.Date{Day: w.now().Day(), Precision: model.ToDay}})
	w.bad(w.animal, 3) // its open one is legible: this one has ended
	var all []newcomers.Newcomer
	if err := w.c.View(func(v model.View) (err error) { all, err = newcomers.All(v, w.tables); return err }); err != nil {
		t.Fatal(err)
	}
	if len(all) != 2 || all[0].Animal.ID != w.animal || all[0].Err != nil || all[0].Quarantine.ID != w.kept {
		t.Fatalf("%+v", all)
	}
	var illegible *quarantine.Illegible
	if n := all[1]; n.Animal.Name != "Ash" || n.Quarantine.ID != bad || n.Quarantine.Animal != other || n.Quarantine.Arrived != w.now() || !errors.As(n.Err, &illegible) || illegible.ID != bad {
		t.Errorf("not read: %+v", n)
	}
}

// Whether an animal is in quarantine is not known where one of its cannot be read, be one
// that has ended there or not; where an open one can be read, it is that.
func TestOfAnAnimalWhoseQuarantineCannotBeRead(t *testing.T) {
	w := begin(t)
	of := func(id model.AnimalID) (ok bool, err error) {
		if e := w.c.View(func(v model.View) error { _, ok, err = newcomers.Of(v, w.tables, id); return nil }); e != nil {
			t.Fatal(e)
		}
		return ok, err
	}
	proposed := func(id model.AnimalID) (ok bool, err error) {
		if e := w.c.View(func(v model.View) error { _, ok, err = newcomers.Propose(v, w.tables, id); return nil }); e != nil {
			t.Fatal(e)
		}
		return ok, err
	}
	var illegible *quarantine.Illegible
	w.bad(w.animal, 1)
	if ok, err := of(w.animal); !ok || err != nil {
		t.Errorf("open and read: %v, %v", ok, err)
	}
	w.do(newcomers.Release{Tables: w.tables, ID: w.kept, Base: 1, At: w.now(), Why: "goes back", Confirmed: model.Confirmed{"quarantine.unmet"}})
	if ok, err := of(w.animal); ok || !errors.As(err, &illegible) || illegible.Animal != w.animal {
		t.Errorf("ended: %v, %v", ok, err)
	}
	other := w.came("Ash", w.tubs[1][0])
	if ok, err := proposed(other); !ok || err != nil {
		t.Fatalf("nothing is wrong: %v, %v", ok, err)
	}
	w.bad(other, 2)
	if ok, err := of(other); ok || !errors.As(err, &illegible) {
		t.Errorf("the only one: %v, %v", ok, err)
	}
	if ok, err := proposed(other); ok || !errors.As(err, &illegible) {
		t.Errorf("it is offered: %v, %v", ok, err)
	}
}
