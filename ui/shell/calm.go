package shell

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// doubleClick is how long the second press of a double click may take: the
// longest that systems are set to by themselves.
const doubleClick = 500 * time.Millisecond

// calm lies over a page that was just opened and takes the second press of a
// double click, which was meant for what stood there before.
type calm struct{ widget.BaseWidget }

func newCalm() *calm {
	c := &calm{}
	c.ExtendBaseWidget(c)
	return c
}

// CreateRenderer implements fyne.Widget: there is nothing to be seen.
func (c *calm) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(&fyne.Container{})
}

// Tapped implements fyne.Tappable, and does nothing.
func (c *calm) Tapped(*fyne.PointEvent) {}

// settle lays calm over the page for as long as a double click may take.
func (s *Shell) settle() {
	over := newCalm()
	s.page.Add(over)
	s.o.Later(doubleClick, func() { s.page.Remove(over) })
}

// later does something on Fyne's goroutine once a time has passed.
func later(after time.Duration, do func()) {
	fyne.NewAnimation(after, func(done float32) {
		if done == 1 {
			do()
		}
	}).Start()
}
