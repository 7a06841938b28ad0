package animal_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// The form says how much prey one meal is by the class, and asks beyond it; said to
// be so, the meal stands as it was typed.
func TestMeal_SaysTheBandAndAsksBeyondIt(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", care.KindMeal)
	if !h.Shows("14\u00a0g to 21\u00a0g of prey in all") {
		t.Fatalf("shown %q", uitest.Texts(h.Content()))
	}
	h.keepPicture("meal-band")
	h.typed("1")
	h.Canvas().Focus(uitest.Entries(h.Content())[1]) // the weight of each
	h.typed("60")
	h.key(fyne.KeyReturn)
	if n := len(h.entries()); n != 1 || !uitest.Shows(h.Canvas().Overlays().Top(), "Is the prey that heavy?") {
		t.Fatalf("%d entries", n)
	}
	uitest.Tap(t, h.Canvas().Overlays().Top(), h.Text().Say("window.ask.yes"))
	kept := h.entries()
	if m, is := kept[0].Body.(care.Meal); !is || m.Each.Milligrams != 60_000 {
		t.Errorf("kept %+v", kept[0])
	}
}

// After prey was brought up the form says from when on food is offered again, and
// that it begins with less.
func TestMeal_SaysTheWaitAfterPreyCameUp(t *testing.T) {
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		one(t)(c)
		feed(t, c, care.Meal{Prey: care.Mouse, Each: model.Grams(12), Outcome: care.Regurgitated})
	})
	h.show("Wren", care.KindMeal)
	for _, want := range []string{"no food before", "begin again with at most 6\u00a0g"} {
		if !h.Shows(want) {
			t.Errorf("%q is not said: %q", want, uitest.Texts(h.Content()))
		}
	}
}
