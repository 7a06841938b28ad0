package due_test

import (
	"testing"

	"fyne.io/fyne/v2"

	ui "coilward/ui/due"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// The key of "not needed" on a positive says at once why it is not so, and asks nothing.
func TestNotNeededOnAPositiveSaysWhyItCannotBe(t *testing.T) {
	var page *ui.Page
	w := uitest.Open(t, uitest.Setting{Look: plain(), Language: "en", Place: place.Due, Make: func(w place.Window) place.Place {
		page = ui.New(w)
		return page
	}})
	w.Go(place.Route{To: place.Due})
	label := w.Text().Say("due.answer.not-needed")
	for range 60 {
		for _, a := range page.Actions() {
			if a.Label == label {
				a.Do()
			}
		}
		top := uitest.Top(w.Canvas())
		if uitest.Shows(top, "A positive cannot be called not needed") {
			if len(uitest.Entries(top)) > 0 {
				t.Error("and yet it asks why")
			}
			return
		}
		if w.Canvas().Overlays().Top() != nil {
			uitest.Key(w.Canvas(), fyne.KeyEscape)
		}
		uitest.Key(w.Canvas(), fyne.KeyDown)
	}
	t.Error("no row says so")
}
