package shelfview

import (
	"image"
	"image/draw"
	"math"

	"coilward/model/drawing"
	"coilward/model/pixel"
	"coilward/ui/look"
	"coilward/ui/widgets/coil"
)

// brush paints a line of the shelf on a picture: lengths in pixels of the
// window, k pixels of the screen each.
type brush struct {
	picture *image.RGBA
	pen     *pixel.Pen
	k       float32
	kept    *kept
}

// kept are small pictures that stand in many boxes: they are drawn once.
type kept struct {
	dark    bool
	signs   map[signKey]*image.RGBA
	coils   map[coilKey]image.Image
	grounds map[groundKey]*image.RGBA
}

type signKey struct {
	sign   Sign
	pixels int
	tone   look.Tone
}

type coilKey struct {
	coat   coil.Coat
	name   string
	pixels int
}

type groundKey struct {
	w, h, bed  int
	k          float32
	fill, line look.Tone
	edge       float32
	dashed     bool
}

// most is how many small pictures are kept of a kind.
const most = 3000

// fresh forgets pictures of other colours, and all where they are too many.
func (k *kept) fresh() {
	if dark := look.Dark(); k.signs == nil || k.dark != dark || len(k.coils) > most || len(k.grounds) > most || len(k.signs) > most {
		*k = kept{dark: dark, signs: map[signKey]*image.RGBA{}, coils: map[coilKey]image.Image{}, grounds: map[groundKey]*image.RGBA{}}
	}
}

func newPen(picture *image.RGBA) *pixel.Pen { return pixel.NewPen(picture, drawing.Palette{}) }

func newBrush(w, h int, width float32, k *kept) *brush {
	picture := image.NewRGBA(image.Rect(0, 0, w, h))
	return &brush{picture: picture, pen: newPen(picture), k: float32(w) / width, kept: k}
}

func (b *brush) pixel(v float32) int { return int(math.Round(float64(v * b.k))) }

// rect fills an upright box, its edges on whole pixels.
func (b *brush) rect(x, y, w, h float32, tone look.Tone) {
	x0, y0 := b.pixel(x), b.pixel(y)
	x1, y1 := max(x0+1, b.pixel(x+w)), max(y0+1, b.pixel(y+h))
	if w <= 0 || h <= 0 {
		return
	}
	draw.Draw(b.picture, image.Rect(x0, y0, x1, y1), image.NewUniform(look.Of(tone)), image.Point{}, draw.Over)
}

func (b *brush) fill(p drawing.Path, tone look.Tone) {
	b.pen.FillIn(p.Transform(drawing.Scale(float64(b.k), float64(b.k))), look.Of(tone))
}

func (b *brush) stroke(p drawing.Path, width float32, tone look.Tone) {
	b.pen.StrokeIn(p.Transform(drawing.Scale(float64(b.k), float64(b.k))), float64(width*b.k), look.Of(tone))
}

// veil fades a box towards a tone.
func (b *brush) veil(x, y, w, h float32, tone look.Tone, share float64) {
	c := look.Of(tone)
	c.A = uint8(share * 255)
	draw.Draw(b.picture, image.Rect(b.pixel(x), b.pixel(y), b.pixel(x+w), b.pixel(y+h)), image.NewUniform(c), image.Point{}, draw.Over)
}

// lay puts a picture at a place.
func (b *brush) lay(picture image.Image, x, y float32) {
	at := image.Pt(b.pixel(x), b.pixel(y))
	draw.Draw(b.picture, picture.Bounds().Add(at), picture, image.Point{}, draw.Over)
}

// snake puts an animal's coil about a point.
func (b *brush) snake(d Dweller, x, y, side float32) {
	pixels := b.pixel(side)
	if pixels < 6 {
		return
	}
	key := coilKey{d.Coat, d.Name, pixels}
	picture, ok := b.kept.coils[key]
	if !ok {
		picture = coil.Bare(d.Coat, d.Name, pixels, b.kept.dark)
		b.kept.coils[key] = picture
	}
	b.lay(picture, x-side/2, y-side/2)
}

// snakes puts up to three animals of a box side by side, their right edge at x1.
func (b *brush) snakes(all []Dweller, x0, x1, y, side float32) {
	all = all[:min(len(all), 3)]
	if len(all) == 0 {
		return
	}
	step := float32(0)
	if n := float32(len(all) - 1); n > 0 {
		step = min(side*.8, max(side*.3, (x1-x0-side)/n))
	}
	for i := len(all) - 1; i >= 0; i-- {
		b.snake(all[i], x0+side/2+float32(i)*step, y, side)
	}
}

