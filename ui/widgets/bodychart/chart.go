// Package bodychart shows the animal: a view of it with pins, a lit part, names
// and layers, to be pointed at and walked through by keys; and a straightened
// close-up with a ruler. Values go in, callbacks come out.
package bodychart

import (
	"image"
	"log/slog"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"coilward/model/body"
	"coilward/model/drawing"
	"coilward/model/pixel"
	"coilward/ui/widgets/raster"
)

// Chart is one view of the animal. Set its fields, then call Refresh.
type Chart struct {
	widget.BaseWidget

	View   body.ViewID
	Pins   []Pin
	Lit    []body.RegionID // the part under the lamp; the rest fades
	Names  []Name          // names beside the drawing
	Organs bool            // the layer of organ landmarks
	Style  raster.Style

	// OrganName words an organ's id on the layer; nil shows the bars alone.
	OrganName func(id string) string
	// Describe words a place for the tooltip; nil shows none.
	Describe func(body.Place) string
	// OnPlace tells of a place that was tapped, or marked with Enter (then the
	// middle of the region that the keys stand on).
	OnPlace func(body.Place)
	// OnPin tells of a tapped pin; where nil, the place under it is told.
	OnPin func(Pin)
	// OnHover tells of the place under the pointer; not over when it has left the animal.
	OnHover func(place body.Place, over bool)
	// OnRegion tells of the region that the keys have moved to.
	OnRegion func(body.RegionID)

	base     *canvas.Raster
	hover    overlay
	focus    overlay
	tip      *raster.Tip
	art      artCache
	placed   []placed
	region   body.RegionID // where the keys stand
	focused  bool
	pointing bool
	size     fyne.Size
}

var (
	_ fyne.Widget        = (*Chart)(nil)
	_ fyne.Tappable      = (*Chart)(nil)
	_ fyne.Focusable     = (*Chart)(nil)
	_ desktop.Hoverable  = (*Chart)(nil)
	_ desktop.Cursorable = (*Chart)(nil)
)

// New is a chart of a view.
func New(view body.ViewID, style raster.Style) *Chart {
	c := &Chart{View: view, Style: style}
	c.base = canvas.NewRaster(c.paint)
	c.hover.raster = canvas.NewRaster(func(w, h int) image.Image { return c.ring(&c.hover, w, h, 1.6, .30) })
	c.focus.raster = canvas.NewRaster(func(w, h int) image.Image { return c.ring(&c.focus, w, h, 2.6, .12) })
	c.tip = raster.NewTip()
	c.hover.raster.Hide()
	c.focus.raster.Hide()
	c.ExtendBaseWidget(c)
	return c
}

// SetView shows another view. Where the keys stood stays, if it has that region.
func (c *Chart) SetView(view body.ViewID) {
	c.View = view
	c.unhover()
	c.Refresh()
}

// margin around the animal, in window units: room for pins at its edge.
const margin = 14

// fit maps the view's units to window units.
func (c *Chart) fit() drawing.Matrix {
	return drawing.Fit(body.Extent(c.View), float64(c.size.Width)-2*c.nameWidth(), float64(c.size.Height), margin).
		Then(drawing.Translate(c.nameWidth(), 0))
}

// artCache keeps the last drawing of the animal and the last one with its lamp.
type artCache struct {
	key     artKey
	picture *image.RGBA
	lampKey string
	lit     *image.RGBA
}

type artKey struct {
	view    body.ViewID
	w, h    int
	organs  bool
	names   float64
	palette drawing.Palette
}

// paint is the picture under everything that moves. It is made anew only when
// size, colours, view or layers have changed.
func (c *Chart) paint(w, h int) image.Image {
	key := artKey{c.View, w, h, c.Organs, c.nameWidth(), c.Style.Colours()}
	if c.art.picture == nil || key != c.art.key {
		slog.Debug(NoteBegun)
		defer slog.Debug(NoteDone)
		c.art = artCache{key: key, picture: c.Style.Picture(w, h, c.size.Width, func(pen drawing.Pen) {
			body.Draw(drawing.Through(pen, c.fit()), c.View, body.Options{Organs: c.Organs})
		})}
	}
	return c.underLamp(w)
}

