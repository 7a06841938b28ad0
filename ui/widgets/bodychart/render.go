package bodychart

import (
	"image"
	"image/color"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"coilward/model/body"
	"coilward/model/drawing"
	"coilward/ui/widgets/raster"
)

// Name is a word beside the drawing with a fine line to the region it names.
type Name struct {
	Region body.RegionID
	Text   string
}

// CreateRenderer makes the chart's objects.
func (c *Chart) CreateRenderer() fyne.WidgetRenderer { return &renderer{chart: c} }

type renderer struct {
	chart *Chart
	marks []fyne.CanvasObject
	size  fyne.Size
}

// Destroy has nothing to free.
func (r *renderer) Destroy() {}

// MinSize is the least size at which regions can still be told apart.
func (r *renderer) MinSize() fyne.Size { return fyne.NewSize(120, 70) }

// ConstantLeastSize implements widgets.Constant.
func (c *Chart) ConstantLeastSize() {}

// Layout must do nothing when the size stays: the window calls it whenever any
// object's least size changes, such as the tooltip's, and would undo a hover.
func (r *renderer) Layout(size fyne.Size) {
	if size == r.size {
		return
	}
	r.size = size
	r.chart.size = size
	r.chart.base.Resize(size)
	r.chart.unhover()
	r.rebuild()
}

// Refresh draws everything anew after a change of fields or theme.
func (r *renderer) Refresh() {
	r.rebuild()
	r.chart.base.Refresh()
	canvas.Refresh(r.chart)
}

// Objects are the layers from bottom to top.
func (r *renderer) Objects() []fyne.CanvasObject {
	c := r.chart
	out := append([]fyne.CanvasObject{c.base, c.hover.raster, c.focus.raster}, r.marks...)
	return append(out, c.tip.Objects()...)
}

func (r *renderer) rebuild() {
	c := r.chart
	if c.size.Width <= 0 || c.size.Height <= 0 {
		return
	}
	c.arrange()
	r.marks = append(append(c.organObjects(), c.nameObjects()...), c.pinObjects()...)
	if c.focused {
		c.stand(c.region)
	}
	if c.hover.region != "" {
		c.put(&c.hover, c.hover.region)
	}
}

// arrange places the pins that the view shows.
func (c *Chart) arrange() {
	fit := c.fit()
	c.placed = c.placed[:0]
	for _, kind := range []Kind{Gone, Earlier, Now} {
		for _, pin := range c.Pins {
			p, ok := body.Point(c.View, pin.Place)
			if !ok || pin.Kind != kind {
				continue
			}
			at := fit.Apply(p)
			c.placed = append(c.placed, placed{pin, at, at})
		}
	}
	apart(c.placed, drawing.Box(0, 0, float64(c.size.Width), float64(c.size.Height)))
}

func (c *Chart) pinObjects() []fyne.CanvasObject {
	var ties, pins []fyne.CanvasObject
	ink := c.Style.Colour(drawing.Ink)
	for _, p := range c.placed {
		if p.stands.Sub(p.means).Length() > 4 {
			ties = append(ties, line(p.means, p.stands, 1.4, ink), dot(p.means, 2.6, ink))
		}
		pins = append(pins, pinPicture(c.Style, p.stands, p.Kind, p.Number)...)
	}
	return append(ties, pins...)
}

// pinPicture is a pin as objects: its shape, and its number set by the window.
func pinPicture(style raster.Style, at drawing.Point, kind Kind, number int) []fyne.CanvasObject {
	const half = Radius + 4
	x, y := math.Round(at.X-half), math.Round(at.Y-half)
	centre := drawing.Point{X: at.X - x, Y: at.Y - y}
	shape := canvas.NewRaster(func(w, h int) image.Image {
		return style.Picture(w, h, 2*half, func(pen drawing.Pen) { DrawPin(pen, centre, Radius, kind, number) })
	})
	shape.Resize(fyne.NewSize(2*half, 2*half))
	shape.Move(fyne.NewPos(float32(x), float32(y)))
	out := []fyne.CanvasObject{shape}
	return append(out, style.Words(raster.Texts(func(pen drawing.Pen) { DrawPin(pen, at, Radius, kind, number) }))...)
}

func line(a, b drawing.Point, width float32, c color.Color) *canvas.Line {
	l := canvas.NewLine(c)
	l.StrokeWidth = width
	l.Position1 = fyne.NewPos(float32(a.X), float32(a.Y))
	l.Position2 = fyne.NewPos(float32(b.X), float32(b.Y))
	return l
}

func dot(at drawing.Point, r float32, c color.Color) *canvas.Circle {
	o := canvas.NewCircle(c)
	o.Resize(fyne.NewSize(2*r, 2*r))
	o.Move(fyne.NewPos(float32(at.X)-r, float32(at.Y)-r))
	return o
}

