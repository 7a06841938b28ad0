package paper

import (
	"image/color"

	"coilward/model/drawing"
)

// Paint says how a path is drawn; a tone of alpha 0 means not at all.
type Paint struct {
	Fill, Stroke color.NRGBA
	Width        float64 // of the stroke, millimetres
}

// Canvas is what pages are drawn on, in millimetres from the upper left corner
// of the page. Stroke ends and joins are round.
type Canvas interface {
	// Text sets one run by its baseline. Every sign of it is in the face.
	Text(x, y float64, f Face, pt float64, tone color.NRGBA, s string)
	// Path fills and strokes by the non-zero winding rule.
	Path(p drawing.Path, paint Paint)
	// Clip restricts what follows to the inside of p, until Unclip.
	Clip(p drawing.Path)
	Unclip()
	// Picture draws a JPEG over the box; name is the same for the same bytes.
	Picture(name string, jpeg []byte, b Box)
	// Mark puts a bookmark at height y.
	Mark(level int, title string, y float64)
}

// Box is an upright rectangle in millimetres.
type Box struct{ X0, Y0, X1, Y1 float64 }

// W is the box's width.
func (b Box) W() float64 { return b.X1 - b.X0 }

// H is the box's height.
func (b Box) H() float64 { return b.Y1 - b.Y0 }

// Centre is the middle of the box.
func (b Box) Centre() drawing.Point {
	return drawing.Point{X: (b.X0 + b.X1) / 2, Y: (b.Y0 + b.Y1) / 2}
}

// Rectangle is the box as drawings know it.
func (b Box) Rectangle() drawing.Rectangle { return drawing.Box(b.X0, b.Y0, b.X1, b.Y1) }

// Path is the box's outline.
func (b Box) Path() drawing.Path {
	return polygon(b.X0, b.Y0, b.X1, b.Y0, b.X1, b.Y1, b.X0, b.Y1)
}

func segment(x0, y0, x1, y1 float64) drawing.Path { return polyline(x0, y0, x1, y1) }

// polyline is an open line through points given as x, y pairs.
func polyline(xy ...float64) drawing.Path { return drawing.Polyline(drawing.Points(xy...)...) }

func polygon(xy ...float64) drawing.Path { return drawing.Polygon(drawing.Points(xy...)...) }

func circle(x, y, r float64) drawing.Path { return drawing.Circle(drawing.Point{X: x, Y: y}, r) }

// rounded is a box with corners of radius r.
func rounded(b Box, r float64) drawing.Path { return drawing.RoundedBox(b.Rectangle(), r) }
