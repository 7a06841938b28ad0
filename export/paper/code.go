package paper

import (
	"fmt"

	"github.com/skip2/go-qrcode"

	"coilward/model/drawing"
)

// quietZone is how many modules around a QR code stay empty, ISO/IEC 18004.
const quietZone = 4

// square is a QR code as its dark modules, row by row, without the quiet zone.
type square [][]bool

// codeOf is the QR code of a text, of level M: it is read with up to 15 % of it
// spoilt (ISO/IEC 18004). Only a text too long for any code is an error.
func codeOf(text string) (square, error) {
	code, err := qrcode.New(text, qrcode.Medium)
	if err != nil {
		return nil, fmt.Errorf("make a QR code of %d signs: %w", len(text), err)
	}
	code.DisableBorder = true
	return code.Bitmap(), nil
}

// withQuiet is how wide the code is with its quiet zone, where the code itself is
// so wide.
func (s square) withQuiet(side float64) float64 {
	return side * float64(len(s)+2*quietZone) / float64(len(s))
}

// draw draws the code into a box that is for it and its quiet zone, as one path,
// so that no hairline shows between its modules.
func (s square) draw(c Canvas, b Box) {
	module := min(b.W(), b.H()) / float64(len(s)+2*quietZone)
	x0 := b.Centre().X - module*float64(len(s))/2
	y0 := b.Centre().Y - module*float64(len(s))/2
	c.Path(b.Path(), Paint{Fill: White})
	var dark drawing.Path
	for y, row := range s {
		for x := 0; x < len(row); x++ {
			if !row[x] {
				continue
			}
			from := x
			for x < len(row) && row[x] {
				x++
			}
			dark.Append(s.bar(y, from, x).Transform(drawing.Scale(module, module).Then(drawing.Translate(x0, y0))))
		}
	}
	c.Path(dark, Paint{Fill: tone(0)})
}

// overlap is how far a row of modules reaches under the row above it, in modules:
// enough that no light shows between them, too little to be seen.
const overlap = .02

// bar is a run of dark modules of one row.
func (s square) bar(y, from, to int) drawing.Path {
	top := float64(y)
	if y > 0 {
		top -= overlap
	}
	return polygon(float64(from), top, float64(to), top, float64(to), float64(y+1), float64(from), float64(y+1))
}
