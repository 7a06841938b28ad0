package chances_test

import (
	"math"
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/chances"
	"coilward/model/husbandry"
	"coilward/model/samples"
	"coilward/model/storetest"
)

// roomOf is the room that a box is in.
func (w *world) roomOf(box model.PlaceID) (room model.PlaceID) {
	w.Helper()
	if err := w.View(func(v model.View) error {
		house, err := husbandry.ReadHouse(v)
		if err == nil {
			room = house.Path(box)[0].ID
		}
		return err
	}); err != nil {
		w.Fatal(err)
	}
	return room
}

// Three live in the loft, of whom one was sampled: 1 − .8 × .8 × (1 − p), where p is by
// hand as in TestOf_OneSwab. Whoever moved out or died lives there no more.
func TestOfRoom(t *testing.T) {
	w := begin(t)
	w.sample("oral-swab", 100, virus, samples.NotDetected, w.ash)
	loft, cellar := w.roomOf(w.boxes[0]), w.roomOf(w.boxes[4])
	of := func(room model.PlaceID) (living []model.AnimalID, all []chances.Joint) {
		return w.read().OfRoom(room, w.on(0))
	}
	living, all := of(loft)
	if _, there := of(cellar); len(living) != 3 || len(there) == 0 {
		t.Fatalf("in the loft live %v; of the cellar %v", living, there)
	}
	if len(all) != len(w.read().Agents()) || all[0].Of != virus {
		t.Fatalf("of the loft: %+v", all)
	}
	p := .2 * .15 / (.2*.15 + .8*.995)
	near(t, "of three", all[0].Chance.Mid, 1-.8*.8*(1-p))
	w.do(husbandry.Move{Animal: w.birch, Place: w.boxes[4], At: w.on(0), Confirmed: yes})
	_, all = of(loft)
	near(t, "of two, after one moved out", all[0].Chance.Mid, 1-.8*(1-p))
	w.do(animals.Change{ID: w.elm, Base: 1, Animal: animals.Animal{Name: "Elm", Status: animals.Died, StatusDay: model.Date{Day: w.on(0).Day(), Precision: model.ToDay}, Since: model.Date{Day: w.on(400).Day(), Precision: model.ToDay}}})
	if living, all = of(loft); !slices.Equal(living, []model.AnimalID{w.ash}) {
		t.Errorf("after one died: %v", living)
	}
	near(t, "of one", all[0].Chance.Mid, p)
	if one := w.of(w.ash, virus); math.Abs(one.Now.High-all[0].Chance.High) > 1e-9 || math.Abs(one.Now.Low-all[0].Chance.Low) > 1e-9 {
		t.Errorf("of one it is its own: %v, %v", one.Now, all[0].Chance)
	}
	if living, all := of(model.PlaceID{ID: model.ID{9}}); living != nil || all != nil {
		t.Errorf("of a room with nobody: %v", all)
	}
}

// What cannot be read is told with how much of it there is; of own figures that cannot be used by
// the thing.
func TestReader_CannotRead(t *testing.T) {
	w := begin(t)
	if r := w.read(); len(r.CannotRead()) != 0 {
		t.Errorf("all can be read: %+v", r.CannotRead())
	}
	put := func(of model.DocumentType, ids ...byte) {
		for _, id := range ids {
			w.do(storetest.Put{Documents: []model.Document{{Type: of, ID: model.ID{7, id}, Version: 1, At: w.on(10), Subjects: []model.Subject{w.ash.Subject()}, Body: []byte("[]")}}})
		}
	}
	put(model.TypeSample, 1, 2)
	put(model.TypeQuarantine, 3)
	got := w.read().CannotRead()
	if len(got) != 2 || got[0].Key != "chance.cannot.unread" || got[0].Gaps["Count"].Number != 2 || got[1].Key != "chance.cannot.unread-quarantine" || got[1].Gaps["Count"].Number != 1 {
		t.Errorf("%+v", got)
	}
	w.do(storePut(`{"table":"prior","row":"serpentovirus-any","values":{},"by":"vet","why":"x"}`))
	_, all := w.read().OfRoom(w.roomOf(w.boxes[0]), w.on(0))
	for _, one := range all {
		if one.Spoilt != (one.Of == virus) {
			t.Errorf("%s: spoilt %v", one.Of, one.Spoilt)
		}
	}
}