const nameSize = 12

// nameWidth is the width of the columns that the names stand in: as wide as the
// widest name, or as its widest word where names have to break so that the
// drawing keeps most of the room.
func (c *Chart) nameWidth() float64 {
	widest, word := 0.0, 0.0
	for _, n := range c.Names {
		widest = max(widest, c.Style.Measure(n.Text, nameSize, false))
		for _, w := range strings.Fields(n.Text) {
			word = max(word, c.Style.Measure(w, nameSize, false))
		}
	}
	if widest == 0 {
		return 0
	}
	return max(min(widest, float64(c.size.Width)/6), word) + 18
}

// broken is a name in lines that fit its column.
func (c *Chart) broken(name string) []string {
	room := c.nameWidth() - 18
	var lines []string
	line := ""
	for _, w := range strings.Fields(name) {
		longer := strings.TrimSpace(line + " " + w)
		if line != "" && c.Style.Measure(longer, nameSize, false) > room+.5 {
			lines = append(lines, line)
			longer = w
		}
		line = longer
	}
	return append(lines, line)
}

type namePlace struct {
	lines    []string
	from, to drawing.Point
	align    drawing.Align
}

// nameLine is the height of one line of a name.
const nameLine = 15.0

func (n namePlace) height() float64 { return nameLine*float64(len(n.lines)) + 4 }

// nameObjects are the names in two columns, each pushed apart, with their lines.
func (c *Chart) nameObjects() []fyne.CanvasObject {
	if len(c.Names) == 0 {
		return nil
	}
	left, right := c.nameColumns()
	ink, sheet := c.Style.Colour(drawing.Ink), c.Style.Colour(drawing.Sheet)
	var under, over []fyne.CanvasObject
	for _, n := range append(left, right...) {
		shift, bend := -5.0, 14.0
		if n.align == drawing.Start {
			shift, bend = 5, -14
		}
		from := drawing.Point{X: n.from.X + bend, Y: n.from.Y}
		under = append(under, line(from, n.to, 3.2, sheet), dot(n.to, 4, sheet))
		over = append(over, line(n.from, from, 1.2, ink), line(from, n.to, 1.2, ink), dot(n.to, 2.6, ink))
		top := n.from.Y - nameLine*float64(len(n.lines)-1)/2
		for i, text := range n.lines {
			at := drawing.Point{X: n.from.X + shift, Y: top + nameLine*float64(i)}
			over = append(over, c.Style.Word(drawing.Text{String: text, At: at, Align: n.align, Size: nameSize, Role: drawing.Ink}))
		}
	}
	return append(under, over...)
}

func (c *Chart) nameColumns() (left, right []namePlace) {
	fit := c.fit()
	middle := float64(c.size.Width) / 2
	for _, n := range c.Names {
		p, ok := body.Anchor(c.View, n.Region)
		if !ok {
			continue
		}
		at := fit.Apply(p)
		onLeft := at.X < middle-1 || at.X < middle+1 && len(left) <= len(right)
		if onLeft {
			left = append(left, namePlace{c.broken(n.Text), drawing.Point{X: c.nameWidth() - 6, Y: at.Y}, at, drawing.End})
		} else {
			right = append(right, namePlace{c.broken(n.Text), drawing.Point{X: float64(c.size.Width) - c.nameWidth() + 6, Y: at.Y}, at, drawing.Start})
		}
	}
	spread(left, float64(c.size.Height))
	spread(right, float64(c.size.Height))
	return left, right
}

// spread keeps names of a column from covering each other, within the height.
func spread(column []namePlace, height float64) {
	at, heights := make([]float64, len(column)), make([]float64, len(column))
	for i, n := range column {
		at[i], heights[i] = n.from.Y, n.height()
	}
	for i, y := range drawing.Spread(at, heights, 0, height) {
		column[i].from.Y = y
	}
}

// organObjects are the names of the organ landmarks on the layer.
func (c *Chart) organObjects() []fyne.CanvasObject {
	if !c.Organs || c.OrganName == nil {
		return nil
	}
	var out []fyne.CanvasObject
	for _, o := range body.Organs() {
		p, ok := body.OrganPoint(c.View, o)
		if !ok {
			continue
		}
		word := c.Style.Word(drawing.Text{String: c.OrganName(o.ID), At: c.fit().Apply(p), Align: drawing.Middle, Size: 11, Role: drawing.Ink})
		ground := canvas.NewRectangle(c.Style.Colour(drawing.Sheet))
		ground.CornerRadius = 4
		ground.Move(word.Position().SubtractXY(4, 0))
		ground.Resize(word.Size().AddWidthHeight(8, 0))
		out = append(out, ground, word)
	}
	return out
}
