package shelf_test

import (
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// weighs notes a mass of an animal outside of any walk.
func (h *hand) weighs(name string, grams int64) {
	h.T.Helper()
	do(h.T, h.Collection(), care.Weigh{About: care.About{Animal: h.Animal(name).ID, At: model.MomentOf(h.Clock.Now())}, Weight: care.Weight{Mass: model.Grams(grams)}})
	h.Clock.Pass(time.Hour)
}

// Undo in a walk takes back what the walk noted, in turn, and nothing from before
// it; what is not taken back is said.
func TestUndoDoesNotReachBehindTheWalk(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook", "Clover") })
	h.weighs("Clover", 900)
	h.press("2")
	h.press("1001\n1002\n")
	for range 2 {
		h.Undo()
	}
	if a, b := h.entries("Ash"), h.entries("Brook"); len(a)+len(b) != 0 {
		t.Fatalf("what the walk noted is not taken back: %v, %v", a, b)
	}
	h.Undo()
	if e := h.entries("Clover"); len(e) != 1 {
		t.Fatalf("undo reached behind the walk: %v", e)
	}
	if !h.Shows("was not noted in this walk") || !h.Shows("end the walk with Esc") {
		t.Errorf("it is not said: %q", uitest.Texts(h.Content()))
	}
	h.press("1")
	if h.Shows("was not noted in this walk") {
		t.Error("the notice stays at the next act")
	}
	h.key(fyne.KeyDelete)
	h.Redo() // what the walk noted and took back is the walk's still
	if e := h.entries("Ash"); len(e) != 1 {
		t.Fatalf("not done again: %v", e)
	}
	h.Undo()
	if e := h.entries("Ash"); len(e) != 0 {
		t.Errorf("what was done again is not taken back: %v", e)
	}
	h.key(fyne.KeyEscape)
	h.Undo() // outside of the walk
	if e := h.entries("Clover"); len(e) != 0 {
		t.Errorf("after the walk undo takes nothing back: %v", e)
	}
}

// What was noted elsewhere while the walk rests is not the walk's.
func TestUndoInAWalkLeavesWhatWasNotedElsewhere(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook", "Clover") })
	h.press("2")
	h.press("1001\n")
	h.weighs("Clover", 900)
	h.Undo()
	if a, c := h.entries("Ash"), h.entries("Clover"); len(a) != 1 || len(c) != 1 {
		t.Errorf("taken back: %v, %v", a, c)
	}
}

// "None seen" for all is one step back.
func TestUndoTakesBackNoneSeenForAll(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook", "Clover") })
	h.press("3")
	uitest.Tap(t, h.Content(), "White paper")
	h.press("\n9\n")
	if e := h.entries("Brook"); len(e) != 1 {
		t.Fatalf("not noted: %v", e)
	}
	h.Undo()
	if e := h.entries("Brook"); len(e) != 0 || h.Shows("All done") {
		t.Errorf("not taken back: %v", e)
	}
}

// Undo with a half-typed mass clears the figures and nothing else.
func TestUndoClearsTheFiguresFirst(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook") })
	h.press("2")
	h.press("1001\n77")
	h.Undo()
	if e := h.entries("Ash"); len(e) != 1 || h.Shows("77") {
		t.Fatalf("%v; shown %q", e, uitest.Texts(h.Content()))
	}
	h.Undo()
	if e := h.entries("Ash"); len(e) != 0 {
		t.Errorf("the second undo takes nothing back: %v", e)
	}
}

// A mass that is refused is said in the walk, with value and what to do; the next
// digit begins a new one.
func TestARefusedMassIsSaidInTheWalk(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		h := open(t, uitest.Looks()[0], language, func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook") })
		h.press("29000\n")
		if h.Canvas().Overlays().Top() != nil {
			t.Fatalf("a dialog is over it: %q", uitest.Texts(h.top()))
		}
		said := map[string]string{"en": "Check the number", "de": "Zahl, Einheit und die Art"}[language]
		found := ""
		for _, s := range uitest.Texts(h.Content()) {
			if found == "" && strings.Contains(s, said) {
				found = s
			}
		}
		if !strings.Contains(found, "9000") {
			t.Fatalf("%s: it is not said, with its value: %q", language, uitest.Texts(h.Content()))
		}
		if clipped := uitest.Clipped(h.Content(), h.Canvas().Size()); len(clipped) > 0 {
			t.Errorf("%s: clipped: %q", language, clipped)
		}
		h.press("9")
		if h.Shows(said) {
			t.Error("the refusal stays while the next mass is typed")
		}
		h.press("50\n")
		if e := h.entries("Ash"); len(e) != 1 || e[0].(care.Weight).Mass.Milligrams != 950_000 {
			t.Errorf("the next digits do not begin anew: %+v", e)
		}
	}
}

// After a mass was asked about and left, the next digit begins a new one too.
func TestAfterAQuestionTheMassBeginsAnew(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook") })
	h.weighs("Ash", 1432)
	h.press("22000\n")
	if h.Canvas().Overlays().Top() == nil {
		t.Fatal("it is not asked")
	}
	h.key(fyne.KeyEscape)
	h.press("1450\n")
	if e := h.entries("Ash"); len(e) != 2 || e[0].(care.Weight).Mass.Milligrams != 1_450_000 {
		t.Errorf("%+v", e)
	}
}

// However long a typed mass is, all its figures are read.
func TestLongFiguresShrink(t *testing.T) {
	for _, l := range uitest.Looks() {
		h := open(t, l, "de", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash") })
		h.press("2123456789")
		found := false
		uitest.Walk(h.Content(), func(s uitest.Seen) bool {
			if text, ok := s.Object.(*widgets.Text); ok && text.Text() == "123456789" {
				found = true
				if text.Short() {
					t.Errorf("%v: cut at a width of %.0f", l, text.Size().Width)
				}
			}
			return true
		})
		if !found {
			t.Errorf("%v: shown %q", l, uitest.Texts(h.Content()))
		}
	}
}
