package pixel

import (
	"image"
	"image/draw"

	"coilward/model/drawing"
)

// unlit is how much of the picture stays outside the lamp.
const unlit = 0.46

// Lamp lights some paths of a picture, given in pixels, as one part: the rest
// fades, and one line runs around all of them together, line pixels wide.
func Lamp(picture *image.RGBA, palette drawing.Palette, paths []drawing.Path, line float64) {
	if len(paths) == 0 {
		return
	}
	inside := newUnion(paths, line, picture.Rect)
	inside.fade(picture)
	pen := NewPen(picture, palette)
	for _, path := range paths {
		pen.Fill(path, drawing.Lit, .09)
	}
	inside.ring(picture, palette, line)
}

// Ring is a picture of the outline around the paths' union, filled with a little
// of the lamp's colour: the mark of what the pointer or the keyboard is on.
func Ring(box image.Rectangle, palette drawing.Palette, paths []drawing.Path, line, fill float64) *image.RGBA {
	picture := image.NewRGBA(box)
	pen := NewPen(picture, palette)
	for _, path := range paths {
		pen.Fill(path, drawing.Lit, fill)
	}
	newUnion(paths, line, box).ring(picture, palette, line)
	return picture
}

// union is the area of some paths together.
type union struct {
	paths  []drawing.Path
	inside *image.RGBA // its alpha is how far each pixel is covered
}

func newUnion(paths []drawing.Path, line float64, within image.Rectangle) union {
	var box image.Rectangle
	for _, path := range paths {
		box = box.Union(pixels(path.Bounds().Grow(line + 1)))
	}
	u := union{paths, image.NewRGBA(box.Intersect(within))}
	pen := NewPen(u.inside, drawing.LightPalette())
	for _, path := range paths {
		pen.Fill(path, drawing.Ink, 1)
	}
	return u
}

// fade fades the picture outside the union.
func (u union) fade(picture *image.RGBA) {
	var table [256][256]uint8
	for cover := range table {
		k := unlit + (1-unlit)*float64(cover)/255
		for v := range table[cover] {
			table[cover][v] = uint8(k*float64(v) + .5)
		}
	}
	box := picture.Rect
	for y := box.Min.Y; y < box.Max.Y; y++ {
		row := picture.Pix[picture.PixOffset(box.Min.X, y):][:4*box.Dx()]
		for x := 0; x < box.Dx(); x++ {
			pix := row[4*x : 4*x+4 : 4*x+4]
			if pix[3] == 0 {
				continue
			}
			k := &table[u.cover(box.Min.X+x, y)]
			pix[0], pix[1], pix[2], pix[3] = k[pix[0]], k[pix[1]], k[pix[2]], k[pix[3]]
		}
	}
}

func (u union) cover(x, y int) uint8 {
	if !(image.Point{X: x, Y: y}).In(u.inside.Rect) {
		return 0
	}
	return u.inside.Pix[u.inside.PixOffset(x, y)+3]
}

// ring draws the outline around the union: lines along all paths, less the area
// they cover.
func (u union) ring(picture *image.RGBA, palette drawing.Palette, line float64) {
	layer := image.NewRGBA(u.inside.Rect)
	pen := NewPen(layer, palette)
	for _, path := range u.paths {
		pen.Stroke(path, 2*line, drawing.LitLine, 1)
	}
	for i := 0; i < len(layer.Pix); i += 4 {
		if layer.Pix[i+3] == 0 {
			continue
		}
		out := 255 - uint32(u.inside.Pix[i+3])
		for j := range 4 {
			layer.Pix[i+j] = uint8(part(uint32(layer.Pix[i+j]), out))
		}
	}
	draw.Draw(picture, layer.Rect, layer, layer.Rect.Min, draw.Over)
}
