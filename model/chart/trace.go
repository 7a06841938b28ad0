package chart

import (
	"coilward/model"
	"coilward/model/drawing"
)

// Stretch is how an animal lived over some days, as a trace shows it. Told by the
// thickness and the colour of its band.
type Stretch uint8

// The stretches.
const (
	Elsewhere Stretch = iota // in another room: a hairline
	Together                 // in the same room: a band
	Carrying                 // the animal itself, since it may have carried the thing: a thick band
)

// TraceBand is a stretch from a day to a day.
type TraceBand struct {
	From, To model.Day
	Stretch  Stretch
}

// Tested is what a sample said, as a trace shows it: a triangle with a mark of
// exclamation, an open ring, a grey ring with a bar.
type Tested uint8

// What a sample said.
const (
	WasDetected Tested = iota
	WasNotDetected
	SaysNothing // "not detected" in a sample in which the thing cannot be found
)

// TraceMark is a sample on its day.
type TraceMark struct {
	Day    model.Day
	Tested Tested
}

// TraceData is the row of one animal in a trace.
type TraceData struct {
	From, To, Today model.Day // the days shown
	Since           model.Day // from which somebody may have carried the thing; 0: not known
	Bands           []TraceBand
	Marks           []TraceMark
	Flag            model.Day // from which "not detected" speaks; 0: none
	Said            []TraceWord
	Words           Words
}

// TraceWord is a word at a day.
type TraceWord struct {
	Day    model.Day
	Said   string
	Strong bool
	Below  bool
	Loud   bool // in the colour of the bands
}

func traceAxis(d TraceData, width, size float64) timeAxis {
	return timeAxis{from: d.From, to: max(d.To, d.From+1), x0: size, x1: width - size*2, left: 0, right: width}
}

// DrawTrace draws the row of one animal; size is the size of its type.
func DrawTrace(pen drawing.Pen, d TraceData, width, height, size float64) {
	a, unit, middle := traceAxis(d, width, size), size/12, height/2
	line := func(x float64, w float64, role drawing.Role) {
		pen.Stroke(drawing.Polyline(drawing.Point{X: x}, drawing.Point{X: x, Y: height}), w, role, 1)
	}
	if d.Since > d.From {
		pen.Fill(drawing.RoundedBox(drawing.Box(a.x(d.Since), 0, a.x(d.Today), height), 0), drawing.Well, .55)
		line(a.x(d.Since), unit, drawing.LitLine)
	}
	for _, t := range a.ticks(d.Words, size) {
		line(t.At, unit, drawing.Hair)
	}
	for _, b := range d.Bands {
		from, to := a.x(max(b.From, d.From)), a.x(min(b.To, d.To))
		half, role, opacity := .6*unit, drawing.Faint, 1.
		switch b.Stretch {
		case Together:
			half, role, opacity = 3*unit, drawing.LitLine, .6
		case Carrying:
			half, role = 3.5*unit, drawing.LitLine
		}
		pen.Fill(drawing.RoundedBox(drawing.Box(from, middle-half, max(to, from+2*half), middle+half), half), role, opacity)
	}
	line(a.x(d.Today), 2*unit, drawing.Ink)
	if d.Flag != 0 && d.Flag <= d.To {
		drawFlag(pen, drawing.Point{X: a.x(d.Flag), Y: middle}, unit)
	}
	for _, m := range d.Marks {
		DrawTested(pen, drawing.Point{X: a.x(m.Day), Y: middle}, m.Tested, unit)
	}
	drawTraceWords(pen, d, a, width, middle, size)
}

// DrawTested draws what a sample said about a point; unit is a twelfth of the size of
// the type beside it.
func DrawTested(pen drawing.Pen, at drawing.Point, tested Tested, unit float64) {
	off := func(x, y float64) drawing.Point { return at.Add(drawing.Point{X: x * unit, Y: y * unit}) }
	switch tested {
	case WasDetected:
		pen.Fill(drawing.Polygon(off(0, -10), off(11, 9), off(-11, 9)), drawing.Sheet, 1)
		pen.Fill(drawing.Polygon(off(0, -8.2), off(9, 7.8), off(-9, 7.8)), drawing.Warn, 1)
		pen.Stroke(drawing.Polyline(off(0, -2.6), off(0, 2.4)), 1.9*unit, drawing.Sheet, 1)
		pen.Fill(drawing.Circle(off(0, 5.2), 1.1*unit), drawing.Sheet, 1)
	case WasNotDetected:
		drawMark(pen, at, Ring, drawing.Ink, 6.4*unit)
	default:
		drawMark(pen, at, Ring, drawing.Faint, 6.4*unit)
		pen.Stroke(drawing.Polyline(off(-2.8, 0), off(2.8, 0)), 1.6*unit, drawing.Faint, 1)
	}
}

// drawFlag is a pole with a pennant, on the day from which something speaks.
func drawFlag(pen drawing.Pen, at drawing.Point, unit float64) {
	top := at.Y - 13*unit
	pen.Stroke(drawing.Polyline(at, drawing.Point{X: at.X, Y: top}), 1.6*unit, drawing.Accent, 1)
	pen.Fill(drawing.Polygon(drawing.Point{X: at.X, Y: top}, drawing.Point{X: at.X + 9*unit, Y: top + 3.4*unit}, drawing.Point{X: at.X, Y: top + 6.8*unit}), drawing.Accent, 1)
}

// drawTraceWords sets the words over and under the band, where they cover none.
func drawTraceWords(pen drawing.Pen, d TraceData, a timeAxis, width, middle, size float64) {
	unit := size / 12
	taken := map[bool][][2]float64{}
	for _, s := range d.Said {
		w := d.Words.width(s.Said, size, s.Strong)
		left, today := a.x(s.Day)+size*.5, a.x(d.Today)
		if left < today+size*.4 && left+w > today-size*.4 { // on its side of today's line
			if left = today + size*.4; s.Day < d.Today {
				left = today - size*.4 - w
			}
		}
		left = max(0, min(width-w, left))
		if s.Said == "" || !vacant(taken[s.Below], left, left+w) {
			continue
		}
		taken[s.Below] = append(taken[s.Below], [2]float64{left - size*.5, left + w + size*.5})
		y := middle - size*1.35
		if s.Below {
			y = middle + size*1.35
		}
		role := drawing.Accent
		if s.Loud {
			role = drawing.LitLine
		}
		pen.Fill(drawing.RoundedBox(drawing.Box(left-2*unit, y-size*.6, left+w+2*unit, y+size*.6), 2*unit), drawing.Sheet, .85)
		pen.Text(drawing.Text{String: s.Said, At: drawing.Point{X: left, Y: y}, Size: size, Strong: s.Strong, Role: role})
	}
}

// DrawTraceScale draws the days over rows that show the same days, and today by its
// word.
func DrawTraceScale(pen drawing.Pen, d TraceData, today string, width, height, size float64) {
	drawScale(pen, traceAxis(d, width, size), d.Words, d.Today, today, height, size)
}
