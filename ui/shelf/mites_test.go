package shelf_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model/care"
	"coilward/model/collection"
	"coilward/ui/uitest"
)

// Mites at one animal concern the whole room: the walk says at how many others a look
// is due, as the list of what is due says, and what to do before the next box.
// Source: common practice, no source.
func TestMitesAtOneConcernTheRoom(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		h := open(t, uitest.Looks()[0], language, func(c *collection.Collection) {
			room(t, c, "Loft", 2, 2, "Ash", "Brook", "Clover")
			room(t, c, "Cellar", 1, 2, "Wren", "Fern")
		})
		h.press("3")
		uitest.Tap(t, h.Content(), map[string]string{"en": "White paper", "de": "Weißes Papier"}[language])
		h.press("\n3")
		n := h.Text().Count("shelf.mites.seen", 2, map[string]any{"Who": "Ash"})
		if !h.Shows(n) || !strings.Contains(n, "2") {
			t.Fatalf("%s: %q is not said: %q", language, n, uitest.Texts(h.Content()))
		}
		if clipped := uitest.Clipped(h.Content(), h.Canvas().Size()); len(clipped) > 0 {
			t.Errorf("%s: clipped: %q", language, clipped)
		}
		h.press("0")
		if h.Shows(n) {
			t.Error("it stays at the next act")
		}
		h.press("-2") // at Brook, who had none: mites after all
		if said := h.Text().Count("shelf.mites.seen", 1, map[string]any{"Who": "Brook"}); !h.Shows(said) {
			t.Errorf("%q is not said: %q", said, uitest.Texts(h.Content()))
		}
	}
}

// One alone in its room concerns nobody else; a speck is looked at again in 3 days.
// Source of the days: common practice, no source.
func TestASpeckIsLookedAtAgain(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) {
		room(t, c, "Loft", 1, 2, "Ash")
		room(t, c, "Cellar", 1, 2, "Wren")
	})
	h.press("3")
	uitest.Tap(t, h.Content(), "White paper")
	h.press("\n1")
	if !h.Shows("Look again in 3 days") || h.Shows("wash hands") {
		t.Fatalf("%q", uitest.Texts(h.Content()))
	}
	h.press("2")
	if !h.Shows("Wren has mites. Before the next box") {
		t.Errorf("at the end: %q", uitest.Texts(h.Content()))
	}
	h.key(fyne.KeyEscape)
	if h.Shows("Wren has mites") || h.entries("Wren")[0].(care.MiteLook).Grade != care.OneMite {
		t.Errorf("after the walk: %q", uitest.Texts(h.Content()))
	}
}

// A walk whose places leave the animal itself out says that its looks advance no watch.
func TestALookThatLeavesTheAnimalOutSaysSo(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 2, "Ash") })
	const says = "does not advance a watch for mites"
	h.press("3")
	uitest.Tap(t, h.Content(), "White paper")
	if !h.Shows(says) {
		t.Errorf("it is not said: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "On the animal")
	if h.Shows(says) {
		t.Error("it is said though the animal itself is looked at")
	}
}
