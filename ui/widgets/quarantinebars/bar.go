// Package quarantinebars shows how far a stay in quarantine has come: a bar from the
// arrival to the earliest release, with a mark for each thing that is asked. Values go
// in, callbacks come out.
package quarantinebars

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

const (
	typeSize = 12
	// Height is how high a bar is, with room for two lines over it and two below.
	Height float32 = 96
	// ScaleHeight is how high the scale over bars is.
	ScaleHeight float32 = 44
	ringSide    float32 = 24
)

// Bar is the bar of one animal. Left and right go from mark to mark, Enter and a tap
// open one; a tap beside the marks, and every other key, is the page's.
type Bar struct {
	widget.BaseWidget

	Data  chart.StayData
	Style raster.Style
	// Describe words the mark with an index; nil shows no words.
	Describe func(index int) string
	// OnMark is called with the mark that was opened.
	OnMark func(index int)
	// OnChoose is called when the bar was tapped beside its marks.
	OnChoose func()
	// OnKey takes the keys that the bar has no use for.
	OnKey func(*fyne.KeyEvent)

	board   *raster.Board
	layout  *chart.Stay
	ring    *canvas.Circle // around the mark that the keys are at
	tip     *raster.Tip
	current int
	focused bool
	moved   bool // by a key since it took the keys: its mark is worded
}

var (
	_ fyne.Focusable    = (*Bar)(nil)
	_ fyne.Tappable     = (*Bar)(nil)
	_ desktop.Hoverable = (*Bar)(nil)
)

// New is a bar of the data.
func New(data chart.StayData, style raster.Style) *Bar {
	b := &Bar{Data: data, Style: style, ring: canvas.NewCircle(color.Transparent), tip: raster.NewTip()}
	b.board = raster.NewBoard(&b.Style, func(pen drawing.Pen, _ fyne.Size) { b.layout.Draw(pen) })
	b.ring.StrokeWidth = 2
	b.ring.Resize(fyne.NewSquareSize(ringSide))
	b.ring.Hide()
	b.ExtendBaseWidget(b)
	return b
}

func (b *Bar) arrange(size fyne.Size) {
	if b.Data.Words.Measure == nil {
		b.Data.Words.Measure = b.Style.Measure
	}
	b.layout = chart.NewStay(b.Data, float64(size.Width), float64(size.Height), typeSize)
	b.current = max(0, min(b.current, len(b.layout.Points)-1))
}

// Current is the mark that the keys are at; −1: there is none.
func (b *Bar) Current() int {
	if len(b.Data.Milestones) == 0 {
		return -1
	}
	return b.current
}

// PlaceOf is the middle of a mark, once the bar is laid out.
func (b *Bar) PlaceOf(index int) fyne.Position {
	p := b.layout.Points[index]
	return fyne.NewPos(float32(p.X), float32(p.Y))
}

// point shows the ring at the mark that the keys are at, and its words.
func (b *Bar) point() {
	if !b.focused || b.Current() < 0 || b.layout == nil {
		b.ring.Hide()
		b.tip.Hide()
		return
	}
	at := b.PlaceOf(b.current)
	b.ring.StrokeColor = b.Style.Colour(drawing.Accent)
	b.ring.Move(at.SubtractXY(ringSide/2, ringSide/2))
	b.ring.Show()
	if b.moved {
		b.tell(b.current, at)
		return
	}
	b.tip.Hide()
}

func (b *Bar) tell(index int, at fyne.Position) {
	if b.Describe != nil {
		b.tip.Show(b.Style, b.Describe(index), at, b.board.Size())
	}
	b.tip.Repaint()
}

// TypedKey implements fyne.Focusable.
func (b *Bar) TypedKey(k *fyne.KeyEvent) {
	b.moved = k.Name == fyne.KeyLeft || k.Name == fyne.KeyRight
	switch {
	case k.Name == fyne.KeyLeft && b.Current() > 0:
		b.current--
	case k.Name == fyne.KeyRight && b.Current() >= 0 && b.current < len(b.Data.Milestones)-1:
		b.current++
	case k.Name == fyne.KeyReturn || k.Name == fyne.KeyEnter || k.Name == fyne.KeySpace:
		if i := b.Current(); i >= 0 && b.OnMark != nil {
			b.OnMark(i)
		}
	case k.Name == fyne.KeyLeft || k.Name == fyne.KeyRight:
	default:
		if b.OnKey != nil {
			b.OnKey(k)
		}
	}
	b.point()
}

// TypedRune implements fyne.Focusable: no letter means anything here.
func (b *Bar) TypedRune(rune) {}

// FocusGained implements fyne.Focusable.
func (b *Bar) FocusGained() { b.focused = true; b.point() }

// FocusLost implements fyne.Focusable.
func (b *Bar) FocusLost() { b.focused, b.moved = false, false; b.point() }

// Tapped opens the mark at the pointer, or chooses the bar.
func (b *Bar) Tapped(e *fyne.PointEvent) {
	if i := b.nearest(e.Position); i >= 0 && b.OnMark != nil {
		b.current = i
		b.OnMark(i)
	} else if b.OnChoose != nil {
		b.OnChoose()
	}
}

func (b *Bar) nearest(at fyne.Position) int {
	if b.layout == nil {
		return -1
	}
	return b.layout.Nearest(drawing.Point{X: float64(at.X), Y: float64(at.Y)})
}

// MouseIn begins hovering.
func (b *Bar) MouseIn(e *desktop.MouseEvent) { b.MouseMoved(e) }

// MouseMoved words the mark under the pointer.
func (b *Bar) MouseMoved(e *desktop.MouseEvent) {
	if i := b.nearest(e.Position); i >= 0 {
		b.tell(i, b.PlaceOf(i))
		return
	}
	b.point()
}

// MouseOut ends hovering.
func (b *Bar) MouseOut() { b.point() }

// CreateRenderer makes the bar's objects.
func (b *Bar) CreateRenderer() fyne.WidgetRenderer { return renderer{b} }

type renderer struct{ bar *Bar }

func (r renderer) Destroy()           {}
func (r renderer) MinSize() fyne.Size { return fyne.NewSize(280, Height) }

func (r renderer) Layout(size fyne.Size) {
	if size == r.bar.board.Size() {
		return
	}
	r.bar.arrange(size)
	r.bar.board.Layout(size)
	r.bar.point()
}

func (r renderer) Refresh() {
	r.bar.arrange(r.bar.board.Size())
	r.bar.board.Refresh()
	r.bar.point()
	canvas.Refresh(r.bar)
}

func (r renderer) Objects() []fyne.CanvasObject {
	return append(append(r.bar.board.Objects(), r.bar.ring), r.bar.tip.Objects()...)
}
