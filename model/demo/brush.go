package demo

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"sync"

	"coilward/model/drawing"
	"coilward/model/pixel"
)

// The size of a drawn photo in pixels: as much as a page shows and a sheet prints.
const (
	wide = 960
	high = 720
)

// brush draws one picture. Its chance is seeded, so that the same picture is the
// same each time.
type brush struct {
	picture *image.RGBA
	pen     *pixel.Pen
	chance  *rand.Rand
}

func newBrush(name string) *brush {
	picture := image.NewRGBA(image.Rect(0, 0, wide, high))
	return &brush{picture, pixel.NewPen(picture, drawing.Palette{}), rand.New(rand.NewPCG(seed(name), 11))}
}

// between is a number from a to b.
func (b *brush) between(from, to float64) float64 { return from + (to-from)*b.chance.Float64() }

func (b *brush) fill(path drawing.Path, tone color.NRGBA) { b.pen.FillIn(path, tone) }

func (b *brush) line(width float64, tone color.NRGBA, points ...drawing.Point) {
	b.pen.StrokeIn(drawing.Polyline(points...), width, tone)
}

// finished is the picture as a telephone takes it: a little darker towards its
// corners, and grainy in its light.
func (b *brush) finished() *image.YCbCr {
	const full = 1 << 12 // of light
	var grain [full]int
	for i := range grain {
		grain[i] = int(full * .018 * (b.chance.Float64() - .5))
	}
	var fall [wide]int
	for x := range fall {
		d := float64(x)/wide - .5
		fall[x] = int(full * .34 * d * d)
	}
	out := image.NewYCbCr(b.picture.Rect, image.YCbCrSubsampleRatio420)
	for y := range high {
		d := float64(y)/high - .5
		row := full - int(full*.34*d*d)
		pix, light := b.picture.Pix[4*wide*y:][:4*wide], out.Y[out.YStride*y:][:wide]
		for x := range light {
			p := pix[4*x : 4*x+4 : 4*x+4]
			// the weights are those of JFIF, of 1<<16
			bright := (19595*int(p[0]) + 38470*int(p[1]) + 7471*int(p[2]) + 1<<15) >> 16
			light[x] = uint8(min(255, bright*(row-fall[x]+grain[uint32(y*wide+x)*2654435761>>20])>>12))
		}
		if y%2 == 1 {
			continue
		}
		blue, red := out.Cb[out.CStride*(y/2):][:wide/2], out.Cr[out.CStride*(y/2):][:wide/2]
		for x := range blue {
			p := pix[8*x : 8*x+8 : 8*x+8]
			left := row - fall[2*x]
			r, g, b := (int(p[0])+int(p[4]))*left>>12, (int(p[1])+int(p[5]))*left>>12, (int(p[2])+int(p[6]))*left>>12
			blue[x] = uint8(min(255, (-11056*r-21712*g+32768*b+1<<24)>>17))
			red[x] = uint8(min(255, (32768*r-27440*g-5328*b+1<<24)>>17))
		}
	}
	return out
}

// hue is a colour of full strength.
func hue(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
}

// faint is a colour at an opacity from 0 to 1.
func faint(c color.NRGBA, opacity float64) color.NRGBA {
	c.A = uint8(255 * opacity)
	return c
}

// blend is a with a share of b.
func blend(a, b color.NRGBA, share float64) color.NRGBA {
	part := func(x, y uint8) uint8 { return uint8(float64(x) + (float64(y)-float64(x))*share + .5) }
	return color.NRGBA{R: part(a.R, b.R), G: part(a.G, b.G), B: part(a.B, b.B), A: 255}
}

var (
	black = hue(0x14110E)
	white = hue(0xFFFDF6)
)

