package paper

import (
	"image/color"
	"strconv"

	"coilward/model/body"
	"coilward/model/drawing"
)

// pin is a numbered place on the animal.
type pin struct {
	number int
	place  body.Place
	filled bool // an open finding; a ring is one that is only kept in view
}

// pinRadius is the size of a number on a drawing, in millimetres.
const pinRadius = 1.75

// bodyView draws a view of the animal with its numbered findings; numbers that
// would cover each other are moved apart, with a line to their place.
func bodyView(view body.ViewID, title string, pins []pin, options body.Options) Draw {
	return func(c Canvas, b Box) {
		put(c, b.X0, b.Y0+2.4, AlignLeft, tinyStyle, title)
		b.Y0 += tinyStyle.Lead
		fit := drawing.Fit(body.Bounds(view), b.W(), b.H(), 0)
		Drawn(func(pen drawing.Pen, _, _ float64) { body.Draw(drawing.Through(pen, fit), view, options) })(c, b)
		fit = fit.Then(drawing.Translate(b.X0, b.Y0))
		if options.Organs {
			drawOrganLetters(c, view, fit, b)
		}
		var at []drawing.Point
		var shown []pin
		for _, p := range pins {
			if q, ok := body.Point(view, p.place); ok {
				at, shown = append(at, fit.Apply(q)), append(shown, p)
			}
		}
		for i, q := range drawing.Apart(at, 2*pinRadius+.4, b.Rectangle().Grow(-pinRadius)) {
			if q.Sub(at[i]).Length() > .3 {
				c.Path(segment(at[i].X, at[i].Y, q.X, q.Y), Paint{Stroke: Ink, Width: .2})
				drawSign(c, Dot, at[i].X, at[i].Y, .55, Ink)
			}
			drawNumber(c, q.X, q.Y, pinRadius, shown[i].number, shown[i].filled)
		}
	}
}

// organLetter names an organ of the layer, by its index in body.Organs.
func organLetter(i int) string { return string(rune('a' + i)) }

// drawOrganLetters sets the letter of each organ on its bar.
func drawOrganLetters(c Canvas, view body.ViewID, fit drawing.Matrix, b Box) {
	const r = 1.05
	var at []drawing.Point
	var letters []string
	for i, o := range body.Organs() {
		if p, ok := body.OrganPoint(view, o); ok {
			at, letters = append(at, fit.Apply(p)), append(letters, organLetter(i))
		}
	}
	st := Style{Face: Bold, Pt: 4.8, Tone: Ink}
	for i, p := range drawing.Apart(at, 2*r+.1, b.Rectangle().Grow(-r)) {
		c.Path(circle(p.X, p.Y, r), Paint{Fill: White, Stroke: Ink2, Width: .15})
		put(c, p.X, p.Y+st.Pt*millimetresPerPoint*.3, AlignCentre, st, letters[i])
	}
}

// drawNumber draws a finding's number: filled where it is open, a ring where it
// is only kept in view.
func drawNumber(c Canvas, x, y, r float64, number int, filled bool) {
	c.Path(circle(x, y, r+.35), Paint{Fill: White})
	st := Style{Face: Bold, Pt: r * 3.55, Tone: White}
	if number > 9 {
		st.Pt *= .78
	}
	if filled {
		c.Path(circle(x, y, r), Paint{Fill: Ink})
	} else {
		st.Tone = Ink
		c.Path(circle(x, y, r-.12), Paint{Fill: White, Stroke: Ink, Width: .28})
	}
	put(c, x, y+st.Pt*millimetresPerPoint*.36, AlignCentre, st, strconv.Itoa(number))
}

// numberCell is a cell of a table with a finding's number beside the first line.
func numberCell(number int, filled bool) Cell {
	return Cell{Words: numberWords(number, filled), Draw: func(c Canvas, b Box) {
		drawNumber(c, b.X0+1.9, b.Y0+2.55, 1.65, number, filled)
	}}
}

func numberWords(number int, filled bool) string {
	if filled {
		return "(" + strconv.Itoa(number) + ")"
	}
	return "[" + strconv.Itoa(number) + "]"
}

// signCell is a cell with a sign in its middle.
func signCell(s Sign, tone color.NRGBA) Cell {
	return Cell{Words: s.words(), Draw: func(c Canvas, b Box) {
		drawSign(c, s, b.Centre().X, b.Centre().Y, 1.25, tone)
	}}
}

// hasPlace reports whether a view shows the place.
func hasPlace(view body.ViewID, p body.Place) bool {
	if p.Whole() {
		return false
	}
	_, ok := body.Point(view, p)
	return ok
}
