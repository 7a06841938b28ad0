package shell

import (
	"testing"

	"fyne.io/fyne/v2"
)

// The second press of a double click is taken while the page is new; nothing else
// of it is, and nothing stays: the test driver ends animations at once.
func TestCalm_LeavesThePageAsItIs(t *testing.T) {
	c := newCalm()
	if _, takes := fyne.CanvasObject(c).(fyne.Tappable); !takes {
		t.Error("a press goes through it")
	}
	if _, takes := fyne.CanvasObject(c).(fyne.Scrollable); takes {
		t.Error("it takes scrolling away from the page")
	}
	if size := c.MinSize(); size.Width > 0 || size.Height > 0 {
		t.Errorf("it wants room of its own: %v", size)
	}
}
