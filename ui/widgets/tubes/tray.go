package tubes

import (
	"image"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"coilward/ui/look"
	"coilward/ui/widgets"
	"coilward/ui/widgets/raster"
)

// Tray is the tray. Arrows move from tube to tube, Enter does what is next with
// one, Space and its cap choose it, a tap opens it; every other key goes to the
// page.
type Tray struct {
	widget.BaseWidget

	// OnOpen is called with the samples of the tube that was tapped.
	OnOpen func(keys []string)
	// OnAct is called with the samples whose next act is to be done.
	OnAct func(keys []string)
	// OnChoose is called with the samples that were chosen, or no longer are.
	OnChoose func(keys []string, on bool)

	bands   []Band
	words   Words
	plan    plan
	current int
	wanted  string // the sample that the keys are to be at once it is laid out; empty: none
	focused bool
	pointed int // −1: none
	size    fyne.Size
	scroll  *container.Scroll
	floor   *floor
}

var (
	_ fyne.Focusable     = (*Tray)(nil)
	_ fyne.Tappable      = (*floor)(nil)
	_ desktop.Hoverable  = (*floor)(nil)
	_ desktop.Cursorable = (*floor)(nil)
)

// New is an empty tray.
func New(words Words) *Tray {
	t := &Tray{words: words, pointed: -1}
	t.floor = newFloor(t)
	t.scroll = container.NewVScroll(t.floor)
	t.ExtendBaseWidget(t)
	return t
}

// Set shows the bands. The keys stay at the sample that they were at, if it is
// still there.
func (t *Tray) Set(bands []Band) {
	key := t.Current()
	t.bands, t.pointed = bands, -1
	t.arrange()
	t.SetCurrent(key)
}

func (t *Tray) arrange() {
	if t.size.Width <= 0 {
		return
	}
	key := t.Current()
	t.plan = arrange(t.bands, t.words, t.size.Width)
	t.current = max(0, min(t.current, len(t.plan.slots)-1))
	if i := t.slotOf(key); i >= 0 {
		t.current = i
	}
	if i := t.slotOf(t.wanted); i >= 0 {
		t.current, t.wanted = i, ""
	}
	t.floor.draw()
	t.scroll.Refresh()
}

func (t *Tray) slotOf(key string) int {
	return slices.IndexFunc(t.plan.slots, func(s slot) bool { return s.holds(key) })
}

// Current is the sample that the keys are at, of those folded into one the
// longest in its stage; empty: there is none.
func (t *Tray) Current() string {
	if t.current < 0 || t.current >= len(t.plan.slots) {
		return ""
	}
	return t.plan.slots[t.current].Key
}

// Together are the samples of the tube that the keys are at.
func (t *Tray) Together() []string {
	if t.current < 0 || t.current >= len(t.plan.slots) {
		return nil
	}
	return slices.Clone(t.plan.slots[t.current].keys)
}

// SetCurrent moves the keys to a sample and brings it into sight; in a tray that is
// not laid out yet, as soon as it is.
func (t *Tray) SetCurrent(key string) {
	if i := t.slotOf(key); i >= 0 {
		t.wanted = ""
		t.move(i)
	} else if t.size.Width <= 0 {
		t.wanted = key
	}
}

// Open is as if the tube of a sample was tapped.
func (t *Tray) Open(key string) {
	t.SetCurrent(key)
	if keys := t.Together(); t.OnOpen != nil && slices.Contains(keys, key) {
		t.OnOpen(keys)
	}
}

// PlaceOf is where the tube of a sample stands in the tray.
func (t *Tray) PlaceOf(key string) (at fyne.Position, size fyne.Size, ok bool) {
	i := t.slotOf(key)
	if i < 0 {
		return at, size, false
	}
	s := t.plan.slots[i]
	return fyne.NewPos(s.x, s.y-t.scroll.Offset.Y), fyne.NewSize(s.w, tubeHeight), true
}

func (t *Tray) act() {
	if len(t.plan.slots) == 0 {
		return
	}
	s := t.plan.slots[t.current]
	switch {
	case s.Act != "" && t.OnAct != nil:
		t.OnAct(slices.Clone(s.keys))
	case t.OnOpen != nil:
		t.OnOpen(slices.Clone(s.keys))
	}
}

