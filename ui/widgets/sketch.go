package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"coilward/model/drawing"
	"coilward/ui/look"
	"coilward/ui/widgets/raster"
)

// Drawn is the style of every drawing in the window: the tones of the theme in
// force and its faces.
func Drawn() raster.Style { return raster.Style{Palette: look.Palette} }

// Sketch is a drawing that nobody presses, as large as it is laid out.
type Sketch struct {
	widget.BaseWidget
	style raster.Style
	board *raster.Board
	least fyne.Size
}

// NewSketch makes a drawing of a least size; draw works in pixels of the window.
func NewSketch(width, height float32, draw func(pen drawing.Pen, size fyne.Size)) *Sketch {
	s := &Sketch{style: Drawn(), least: fyne.NewSize(width, height)}
	s.board = raster.NewBoard(&s.style, draw)
	s.ExtendBaseWidget(s)
	return s
}

// CreateRenderer implements fyne.Widget.
func (s *Sketch) CreateRenderer() fyne.WidgetRenderer { return &sketchRenderer{s} }

type sketchRenderer struct{ s *Sketch }

func (r *sketchRenderer) Destroy()                     {}
func (r *sketchRenderer) MinSize() fyne.Size           { return r.s.least }
func (r *sketchRenderer) Layout(size fyne.Size)        { r.s.board.Layout(size) }
func (r *sketchRenderer) Refresh()                     { r.s.board.Refresh() }
func (r *sketchRenderer) Objects() []fyne.CanvasObject { return r.s.board.Objects() }
