// Package linechart shows values over the days, with marks of events and a
// hairline under the pointer. Values go in, callbacks come out.
package linechart

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/ui/widgets/raster"
)

// Chart is a line chart. Set its fields, then call Refresh.
type Chart struct {
	widget.BaseWidget

	Data  chart.LineData
	Style raster.Style
	// Describe words the value with an index in Data.Values; nil shows no words.
	Describe func(index int) string
	// OnValue tells of a tapped value by its index in Data.Values.
	OnValue func(index int)

	board  *raster.Board
	layout *chart.Line
	hair   *canvas.Line
	dot    *canvas.Circle
	tip    *raster.Tip
}

var (
	_ fyne.Widget       = (*Chart)(nil)
	_ fyne.Tappable     = (*Chart)(nil)
	_ desktop.Hoverable = (*Chart)(nil)
)

const typeSize = 12

// New is a chart of the data.
func New(data chart.LineData, style raster.Style) *Chart {
	c := &Chart{Data: data, Style: style, tip: raster.NewTip()}
	c.board = raster.NewBoard(&c.Style, func(pen drawing.Pen, _ fyne.Size) { c.layout.Draw(pen) })
	c.hair, c.dot = canvas.NewLine(color.Transparent), canvas.NewCircle(color.Transparent)
	c.MouseOut()
	c.ExtendBaseWidget(c)
	return c
}

func (c *Chart) arrange(size fyne.Size) {
	if c.Data.Words.Measure == nil {
		c.Data.Words.Measure = c.Style.Measure
	}
	c.layout = chart.NewLine(c.Data, float64(size.Width), float64(size.Height), typeSize)
}

// MouseIn begins hovering.
func (c *Chart) MouseIn(e *desktop.MouseEvent) { c.MouseMoved(e) }

// MouseMoved shows the value nearest to the pointer's day.
func (c *Chart) MouseMoved(e *desktop.MouseEvent) {
	i := c.nearest(e.Position)
	if i < 0 {
		c.MouseOut()
		return
	}
	p := c.layout.Points[i]
	x, y := float32(p.X), float32(p.Y)
	c.hair.StrokeColor, c.dot.FillColor = c.Style.Colour(drawing.InkSoft), c.Style.Colour(drawing.Accent)
	c.hair.Position1, c.hair.Position2 = fyne.NewPos(x, float32(c.layout.Plot.Min.Y)), fyne.NewPos(x, float32(c.layout.Plot.Max.Y))
	c.dot.Move(fyne.NewPos(x-5, y-5))
	c.dot.Resize(fyne.NewSize(10, 10))
	c.hair.Show()
	c.dot.Show()
	c.tip.Repaint()
	if c.Describe != nil {
		c.tip.Show(c.Style, c.Describe(c.layout.Shown[i]), fyne.NewPos(x, y), c.board.Size())
	}
}

func (c *Chart) nearest(pos fyne.Position) int {
	if c.layout == nil || pos.X < float32(c.layout.Plot.Min.X)-8 {
		return -1
	}
	return c.layout.Nearest(float64(pos.X))
}

// MouseOut ends hovering.
func (c *Chart) MouseOut() {
	c.hair.Hide()
	c.dot.Hide()
	c.tip.Hide()
}

// Tapped tells of the value nearest to the tapped day.
func (c *Chart) Tapped(e *fyne.PointEvent) {
	if i := c.nearest(e.Position); i >= 0 && c.OnValue != nil {
		c.OnValue(c.layout.Shown[i])
	}
}

// CreateRenderer makes the chart's objects.
func (c *Chart) CreateRenderer() fyne.WidgetRenderer { return renderer{c} }

type renderer struct{ chart *Chart }

func (r renderer) Destroy()           {}
func (r renderer) MinSize() fyne.Size { return fyne.NewSize(220, 120) }

func (r renderer) Layout(size fyne.Size) {
	if size == r.chart.board.Size() {
		return
	}
	r.chart.arrange(size)
	r.chart.board.Layout(size)
	r.chart.MouseOut()
}

func (r renderer) Refresh() {
	r.chart.arrange(r.chart.board.Size())
	r.chart.board.Refresh()
	r.chart.MouseOut()
	canvas.Refresh(r.chart)
}

func (r renderer) Objects() []fyne.CanvasObject {
	out := append(r.chart.board.Objects(), r.chart.hair, r.chart.dot)
	return append(out, r.chart.tip.Objects()...)
}
