package newcomers_test

import (
	"errors"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/husbandry"
)

// types types the coolest zone of a place; 0 hundredths: it is not known.
func (w *world) types(id model.PlaceID, hundredths int64) {
	w.t.Helper()
	h := w.house()
	i := slices.IndexFunc(h.Places(), func(p husbandry.StoredPlace) bool { return p.ID == id })
	p := h.Places()[i]
	if p.Zones = (husbandry.Zones{}); hundredths > 0 {
		p.Zones.Cool = model.Temperature{Hundredths: hundredths, Typed: "typed"}
	}
	w.do(husbandry.ChangePlace{ID: id, Base: p.Revision, Place: p.Place})
}

// tries does what may be refused, as a move to where it lives already is.
func (w *world) tries(c model.Command) {
	w.t.Helper()
	if _, err := w.c.Do(c); err != nil && !errors.As(err, new(*model.Refusal)) {
		w.t.Fatal(err)
	}
}

func (w *world) house() (h *husbandry.House) {
	w.t.Helper()
	if err := w.c.View(func(v model.View) (err error) { h, err = husbandry.ReadHouse(v); return err }); err != nil {
		w.t.Fatal(err)
	}
	return h
}

// The watch lasts as long as the coolest day since the arrival asks for: 77 days, the
// worst case computed from values of Wozniak and DeNardo 2000 (memory). What is typed
// on the same day is a correction.
func TestWarmthTypedLaterShortensNothing(t *testing.T) {
	w := begin(t)
	w.look(w.animal, care.NoMites)
	days := func() int { return w.of(w.animal).Facts.Mites.Days }
	w.on(3)
	w.types(w.tubs[0][0], 2100)
	if days() != 77 {
		t.Errorf("cool: %d days", days())
	}
	w.types(w.tubs[0][0], 2600)
	if days() != 42 {
		t.Errorf("corrected at once: %d days", days())
	}
	w.on(5)
	w.types(w.tubs[0][0], 2100)
	w.on(6)
	w.types(w.tubs[0][0], 2600)
	if m := w.of(w.animal).Facts.Mites; m.Days != 77 || !m.Cool {
		t.Errorf("warm on the next day: %+v", m)
	}
	w.do(husbandry.Move{Animal: w.animal, Place: w.tubs[0][1], At: w.now()})
	if days() != 77 {
		t.Errorf("moved to where it is warm: %d days", days())
	}
	ash := w.came("Ash", w.tubs[0][2])
	if got := w.house().MiteWatch(w.tables, ash, w.now().Day(), w.now()); got != 42 {
		t.Errorf("one that came later: %d days", got)
	}
	var own *husbandry.House
	if err := w.c.View(func(v model.View) (err error) { own, err = husbandry.ReadHouseOf(v, w.animal); return err }); err != nil {
		t.Fatal(err)
	}
	for from, want := range map[int]int{0: 77, 5: 77, 6: 42} {
		if got := own.MiteWatch(w.tables, w.animal, w.arrived+model.Day(from), w.now()); got != want {
			t.Errorf("from day %d: %d days, want %d", from, got, want)
		}
	}
}

// A box on a cool rack is as cool as the rack, and was so on the days on which it stood
// there, though it stands elsewhere now.
func TestABoxWasWhereItStood(t *testing.T) {
	w := begin(t)
	made := w.do(husbandry.AddPlaces{Parent: w.rooms[0], Branches: []husbandry.Branch{
		{Place: husbandry.Place{Name: "Cool", Kind: husbandry.Rack, Zones: husbandry.Zones{Cool: model.Temperature{Hundredths: 2000, Typed: "20"}}}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "Box", Kind: husbandry.Tub}}}},
		{Place: husbandry.Place{Name: "Warm", Kind: husbandry.Rack, Zones: husbandry.Zones{Cool: model.Temperature{Hundredths: 2600, Typed: "26"}}}}}})
	cool, box, warm := model.PlaceID{ID: made[0]}, model.PlaceID{ID: made[1]}, model.PlaceID{ID: made[2]}
	ash := w.came("Ash", box)
	w.on(2)
	w.do(husbandry.MovePlace{ID: box, Parent: warm})
	w.on(4)
	w.types(cool, 2600)
	var own *husbandry.House
	if err := w.c.View(func(v model.View) (err error) { own, err = husbandry.ReadHouseOf(v, ash); return err }); err != nil {
		t.Fatal(err)
	}
	for _, h := range []*husbandry.House{w.house(), own} {
		for from, want := range map[int]int{0: 77, 1: 77, 2: 42, 4: 42} {
			if got := h.MiteWatch(w.tables, ash, w.arrived+model.Day(from), w.now()); got != want {
				t.Errorf("from day %d: %d days, want %d", from, got, want)
			}
		}
	}
}

