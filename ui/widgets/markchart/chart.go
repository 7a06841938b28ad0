// Package markchart shows marks over the days, which can be gone through and opened: looks
// for mites, answers of a lab. Values go in, callbacks come out.
package markchart

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"coilward/model/drawing"
	"coilward/ui/widgets/raster"
)

const typeSize = 12

// Marks is a chart laid out in a box, with marks to point at.
type Marks interface {
	Draw(pen drawing.Pen)
	Places() []drawing.Point // of the marks, in their order
	Nearest(at drawing.Point) int
}

// Lay lays a chart out in a box; size is the size of its type.
type Lay func(measure drawing.Measure, width, height, size float64) Marks

// Chart is a chart of marks. Set its fields, then call Refresh. Left and right go from
// mark to mark, Enter and a tap open one.
type Chart struct {
	widget.BaseWidget

	Style raster.Style
	Lay   Lay
	// Describe words the mark with an index; nil shows no words.
	Describe func(index int) string
	// OnMark is called with the mark that was opened.
	OnMark func(index int)
	// OnKey takes the keys that the chart has no use for.
	OnKey func(*fyne.KeyEvent)

	board   *raster.Board
	layout  Marks
	ring    *canvas.Circle
	tip     *raster.Tip
	marks   int
	current int // −1: none yet
	focused bool
}

var (
	_ fyne.Focusable    = (*Chart)(nil)
	_ fyne.Tappable     = (*Chart)(nil)
	_ desktop.Hoverable = (*Chart)(nil)
)

const ringSide float32 = 20

// New is a chart of so many marks. The keys begin at the last of them.
func New(marks int, lay Lay, style raster.Style) *Chart {
	c := &Chart{Style: style, Lay: lay, ring: canvas.NewCircle(nil), tip: raster.NewTip(), marks: marks, current: marks - 1}
	c.board = raster.NewBoard(&c.Style, func(pen drawing.Pen, _ fyne.Size) { c.layout.Draw(pen) })
	c.ring.StrokeWidth = 2
	c.ring.Resize(fyne.NewSquareSize(ringSide))
	c.ring.Hide()
	c.ExtendBaseWidget(c)
	return c
}

func (c *Chart) arrange(size fyne.Size) {
	c.layout = c.Lay(c.Style.Measure, float64(size.Width), float64(size.Height), typeSize)
	c.marks = len(c.layout.Places())
	c.current = min(c.current, c.marks-1)
}

// Current is the mark that the keys are at; −1: there is none.
func (c *Chart) Current() int { return c.current }

// PlaceOf is the middle of a mark, once the chart is laid out.
func (c *Chart) PlaceOf(index int) fyne.Position {
	p := c.layout.Places()[index]
	return fyne.NewPos(float32(p.X), float32(p.Y))
}

func (c *Chart) point() {
	if !c.focused || c.current < 0 || c.layout == nil {
		c.ring.Hide()
		c.tip.Hide()
		return
	}
	c.tell(c.current)
}

// tell rings a mark and words it.
func (c *Chart) tell(index int) {
	at := c.PlaceOf(index)
	c.ring.StrokeColor = c.Style.Colour(drawing.Accent)
	c.ring.Move(at.SubtractXY(ringSide/2, ringSide/2))
	c.ring.Show()
	if c.Describe != nil {
		c.tip.Show(c.Style, c.Describe(index), at, c.board.Size())
	}
	c.tip.Repaint()
}

// TypedKey implements fyne.Focusable.
func (c *Chart) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyLeft:
		c.current = max(min(0, c.current), c.current-1)
	case fyne.KeyRight:
		c.current = min(c.marks-1, c.current+1)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		c.open(c.current)
	default:
		if c.OnKey != nil {
			c.OnKey(k)
		}
	}
	c.point()
}

func (c *Chart) open(index int) {
	if index >= 0 && c.OnMark != nil {
		c.OnMark(index)
	}
}

// TypedRune implements fyne.Focusable: no letter means anything here.
func (c *Chart) TypedRune(rune) {}

// FocusGained implements fyne.Focusable.
func (c *Chart) FocusGained() { c.focused = true; c.point() }

// FocusLost implements fyne.Focusable.
func (c *Chart) FocusLost() { c.focused = false; c.point() }

// Tapped opens the mark nearest to the pointer.
func (c *Chart) Tapped(e *fyne.PointEvent) { c.open(c.nearest(e.Position)) }

func (c *Chart) nearest(at fyne.Position) int {
	if c.layout == nil {
		return -1
	}
	return c.layout.Nearest(drawing.Point{X: float64(at.X), Y: float64(at.Y)})
}

// MouseIn begins hovering.
func (c *Chart) MouseIn(e *desktop.MouseEvent) { c.MouseMoved(e) }

// MouseMoved words the mark nearest to the pointer.
func (c *Chart) MouseMoved(e *desktop.MouseEvent) {
	if i := c.nearest(e.Position); i >= 0 {
		c.tell(i)
	}
}

// MouseOut ends hovering.
func (c *Chart) MouseOut() { c.point() }

// CreateRenderer makes the chart's objects.
func (c *Chart) CreateRenderer() fyne.WidgetRenderer { return renderer{c} }

type renderer struct{ chart *Chart }

func (r renderer) Destroy()           {}
func (r renderer) MinSize() fyne.Size { return fyne.NewSize(320, 170) }

func (r renderer) Layout(size fyne.Size) {
	if size == r.chart.board.Size() {
		return
	}
	r.chart.arrange(size)
	r.chart.board.Layout(size)
	r.chart.point()
}

func (r renderer) Refresh() {
	r.chart.arrange(r.chart.board.Size())
	r.chart.board.Refresh()
	r.chart.point()
	canvas.Refresh(r.chart)
}

func (r renderer) Objects() []fyne.CanvasObject {
	return append(append(r.chart.board.Objects(), r.chart.ring), r.chart.tip.Objects()...)
}
