package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"coilward/ui/look"
)

// Ground is how the ground of something is painted.
type Ground struct {
	Fill, Line look.Tone // "" is nothing
	Width      float32   // of the line
	Radius     float32   // of the corners
}

// Box is a ground by tones: of cards, columns, discs, lines.
type Box struct {
	widget.BaseWidget
	ground Ground
}

// NewBox makes a box.
func NewBox(g Ground) *Box {
	b := &Box{ground: g}
	b.ExtendBaseWidget(b)
	return b
}

// Filled is a box without an outline.
func Filled(fill look.Tone, radius float32) *Box { return NewBox(Ground{Fill: fill, Radius: radius}) }

// SetGround changes how the box is painted.
func (b *Box) SetGround(g Ground) {
	if b.ground != g {
		b.ground = g
		b.Refresh()
	}
}

// CreateRenderer implements fyne.Widget.
func (b *Box) CreateRenderer() fyne.WidgetRenderer {
	r := &boxRenderer{b: b, frame: newFrame()}
	r.Refresh()
	return r
}

type boxRenderer struct {
	b     *Box
	frame *frame
}

func (r *boxRenderer) Destroy()                     {}
func (r *boxRenderer) Objects() []fyne.CanvasObject { return r.frame.objects() }
func (r *boxRenderer) MinSize() fyne.Size           { return fyne.Size{} }
func (r *boxRenderer) Layout(size fyne.Size)        { r.frame.layout(size) }
func (r *boxRenderer) Refresh()                     { r.frame.paint(r.b.ground) }

// frame is a filled rectangle with an outline, made of two fills: a stroke of
// 1 px is smeared over two pixels by the software painter, a fill is exact.
type frame struct {
	outer, inner *canvas.Rectangle
	width        float32
	size         fyne.Size
}

func newFrame() *frame {
	return &frame{outer: canvas.NewRectangle(nil), inner: canvas.NewRectangle(nil)}
}

func (f *frame) objects() []fyne.CanvasObject { return []fyne.CanvasObject{f.outer, f.inner} }

func (f *frame) layout(size fyne.Size) {
	f.size = size
	f.outer.Resize(size)
	f.inner.Move(fyne.NewPos(f.width, f.width))
	f.inner.Resize(fyne.NewSize(max(0, size.Width-2*f.width), max(0, size.Height-2*f.width)))
}

func (f *frame) paint(g Ground) {
	if g.Fill == "" {
		g.Fill = look.Clear
	}
	if g.Line == "" {
		g.Line = look.Clear
	}
	fill, line := look.Of(g.Fill), look.Of(g.Line)
	f.width = g.Width
	f.inner.Hidden = g.Width == 0 || line.A == 0 || fill.A == 0
	f.outer.CornerRadius, f.outer.StrokeWidth = g.Radius, 0
	if f.inner.Hidden {
		f.outer.FillColor, f.outer.StrokeColor, f.outer.StrokeWidth = fill, line, g.Width
	} else {
		f.outer.FillColor, f.inner.FillColor, f.inner.CornerRadius = line, fill, max(0, g.Radius-g.Width)
	}
	f.layout(f.size)
	canvas.Refresh(f.outer)
	canvas.Refresh(f.inner)
}

// HLine is a line that divides what is above from what is below.
func HLine() fyne.CanvasObject { return Fix(0, 1, Filled(look.Hair, 0)) }

// VLine is a line that divides left from right.
func VLine() fyne.CanvasObject { return Fix(1, 0, Filled(look.Hair, 0)) }

// Card is a sheet with a hairline and even padding.
func Card(pad float32, o fyne.CanvasObject) *fyne.Container {
	return Stack(NewBox(Ground{Fill: look.Sheet, Line: look.Hair, Width: 1, Radius: look.RLarge}), Pad(o, pad))
}

// Tinted is a panel on a soft ground, without an outline.
func Tinted(fill look.Tone, upright, sideways float32, o fyne.CanvasObject) *fyne.Container {
	return Stack(Filled(fill, look.RBase), Pad(o, upright, sideways))
}