// glass draws a box: shadow, glass, bedding of that height, edge. Boxes of one
// size are drawn once.
func (b *brush) glass(x, y, w, h, bed float32, fill, line look.Tone, edge float32, dashed bool) {
	left, top := b.pixel(x), b.pixel(y)
	key := groundKey{b.pixel(x+w) - left, b.pixel(y+h) - top, b.pixel(bed), b.k, fill, line, edge, dashed}
	picture, ok := b.kept.grounds[key]
	if !ok {
		picture = b.drawGlass(key)
		b.kept.grounds[key] = picture
	}
	const around = 2
	draw.Draw(b.picture, picture.Bounds().Add(image.Pt(left-around, top-around)), picture, image.Point{}, draw.Over)
}

const corner = 5

func (b *brush) drawGlass(key groundKey) *image.RGBA {
	const around = 2
	picture := image.NewRGBA(image.Rect(0, 0, key.w+2*around, key.h+2*around))
	in := brush{picture: picture, pen: newPen(picture), k: key.k, kept: b.kept}
	x, y := around/key.k, around/key.k
	w, h, bed := float32(key.w)/key.k, float32(key.h)/key.k, float32(key.bed)/key.k
	half := key.edge / 2
	if key.fill != "" {
		in.fill(rounded(x, y, w, h, corner), key.fill)
	}
	if bed > 0 {
		in.fill(rounded(x, y+h-bed, w, bed, corner-1), look.Bedding)
		in.rect(x, y+h-bed, w, bed/2, look.Bedding)
		for i := 0; ; i++ { // bark, always the same
			at := x + 8 + float32(i)*11 + float32((i*i*7)%9)
			if at > x+w-8 {
				break
			}
			in.rect(at, y+h-bed+2+float32((i*5)%int(max(2, bed-4))), 3, 1, look.Fleck)
		}
	}
	outline := rounded(x+half, y+half, w-2*half, h-2*half, corner)
	if key.dashed {
		in.dashed(outline, key.edge, key.line)
	} else {
		in.stroke(outline, key.edge, key.line)
	}
	return picture
}

// dashed draws along a path in short strokes.
func (b *brush) dashed(p drawing.Path, width float32, tone look.Tone) {
	const on, off = 4.5, 3.5
	for _, line := range p.Flatten(.2) {
		left, drawn := on, true
		for i := 0; i+1 < len(line); i++ {
			from, to := line[i], line[i+1]
			for length := to.Sub(from).Length(); length > 1e-6; length = to.Sub(from).Length() {
				part := math.Min(left, length)
				end := from.Lerp(to, part/length)
				if drawn {
					b.stroke(drawing.Polyline(from, end), width, tone)
				}
				from = end
				if left -= part; left <= 1e-6 {
					drawn = !drawn
					left = map[bool]float64{true: on, false: off}[drawn]
				}
			}
		}
	}
}

// hatch draws slanted lines over a box that waits for cleaning.
func (b *brush) hatch(x, y, w, h float32, tone look.Tone) {
	for at := x - h; at < x+w; at += 9 {
		x0, y0, x1, y1 := at, y+h, at+h, y
		if x0 < x {
			x0, y0 = x, y+h-(x-at)
		}
		if x1 > x+w {
			x1, y1 = x+w, y+(at+h-x-w)
		}
		b.stroke(polyline(x0, y0, x1, y1), 1, tone)
	}
}

func rounded(x, y, w, h, r float32) drawing.Path {
	return drawing.RoundedBox(drawing.Box(float64(x), float64(y), float64(x+w), float64(y+h)), float64(r))
}

func circle(x, y, r float32) drawing.Path {
	return drawing.Circle(drawing.Point{X: float64(x), Y: float64(y)}, float64(r))
}

func polyline(xy ...float32) drawing.Path { return drawing.Polyline(points(xy)...) }

func polygon(xy ...float32) drawing.Path { return drawing.Polygon(points(xy)...) }

func points(xy []float32) []drawing.Point {
	out := make([]drawing.Point, 0, len(xy)/2)
	for i := 0; i+1 < len(xy); i += 2 {
		out = append(out, drawing.Point{X: float64(xy[i]), Y: float64(xy[i+1])})
	}
	return out
}