func (c *Chart) underLamp(w int) image.Image {
	if len(c.Lit) == 0 {
		return c.art.picture
	}
	var key string
	for _, id := range c.Lit {
		key += string(id) + " "
	}
	if c.art.lit == nil || key != c.art.lampKey {
		k := float64(w) / float64(max(c.size.Width, 1))
		lit := image.NewRGBA(c.art.picture.Rect)
		copy(lit.Pix, c.art.picture.Pix)
		pixel.Lamp(lit, c.art.key.palette, c.outlines(c.Lit, c.fit().Then(drawing.Scale(k, k))), 2.4*k)
		c.art.lampKey, c.art.lit = key, lit
	}
	return c.art.lit
}

func (c *Chart) outlines(ids []body.RegionID, m drawing.Matrix) []drawing.Path {
	var out []drawing.Path
	for _, id := range ids {
		if p := body.Outline(c.View, id); len(p) > 0 {
			out = append(out, p.Transform(m))
		}
	}
	return out
}

// overlay is a small picture just large enough for one region.
type overlay struct {
	raster *canvas.Raster
	region body.RegionID
	at     drawing.Point // its upper left corner, in window units
}

func (c *Chart) ring(o *overlay, w, h int, line, fill float64) image.Image {
	k := float64(w) / float64(max(o.raster.Size().Width, 1))
	m := c.fit().Then(drawing.Translate(-o.at.X, -o.at.Y)).Then(drawing.Scale(k, k))
	return pixel.Ring(image.Rect(0, 0, w, h), c.Style.Colours(), c.outlines([]body.RegionID{o.region}, m), line*k, fill)
}

// put lays the overlay on a region; none hides it.
func (c *Chart) put(o *overlay, id body.RegionID) {
	defer c.tip.Repaint()
	path := body.Outline(c.View, id)
	if len(path) == 0 {
		o.region = ""
		o.raster.Hide()
		return
	}
	b := path.Transform(c.fit()).Bounds().Grow(5)
	x, y := float32(int(b.Min.X)), float32(int(b.Min.Y))
	o.region, o.at = id, drawing.Point{X: float64(x), Y: float64(y)}
	o.raster.Move(fyne.NewPos(x, y))
	o.raster.Resize(fyne.NewSize(float32(int(b.Max.X))+1-x, float32(int(b.Max.Y))+1-y))
	o.raster.Show()
	o.raster.Refresh()
}

// placeAt is the place under a position in the widget.
func (c *Chart) placeAt(pos fyne.Position) (body.Place, bool) {
	return body.At(c.View, c.fit().Inverse().Apply(drawing.Point{X: float64(pos.X), Y: float64(pos.Y)}))
}

// MouseIn begins hovering.
func (c *Chart) MouseIn(e *desktop.MouseEvent) { c.MouseMoved(e) }

// What a chart notes at the level Debug, for whoever measures how quickly it
// answers: a pointer move has come, it has been answered; a drawing is begun anew,
// it is done.
const (
	NoteMoved    = "drawing: moved over"
	NoteAnswered = "drawing: answered"
	NoteBegun    = "drawing: begun"
	NoteDone     = "drawing: done"
)

// MouseMoved lights the region under the pointer and words the place.
func (c *Chart) MouseMoved(e *desktop.MouseEvent) {
	slog.Debug(NoteMoved)
	place, ok := c.placeAt(e.Position)
	if !ok {
		if c.pointing {
			c.unhover()
			c.hovered(place, false)
		}
		return
	}
	c.pointing = true
	if c.hover.region != place.Region {
		c.put(&c.hover, place.Region)
	}
	if c.Describe != nil {
		c.tip.Show(c.Style, c.Describe(place), e.Position, c.size)
	}
	c.hovered(place, true)
	slog.Debug(NoteAnswered)
}

