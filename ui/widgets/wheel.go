package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// wheel lies over an entry of one line and hands the turns of the mouse wheel on to the
// scroller around it. An entry keeps them to itself, up and down too, where it has nothing to
// scroll, and a form would stand still wherever the pointer is over one of its fields. A text
// that is longer than its field is moved by the keys. Presses go through it.
type wheel struct{ widget.BaseWidget }

var _ fyne.Scrollable = (*wheel)(nil)

func newWheel() *wheel {
	w := &wheel{}
	w.ExtendBaseWidget(w)
	return w
}

// CreateRenderer implements fyne.Widget: there is nothing to be seen.
func (w *wheel) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(&fyne.Container{})
}

// Scrolled implements fyne.Scrollable.
func (w *wheel) Scrolled(e *fyne.ScrollEvent) {
	if around := w.around(); around != nil {
		around.Scrolled(e)
	}
}

// around is the innermost scroller that the entry lies in; nil where it lies in none.
func (w *wheel) around() *container.Scroll {
	c := fyne.CurrentApp().Driver().CanvasForObject(w)
	if c == nil {
		return nil
	}
	for _, within := range append([]fyne.CanvasObject{c.Content()}, c.Overlays().List()...) {
		if scroll, _, found := scrollerOf(within, w); found {
			return scroll
		}
	}
	return nil
}
