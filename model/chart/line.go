package chart

import (
	"math"
	"strconv"

	"coilward/model"
	"coilward/model/drawing"
)

// Value is one point of a line chart.
type Value struct {
	Day    model.Day
	Amount float64
	// Apart says that the line must not join it with the one before: the two are
	// not comparable.
	Apart bool
}

// Event is a mark on a line chart's time axis.
type Event struct {
	Day  model.Day
	Kind int // which of the chart's marks: 0 triangle, 1 diamond, 2 tick, then again
}

// LineData is what a line chart shows. Values are in order of their days.
type LineData struct {
	Values   []Value
	Events   []Event
	From, To model.Day // the days shown; both zero: from the first to the last value
	Unit     string    // stands at the topmost mark
	Words    Words
	Number   func(float64, int) string // writes an axis value with so many decimals; nil: with a point
}

// Line is a line chart laid out in a box of width × height.
type Line struct {
	Plot   drawing.Rectangle
	X, Y   []Tick
	Points []drawing.Point // one for each value shown
	Shown  []int           // their index in the data
	data   LineData
	size   float64
	from   model.Day
	to     model.Day
	low    float64
	high   float64
}

// NewLine lays the chart out; size is the size of its type in the drawing's units.
func NewLine(data LineData, width, height, size float64) *Line {
	l := &Line{data: data, size: size}
	l.span()
	l.Plot = drawing.Box(0, size*1.2, width-size*.8, height-size*2.2)
	values, step := RoundValues(l.low, l.high, max(2, int(l.Plot.Height()/(size*3.2))))
	l.low, l.high = values[0], values[len(values)-1]
	l.amounts(values, step)
	l.days()
	for i, v := range data.Values {
		if v.Day >= l.from && v.Day <= l.to {
			l.Shown = append(l.Shown, i)
			l.Points = append(l.Points, drawing.Point{X: l.x(v.Day), Y: l.y(v.Amount)})
		}
	}
	return l
}

func (l *Line) span() {
	v := l.data.Values
	l.from, l.to = l.data.From, l.data.To
	if l.from == 0 && l.to == 0 && len(v) > 0 {
		l.from, l.to = v[0].Day, v[len(v)-1].Day
	}
	if l.to <= l.from {
		l.to = l.from + 1
	}
	l.low, l.high = math.Inf(1), math.Inf(-1)
	for _, p := range v {
		if p.Day >= l.from && p.Day <= l.to {
			l.low, l.high = min(l.low, p.Amount), max(l.high, p.Amount)
		}
	}
	if l.low > l.high {
		l.low, l.high = 0, 1
	}
	if l.high == l.low {
		pad := max(math.Abs(l.high)*.05, 1)
		l.low, l.high = l.low-pad, l.high+pad
	}
}

func (l *Line) amounts(values []float64, step float64) {
	decimals := 0
	for d := step; decimals < 6 && math.Abs(d-math.Round(d)) > 1e-9*math.Max(1, d); d *= 10 {
		decimals++
	}
	widest := 0.0
	for i, v := range values {
		text := l.number(v, decimals)
		if i == len(values)-1 && l.data.Unit != "" {
			text += " " + l.data.Unit
		}
		widest = max(widest, l.data.Words.width(text, l.size, false))
		l.Y = append(l.Y, Tick{At: l.y(v), Text: text})
	}
	l.Plot.Min.X = widest + l.size*.9
}

func (l *Line) number(v float64, decimals int) string {
	if l.data.Number != nil {
		return l.data.Number(v, decimals)
	}
	return strconv.FormatFloat(v, 'f', decimals, 64)
}

func (l *Line) days() {
	width := max(l.data.Words.width(l.data.Words.date(l.from, ByMonth), l.size, false)*1.5, l.size*4)
	days, step := CalendarDays(l.from, l.to, max(2, int(l.Plot.Width()/width)))
	for _, d := range days {
		l.X = append(l.X, Tick{At: l.x(d), Day: d, Text: l.data.Words.date(d, step)})
	}
}

func (l *Line) x(d model.Day) float64 {
	return l.Plot.Min.X + l.Plot.Width()*float64(d-l.from)/float64(l.to-l.from)
}

func (l *Line) y(v float64) float64 {
	return l.Plot.Max.Y - l.Plot.Height()*(v-l.low)/(l.high-l.low)
}

// Nearest is the index in Points of the one nearest to x; −1 without points.
func (l *Line) Nearest(x float64) int {
	best, at := math.Inf(1), -1
	for i, p := range l.Points {
		if d := math.Abs(p.X - x); d < best {
			best, at = d, i
		}
	}
	return at
}

