package bodychart

import (
	"math"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"image"

	"coilward/model/body"
	"coilward/model/drawing"
	"coilward/model/pixel"
	"coilward/ui/widgets/raster"
)

// CloseUp is a straightened piece of the trunk under the lamp. With the
// animal's length known, its ruler shows centimetres from the snout, else
// percents. Set its fields, then call Refresh.
type CloseUp struct {
	widget.BaseWidget

	From, To       int   // what is shown, in hundredths of a percent of snout–vent length (500–10000: behind the head)
	LitFrom, LitTo int   // the part under the lamp
	SnoutVent      int64 // in tenths of a millimetre; 0 if unknown
	Below          bool  // seen from below
	Pins           []Pin
	Style          raster.Style

	// Describe words a place for the tooltip; nil shows none.
	Describe func(body.Place) string
	// OnPlace tells of a tapped place.
	OnPlace func(body.Place)

	surface *canvas.Raster
	words   []fyne.CanvasObject
	tip     *raster.Tip
	strip   *body.Strip
	art     closeUpArt
	size    fyne.Size
}

var (
	_ fyne.Widget       = (*CloseUp)(nil)
	_ fyne.Tappable     = (*CloseUp)(nil)
	_ desktop.Hoverable = (*CloseUp)(nil)
)

// closeUpArt is the animal's picture without marks, kept while it holds.
type closeUpArt struct {
	key     closeUpKey
	picture *image.RGBA
}

type closeUpKey struct {
	w, h, from, to, litFrom, litTo int
	below                          bool
	palette                        drawing.Palette
}

const rulerHeight = 30

// NewCloseUp is a close-up of a part of the trunk with all of it lit.
func NewCloseUp(from, to int, style raster.Style) *CloseUp {
	u := &CloseUp{From: from, To: to, LitFrom: from, LitTo: to, Style: style, tip: raster.NewTip()}
	u.surface = canvas.NewRaster(u.paint)
	u.ExtendBaseWidget(u)
	return u
}

// around is the part shown: behind the head, and at least a percent.
func (u *CloseUp) around() (from, to int) {
	from = max(body.HeadShare, min(u.From, body.Full-100))
	return from, max(from+100, min(u.To, body.Full))
}

func (u *CloseUp) half() float64 { return (float64(u.size.Height) - rulerHeight) * .40 }

// ventRoom is the share of the width that is left for the vent and what follows
// where the part shown ends there: the vent lies across the end of the trunk.
const ventRoom = .14

// trunkWidth is how wide the part of the trunk is shown.
func (u *CloseUp) trunkWidth() float64 {
	if _, to := u.around(); to == body.Full {
		return float64(u.size.Width) * (1 - ventRoom)
	}
	return float64(u.size.Width)
}

// arrange lays the animal straight, so that the part shown fills its width.
func (u *CloseUp) arrange() {
	from, to := u.around()
	u.strip = body.StraightBetween(from, to, u.trunkWidth(), u.half(), u.Below)
}

// shift moves the strip to the middle of the space above the ruler.
func (u *CloseUp) shift() drawing.Matrix {
	mid := (float64(u.size.Height) - rulerHeight) / 2
	return drawing.Translate(0, mid-1.3*u.half())
}

func (u *CloseUp) paint(w, h int) image.Image {
	if u.strip == nil || w == 0 || h == 0 {
		return image.NewRGBA(image.Rect(0, 0, w, h))
	}
	from, to := u.around()
	key := closeUpKey{w, h, from, to, u.LitFrom, u.LitTo, u.Below, u.Style.Colours()}
	k := float64(w) / float64(u.size.Width)
	if u.art.picture == nil || u.art.key != key {
		picture := u.Style.Picture(w, h, u.size.Width, func(pen drawing.Pen) {
			u.strip.Draw(drawing.Through(pen, u.shift()), body.Options{})
		})
		if u.LitTo > u.LitFrom && (u.LitFrom > from || u.LitTo < to) {
			lit := u.strip.Band(body.OnTrunk(u.LitFrom, 0), body.OnTrunk(u.LitTo, 0))
			pixel.Lamp(picture, key.palette, []drawing.Path{lit.Transform(u.shift().Then(drawing.Scale(k, k)))}, 2.2*k)
		}
		u.art = closeUpArt{key, picture}
	}
	out := image.NewRGBA(u.art.picture.Rect)
	copy(out.Pix, u.art.picture.Pix)
	u.marks(drawing.Through(pixel.NewPen(out, key.palette), drawing.Scale(k, k)))
	return out
}

// x is where a share of the trunk lies.
func (u *CloseUp) x(along float64) float64 {
	from, to := u.around()
	return (along - float64(from)) / float64(to-from) * u.trunkWidth()
}

