package animal_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model/animals"
	"coilward/ui/animal"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// The page of an animal is whole in a window of 800 pixels, as on a laptop with
// everything twice as large: whatever stands about it, and however long its name.
func TestThePageIsWholeInANarrowWindow(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		w := uitest.Open(t, uitest.Setting{Look: uitest.Look{Shine: look.ByDay, Width: 800, Height: 800, Scale: 1}, Language: language,
			Place: place.Animal, Make: func(w place.Window) place.Place { return animal.New(w) }})
		long := w.Animal("Mallow")
		long.Name = "Mallow, who was called otherwise where she came from"
		if _, err := w.Collection().Do(animals.Change{ID: long.ID, Base: long.Revision, Animal: long.Animal}); err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{"Plover", "Juniper", "Sorrel", long.Name} {
			for _, page := range []string{animal.PageDays, animal.PageBody, animal.PageWeight} {
				w.Go(place.Route{To: place.Animal, Subject: w.Animal(name).ID.ID, Page: page})
				if m := w.Content().MinSize(); m.Width > 790 { // the rail of the program is wider by up to 7
					t.Errorf("%s, %s of %s: needs %v pixels", language, page, name, m.Width)
				}
			}
		}
	}
}

// From an entry that another place asked for, the way back leads there; else to the
// animals.
func TestTheWayBackLeadsToWhoAskedForAnEntry(t *testing.T) {
	w := uitest.Open(t, uitest.Setting{Look: uitest.Looks()[0], Language: "en", Place: place.Animal, Make: func(w place.Window) place.Place { return animal.New(w) }})
	id := w.Animal("Plover").ID.ID
	back := func() {
		t.Helper()
		pressed := false
		uitest.Walk(w.Content(), func(s uitest.Seen) bool {
			if p, is := s.Object.(*widgets.Press); is && p.Name() == "" && !pressed {
				pressed = true
				p.Tapped(&fyne.PointEvent{})
			}
			return !pressed
		})
		if !pressed {
			t.Fatal("no way back is shown")
		}
	}
	last := func() place.Name { return w.Went[len(w.Went)-1].To }
	w.Go(place.Route{To: place.Newcomers})
	w.Go(place.Route{To: place.Animal, Subject: id, Page: "weight"})
	back()
	if last() != place.Newcomers || len(w.Went) < 2 {
		t.Errorf("back from an entry that was asked for leads to %s", last())
	}
	w.Go(place.Route{To: place.Animal, Subject: id})
	back()
	if last() != place.Animals {
		t.Errorf("back from the animal leads to %s", last())
	}
}
