package chart

import (
	"math"
	"slices"
	"strconv"

	"coilward/model"
	"coilward/model/drawing"
)

// Value is one point of a line chart.
type Value struct {
	Day    model.Day
	Amount float64
	// Apart says that it is not comparable with the others: it stands as a ring,
	// and the line leaves it out unless all are so.
	Apart bool
	// Doubtful says that it may be wrong: it stands as a ring, and the line never
	// goes through it.
	Doubtful bool
}

// Shape is the shape of a mark.
type Shape uint8

// The shapes of marks.
const (
	Dot Shape = iota
	Ring
	Diamond
)

// Mark is something that was on a day.
type Mark struct {
	Day   model.Day
	Shape Shape
}

// Row is a line of marks under a line chart, on the same axis of time.
type Row struct {
	Name, Total string // what stands left and right of it
	Marks       []Mark
}

// Expected is what a value is expected to be on a day, and between what it may lie.
type Expected struct {
	Day               model.Day
	Amount, Low, High float64
}

// LineData is what a line chart shows. Values are in order of their days.
type LineData struct {
	Values   []Value
	Rows     []Row
	Expected []Expected           // drawn as a dashed line over a band, in order of their days
	Breaks   []model.Day          // drawn as dashed uprights: before and after one, values are not of one piece
	From, To model.Day            // the days shown; both zero: from the first to the last value
	Amount   func(float64) string // writes an amount with its unit; nil: the bare number
	Last     []string             // lines beside the last value, the first of them strong
	Words    Words
}

// Line is a line chart laid out in a box of width × height.
type Line struct {
	Plot   drawing.Rectangle
	X, Y   []Tick
	Points []drawing.Point // one for each value shown
	Shown  []int           // their index in the data
	data   LineData
	size   float64
	axis   timeAxis
	low    float64
	high   float64
}

// NewLine lays the chart out; size is the size of its type in the drawing's units.
func NewLine(data LineData, width, height, size float64) *Line {
	l := &Line{data: data, size: size}
	l.span()
	l.Plot = drawing.Box(0, size*1.2, width-max(l.right()+size*.9, size*.8), height-size*2.2-l.rowHeight()*float64(len(data.Rows)))
	values, _ := RoundValues(l.low, l.high, max(2, int(l.Plot.Height()/(size*3.2))))
	l.low, l.high = values[0], values[len(values)-1]
	l.amounts(values, width*.3)
	l.axis.x0, l.axis.x1, l.axis.left, l.axis.right = l.Plot.Min.X, l.Plot.Max.X, 0, width
	l.X = l.axis.ticks(data.Words, size)
	for i, v := range data.Values {
		if l.shows(v.Day) {
			l.Shown = append(l.Shown, i)
			l.Points = append(l.Points, drawing.Point{X: l.axis.x(v.Day), Y: l.y(v.Amount)})
		}
	}
	return l
}

func (l *Line) rowHeight() float64 { return l.size * 1.9 }

// rowAt is the height of the middle of a row.
func (l *Line) rowAt(i int) float64 { return l.Plot.Max.Y + l.rowHeight()*(float64(i)+.75) }

// foot is where the chart's axis of time ends below.
func (l *Line) foot() float64 { return l.Plot.Max.Y + l.rowHeight()*float64(len(l.data.Rows)) }

func (l *Line) shows(d model.Day) bool { return d >= l.axis.from && d <= l.axis.to }

// right is how wide what stands right of the plot is.
func (l *Line) right() (most float64) {
	for i, text := range l.data.Last {
		most = max(most, l.data.Words.width(text, l.size, i == 0))
	}
	for _, r := range l.data.Rows {
		most = max(most, l.data.Words.width(r.Total, l.size, false))
	}
	return most
}

