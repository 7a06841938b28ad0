package instruments_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/ui/place"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// No number of the list is cut, in the longer language and beside the open form.
func TestNoNumberIsCutBesideTheForm(t *testing.T) {
	for _, page := range []string{"", "tools"} {
		w := open(t, uitest.Look{Shine: plain().Shine, Width: 1280, Height: 800, Scale: 1}, "de", nil, place.Route{Page: page})
		uitest.Key(w.Canvas(), fyne.KeyReturn)
		numbers := 0
		uitest.Walk(w.Content(), func(s uitest.Seen) bool {
			text, ok := s.Object.(*widgets.Text)
			if !ok || !strings.ContainsAny(text.Text(), "0123456789") || s.At.X > 900 {
				return true
			}
			numbers++
			if text.Short() {
				t.Errorf("%q is cut at a width of %.0f", text.Text(), text.Size().Width)
			}
			return true
		})
		if numbers < 2 {
			t.Errorf("only %d numbers stand in the list: %q", numbers, uitest.Texts(w.Content()))
		}
	}
}
