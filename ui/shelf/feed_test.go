package shelf_test

import (
	"testing"
	"time"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/ui/uitest"
)

// Before food is offered, the box in the lamp says what speaks against it.
func TestFeedSaysWhatSpeaksAgainstIt(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 2, "Brook", "Juniper") })
	about := func(name string) care.About {
		return care.About{Animal: h.Animal(name).ID, At: model.MomentOf(h.Clock.Now())}
	}
	do(t, h.Collection(), care.Weigh{About: about("Brook"), Weight: care.Weight{Mass: model.Grams(400)}})
	h.Clock.Pass(time.Minute)
	do(t, h.Collection(), care.Feed{About: about("Brook"), Meal: care.Meal{Prey: care.Rat, Each: model.Grams(60), Count: 1, Outcome: care.Regurgitated}})
	do(t, h.Collection(), care.Feed{About: about("Juniper"), Meal: care.Meal{Prey: care.Rat, Each: model.Grams(60), Count: 1, Outcome: care.Took}})
	do(t, h.Collection(), care.RecordWaste{About: about("Brook"), Waste: care.Waste{Faeces: []care.Trait{care.Blood}}})
	h.Clock.Pass(72 * time.Hour)
	h.press("1\n")
	for _, want := range []string{"Something is for the vet", "Brought up 9 Jun", "no food before", "a large meal"} {
		if !h.Shows(want) {
			t.Errorf("%q is not said: %q", want, uitest.Texts(h.Content()))
		}
	}
	h.press("3") // passed over
	for _, want := range []string{"Something is for the vet", "Brought up 9 Jun", "a large meal"} {
		if h.Shows(want) {
			t.Errorf("%q is said of another", want)
		}
	}
}
