package shell

import (
	"testing"

	"fyne.io/fyne/v2"
)

// The second press of a double click is taken while the page is new; nothing else
// of it is.
func TestCalm_LeavesThePageAsItIs(t *testing.T) {
	c := newCalm()
	if _, takes := fyne.CanvasObject(c).(fyne.Tappable); !takes {
		t.Error("a press goes through it")
	}
	if _, takes := fyne.CanvasObject(c).(fyne.Scrollable); takes {
		t.Error("it takes scrolling away from the page")
	}
}
