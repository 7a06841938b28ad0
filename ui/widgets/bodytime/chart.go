// Package bodytime shows problems over body and time, the animal standing
// upright as the axis; its cursor can be dragged through the days. Values go in,
// callbacks come out.
package bodytime

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"coilward/model"
	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/ui/widgets/raster"
)

// Chart is a body–time chart. Set its fields, then call Refresh.
type Chart struct {
	widget.BaseWidget

	Data  chart.BodyTimeData
	Style raster.Style
	// Describe words the bar with an index in Data.Bars; nil shows no words.
	Describe func(index int) string
	// OnDay tells of the day that the cursor was moved to; whoever holds the
	// chart sets Data.Day and calls Refresh.
	OnDay func(model.Day)
	// OnBar tells of a tapped bar by its index in Data.Bars.
	OnBar func(index int)

	board   *raster.Board
	layout  *chart.BodyTime
	tip     *raster.Tip
	focused bool
	ring    *canvas.Rectangle
}

var (
	_ fyne.Widget       = (*Chart)(nil)
	_ fyne.Tappable     = (*Chart)(nil)
	_ fyne.Draggable    = (*Chart)(nil)
	_ fyne.Focusable    = (*Chart)(nil)
	_ desktop.Hoverable = (*Chart)(nil)
)

const typeSize = 12

// New is a chart of the data.
func New(data chart.BodyTimeData, style raster.Style) *Chart {
	c := &Chart{Data: data, Style: style, tip: raster.NewTip(), ring: canvas.NewRectangle(color.Transparent)}
	c.board = raster.NewBoard(&c.Style, func(pen drawing.Pen, _ fyne.Size) { c.layout.Draw(pen) })
	c.ring.StrokeWidth, c.ring.CornerRadius = 2, 6
	c.ring.Hide()
	c.ExtendBaseWidget(c)
	return c
}

func (c *Chart) arrange(size fyne.Size) {
	if c.Data.Words.Measure == nil {
		c.Data.Words.Measure = c.Style.Measure
	}
	c.layout = chart.NewBodyTime(c.Data, float64(size.Width), float64(size.Height), typeSize)
	plot := c.layout.Plot.Grow(4)
	c.ring.Move(fyne.NewPos(float32(plot.Min.X), float32(plot.Min.Y)))
	c.ring.Resize(fyne.NewSize(float32(plot.Width()), float32(plot.Height())))
	c.ring.StrokeColor = c.Style.Colour(drawing.Accent)
	c.ring.FillColor = color.Transparent
}

func point(p fyne.Position) drawing.Point {
	return drawing.Point{X: float64(p.X), Y: float64(p.Y)}
}

// MouseIn begins hovering.
func (c *Chart) MouseIn(e *desktop.MouseEvent) { c.MouseMoved(e) }

// MouseMoved words the bar under the pointer.
func (c *Chart) MouseMoved(e *desktop.MouseEvent) {
	i := -1
	if c.layout != nil {
		i = c.layout.BarAt(point(e.Position))
	}
	if i < 0 || c.Describe == nil {
		c.tip.Hide()
		return
	}
	c.tip.Show(c.Style, c.Describe(i), e.Position, c.board.Size())
}

// MouseOut ends hovering.
func (c *Chart) MouseOut() { c.tip.Hide() }

// Tapped tells of the bar, or moves the cursor to the tapped day.
func (c *Chart) Tapped(e *fyne.PointEvent) {
	if cv := fyne.CurrentApp().Driver().CanvasForObject(c); cv != nil {
		cv.Focus(c)
	}
	if i := c.layout.BarAt(point(e.Position)); i >= 0 && c.OnBar != nil {
		c.OnBar(i)
		return
	}
	if point(e.Position).X >= c.layout.Plot.Min.X {
		c.toDay(c.layout.DayAt(float64(e.Position.X)))
	}
}

// Dragged moves the cursor with the pointer.
func (c *Chart) Dragged(e *fyne.DragEvent) { c.toDay(c.layout.DayAt(float64(e.Position.X))) }

// DragEnd has nothing to finish.
func (c *Chart) DragEnd() {}

func (c *Chart) toDay(d model.Day) {
	d = max(c.Data.From, min(c.Data.To, d))
	if d != c.Data.Day && c.OnDay != nil {
		c.OnDay(d)
	}
}

// FocusGained shows the ring.
func (c *Chart) FocusGained() {
	c.focused = true
	c.ring.Show()
	c.tip.Repaint()
}

// FocusLost hides the ring.
func (c *Chart) FocusLost() {
	c.focused = false
	c.ring.Hide()
	c.tip.Repaint()
}

// TypedRune does nothing.
func (c *Chart) TypedRune(rune) {}

// TypedKey moves the cursor: a day with left and right, thirty with page up and
// down, to the ends with Home and End.
func (c *Chart) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyLeft:
		c.toDay(c.Data.Day - 1)
	case fyne.KeyRight:
		c.toDay(c.Data.Day + 1)
	case fyne.KeyPageUp:
		c.toDay(c.Data.Day - 30)
	case fyne.KeyPageDown:
		c.toDay(c.Data.Day + 30)
	case fyne.KeyHome:
		c.toDay(c.Data.From)
	case fyne.KeyEnd:
		c.toDay(c.Data.To)
	}
}

// CreateRenderer makes the chart's objects.
func (c *Chart) CreateRenderer() fyne.WidgetRenderer { return renderer{c} }

type renderer struct{ chart *Chart }

func (r renderer) Destroy()           {}
func (r renderer) MinSize() fyne.Size { return fyne.NewSize(420, 190) }

func (r renderer) Layout(size fyne.Size) {
	if size == r.chart.board.Size() {
		return
	}
	r.chart.arrange(size)
	r.chart.board.Layout(size)
	r.chart.tip.Hide()
}

func (r renderer) Refresh() {
	r.chart.arrange(r.chart.board.Size())
	r.chart.board.Refresh()
	canvas.Refresh(r.chart)
}

func (r renderer) Objects() []fyne.CanvasObject {
	out := append(r.chart.board.Objects(), r.chart.ring)
	return append(out, r.chart.tip.Objects()...)
}
