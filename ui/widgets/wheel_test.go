package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
)

// A form moves under the wheel wherever the pointer is, also over a field of one line; a field
// of several lines keeps the wheel for its text, and one that lies in no scroller does nothing.
func TestTheWheelGoesThroughAField(t *testing.T) {
	test.NewTempApp(t)
	one, many := NewField("one", FieldOptions{}), NewField("two", FieldOptions{Rows: 3})
	page := Scroll(Col(0, one.Container, many.Container, Space(10, 900)))
	w := test.NewTempWindow(t, page)
	w.Resize(fyne.NewSize(200, 200))
	scroll := page.Objects[0].(*container.Scroll)
	turn := func(o fyne.CanvasObject) (moved float32) {
		before := scroll.Offset.Y
		var over *wheel
		var find func(fyne.CanvasObject)
		find = func(o fyne.CanvasObject) {
			switch o := o.(type) {
			case *fyne.Container:
				for _, child := range o.Objects {
					find(child)
				}
			case *wheel:
				over = o
			}
		}
		if find(o); over == nil {
			return 0
		}
		if _, presses := any(over).(fyne.Tappable); presses {
			t.Error("the wheel takes presses from the entry")
		}
		over.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -40)})
		return scroll.Offset.Y - before
	}
	if moved := turn(one.Container); moved != 40 {
		t.Errorf("the form moved %g over a field of one line", moved)
	}
	if moved := turn(many.Container); moved != 0 {
		t.Errorf("the form moved %g over a field of several lines", moved)
	}
	alone := NewField("alone", FieldOptions{})
	test.NewTempWindow(t, alone.Container)
	if moved := turn(alone.Container); moved != 0 {
		t.Errorf("a field of another window moved the form by %g", moved)
	}
}
