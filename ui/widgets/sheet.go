package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"coilward/ui/look"
)

// Sheet is a piece of paper laid over the page: a title, a content, acts at the
// foot. While it lies there, nothing below can be reached.
type Sheet struct {
	Title   string
	Content fyne.CanvasObject
	Width   float32 // 0: 480
	Height  float32 // 0: as high as the content needs
	Acts    []Act   // the first is the one that Enter does; it closes nothing by itself
	Cancel  string  // what leaving it is called; empty: no button, Escape leaves
	First   fyne.Focusable
	OnLeave func() // when it was left by Cancel or Escape
	// Steady tells whether Enter does its act by now; nil: at once. The button does
	// in any case.
	Steady func() bool
}

// Sheets is the one stack of sheets over a canvas. The last one shown is the
// first to go.
type Sheets struct {
	canvas fyne.Canvas
	stack  []*laid
}

type laid struct {
	sheet  Sheet
	object *sheetCover
}

// NewSheets makes the stack of a canvas.
func NewSheets(c fyne.Canvas) *Sheets { return &Sheets{canvas: c} }

// Show lays a sheet on top; close takes it away again, with what lies above it.
func (s *Sheets) Show(sheet Sheet) (close func()) {
	top := &laid{sheet: sheet}
	top.object = newSheetCover(s.card(sheet), sheet)
	s.stack = append(s.stack, top)
	s.canvas.Overlays().Add(top.object)
	top.object.Resize(s.canvas.Size())
	if sheet.First != nil {
		s.canvas.Focus(sheet.First)
	}
	return func() { s.close(top) }
}

// Open tells whether a sheet lies over the page.
func (s *Sheets) Open() bool { return len(s.stack) > 0 }

// Leave takes the top sheet away as Escape does; false: there was none.
func (s *Sheets) Leave() bool {
	if len(s.stack) == 0 {
		return false
	}
	top := s.stack[len(s.stack)-1]
	s.close(top)
	if top.sheet.OnLeave != nil {
		top.sheet.OnLeave()
	}
	return true
}

// Enter does the first act of the top sheet; false: there is none.
func (s *Sheets) Enter() bool {
	if len(s.stack) == 0 {
		return false
	}
	top := s.stack[len(s.stack)-1].sheet
	if acts := top.Acts; len(acts) > 0 && acts[0].Do != nil && (top.Steady == nil || top.Steady()) {
		acts[0].Do()
	}
	return true
}

func (s *Sheets) close(l *laid) {
	for i, other := range s.stack {
		if other == l {
			s.canvas.Overlays().Remove(l.object)
			s.stack = s.stack[:i]
			return
		}
	}
}

func (s *Sheets) card(sheet Sheet) fyne.CanvasObject {
	parts := []fyne.CanvasObject{Para(sheet.Title, look.Heading, look.Ink), Grow(sheet.Content)}
	acts := []fyne.CanvasObject{Fill()}
	if sheet.Cancel != "" {
		acts = append(acts, Button(Plain, Act{Label: sheet.Cancel, Key: "Esc", Do: func() { s.Leave() }}))
	}
	for i := len(sheet.Acts) - 1; i >= 0; i-- {
		rank := Plain
		if i == 0 {
			rank = Primary
		}
		acts = append(acts, Button(rank, sheet.Acts[i]))
	}
	if len(acts) > 1 {
		parts = append(parts, Row(look.S8, acts...))
	}
	return Stack(NewBox(Ground{Fill: look.Paper, Line: look.Edge, Width: 1, Radius: look.RLarge}), Pad(Col(look.S16, parts...), look.S24))
}

// sheetCover covers the canvas: a veil that takes every tap, and the card.
type sheetCover struct {
	widget.BaseWidget
	veil  *Box
	card  fyne.CanvasObject
	sheet Sheet
}

func newSheetCover(card fyne.CanvasObject, sheet Sheet) *sheetCover {
	c := &sheetCover{veil: Filled(look.Shade, 0), card: card, sheet: sheet}
	c.ExtendBaseWidget(c)
	return c
}

// Tapped implements fyne.Tappable: a tap beside the card does nothing.
func (c *sheetCover) Tapped(*fyne.PointEvent) {}

// CreateRenderer implements fyne.Widget.
func (c *sheetCover) CreateRenderer() fyne.WidgetRenderer { return &coverRenderer{c} }

type coverRenderer struct{ c *sheetCover }

func (r *coverRenderer) Destroy()           {}
func (r *coverRenderer) MinSize() fyne.Size { return fyne.Size{} }
func (r *coverRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.c.veil, r.c.card}
}

func (r *coverRenderer) Layout(size fyne.Size) {
	r.c.veil.Resize(size)
	w, h := r.c.sheet.Width, r.c.sheet.Height
	if w == 0 {
		w = 480
	}
	w = min(max(w, r.c.card.MinSize().Width), size.Width-2*look.S16)
	if h == 0 {
		h = HeightFor(r.c.card, w)
	}
	h = min(h, size.Height-2*look.S16)
	r.c.card.Resize(fyne.NewSize(w, h))
	r.c.card.Move(fyne.NewPos(whole((size.Width-w)/2), whole((size.Height-h)/3)))
}

func (r *coverRenderer) Refresh() {
	r.c.veil.Refresh()
	r.Layout(r.c.Size())
	r.c.card.Refresh()
}