// Draw draws the chart.
func (l *Line) Draw(pen drawing.Pen) {
	unit := l.size / 12
	for _, t := range l.Y {
		pen.Stroke(drawing.Polyline(drawing.Point{X: l.Plot.Min.X, Y: t.At}, drawing.Point{X: l.Plot.Max.X, Y: t.At}), unit, drawing.Hair, 1)
		pen.Text(drawing.Text{String: t.Text, At: drawing.Point{X: l.Plot.Min.X - l.size*.6, Y: t.At}, Align: drawing.End, Size: l.size, Role: drawing.InkSoft})
	}
	l.drawDays(pen, unit)
	if len(l.Points) > 0 {
		l.drawValues(pen, unit)
	}
	for _, e := range l.data.Events {
		if e.Day >= l.from && e.Day <= l.to {
			drawEvent(pen, drawing.Point{X: l.x(e.Day), Y: l.Plot.Max.Y}, e.Kind, unit)
		}
	}
}

func (l *Line) drawDays(pen drawing.Pen, unit float64) {
	end := math.Inf(-1)
	for _, t := range l.X {
		foot := drawing.Point{X: t.At, Y: l.Plot.Max.Y}
		pen.Stroke(drawing.Polyline(foot, foot.Add(drawing.Point{Y: 4 * unit})), unit, drawing.Edge, 1)
		half := l.data.Words.width(t.Text, l.size, false) / 2
		at := min(max(t.At, half), l.Plot.Max.X+l.size*.8-half)
		if at-half < end {
			continue
		}
		end = at + half + l.size*.6
		pen.Text(drawing.Text{String: t.Text, At: drawing.Point{X: at, Y: l.Plot.Max.Y + l.size*1.25}, Align: drawing.Middle, Size: l.size, Role: drawing.InkSoft})
	}
	pen.Stroke(drawing.Polyline(drawing.Point{X: l.Plot.Min.X, Y: l.Plot.Max.Y}, l.Plot.Max), unit, drawing.Edge, 1)
}

// drawValues draws the line in stretches of comparable values, and a dot for
// each value while there is room.
func (l *Line) drawValues(pen drawing.Pen, unit float64) {
	from := 0
	for i := 1; i <= len(l.Points); i++ {
		if i < len(l.Points) && !l.data.Values[l.Shown[i]].Apart {
			continue
		}
		l.stretch(pen, l.Points[from:i], unit)
		from = i
	}
	if float64(len(l.Points))*7*unit > l.Plot.Width() {
		return
	}
	for _, p := range l.Points {
		pen.Fill(drawing.Circle(p, 3.4*unit), drawing.Accent, 1)
		pen.Fill(drawing.Circle(p, 1.8*unit), drawing.Sheet, 1)
	}
}

func (l *Line) stretch(pen drawing.Pen, pts []drawing.Point, unit float64) {
	if len(pts) < 2 {
		return
	}
	area := append([]drawing.Point{{X: pts[0].X, Y: l.Plot.Max.Y}}, pts...)
	area = append(area, drawing.Point{X: pts[len(pts)-1].X, Y: l.Plot.Max.Y})
	pen.Fill(drawing.Polygon(area...), drawing.Accent, .12)
	pen.Stroke(drawing.Polyline(pts...), 2*unit, drawing.Accent, 1)
}

// drawEvent draws a mark on the time axis; its shape tells its kind.
func drawEvent(pen drawing.Pen, at drawing.Point, kind int, unit float64) {
	p := func(x, y float64) drawing.Point { return at.Add(drawing.Point{X: x * unit, Y: y * unit}) }
	switch kind % 3 {
	case 0:
		pen.Fill(drawing.Polygon(p(0, -1), p(-5, -9), p(5, -9)), drawing.Warn, 1)
	case 1:
		pen.Fill(drawing.Polygon(p(0, -1), p(-4.5, -5.5), p(0, -10), p(4.5, -5.5)), drawing.Blotch, 1)
	default:
		pen.Stroke(drawing.Polyline(p(0, 0), p(0, -8)), 2*unit, drawing.InkSoft, 1)
	}
}

// At is the day and the amount at a point of the plot, for a hover's words.
func (l *Line) At(p drawing.Point) (model.Day, float64) {
	k := (p.X - l.Plot.Min.X) / l.Plot.Width()
	return l.from + model.Day(math.Round(k*float64(l.to-l.from))), l.high - (p.Y-l.Plot.Min.Y)/l.Plot.Height()*(l.high-l.low)
}
