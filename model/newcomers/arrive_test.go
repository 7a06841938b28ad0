package newcomers_test

import (
	"errors"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
)

// here are who is here and in which quarantine.
func (w *world) here() (all []animals.Stored, stays []quarantine.Stored) {
	w.t.Helper()
	if err := w.c.View(func(v model.View) (err error) {
		if all, err = animals.All(v); err == nil {
			stays, err = quarantine.All(v)
		}
		return err
	}); err != nil {
		w.t.Fatal(err)
	}
	return all, stays
}

// An arrival is done as one, and taken back as one; what is refused leaves nothing.
func TestAnArrivalIsOne(t *testing.T) {
	w := begin(t)
	fern := newcomers.Arrive{Tables: w.tables, Animal: animals.Animal{Name: "Fern", Status: animals.Kept, Since: model.Date{Day: w.now().Day(), Precision: model.ToDay}},
		Place: w.tubs[0][0], At: w.now(), Protocol: newcomers.Usual}
	refused := func(c newcomers.Arrive, reason string) {
		t.Helper()
		_, err := w.c.Do(c)
		var r *model.Refusal
		if !errors.As(err, &r) || r.Reason != reason {
			t.Fatalf("refused with %v instead of %s", err, reason)
		}
		if all, stays := w.here(); len(all) != 1 || len(stays) != 1 {
			t.Errorf("%s leaves %d animals and %d quarantines", reason, len(all), len(stays))
		}
	}
	refused(fern, "house.shared") // Juniper lives there
	wrong := fern
	wrong.Place, wrong.Protocol = w.tubs[0][1], "none such"
	refused(wrong, "choice.unknown")
	wrong = fern
	wrong.Place = w.rooms[0]
	refused(wrong, "house.no-enclosure")
	wrong = fern
	wrong.Animal.Name = "Juniper"
	refused(wrong, "name.twice")

	fern.Place = w.tubs[0][1]
	w.do(fern)
	all, stays := w.here()
	if len(all) != 2 || len(stays) != 2 {
		t.Fatalf("%d animals, %d quarantines", len(all), len(stays))
	}
	for _, a := range all {
		if n := w.of(a.ID); a.Name == "Fern" && (n.Room != w.rooms[0] || !n.Quarantine.Open()) {
			t.Errorf("%+v", n)
		}
	}
	if _, err := w.c.Undo(); err != nil {
		t.Fatal(err)
	}
	if all, stays := w.here(); len(all) != 1 || len(stays) != 1 {
		t.Errorf("taken back: %d animals, %d quarantines", len(all), len(stays))
	}
}

// Where there is no room yet, one is made with the arrival.
func TestAnArrivalMakesItsRoom(t *testing.T) {
	w := begin(t)
	w.do(newcomers.Arrive{Tables: w.tables, Animal: animals.Animal{Name: "Fern", Status: animals.Kept}, At: w.now(), Protocol: newcomers.Usual,
		Build: &husbandry.Branch{Place: husbandry.Place{Name: "Box room", Kind: husbandry.Room}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "Left", Kind: husbandry.Tub}}}}})
	all, _ := w.here()
	for _, a := range all {
		if n := w.of(a.ID); a.Name == "Fern" && n.RoomTitle != "Box room" {
			t.Errorf("lives in %q", n.RoomTitle)
		}
	}
}