func (t *Tray) choose() {
	if len(t.plan.slots) > 0 && t.OnChoose != nil {
		s := t.plan.slots[t.current]
		t.OnChoose(slices.Clone(s.keys), !s.Chosen)
	}
}

// move brings the keys to a slot and it into sight.
func (t *Tray) move(to int) {
	t.current = to
	if to < len(t.plan.slots) && t.size.Height > 0 {
		s := t.plan.slots[to]
		top, bottom := s.y-markHeight-bandPad, s.y+tubeHeight+bandPad
		switch {
		case top < t.scroll.Offset.Y:
			t.scroll.Offset.Y = max(0, top)
		case bottom > t.scroll.Offset.Y+t.size.Height:
			t.scroll.Offset.Y = min(bottom, t.plan.height) - t.size.Height
		}
		t.scroll.Refresh()
	}
	t.floor.place()
}

// TypedKey implements fyne.Focusable.
func (t *Tray) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyLeft:
		t.move(t.plan.next(t.current, -1, 0))
	case fyne.KeyRight:
		t.move(t.plan.next(t.current, 1, 0))
	case fyne.KeyUp:
		t.move(t.plan.next(t.current, 0, -1))
	case fyne.KeyDown:
		t.move(t.plan.next(t.current, 0, 1))
	case fyne.KeyHome:
		t.move(0)
	case fyne.KeyEnd:
		t.move(max(0, len(t.plan.slots)-1))
	case fyne.KeyReturn, fyne.KeyEnter:
		t.act()
	case fyne.KeySpace:
		t.choose()
	default:
		if c := t.canvas(); c != nil && c.OnTypedKey() != nil {
			c.OnTypedKey()(k)
		}
	}
}

// TypedRune implements fyne.Focusable: letters go to the page.
func (t *Tray) TypedRune(r rune) {
	if r == ' ' {
		return
	}
	if c := t.canvas(); c != nil && c.OnTypedRune() != nil {
		c.OnTypedRune()(r)
	}
}

// FocusGained implements fyne.Focusable.
func (t *Tray) FocusGained() { t.focused = true; t.floor.place() }

// FocusLost implements fyne.Focusable.
func (t *Tray) FocusLost() { t.focused = false; t.floor.place() }

func (t *Tray) canvas() fyne.Canvas {
	if app := fyne.CurrentApp(); app != nil {
		return app.Driver().CanvasForObject(t)
	}
	return nil
}

// Refresh implements fyne.CanvasObject.
func (t *Tray) Refresh() {
	t.arrange()
	t.BaseWidget.Refresh()
}

// CreateRenderer implements fyne.Widget.
func (t *Tray) CreateRenderer() fyne.WidgetRenderer { return &trayRenderer{t} }

type trayRenderer struct{ t *Tray }

func (r *trayRenderer) Destroy()                     {}
func (r *trayRenderer) MinSize() fyne.Size           { return fyne.NewSize(360, 120) }
func (r *trayRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.t.scroll} }
func (r *trayRenderer) Refresh()                     { r.t.scroll.Refresh() }

func (r *trayRenderer) Layout(size fyne.Size) {
	t := r.t
	if size == t.size {
		return
	}
	anew := size.Width != t.size.Width
	t.size = size
	t.scroll.Resize(size)
	if anew {
		t.arrange()
	}
	t.move(t.current)
}

// floor is what scrolls: the bands with their tubes, and above them what changes
// with the pointer and the keys.
type floor struct {
	widget.BaseWidget
	tray    *Tray
	surface *canvas.Raster
	picture *image.RGBA
	dark    bool
	words   []fyne.CanvasObject
	ring    *canvas.Rectangle // of the keys
	point   *canvas.Rectangle // under the pointer
	tip     *raster.Tip
	style   raster.Style
}

func newFloor(t *Tray) *floor {
	f := &floor{tray: t, ring: canvas.NewRectangle(nil), point: canvas.NewRectangle(nil), tip: raster.NewTip(), style: widgets.Drawn()}
	f.surface = canvas.NewRaster(f.paint)
	f.ring.CornerRadius, f.point.CornerRadius = 10, 8
	f.ring.Hide()
	f.point.Hide()
	f.ExtendBaseWidget(f)
	return f
}