// marks are the ruler and the pins.
func (u *CloseUp) marks(pen drawing.Pen) {
	u.ruler(pen)
	top := float64(u.size.Height) - rulerHeight + 4
	var pins []placed
	for _, pin := range u.Pins {
		p, ok := u.strip.Point(pin.Place)
		if at := u.shift().Apply(p); ok && pin.Place.Part == body.Trunk && at.X > -Radius && at.X < float64(u.size.Width)+Radius {
			pins = append(pins, placed{pin, at, at})
		}
	}
	apart(pins, drawing.Box(0, 0, float64(u.size.Width), top))
	for _, p := range pins {
		if p.Kind == Now {
			x := math.Floor(p.means.X) + .5
			pen.Stroke(drawing.Polyline(drawing.Point{X: x, Y: p.means.Y}, drawing.Point{X: x, Y: top}), 1.4, drawing.Ink, 1)
		}
		if p.stands.Sub(p.means).Length() > 4 {
			pen.Stroke(drawing.Polyline(p.means, p.stands), 1.4, drawing.Ink, 1)
		}
		DrawPin(pen, p.stands, Radius, p.Kind, p.Number)
	}
}

// ruler draws the scale: a mark for each unit, a long one and a number for each
// tenth or fifth.
func (u *CloseUp) ruler(pen drawing.Pen) {
	perUnit := 100.0 // one percent
	if u.SnoutVent > 0 {
		perUnit = body.Full / (float64(u.SnoutVent) / 100) // one centimetre
	}
	y := float64(u.size.Height) - rulerHeight + 4
	pen.Stroke(drawing.Polyline(drawing.Point{Y: y}, drawing.Point{X: float64(u.size.Width), Y: y}), 1, drawing.Edge, 1)
	from, to := u.around()
	width := perUnit / float64(to-from) * u.trunkWidth()
	every, numbered := 1, 5
	for float64(numbered)*width < 52 {
		numbered *= 2
	}
	for float64(every)*width < 4 {
		every *= 5
	}
	for i := int(math.Ceil(float64(from) / perUnit)); float64(i)*perUnit <= float64(to); i++ {
		if i%every != 0 {
			continue
		}
		x, length := math.Floor(u.x(float64(i)*perUnit))+.5, 4.0
		if i%numbered == 0 {
			length = 8
			u.figure(pen, i, x, y+17)
		}
		pen.Stroke(drawing.Polyline(drawing.Point{X: x, Y: y}, drawing.Point{X: x, Y: y + length}), 1, drawing.Edge, 1)
	}
}

func (u *CloseUp) figure(pen drawing.Pen, n int, x, y float64) {
	text := strconv.Itoa(n) + " cm"
	if u.SnoutVent == 0 {
		text = strconv.Itoa(n) + " %"
	}
	half := u.Style.Measure(text, 12, false) / 2
	if x-half >= 0 && x+half <= float64(u.size.Width) {
		pen.Text(drawing.Text{String: text, At: drawing.Point{X: x, Y: y}, Align: drawing.Middle, Size: 12, Role: drawing.Faint})
	}
}

func (u *CloseUp) placeAt(pos fyne.Position) (body.Place, bool) {
	if u.strip == nil {
		return body.Place{}, false
	}
	return u.strip.At(u.shift().Inverse().Apply(drawing.Point{X: float64(pos.X), Y: float64(pos.Y)}))
}

// MouseIn begins hovering.
func (u *CloseUp) MouseIn(e *desktop.MouseEvent) { u.MouseMoved(e) }

// MouseMoved words the place under the pointer.
func (u *CloseUp) MouseMoved(e *desktop.MouseEvent) {
	place, ok := u.placeAt(e.Position)
	if !ok || u.Describe == nil {
		u.tip.Hide()
		return
	}
	u.tip.Show(u.Style, u.Describe(place), e.Position, u.size)
}

// MouseOut ends hovering.
func (u *CloseUp) MouseOut() { u.tip.Hide() }

// Tapped tells of the place.
func (u *CloseUp) Tapped(e *fyne.PointEvent) {
	if place, ok := u.placeAt(e.Position); ok && u.OnPlace != nil {
		u.OnPlace(place)
	}
}

// CreateRenderer makes the close-up's objects.
func (u *CloseUp) CreateRenderer() fyne.WidgetRenderer { return closeUpRenderer{u} }

type closeUpRenderer struct{ closeUp *CloseUp }

func (r closeUpRenderer) Destroy()           {}
func (r closeUpRenderer) MinSize() fyne.Size { return fyne.NewSize(200, 100) }

// ConstantLeastSize implements widgets.Constant.
func (u *CloseUp) ConstantLeastSize() {}

func (r closeUpRenderer) Layout(size fyne.Size) {
	u := r.closeUp
	if size == u.size {
		return
	}
	u.size = size
	u.surface.Resize(size)
	r.rebuild()
}

func (r closeUpRenderer) Refresh() {
	r.rebuild()
	canvas.Refresh(r.closeUp)
}

func (r closeUpRenderer) rebuild() {
	u := r.closeUp
	if u.size.Width <= 0 || u.size.Height <= rulerHeight {
		return
	}
	u.arrange()
	u.tip.Hide()
	u.words = u.Style.Words(raster.Texts(u.marks))
	u.surface.Refresh()
}

func (r closeUpRenderer) Objects() []fyne.CanvasObject {
	out := append([]fyne.CanvasObject{r.closeUp.surface}, r.closeUp.words...)
	return append(out, r.closeUp.tip.Objects()...)
}
