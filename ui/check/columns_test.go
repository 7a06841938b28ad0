package check_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/ui/look"
	"coilward/ui/uitest"
)

// In a window of 1024 pixels the check still stands whole: the stops by their
// marks alone. From 1280 on their names stand beside them.
func TestColumns_FitASmallWindow(t *testing.T) {
	for _, language := range uitest.Languages() {
		for width, named := range map[float32]bool{1024: false, 1280: true} {
			size := fyne.NewSize(width, 768)
			h := open(t, uitest.Look{Shine: look.ByDay, Width: size.Width, Height: size.Height, Scale: 1}, language)
			h.check("Juniper")
			if least := h.Content().MinSize(); least.Width > size.Width {
				t.Errorf("%s: the page needs %.0f pixels of %.0f", language, least.Width, size.Width)
			}
			if got := h.Shows(h.Text().Say("stop.vent")); got != named {
				t.Errorf("%s, %.0f wide: the vent is named among the stops: %v", language, width, got)
			}
			for _, fault := range uitest.Clipped(h.Content(), size) {
				t.Errorf("%s, %.0f wide: %s", language, width, fault)
			}
		}
	}
}

// A finding at the head is not put onto the body by a place that belongs there.
func TestPlace_OnTheBodyIsRefusedAtTheHead(t *testing.T) {
	h := open(t, uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1}, "en")
	h.check("Juniper")
	h.keys("\n", 2e9)
	if h.Shows(h.Text().Say("check.count")) {
		t.Errorf("counting along the body is offered at the head: %q", uitest.Texts(h.Content()))
	}
	uitest.Type(h.Canvas(), "t")
	uitest.Type(h.Canvas(), "62 left")
	uitest.Key(h.Canvas(), fyne.KeyReturn)
	if !h.Shows("looks at the head") {
		t.Errorf("taken without a word: %q", uitest.Texts(h.Content()))
	}
}