// MouseOut ends hovering.
func (c *Chart) MouseOut() {
	was := c.pointing
	c.unhover()
	if was {
		c.hovered(body.Place{}, false)
	}
}

func (c *Chart) hovered(p body.Place, over bool) {
	if c.OnHover != nil {
		c.OnHover(p, over)
	}
}

func (c *Chart) unhover() {
	c.pointing = false
	c.hover.region = ""
	c.hover.raster.Hide()
	c.tip.Hide()
}

// Cursor is a hand over the animal.
func (c *Chart) Cursor() desktop.Cursor {
	if c.pointing {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// Tapped takes the focus where something is, and tells of the pin or the place. A
// tap beside the animal leaves the keys where they were.
func (c *Chart) Tapped(e *fyne.PointEvent) {
	pin, pinned := c.pinAt(e.Position)
	place, there := c.placeAt(e.Position)
	if !there && !pinned {
		return
	}
	if cv := c.canvas(); cv != nil {
		cv.Focus(c)
	}
	if pinned && c.OnPin != nil {
		c.OnPin(pin)
		return
	}
	if !there {
		return
	}
	c.stand(place.Region)
	if c.OnPlace != nil {
		c.OnPlace(place)
	}
}

func (c *Chart) canvas() fyne.Canvas { return fyne.CurrentApp().Driver().CanvasForObject(c) }

func (c *Chart) pinAt(pos fyne.Position) (Pin, bool) {
	for i := len(c.placed) - 1; i >= 0; i-- {
		d := c.placed[i].stands.Sub(drawing.Point{X: float64(pos.X), Y: float64(pos.Y)})
		if d.Length() <= Radius+2 {
			return c.placed[i].Pin, true
		}
	}
	return Pin{}, false
}

// FocusGained shows where the keys stand.
func (c *Chart) FocusGained() {
	c.focused = true
	c.stand(c.region)
}

// FocusLost hides it.
func (c *Chart) FocusLost() {
	c.focused = false
	c.focus.raster.Hide()
	c.tip.Repaint()
}

// TypedRune gives letters and figures to the page that holds the chart.
func (c *Chart) TypedRune(sign rune) {
	if cv := c.canvas(); cv != nil && cv.OnTypedRune() != nil && sign != ' ' {
		cv.OnTypedRune()(sign)
	}
}

// TypedKey walks from region to region with the arrows, to the first and last
// with Home and End; Enter and Space mark the middle of the region. Other keys
// go to the page.
func (c *Chart) TypedKey(e *fyne.KeyEvent) {
	all := body.RegionsOf(c.View)
	switch e.Name {
	case fyne.KeyLeft:
		c.walk(-1, 0)
	case fyne.KeyRight:
		c.walk(1, 0)
	case fyne.KeyUp:
		c.walk(0, -1)
	case fyne.KeyDown:
		c.walk(0, 1)
	case fyne.KeyHome:
		c.moveTo(all[0])
	case fyne.KeyEnd:
		c.moveTo(all[len(all)-1])
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		c.mark()
	default:
		if cv := c.canvas(); cv != nil && cv.OnTypedKey() != nil {
			cv.OnTypedKey()(e)
		}
	}
}

func (c *Chart) walk(dx, dy float64) { c.moveTo(body.Step(c.View, c.region, dx, dy)) }

func (c *Chart) moveTo(id body.RegionID) {
	c.stand(id)
	if c.OnRegion != nil {
		c.OnRegion(c.region)
	}
}

// Stand sets the region that the keys stand on.
func (c *Chart) Stand(id body.RegionID) { c.stand(id) }

func (c *Chart) stand(id body.RegionID) {
	if len(body.Outline(c.View, id)) == 0 {
		id = body.RegionsOf(c.View)[0]
	}
	c.region = id
	if c.focused {
		c.put(&c.focus, id)
	}
}

func (c *Chart) mark() {
	p, ok := body.Anchor(c.View, c.region)
	if !ok || c.OnPlace == nil {
		return
	}
	if place, ok := body.At(c.View, p); ok {
		c.OnPlace(place)
	}
}
