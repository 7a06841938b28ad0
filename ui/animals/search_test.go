package animals_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/ui/place"
	"coilward/ui/uitest"
)

// Who goes back from an animal finds the search as it was; who comes anew sees all.
func TestTheSearchStaysOnlyOnTheWayBack(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), uitest.Looks()[0].Shine, nil)
	h.Go(place.Route{To: place.Animals})
	sees := func(when string, all bool) {
		t.Helper()
		if !h.Shows("Heron") || h.Shows("Bramble") != all {
			t.Fatalf("%s: %q", when, uitest.Texts(h.Content()))
		}
	}
	sees("at first", true)
	uitest.Type(h.Canvas(), "heron")
	sees("searched", false)
	uitest.Key(h.Canvas(), fyne.KeyReturn)
	if len(h.Went) == 0 || h.Went[len(h.Went)-1].To != place.Animal {
		t.Fatalf("the animal is not opened: %v", h.Went)
	}
	h.Back()
	sees("back", false)
	h.Go(place.Route{To: place.Due})
	h.Go(place.Route{To: place.Animals})
	sees("anew", true)
	uitest.Type(h.Canvas(), "bram")
	if h.Shows("Heron") || !h.Shows("Bramble") {
		t.Errorf("the old word is still in the field: %q", uitest.Texts(h.Content()))
	}
}