func (l *Line) span() {
	v := l.data.Values
	from, to := l.data.From, l.data.To
	if from == 0 && to == 0 && len(v) > 0 {
		from, to = v[0].Day, v[len(v)-1].Day
	}
	l.axis.from, l.axis.to = from, max(to, from+1)
	l.low, l.high = math.Inf(1), math.Inf(-1)
	for _, p := range v {
		if l.shows(p.Day) {
			l.low, l.high = min(l.low, p.Amount), max(l.high, p.Amount)
		}
	}
	for _, e := range l.data.Expected {
		if l.shows(e.Day) {
			l.low, l.high = min(l.low, e.Amount), max(l.high, e.Amount)
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

// amounts are the marks of the upright axis, and how much room they and the
// names of the rows need left of the plot; names have no more than most.
func (l *Line) amounts(values []float64, most float64) {
	widest := 0.0
	for _, v := range values {
		t := Tick{At: l.y(v), Text: l.amount(v)}
		widest = max(widest, l.data.Words.width(t.Text, l.size, false))
		l.Y = append(l.Y, t)
	}
	for _, r := range l.data.Rows {
		widest = max(widest, min(most, l.data.Words.width(r.Name, l.size, false)))
	}
	l.Plot.Min.X = widest + l.size*.9
}

func (l *Line) amount(v float64) string {
	if l.data.Amount != nil {
		return l.data.Amount(v)
	}
	return strconv.FormatFloat(v, 'g', 6, 64)
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
		l.level(pen, t.At, unit, drawing.Hair)
		pen.Text(drawing.Text{String: t.Text, At: drawing.Point{X: l.Plot.Min.X - l.size*.6, Y: t.At}, Align: drawing.End, Size: l.size, Role: drawing.InkSoft})
	}
	l.axis.draw(pen, l.X, l.data.Words, l.size, l.Plot.Min.Y, l.foot()+4*unit, l.foot()+l.size*1.25, l.axis.to)
	l.level(pen, l.Plot.Max.Y, unit, drawing.Edge)
	l.drawExpected(pen, unit)
	l.drawBreaks(pen, unit)
	l.drawValues(pen, unit)
	for i := range l.data.Rows {
		l.drawRow(pen, i, unit)
	}
	l.drawLast(pen)
}

// drawExpected draws the band of what is expected, as far as the plot goes, and the line
// in it.
func (l *Line) drawExpected(pen drawing.Pen, unit float64) {
	var line, low, high []drawing.Point
	for _, e := range l.data.Expected {
		if l.shows(e.Day) {
			x := l.axis.x(e.Day)
			line = append(line, drawing.Point{X: x, Y: l.y(e.Amount)})
			low, high = append(low, drawing.Point{X: x, Y: l.inPlot(e.Low)}), append(high, drawing.Point{X: x, Y: l.inPlot(e.High)})
		}
	}
	if len(line) < 2 {
		return
	}
	slices.Reverse(low)
	pen.Fill(drawing.Polygon(append(high, low...)...), drawing.InkSoft, .13)
	dashed(pen, line, 5*unit, 1.5*unit, drawing.InkSoft)
}

// inPlot is the height of an amount, or the edge of the plot where it lies outside.
func (l *Line) inPlot(amount float64) float64 {
	return max(l.Plot.Min.Y, min(l.Plot.Max.Y, l.y(amount)))
}

// drawBreaks draws an upright where the values break.
func (l *Line) drawBreaks(pen drawing.Pen, unit float64) {
	for _, day := range l.data.Breaks {
		if l.shows(day) {
			x := l.axis.x(day)
			dashed(pen, []drawing.Point{{X: x, Y: l.Plot.Min.Y}, {X: x, Y: l.Plot.Max.Y}}, 2.5*unit, 1.2*unit, drawing.Ink)
		}
	}
}

// dashed strokes along points in dashes with gaps of the same length.
func dashed(pen drawing.Pen, points []drawing.Point, dash, width float64, role drawing.Role) {
	var stroke []drawing.Point
	end := func() {
		if len(stroke) > 1 {
			pen.Stroke(drawing.Polyline(stroke...), width, role, 1)
		}
		stroke = nil
	}
	on, left := true, dash // whether a dash is being drawn, and what is left of it or of the gap
	for i := 1; i < len(points); i++ {
		from, to := points[i-1], points[i]
		length := math.Hypot(to.X-from.X, to.Y-from.Y)
		for at := 0.0; at < length; {
			step := min(left, length-at)
			point := func(d float64) drawing.Point {
				return drawing.Point{X: from.X + (to.X-from.X)*d/length, Y: from.Y + (to.Y-from.Y)*d/length}
			}
			if on {
				if len(stroke) == 0 {
					stroke = append(stroke, point(at))
				}
				stroke = append(stroke, point(at+step))
			}
			at += step
			if left -= step; left <= 0 {
				end()
				on, left = !on, dash
			}
		}
	}
	end()
}

// level is a line across the plot.
func (l *Line) level(pen drawing.Pen, y, width float64, role drawing.Role) {
	pen.Stroke(drawing.Polyline(drawing.Point{X: l.Plot.Min.X, Y: y}, drawing.Point{X: l.Plot.Max.X, Y: y}), width, role, 1)
}

// drawValues draws the line of the comparable values, or of all but the doubtful
// where none is so, with a dot for each while there is room, and the others as
// rings.
func (l *Line) drawValues(pen drawing.Pen, unit float64) {
	line := l.through(func(v Value) bool { return !v.Apart && !v.Doubtful })
	if len(line) == 0 {
		line = l.through(func(v Value) bool { return !v.Doubtful })
	}
	if len(line) > 1 {
		area := append([]drawing.Point{{X: line[0].X, Y: l.Plot.Max.Y}}, line...)
		area = append(area, drawing.Point{X: line[len(line)-1].X, Y: l.Plot.Max.Y})
		pen.Fill(drawing.Polygon(area...), drawing.Accent, .12)
		pen.Stroke(drawing.Polyline(line...), 2*unit, drawing.Accent, 1)
	}
	room := l.room(len(l.Points), unit)
	for i, p := range l.Points {
		switch {
		case l.data.Values[l.Shown[i]].Apart, l.data.Values[l.Shown[i]].Doubtful:
			drawMark(pen, p, Ring, drawing.Accent, 3.2*unit*room)
		case room == 1:
			drawMark(pen, p, Dot, drawing.Accent, 3.2*unit)
		}
	}
}

// through are the points of the values that a line goes through.
func (l *Line) through(goes func(Value) bool) []drawing.Point {
	var line []drawing.Point
	for i, p := range l.Points {
		if goes(l.data.Values[l.Shown[i]]) {
			line = append(line, p)
		}
	}
	return line
}

// room is by how much marks are drawn smaller where n of them are a crowd.
func (l *Line) room(n int, unit float64) float64 {
	if float64(n)*7*unit > l.Plot.Width() {
		return .55
	}
	return 1
}

func (l *Line) drawRow(pen drawing.Pen, i int, unit float64) {
	row, y := l.data.Rows[i], l.rowAt(i)
	l.level(pen, y, unit, drawing.Hair)
	name := l.data.Words.cut(row.Name, l.size, false, l.Plot.Min.X-l.size*.6)
	pen.Text(drawing.Text{String: name, At: drawing.Point{X: l.Plot.Min.X - l.size*.6, Y: y}, Align: drawing.End, Size: l.size, Role: drawing.InkSoft})
	pen.Text(drawing.Text{String: row.Total, At: drawing.Point{X: l.Plot.Max.X + l.size*.9, Y: y}, Size: l.size, Role: drawing.InkSoft})
	r := 4.6 * unit * l.room(len(row.Marks), unit)
	for _, m := range row.Marks {
		if l.shows(m.Day) {
			drawMark(pen, drawing.Point{X: l.axis.x(m.Day), Y: y}, m.Shape, drawing.Ink, r)
		}
	}
}

// drawMark draws a mark of half-size r.
func drawMark(pen drawing.Pen, at drawing.Point, shape Shape, role drawing.Role, r float64) {
	switch shape {
	case Dot:
		pen.Fill(drawing.Circle(at, r), role, 1)
	case Ring:
		pen.Fill(drawing.Circle(at, r), drawing.Sheet, 1)
		pen.Stroke(drawing.Circle(at, r*.85), r*.3, role, 1)
	case Diamond:
		pen.Fill(drawing.Polygon(at.Add(drawing.Point{Y: -r}), at.Add(drawing.Point{X: r}), at.Add(drawing.Point{Y: r}), at.Add(drawing.Point{X: -r})), role, 1)
	}
}

// drawLast sets the lines beside the last value.
func (l *Line) drawLast(pen drawing.Pen) {
	if len(l.Points) == 0 {
		return
	}
	y := l.Points[len(l.Points)-1].Y - l.size*.65*float64(len(l.data.Last)-1)
	y = max(y, l.size*.6)
	for i, text := range l.data.Last {
		role := drawing.InkSoft
		if i == 0 {
			role = drawing.Ink
		}
		pen.Text(drawing.Text{String: text, At: drawing.Point{X: l.Plot.Max.X + l.size*.9, Y: y + l.size*1.3*float64(i)}, Size: l.size, Strong: i == 0, Role: role})
	}
}
