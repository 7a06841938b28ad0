package chart

import (
	"math"
	"strconv"
	"time"

	"coilward/model"
	"coilward/model/drawing"
)

// YearsData is a life at a glance: how many entries each month has.
type YearsData struct {
	FirstYear int
	Counts    []int  // for each month from January of the first year
	Marked    []bool // months with an open or new finding, as long as Counts or shorter
	// The months in sight below, as indexes; To < From for none.
	From, To int
	Words    Words
}

// Years is a year strip laid out in a box.
type Years struct {
	data   YearsData
	width  float64
	height float64
	size   float64
	months int
}

// NewYears lays the strip out; size is the size of its type. It always shows
// whole years, at least one.
func NewYears(data YearsData, width, height, size float64) *Years {
	return &Years{data, width, height, size, max(12, (len(data.Counts)+11)/12*12)}
}

func (y *Years) step() float64 { return y.width / float64(y.months) }
func (y *Years) base() float64 { return y.height - 2*y.size }

// MonthAt is the index of the month at x, within the strip.
func (y *Years) MonthAt(x float64) int {
	return max(0, min(y.months-1, int(math.Floor(x/y.step()))))
}

// Month is the first day of the month with an index.
func (y *Years) Month(index int) model.Day {
	return model.NewDay(y.data.FirstYear, time.January+time.Month(index), 1)
}

// Draw draws the strip.
func (y *Years) Draw(pen drawing.Pen) {
	unit := y.size / 12
	if y.data.To >= y.data.From {
		window := drawing.RoundedBox(drawing.Box(float64(y.data.From)*y.step(), unit, float64(y.data.To+1)*y.step(), y.base()+unit), 6*unit)
		pen.Fill(window, drawing.Wash, 1)
		pen.Stroke(window, unit, drawing.Accent, 1)
	}
	y.drawMonths(pen, unit)
	base := y.base() + .5*unit
	pen.Stroke(drawing.Polyline(drawing.Point{Y: base}, drawing.Point{X: y.width, Y: base}), unit, drawing.Edge, 1)
	y.drawYears(pen, unit)
}

func (y *Years) drawMonths(pen drawing.Pen, unit float64) {
	top := 1
	for _, n := range y.data.Counts {
		top = max(top, n)
	}
	room := y.base() - 1.7*y.size
	for i, n := range y.data.Counts {
		role := drawing.Edge
		if y.data.From <= i && i <= y.data.To {
			role = drawing.Accent
		}
		x := (float64(i) + .22) * y.step()
		if n > 0 {
			h := max(2*unit, room*float64(n)/float64(top))
			pen.Fill(drawing.RoundedBox(drawing.Box(x, y.base()-h, x+y.step()*.56, y.base()), min(2*unit, y.step()*.2)), role, 1)
		}
		if i < len(y.data.Marked) && y.data.Marked[i] {
			pen.Fill(drawing.Circle(drawing.Point{X: (float64(i) + .5) * y.step(), Y: y.size * .75}, min(3*unit, y.step()*.45)), drawing.Ink, 1)
		}
	}
}

func (y *Years) drawYears(pen drawing.Pen, unit float64) {
	end := math.Inf(-1)
	for i := 0; i <= y.months; i += 12 {
		x := min(float64(i)*y.step(), y.width-unit) + .5*unit
		pen.Stroke(drawing.Polyline(drawing.Point{X: x, Y: y.base()}, drawing.Point{X: x, Y: y.base() + 6*unit}), unit, drawing.Edge, 1)
		if i == y.months || x < end {
			continue
		}
		here := y.data.From >= i && y.data.From < i+12 && y.data.To >= y.data.From
		role := drawing.InkSoft
		if here {
			role = drawing.Ink
		}
		text := strconv.Itoa(y.data.FirstYear + i/12)
		end = x + y.data.Words.width(text, y.size, true) + y.size
		pen.Text(drawing.Text{String: text, At: drawing.Point{X: x + 6*unit, Y: y.height - y.size*.85}, Size: y.size, Strong: here, Role: role})
	}
}
