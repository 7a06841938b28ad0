package animal_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model/care"
	"coilward/ui/look"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// tapEach presses all chips that are called so.
func (h *hand) tapEach(name string) {
	var all []fyne.Tappable
	uitest.Walk(h.Content(), func(s uitest.Seen) bool {
		if p, is := s.Object.(*widgets.Press); is && p.Name() == name {
			all = append(all, p)
		}
		return true
	})
	for _, p := range all {
		p.Tapped(&fyne.PointEvent{})
	}
}

// Of eye caps and tail tip nothing is chosen unsaid: a shed is kept once both are answered,
// also with that nobody looked, and a correction keeps what was answered.
func TestShed_AsksForEyeCapsAndTailTip(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	before := len(h.entries())
	h.show("Wren", care.KindShed)
	uitest.Tap(t, h.Content(), "Whole")
	h.key(fyne.KeyReturn)
	if len(h.entries()) != before || !h.Shows("Nothing is chosen") || !h.Shows("Stuck eye caps") {
		t.Fatalf("kept without an answer, or not said: %q", uitest.Texts(h.Content()))
	}
	h.tapEach("No")
	h.key(fyne.KeyReturn)
	s, is := h.entries()[0].Body.(care.Shed)
	if !is || s.Skin != care.Whole || s.StuckEyeCaps != care.No || s.StuckTailTip != care.No {
		t.Fatalf("kept %+v", h.entries()[0])
	}
	h.show("Wren", "days")
	h.show("Wren", care.KindShed)
	h.tapEach("Not looked")
	h.key(fyne.KeyReturn)
	if s, is := h.entries()[0].Body.(care.Shed); !is || len(h.entries()) != before+2 || s.StuckEyeCaps != care.NotLooked {
		t.Errorf("that nobody looked: %+v", h.entries()[0])
	}
}
