package raster

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
	inside := mask(picture.Rect, func(p *Pen) {
		for _, path := range paths {
			p.Fill(path, drawing.Ink, 1)
		}
	})
	fade(picture, inside)
	pen := NewPen(picture, palette)
	for _, path := range paths {
		pen.Fill(path, drawing.Lit, .09)
	}
	ring(picture, palette, paths, inside, line)
}

// mask is how far each pixel is covered: the alpha of a layer drawn in one colour.
func mask(box image.Rectangle, draw func(*Pen)) *image.RGBA {
	layer := image.NewRGBA(box)
	draw(NewPen(layer, drawing.LightPalette()))
	return layer
}

func fade(picture, inside *image.RGBA) {
	var table [256]uint32
	for i := range table {
		table[i] = uint32(256 * (unlit + (1-unlit)*float64(i)/255))
	}
	for i := 0; i < len(picture.Pix); i += 4 {
		if picture.Pix[i+3] == 0 {
			continue
		}
		k := table[inside.Pix[i+3]]
		for j := range 4 {
			picture.Pix[i+j] = uint8(uint32(picture.Pix[i+j]) * k >> 8)
		}
	}
}

// ring draws the outline around the paths' union: lines along all of them, less
// the area they cover.
func ring(picture *image.RGBA, palette drawing.Palette, paths []drawing.Path, inside *image.RGBA, line float64) {
	layer := image.NewRGBA(picture.Rect)
	pen := NewPen(layer, palette)
	for _, path := range paths {
		pen.Stroke(path, 2*line, drawing.LitLine, 1)
	}
	for i := 0; i < len(layer.Pix); i += 4 {
		if layer.Pix[i+3] == 0 {
			continue
		}
		out := 255 - uint32(inside.Pix[i+3])
		for j := range 4 {
			layer.Pix[i+j] = uint8(uint32(layer.Pix[i+j]) * out / 255)
		}
	}
	draw.Draw(picture, picture.Rect, layer, image.Point{}, draw.Over)
}

// Ring is a picture of the outline around the paths' union, filled with a little
// of the lamp's colour: the mark of what the pointer or the keyboard is on.
func Ring(box image.Rectangle, palette drawing.Palette, paths []drawing.Path, line, fill float64) *image.RGBA {
	picture := image.NewRGBA(box)
	inside := mask(box, func(p *Pen) {
		for _, path := range paths {
			p.Fill(path, drawing.Ink, 1)
		}
	})
	pen := NewPen(picture, palette)
	for _, path := range paths {
		pen.Fill(path, drawing.Lit, fill)
	}
	ring(picture, palette, paths, inside, line)
	return picture
}
