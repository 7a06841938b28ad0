package bodychart

import (
	"math"
	"strconv"

	"coilward/model/body"
	"coilward/model/drawing"
)

// Kind is how a pin's finding stands; each kind has its own shape, not only its
// own colour.
type Kind uint8

// The kinds of pin.
const (
	Now     Kind = iota // noted now: a filled disc
	Earlier             // open from earlier: a dashed ring
	Gone                // gone: a small struck ring without a number
	Rough               // noted now, but nobody pointed to the place: a plain ring
	Next                // where the next finding goes: a hollow ring with a dot, without a number
)

// Pin is a finding on the drawing.
type Pin struct {
	Number int
	Kind   Kind
	Place  body.Place
}

// Radius of a pin, in window units.
const Radius = 10.0

// DrawPin draws a pin about a point, r being its radius in the pen's units.
func DrawPin(pen drawing.Pen, at drawing.Point, r float64, kind Kind, number int) {
	k := r / Radius
	role := drawing.Ink
	switch kind {
	case Now:
		pen.Fill(drawing.Circle(at, r+2.5*k), drawing.Sheet, 1)
		pen.Fill(drawing.Circle(at, r), drawing.Ink, 1)
		role = drawing.Sheet
	case Earlier:
		pen.Fill(drawing.Circle(at, r+2*k), drawing.Sheet, 1)
		const dashes = 10
		for i := range dashes {
			from := 2 * math.Pi * float64(i) / dashes
			pen.Stroke(drawing.Arc(at, r-.2*k, from, from+.62*2*math.Pi/dashes), 1.9*k, drawing.Ink, 1)
		}
	case Rough:
		pen.Fill(drawing.Circle(at, r+2*k), drawing.Sheet, 1)
		pen.Stroke(drawing.Circle(at, r-.2*k), 1.6*k, drawing.Ink, 1)
	case Next:
		pen.Fill(drawing.Circle(at, r+2*k), drawing.Sheet, .8)
		pen.Stroke(drawing.Circle(at, r), 2.2*k, drawing.Accent, 1)
		pen.Fill(drawing.Circle(at, 2.2*k), drawing.Accent, 1)
		return
	case Gone:
		pen.Fill(drawing.Circle(at, r*.62+2.4*k), drawing.Sheet, .9)
		pen.Stroke(drawing.Circle(at, r*.62), 1.6*k, drawing.InkSoft, 1)
		d := r * .44
		pen.Stroke(drawing.Polyline(drawing.Point{X: at.X - d, Y: at.Y + d}, drawing.Point{X: at.X + d, Y: at.Y - d}), 1.6*k, drawing.InkSoft, 1)
		return
	}
	pen.Text(drawing.Text{String: strconv.Itoa(number), At: at, Align: drawing.Middle, Size: 12 * k, Strong: true, Role: role})
}

// placed is a pin with the point it means and the point it stands at.
type placed struct {
	Pin
	means, stands drawing.Point
}

// apart moves pins that would cover one another just so far that they do not.
func apart(pins []placed, within drawing.Rectangle) {
	points := make([]drawing.Point, len(pins))
	for i, p := range pins {
		points[i] = p.stands
	}
	for i, p := range drawing.Apart(points, 2*Radius+3, within.Grow(-Radius-2)) {
		pins[i].stands = p
	}
}
