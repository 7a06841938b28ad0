// Package yearstrip shows a life at a glance, a column for each month. Values go
// in, callbacks come out.
package yearstrip

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/ui/widgets/raster"
)

// Strip is a year strip. Set its fields, then call Refresh.
type Strip struct {
	widget.BaseWidget

	Data  chart.YearsData
	Style raster.Style
	// Describe words the month with an index in Data.Counts; nil shows no words.
	Describe func(index int) string
	// OnMonth tells of the month that was tapped or dragged to.
	OnMonth func(index int)

	board  *raster.Board
	layout *chart.Years
	tip    *raster.Tip
}

var (
	_ fyne.Widget       = (*Strip)(nil)
	_ fyne.Tappable     = (*Strip)(nil)
	_ fyne.Draggable    = (*Strip)(nil)
	_ desktop.Hoverable = (*Strip)(nil)
)

const typeSize = 12

// New is a strip of the data.
func New(data chart.YearsData, style raster.Style) *Strip {
	s := &Strip{Data: data, Style: style, tip: raster.NewTip()}
	s.board = raster.NewBoard(&s.Style, func(pen drawing.Pen, _ fyne.Size) { s.layout.Draw(pen) })
	s.ExtendBaseWidget(s)
	return s
}

func (s *Strip) arrange(size fyne.Size) {
	if s.Data.Words.Measure == nil {
		s.Data.Words.Measure = s.Style.Measure
	}
	s.layout = chart.NewYears(s.Data, float64(size.Width), float64(size.Height), typeSize)
}

// MouseIn begins hovering.
func (s *Strip) MouseIn(e *desktop.MouseEvent) { s.MouseMoved(e) }

// MouseMoved words the month under the pointer.
func (s *Strip) MouseMoved(e *desktop.MouseEvent) {
	if s.Describe == nil || s.layout == nil {
		return
	}
	if i := s.layout.MonthAt(float64(e.Position.X)); i < len(s.Data.Counts) {
		s.tip.Show(s.Style, s.Describe(i), e.Position, s.board.Size())
		return
	}
	s.tip.Hide()
}

// MouseOut ends hovering.
func (s *Strip) MouseOut() { s.tip.Hide() }

// Tapped tells of the month.
func (s *Strip) Tapped(e *fyne.PointEvent) { s.tell(e.Position) }

// Dragged tells of the month.
func (s *Strip) Dragged(e *fyne.DragEvent) { s.tell(e.Position) }

// DragEnd has nothing to finish.
func (s *Strip) DragEnd() {}

func (s *Strip) tell(pos fyne.Position) {
	if s.OnMonth != nil && s.layout != nil {
		s.OnMonth(s.layout.MonthAt(float64(pos.X)))
	}
}

// CreateRenderer makes the strip's objects.
func (s *Strip) CreateRenderer() fyne.WidgetRenderer { return renderer{s} }

type renderer struct{ strip *Strip }

func (r renderer) Destroy()           {}
func (r renderer) MinSize() fyne.Size { return fyne.NewSize(240, 64) }

func (r renderer) Layout(size fyne.Size) {
	if size == r.strip.board.Size() {
		return
	}
	r.strip.arrange(size)
	r.strip.board.Layout(size)
	r.strip.tip.Hide()
}

func (r renderer) Refresh() {
	r.strip.arrange(r.strip.board.Size())
	r.strip.board.Refresh()
	canvas.Refresh(r.strip)
}

func (r renderer) Objects() []fyne.CanvasObject {
	return append(r.strip.board.Objects(), r.strip.tip.Objects()...)
}