// paint draws the bands; they are drawn anew only for another size or other
// colours.
func (f *floor) paint(w, h int) image.Image {
	dark := look.Dark()
	if f.picture == nil || f.picture.Rect.Dx() != w || f.picture.Rect.Dy() != h || f.dark != dark {
		f.picture, f.dark = image.NewRGBA(image.Rect(0, 0, w, h)), dark
		f.tray.plan.paint(f.picture, f.tray.bands)
	}
	return f.picture
}

// draw shows the plan anew.
func (f *floor) draw() {
	p := f.tray.plan
	f.picture = nil
	f.words = p.words(f.tray.bands, f.tray.words)
	f.surface.Resize(fyne.NewSize(p.width, p.height))
	f.Resize(fyne.NewSize(p.width, max(p.height, f.tray.size.Height)))
	f.tip.Hide()
	f.surface.Refresh()
	f.place()
}

// place puts the ring of the keys and that of the pointer where they belong.
func (f *floor) place() {
	t := f.tray
	f.ring.Hidden, f.point.Hidden = true, true
	around := func(r *canvas.Rectangle, i int, outside float32) {
		s := t.plan.slots[i]
		r.FillColor, r.StrokeColor, r.StrokeWidth, r.Hidden = look.Of(look.Clear), look.Of(look.Accent), 2, false
		r.Move(fyne.NewPos(s.x-outside, s.y-outside))
		r.Resize(fyne.NewSize(s.w+2*outside, tubeHeight+2*outside))
	}
	if t.focused && t.current < len(t.plan.slots) {
		around(f.ring, t.current, 4)
	}
	if t.pointed >= 0 && t.pointed < len(t.plan.slots) {
		around(f.point, t.pointed, 0)
	}
	f.BaseWidget.Refresh()
}

// MouseIn implements desktop.Hoverable.
func (f *floor) MouseIn(e *desktop.MouseEvent) { f.MouseMoved(e) }

// MouseMoved implements desktop.Hoverable.
func (f *floor) MouseMoved(e *desktop.MouseEvent) {
	i, ok := f.tray.plan.under(e.Position.X, e.Position.Y)
	if !ok {
		f.MouseOut()
		return
	}
	s := f.tray.plan.slots[i]
	said := s.Tip
	if e.Position.X < s.x+capWidth+2 {
		said = f.tray.words.Choose
	}
	f.tip.Show(f.style, said, e.Position, f.Size())
	if f.tray.pointed != i {
		f.tray.pointed = i
		f.place()
	}
}

// MouseOut implements desktop.Hoverable.
func (f *floor) MouseOut() {
	if f.tray.pointed >= 0 {
		f.tray.pointed = -1
		f.tip.Hide()
		f.place()
	}
}

// Cursor implements desktop.Cursorable.
func (f *floor) Cursor() desktop.Cursor {
	if f.tray.pointed >= 0 {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// Tapped implements fyne.Tappable: the cap chooses, the verb acts, the rest opens.
func (f *floor) Tapped(e *fyne.PointEvent) {
	t := f.tray
	if c := t.canvas(); c != nil {
		c.Focus(t)
	}
	i, ok := t.plan.under(e.Position.X, e.Position.Y)
	if !ok {
		return
	}
	t.move(i)
	s := t.plan.slots[i]
	switch {
	case e.Position.X < s.x+capWidth+2:
		t.choose()
	case s.actW > 0 && e.Position.X >= s.actX:
		t.act()
	default:
		t.Open(s.Key)
	}
}

// MinSize implements fyne.CanvasObject.
func (f *floor) MinSize() fyne.Size { return fyne.NewSize(0, f.tray.plan.height) }

// CreateRenderer implements fyne.Widget.
func (f *floor) CreateRenderer() fyne.WidgetRenderer { return &floorRenderer{f} }

type floorRenderer struct{ f *floor }

func (r *floorRenderer) Destroy()           {}
func (r *floorRenderer) Layout(fyne.Size)   {}
func (r *floorRenderer) MinSize() fyne.Size { return r.f.MinSize() }
func (r *floorRenderer) Refresh()           { canvas.Refresh(r.f.surface) }

func (r *floorRenderer) Objects() []fyne.CanvasObject {
	objects := append([]fyne.CanvasObject{r.f.surface}, r.f.words...)
	objects = append(objects, r.f.point, r.f.ring)
	return append(objects, r.f.tip.Objects()...)
}