// Nothing that is typed later brings the day forward, but for looks and results: neither
// another warmth, nor a move, nor who comes, nor a treatment.
func TestNothingTypedLaterBringsTheDayForward(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		w := begin(t)
		ash := w.came("Ash", w.tubs[1][0])
		w.look(w.animal, care.NoMites)
		day := 0
		for range rapid.IntRange(1, 8).Draw(r, "acts") {
			day += rapid.IntRange(1, 12).Draw(r, "days on")
			w.on(day)
			before := w.of(w.animal).Gate
			what := rapid.SampledFrom([]string{"zone", "move", "mate", "treatment", "somebody"}).Draw(r, "what")
			switch room, tub := rapid.IntRange(0, 1).Draw(r, "room"), rapid.IntRange(0, 3).Draw(r, "tub"); what {
			case "zone":
				w.types(w.tubs[room][tub], rapid.SampledFrom([]int64{0, 2100, 2600}).Draw(r, "cool"))
			case "move":
				w.tries(husbandry.Move{Animal: w.animal, Place: w.tubs[room][tub], At: w.now()})
			case "mate":
				w.tries(husbandry.Move{Animal: ash, Place: w.tubs[room][tub], At: w.now()})
			case "treatment":
				w.do(care.TreatMites{About: w.about(rapid.SampledFrom([]model.AnimalID{w.animal, ash}).Draw(r, "whom")), MiteTreatment: care.MiteTreatment{What: "as the vet said",
					Until: model.Date{Day: w.now().Day() + model.Day(rapid.IntRange(0, 40).Draw(r, "acts for")), Precision: model.ToDay}}})
			}
			after := w.of(w.animal).Gate
			if after.Earliest < before.Earliest {
				r.Fatalf("%s on day %d: from day %d to %d", what, day, before.Earliest-w.arrived, after.Earliest-w.arrived)
			}
			for i, l := range after.Lines {
				if l.Earliest < before.Lines[i].Earliest {
					r.Fatalf("%s on day %d, %s: from day %d to %d", what, day, l.Item, before.Lines[i].Earliest-w.arrived, l.Earliest-w.arrived)
				}
			}
		}
	})
}

// A watch that is over, of a newcomer or of one of the house, stays over though its box
// turns cool later.
func TestAWatchThatIsOverStaysOver(t *testing.T) {
	for turns, over := range map[int]bool{40: false, 43: true} {
		w := begin(t)
		w.look(w.animal, care.OneMite)
		for d := 1; d <= 50; d++ {
			w.on(d)
			if d == turns {
				w.types(w.tubs[0][0], 2100)
			}
			w.look(w.animal, care.NoMites)
		}
		if m := w.of(w.animal).Facts.Mites; (m.Over == w.arrived+42) != over || m.Cool == over {
			t.Errorf("cool from day %d: %+v", turns, m)
		}
		lasts := w.house().MitesLast(w.tables, w.animal, w.arrived, w.now())
		for until, days := range map[int]int{turns - 1: 42, turns: 77, 50: 77} {
			if got := lasts(w.arrived + model.Day(until)); got != days {
				t.Errorf("cool from day %d: %d days by what is known of day %d", turns, got, until)
			}
		}
	}
}
