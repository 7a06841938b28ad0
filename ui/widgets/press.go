package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"coilward/ui/look"
)

// State is what something that can be pressed looks like just now.
type State struct {
	Pointed, Focused, On, Off bool
}

// Press is anything that can be pressed, by pointer or by Enter and Space:
// one ground, one content. Buttons, chips, rows and places are made of it.
// Other keys go on to the page, as if nothing had the focus.
type Press struct {
	widget.BaseWidget
	content fyne.CanvasObject
	paint   func(State) Ground
	dress   func(State) // puts the content into the tones of a state; nil: it has one look
	state   State
	name    string
	OnTap   func()
}

var (
	_ fyne.Tappable      = (*Press)(nil)
	_ fyne.Focusable     = (*Press)(nil)
	_ fyne.Disableable   = (*Press)(nil)
	_ desktop.Hoverable  = (*Press)(nil)
	_ desktop.Cursorable = (*Press)(nil)
	_ Flow               = (*Press)(nil)
)

// NewPress makes something that can be pressed; name is what it is called.
func NewPress(name string, content fyne.CanvasObject, paint func(State) Ground, tap func()) *Press {
	p := &Press{name: name, content: content, paint: paint, OnTap: tap}
	p.ExtendBaseWidget(p)
	return p
}

// Name is what the thing is called, as a person reads it.
func (p *Press) Name() string { return p.name }

// State is how it stands now.
func (p *Press) State() State { return p.state }

// SetOn marks it as the chosen one.
func (p *Press) SetOn(on bool) { p.set(&p.state.On, on) }

// Enable implements fyne.Disableable.
func (p *Press) Enable() { p.set(&p.state.Off, false) }

// Disable implements fyne.Disableable.
func (p *Press) Disable() { p.set(&p.state.Off, true) }

// Disabled implements fyne.Disableable.
func (p *Press) Disabled() bool { return p.state.Off }

func (p *Press) set(part *bool, v bool) {
	if *part != v {
		*part = v
		p.Refresh()
	}
}

// HeightFor implements Flow.
func (p *Press) HeightFor(width float32) float32 { return HeightFor(p.content, width) }

// Tapped implements fyne.Tappable.
func (p *Press) Tapped(*fyne.PointEvent) {
	if !p.state.Off && p.OnTap != nil {
		p.OnTap()
	}
}

// MouseIn implements desktop.Hoverable.
func (p *Press) MouseIn(*desktop.MouseEvent) { p.set(&p.state.Pointed, true) }

// MouseMoved implements desktop.Hoverable.
func (p *Press) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (p *Press) MouseOut() { p.set(&p.state.Pointed, false) }

// FocusGained implements fyne.Focusable.
func (p *Press) FocusGained() {
	p.set(&p.state.Focused, true)
	if !p.state.Pointed { // what is about to be pressed stays under the pointer
		reached(p)
	}
}

// FocusLost implements fyne.Focusable.
func (p *Press) FocusLost() { p.set(&p.state.Focused, false) }

// TypedRune implements fyne.Focusable.
func (p *Press) TypedRune(r rune) {
	if r != ' ' {
		passRune(p, r)
	}
}

// TypedKey implements fyne.Focusable.
func (p *Press) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		p.Tapped(nil)
	default:
		passKey(p, k)
	}
}

// passKey gives a key that an object has no use for to the page.
func passKey(o fyne.CanvasObject, k *fyne.KeyEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(o); c != nil && c.OnTypedKey() != nil {
		c.OnTypedKey()(k)
	}
}

func passRune(o fyne.CanvasObject, r rune) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(o); c != nil && c.OnTypedRune() != nil {
		c.OnTypedRune()(r)
	}
}

// Cursor implements desktop.Cursorable.
func (p *Press) Cursor() desktop.Cursor {
	if p.state.Off {
		return desktop.DefaultCursor
	}
	return desktop.PointerCursor
}

// CreateRenderer implements fyne.Widget.
func (p *Press) CreateRenderer() fyne.WidgetRenderer {
	r := &pressRenderer{p: p, ground: newFrame(), ring: canvas.NewRectangle(nil)}
	r.paint()
	return r
}

type pressRenderer struct {
	p      *Press
	ground *frame
	ring   *canvas.Rectangle
}

func (r *pressRenderer) Destroy()           {}
func (r *pressRenderer) MinSize() fyne.Size { return r.p.content.MinSize() }
func (r *pressRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ring, r.ground.outer, r.ground.inner, r.p.content}
}

func (r *pressRenderer) Layout(size fyne.Size) {
	r.ground.layout(size)
	r.ring.Move(fyne.NewPos(-3, -3))
	r.ring.Resize(size.AddWidthHeight(6, 6))
	r.p.content.Resize(size)
}

func (r *pressRenderer) paint() {
	if r.p.dress != nil {
		r.p.dress(r.p.state)
	}
	g := r.p.paint(r.p.state)
	r.ground.paint(g)
	r.ring.FillColor, r.ring.StrokeColor = look.Of(look.Clear), look.Of(look.Accent)
	r.ring.StrokeWidth, r.ring.CornerRadius = 2, g.Radius+3
	r.ring.Hidden = !r.p.state.Focused
}

func (r *pressRenderer) Refresh() {
	r.paint()
	canvas.Refresh(r.ring)
	r.p.content.Refresh()
}