// paper is the ground that animals are laid on, with a ruler along its lower edge:
// so many pixels to the millimetre.
func (b *brush) paper(scale float64) {
	for y := range 36 {
		top := float64(y) * high / 36
		b.fill(box(0, top, wide, top+high/36+1), blend(hue(0xDCD8CE), hue(0xC3BEB1), float64(y)/36))
	}
	const edge = high - 46
	b.fill(box(0, edge, wide, high), hue(0xE9DFA8))
	b.line(2, hue(0x8A8152), drawing.Point{X: 0, Y: edge}, drawing.Point{X: wide, Y: edge})
	for mm := 0; float64(mm)*scale < wide; mm += 10 {
		long := 12.0
		if mm%100 == 0 {
			long = 26
		} else if mm%50 == 0 {
			long = 18
		}
		x := float64(mm) * scale
		b.line(1.6, hue(0x4A4630), drawing.Point{X: x, Y: edge}, drawing.Point{X: x, Y: edge + long})
	}
}

// cloth is what an animal lies on for its portrait: pale, or for a pale animal of a
// deeper tone, so that the animal stands out where the picture is small.
func (b *brush) cloth(s skin) {
	tone := hue(0xEDE7DA)
	if bright(s.ground) > 200 {
		tone = hue(0xA9B4AE)
	}
	b.fill(box(0, 0, wide, high), tone)
	for range 160 {
		from := drawing.Point{X: b.between(-40, wide), Y: b.between(0, high)}
		b.line(1.4, faint(blend(tone, black, .5), .1), from, from.Add(drawing.Point{X: b.between(60, 220), Y: b.between(-12, 12)}))
	}
}

// bright is the light of a colour, from 0 to 255, with the weights of JFIF.
func bright(c color.NRGBA) int {
	return (299*int(c.R) + 587*int(c.G) + 114*int(c.B)) / 1000
}

// chips are the ground of a box, which is strewn once for all photos.
func (b *brush) chips() { copy(b.picture.Pix, strewn().Pix) }

var strewn = sync.OnceValue(func() *image.RGBA {
	b := newBrush("chips")
	b.fill(box(0, 0, wide, high), hue(0x5F4630))
	tones := []color.NRGBA{hue(0x8A6A48), hue(0x6E5236), hue(0xA17E57), hue(0x503A27), hue(0x95734C)}
	for range 2600 {
		at := drawing.Point{X: b.between(0, wide), Y: b.between(0, high)}
		b.fill(drawing.Ellipse(at, b.between(4, 17), b.between(2, 6), b.between(0, math.Pi)), faint(tones[b.chance.IntN(len(tones))], .8))
	}
	return b.picture
})

// enclosure is a box seen from above: chips, a hide and a bowl of water, and on
// some days a branch.
func (b *brush) enclosure(branch bool) {
	b.chips()
	for _, rim := range []drawing.Path{box(0, 0, wide, 22), box(0, high-22, wide, high), box(0, 0, 22, high), box(wide-22, 0, wide, high)} {
		b.fill(rim, hue(0x3A3D3C))
	}
	b.fill(drawing.RoundedBox(drawing.Box(46, 54, 336, 286), 34), faint(black, .35))
	b.fill(drawing.RoundedBox(drawing.Box(40, 44, 326, 274), 34), hue(0x4E4A45))
	b.fill(drawing.RoundedBox(drawing.Box(56, 58, 310, 238), 26), hue(0x5E5952))
	b.fill(drawing.Ellipse(drawing.Point{X: 186, Y: 268}, 58, 26, 0), hue(0x1B1815))
	bowl := drawing.Point{X: 806, Y: 150}
	b.fill(drawing.Ellipse(drawing.Point{X: 812, Y: 160}, 104, 88, 0), faint(black, .35))
	b.fill(drawing.Ellipse(bowl, 102, 86, 0), hue(0x7C7F7D))
	b.fill(drawing.Ellipse(bowl, 84, 69, 0), hue(0x9FB6BC))
	b.fill(drawing.Ellipse(drawing.Point{X: 782, Y: 130}, 34, 16, -.4), faint(white, .5))
	if branch {
		b.line(30, hue(0x6B543B), drawing.Points(392, 40, 520, 130, 640, 100, 700, 60)...)
		b.line(8, faint(hue(0xA58C69), .6), drawing.Points(392, 34, 520, 122, 640, 92, 700, 54)...)
	}
}

func box(x0, y0, x1, y1 float64) drawing.Path {
	return drawing.Polygon(drawing.Points(x0, y0, x1, y0, x1, y1, x0, y1)...)
}
