// Package pixel is the pen that draws on pictures made of pixels.
package pixel

import (
	"encoding/binary"
	"image"
	"image/color"
	"math"

	"coilward/model/drawing"
)

// tolerance is how far a flattened curve may lie from the true one, in pixels.
const tolerance = 0.12

// thinnest is the least width of a line, in pixels: thinner ones would break up.
const thinnest = 0.7

// Pen draws on a picture, edges smoothed. It is a drawing.Pen in pixels; wrap it
// with drawing.Through for other units. It is not safe for concurrent use.
type Pen struct {
	// Texts are the texts written so far, for whoever sets them above the picture.
	Texts []drawing.Text

	picture *image.RGBA
	palette drawing.Palette
	sweep   sweep
	clip    *image.Alpha // nil: none
}

var _ drawing.Pen = (*Pen)(nil)

// NewPen is a pen on the picture with the palette's colours.
func NewPen(picture *image.RGBA, palette drawing.Palette) *Pen {
	return &Pen{picture: picture, palette: palette}
}

// Fill fills the path.
func (p *Pen) Fill(path drawing.Path, role drawing.Role, opacity float64) {
	if p.beside(path, 0) {
		return
	}
	p.paint(path.Flatten(tolerance), p.ink(role, opacity))
}

// Stroke draws along the path.
func (p *Pen) Stroke(path drawing.Path, width float64, role drawing.Role, opacity float64) {
	half := max(width, thinnest) / 2
	if p.beside(path, half) {
		return
	}
	p.paint(widened(path.Flatten(tolerance), half), p.ink(role, opacity))
}

// Clip keeps what follows inside the path.
func (p *Pen) Clip(path drawing.Path) {
	lines := path.Flatten(tolerance)
	box := pixels(lines.Bounds()).Intersect(p.picture.Rect)
	p.clip = image.NewAlpha(box)
	if box.Empty() {
		return
	}
	p.sweep.load(lines, box)
	p.sweep.runs(func(y, x int, cover []uint8) {
		copy(p.clip.Pix[p.clip.PixOffset(box.Min.X+x, box.Min.Y+y):], cover)
	})
}

// Unclip ends the clip.
func (p *Pen) Unclip() { p.clip = nil }

// Text keeps the text in Texts: letters are set by the window's own faces.
func (p *Pen) Text(text drawing.Text) { p.Texts = append(p.Texts, text) }

func (p *Pen) ink(role drawing.Role, opacity float64) color.NRGBA {
	c := p.palette[role]
	c.A = uint8(float64(c.A)*max(0, min(1, opacity)) + .5)
	return c
}

// beside reports whether nothing of the path can fall on the picture.
func (p *Pen) beside(path drawing.Path, half float64) bool {
	return len(path) == 0 || pixels(path.Bounds().Grow(half)).Intersect(p.picture.Rect).Empty()
}

func pixels(b drawing.Rectangle) image.Rectangle {
	return image.Rect(int(math.Floor(b.Min.X)), int(math.Floor(b.Min.Y)), int(math.Ceil(b.Max.X))+1, int(math.Ceil(b.Max.Y))+1)
}

func (p *Pen) paint(lines drawing.Polylines, c color.NRGBA) {
	if len(lines) == 0 {
		return
	}
	box := pixels(lines.Bounds()).Intersect(p.picture.Rect)
	if p.clip != nil {
		box = box.Intersect(p.clip.Rect)
	}
	if box.Empty() {
		return
	}
	p.sweep.load(lines, box)
	p.sweep.runs(func(y, x int, cover []uint8) {
		x, y = box.Min.X+x, box.Min.Y+y
		if p.clip != nil {
			cut(cover, p.clip.Pix[p.clip.PixOffset(x, y):])
		}
		blend(p.picture.Pix[p.picture.PixOffset(x, y):], cover, c)
	})
}

