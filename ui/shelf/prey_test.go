package shelf_test

import (
	"testing"
	"time"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/ui/uitest"
)

// The box in the lamp says where the prey of the walk is less or more than one meal of
// this animal, and that it is not due yet.
func TestFeedSaysTooLittleTooMuchAndNotYet(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 2, "Brook") })
	about := care.About{Animal: h.Animal("Brook").ID, At: model.MomentOf(h.Clock.Now())}
	do(t, h.Collection(), care.Weigh{About: about, Weight: care.Weight{Mass: model.Grams(1500)}})
	h.Clock.Pass(time.Minute)
	do(t, h.Collection(), care.Feed{About: about, Meal: care.Meal{Prey: care.Rat, Each: model.Grams(40), Count: 1, Outcome: care.Took}})
	h.press("1\n\n")
	for _, want := range []string{"40\u00a0g: less than one meal (60\u00a0g to 105\u00a0g)", "not due before"} {
		if !h.Shows(want) {
			t.Errorf("%q is not said: %q", want, uitest.Texts(h.Content()))
		}
	}
}
