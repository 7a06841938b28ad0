package shelf_test

import (
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/due"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// feeds notes that an animal took its food now.
func (h *hand) feeds(names ...string) {
	h.T.Helper()
	for _, name := range names {
		do(h.T, h.Collection(), care.Feed{About: care.About{Animal: h.Animal(name).ID, At: model.MomentOf(h.Clock.Now())},
			Meal: care.Meal{Prey: care.Rat, Each: model.Grams(60), Count: 1, Outcome: care.Took}})
	}
	h.Clock.Pass(time.Minute)
}

// Who was never offered food is offered it, before the others but after nobody who
// may carry something: those not housed yet come last. It is said.
func TestNeverOfferedIsOfferedFirst(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) {
		room(t, c, "Loft", 1, 4, "Ash", "Brook", "Clover")
		do(t, c, animals.Add{Animal: animals.Animal{Name: "Guest", Status: animals.Kept, Species: "python-regius"}})
	})
	h.feeds("Ash")
	h.Clock.Pass(30 * 24 * time.Hour)
	h.Go(place.Route{To: place.Shelf})
	h.press("1")
	if !h.Shows("4 due") || !h.Shows("3 animals here were never offered food") {
		t.Fatalf("%q", uitest.Texts(h.Content()))
	}
	h.press("\n")
	if h.Shows("Nobody is due") || !h.Shows("never offered yet, as far as is noted") {
		t.Errorf("%q", uitest.Texts(h.Content()))
	}
	var order []string
	for range 4 {
		h.press("1")
		for _, name := range []string{"Ash", "Brook", "Clover", "Guest"} {
			if h.Shows(name + ": took") {
				order = append(order, name)
			}
		}
	}
	if got := strings.Join(order, " "); got != "Brook Clover Ash Guest" {
		t.Errorf("in the order %s", got)
	}
}

// A fresh collection: everybody is offered food, without a question.
func TestFeedNightOfAFreshCollection(t *testing.T) {
	h := open(t, uitest.Looks()[0], "de", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook") })
	h.press("1\n11")
	if a, b := h.entries("Ash"), h.entries("Brook"); len(a) != 1 || len(b) != 1 || h.keys != 4 {
		t.Errorf("%d keys: %v, %v", h.keys, a, b)
	}
}

// Whose offer was put off is not offered food, though none ever was.
func TestNeverOfferedAndPutOff(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook") })
	id := h.Animal("Ash").ID
	h.Clock.Pass(40 * 24 * time.Hour)
	do(t, h.Collection(), due.Respond{Tables: h.Tables(), Key: due.Key{Subject: id.Subject(), Job: due.Offer, Cause: "none"}, What: due.NotNeeded, Why: "at the vet's"})
	h.press("1")
	if !h.Shows("1 due") {
		t.Fatalf("%q", uitest.Texts(h.Content()))
	}
}

// What was typed is shown and noted, prey chosen or not.
func TestAWeightWithoutPreyIsShownAndKept(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook") })
	h.press("1")
	h.press("60\n")
	if !h.Shows("Prey not given, 60\u00a0g") {
		t.Fatalf("%q", uitest.Texts(h.Content()))
	}
	h.press("1")
	if e := h.entries("Ash"); len(e) != 1 || e[0].(care.Meal).Each != (model.Mass{Milligrams: 60_000, Typed: "60"}) && e[0].(care.Meal).Each.Milligrams != 60_000 {
		t.Errorf("%+v", e)
	}
}

// That nobody is due pushes nothing in the form, and goes when it is chosen anew who
// is walked to.
func TestTheNoticeMovesNothing(t *testing.T) {
	h := open(t, uitest.Looks()[0], "de", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook") })
	h.feeds("Ash", "Brook")
	at := func() (y float32) {
		uitest.Walk(h.Content(), func(s uitest.Seen) bool {
			if texts := uitest.Texts(s.Object); len(texts) > 0 && texts[0] == h.Text().Say("field.prey-mass") {
				y = s.At.Y
			}
			return true
		})
		return y
	}
	h.press("1")
	before := at()
	h.press("\n")
	if !h.Shows("Niemand ist mit Futter dran") || at() != before || before == 0 {
		t.Errorf("the field stood at %.0f and stands at %.0f: %q", before, at(), uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "alle 2")
	if h.Shows("Niemand ist mit Futter dran") {
		t.Error("it stays though all were chosen")
	}
}