// cut takes away what lies outside the clip.
func cut(cover, clip []uint8) {
	clip = clip[:len(cover)]
	for i, c := range clip {
		if cover[i] != 0 && c != 255 {
			cover[i] = uint8(part(uint32(cover[i]), uint32(c)))
		}
	}
}

// part is a·b/255, rounded.
func part(a, b uint32) uint32 {
	v := a*b + 128
	return (v + v>>8) >> 8
}

// blend lays the colour over pixels as far as they are covered. Two colours of a
// pixel are reckoned at once, in the halves of one number.
func blend(pix, cover []uint8, c color.NRGBA) {
	const halves = 0x00ff00ff
	redBlue, greenAlpha := uint32(c.R)|uint32(c.B)<<16, uint32(c.G)|255<<16
	pix = pix[:4*len(cover)]
	for i, covered := range cover {
		if covered == 0 {
			continue
		}
		pixel := pix[4*i : 4*i+4 : 4*i+4]
		a := part(uint32(covered), uint32(c.A))
		if a == 255 {
			binary.LittleEndian.PutUint32(pixel, redBlue|greenAlpha<<8)
			continue
		}
		rest, old := 255-a, binary.LittleEndian.Uint32(pixel)
		rb := redBlue*a + (old&halves)*rest + 0x00800080
		ga := greenAlpha*a + (old>>8&halves)*rest + 0x00800080
		rb = (rb + rb>>8&halves) >> 8 & halves
		ga = (ga + ga>>8&halves) & ^uint32(halves)
		binary.LittleEndian.PutUint32(pixel, rb|ga)
	}
}

// widened turns lines into areas half wide to both sides, with round joins and
// ends. All pieces turn the same way, so that overlaps count once.
func widened(lines drawing.Polylines, half float64) drawing.Polylines {
	var out drawing.Polylines
	for _, line := range lines {
		out = widenedLine(out, line, half)
	}
	return out
}

// finest is the half-width below which joins are too small to be seen.
const finest = 0.6

func widenedLine(out drawing.Polylines, line []drawing.Point, half float64) drawing.Polylines {
	closed := len(line) > 2 && line[0] == line[len(line)-1]
	var before drawing.Point
	for i := 0; i+1 < len(line); i++ {
		a, b := line[i], line[i+1]
		d := b.Sub(a)
		length := d.Length()
		if length < 1e-9 {
			continue
		}
		d = d.Mul(1 / length)
		n := drawing.Point{X: -d.Y * half, Y: d.X * half}
		out = append(out, []drawing.Point{a.Sub(n), b.Sub(n), b.Add(n), a.Add(n)})
		switch turn := before.Dot(d); {
		case half <= finest:
		case i == 0 && !closed || i > 0 && turn < gentle:
			out = append(out, disc(a, half))
		case i > 0 && turn < 0.99999:
			out = append(out, wedge(a, before, d, half))
		}
		before = d
	}
	if half > finest {
		out = append(out, disc(line[len(line)-1], half))
	}
	return out
}

// gentle is the cosine below which a turn is a corner and wants a round join.
const gentle = 0.985

// wedge fills the gap that a gentle turn at c leaves on its outer side.
func wedge(c, before, after drawing.Point, half float64) []drawing.Point {
	side := half
	if before.X*after.Y-before.Y*after.X > 0 {
		side = -half
	}
	a := c.Add(drawing.Point{X: -before.Y * side, Y: before.X * side})
	b := c.Add(drawing.Point{X: -after.Y * side, Y: after.X * side})
	if side > 0 {
		return []drawing.Point{c, b, a}
	}
	return []drawing.Point{c, a, b}
}

func disc(c drawing.Point, r float64) []drawing.Point {
	n := min(32, 6+int(r*3))
	out := make([]drawing.Point, 0, n)
	for i := range n {
		s, co := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out = append(out, drawing.Point{X: c.X + r*co, Y: c.Y + r*s})
	}
	return out
}
