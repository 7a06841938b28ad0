package shell_test

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"coilward/model/collection"
	"coilward/ui/place"
	"coilward/ui/shell"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// big is a place that is one button all over.
type big struct {
	content fyne.CanvasObject
	pressed int
}

func (b *big) Content() fyne.CanvasObject { return b.content }
func (*big) Show(place.Route)             {}
func (*big) Hide()                        {}
func (*big) Changed(collection.Change)    {}

// The second press of a double click falls on the page that the first one opened:
// it does nothing there. Once a double click is over, the page takes every press.
func TestThePressAfterAPageWasOpenedIsTaken(t *testing.T) {
	page := &big{}
	page.content = widgets.Button(widgets.Plain, widgets.Act{Label: "Weigh", Do: func() { page.pressed++ }})
	var waited time.Duration
	var over []func()
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		o.Places = append(o.Places, shell.Room{Name: place.Animals, Icon: "settings", Key: "window.settings", Make: func(place.Window) place.Place { return page }})
		o.Later = func(after time.Duration, do func()) { waited, over = after, append(over, do) }
	})
	b.Start(room, false)
	for round := range 2 { // a page that is gone to again is new again
		b.Go(place.Route{To: place.Settings})
		over, waited, page.pressed = nil, 0, 0
		b.Go(place.Route{To: place.Animals})
		canvas := b.Window().Canvas()
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(b.Page()).Add(fyne.NewPos(b.Page().Size().Width/2, b.Page().Size().Height/2))
		test.TapCanvas(canvas, at)
		if page.pressed != 0 {
			t.Errorf("round %d: the second press of a double click reached the page", round)
		}
		if len(over) != 1 || waited < 300*time.Millisecond || waited > time.Second {
			t.Fatalf("round %d: %d calms, the last for %v", round, len(over), waited)
		}
		over[0]()
		test.TapCanvas(canvas, at)
		if page.pressed != 1 {
			t.Errorf("round %d: a press after that reached the page %d times", round, page.pressed)
		}
	}
}

// Where the real waiting is used, the calm goes by itself: Fyne's driver for tests
// runs an animation to its end at once.
func TestTheCalmGoesByItself(t *testing.T) {
	b := open(t, uitest.Looks()[0], "en", nil)
	b.Start(room, false)
	if left := b.Page().(*fyne.Container).Objects; len(left) != 1 {
		t.Errorf("%d things lie on the page", len(left))
	}
}
