package shelf_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/ui/people"
	"coilward/ui/place"
	"coilward/ui/shelf"
	"coilward/ui/uitest"
)

// Who leaves the shelf leaves the card of a box with it; a form that was begun stays.
func TestLeavingTheShelfLeavesTheCard(t *testing.T) {
	w := uitest.Open(t, uitest.Setting{Look: uitest.Looks()[0], Language: "en", Place: place.Shelf, Make: func(w place.Window) place.Place { return shelf.New(w) },
		Beside: map[place.Name]func(place.Window) place.Place{place.People: func(w place.Window) place.Place { return people.New(w) }}})
	away := func() {
		w.Go(place.Route{To: place.People})
		w.Go(place.Route{To: place.Shelf})
	}
	w.Go(place.Route{To: place.Shelf})
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	if !w.Shows("Change this box") {
		t.Fatalf("no card: %q", uitest.Texts(w.Content()))
	}
	away()
	if w.Shows("Change this box") {
		t.Error("the card is still there")
	}
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	if !w.Shows("Change this box") {
		t.Error("the picture has lost the keys")
	}
	uitest.Tap(t, w.Content(), "Change this box")
	uitest.Type(w.Canvas(), "x")
	away()
	if !w.Shows("Keep") {
		t.Error("what was typed is gone")
	}
}
