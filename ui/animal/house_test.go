package animal_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// The grade of a mite look is chosen each time, and where was looked; it is told
// as what was seen, changed and removed like any entry.
func TestMiteLook_IsNotedToldChangedAndRemoved(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", care.KindMiteLook)
	uitest.Tap(t, h.Content(), "White paper")
	h.key(fyne.KeyReturn)
	if !h.Shows("Choose what was seen") {
		t.Fatalf("kept without a grade: %q", uitest.Texts(h.Content()))
	}
	h.typed("0")
	uitest.Tap(t, h.Content(), "Keep")
	kept, is := h.entries()[0].Body.(care.MiteLook)
	if !is || kept.Grade != care.NoMites || len(kept.Where) != 1 || kept.Where[0] != care.WhitePaper {
		t.Fatalf("kept %+v", h.entries()[0])
	}
	if !h.Shows("Mites: none seen") || !h.Shows("White paper") {
		t.Errorf("told as %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Mites: none seen")
	uitest.Tap(t, h.Content(), "2 A single one, confirmed")
	uitest.Tap(t, h.Content(), "Keep")
	if kept = h.entries()[0].Body.(care.MiteLook); kept.Grade != care.OneMite || !h.Shows("Mites: a single one, confirmed") {
		t.Errorf("changed to %+v; shown %q", kept, uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Mites: a single one, confirmed")
	uitest.Tap(t, h.Content(), "Remove this entry")
	if _, still := h.entries()[0].Body.(care.MiteLook); still {
		t.Error("not removed")
	}
}

// housed lays two boxes out and lets the only animal move from one to the other.
func housed(t *testing.T) func(*collection.Collection) {
	return func(c *collection.Collection) {
		one(t)(c)
		tub := func(name string) husbandry.Branch {
			return husbandry.Branch{Place: husbandry.Place{Name: name, Kind: husbandry.Tub}}
		}
		done, err := c.Do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Loft", Kind: husbandry.Room}, Below: []husbandry.Branch{tub("Box 1"), tub("Box 2")}}}})
		if err != nil {
			t.Fatal(err)
		}
		for i, daysAgo := range []int64{40, 10} {
			err := c.View(func(v model.View) error {
				all, err := animals.All(v)
				if err != nil {
					return err
				}
				at := v.Now()
				at.UTC -= daysAgo * 86400
				_, err = c.Do(husbandry.Move{Animal: all[0].ID, Place: model.PlaceID{ID: done.Documents[i+1]}, At: at})
				return err
			})
			if err != nil {
				t.Fatal(err)
			}
		}
	}
}

func TestPage_SaysWhereTheAnimalLives(t *testing.T) {
	h := open(t, "en", small, look.ByDay, housed(t))
	h.show("Wren", "days")
	for _, want := range []string{"lives in Loft, Box 2", "Moved into Loft, Box 1", "Moved to Loft, Box 2", "before: Loft, Box 1"} {
		if !h.Shows(want) {
			t.Errorf("%q is not shown: %q", want, uitest.Texts(h.Content()))
		}
	}
	if h.Shows("corrected on") {
		t.Error("the end of a stay is told as a correction")
	}
	h.Undo()
	h.show("Wren", "days")
	if !h.Shows("lives in Loft, Box 1") || h.Shows("Moved to") {
		t.Errorf("after undo: %q", uitest.Texts(h.Content()))
	}
}

// The day of a move is put right from the animal's days; one that cannot be is
// refused at its field, and what was typed stays. A stay is taken out there too.
func TestStay_IsPutRightAndTakenOut(t *testing.T) {
	h := open(t, "en", small, look.ByDay, housed(t))
	h.show("Wren", "days")
	today := model.MomentOf(h.Clock.Now()).Day()
	retype := func(before, typed string) {
		for range before {
			h.key(fyne.KeyBackspace)
			h.key(fyne.KeyDelete)
		}
		h.typed(typed)
	}
	top := func() fyne.CanvasObject { return uitest.Top(h.Canvas()) }
	day := func(ago model.Day) string { return h.Text().DayShort(today - ago) }
	uitest.Tap(t, h.Content(), "Moved to Loft, Box 2")
	retype(day(10), day(20))
	uitest.Tap(t, top(), "Keep")
	if !uitest.Shows(top(), "Loft, Box 1") || !uitest.Shows(top(), day(20)) {
		t.Fatalf("two places at once were kept, or what was typed is gone: %q", uitest.Texts(top()))
	}
	retype(day(20), day(5))
	uitest.Tap(t, top(), "Keep")
	if !h.Shows("Moved into Loft, Box 2") || !h.Shows("until "+day(10)) {
		t.Fatalf("not put right: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Moved into Loft, Box 2")
	uitest.Tap(t, top(), "Take this stay out")
	if h.Shows("Moved into Loft, Box 2") || h.Shows("lives in Loft, Box 2") {
		t.Errorf("not taken out: %q", uitest.Texts(h.Content()))
	}
	h.Undo()
	if !h.Shows("lives in Loft, Box 2") {
		t.Errorf("after undo: %q", uitest.Texts(h.Content()))
	}
}

// A weight that is put right keeps the scale that it was noted with.
func TestWeight_KeepsItsScale(t *testing.T) {
	var scale model.InstrumentID
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		if _, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Wren"}}); err != nil {
			t.Fatal(err)
		}
		done, err := c.Do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Scale", Kind: husbandry.Scale}})
		if err != nil {
			t.Fatal(err)
		}
		scale.ID = done.Documents[0]
		err = c.View(func(v model.View) error {
			all, err := animals.All(v)
			if err != nil {
				return err
			}
			_, err = c.Do(care.Weigh{About: care.About{Animal: all[0].ID, At: v.Now()}, Weight: care.Weight{Mass: model.Grams(140), With: scale}})
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	})
	h.show("Wren", "days")
	uitest.Tap(t, h.Content(), "Weighed")
	h.key(fyne.KeyBackspace)
	h.typed("1")
	uitest.Tap(t, h.Content(), "Keep")
	w := h.entries()[0]
	if kept, is := w.Body.(care.Weight); !is || w.Revision != 2 || kept.With != scale {
		t.Errorf("kept %+v", w)
	}
}
