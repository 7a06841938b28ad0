package chart

import (
	"fmt"
	"math"
	"slices"

	"coilward/model"
	"coilward/model/drawing"
)

// AirPoint is what the readings of a stretch of time were.
type AirPoint struct {
	From            int64 // seconds since 1970, UTC
	Low, Mean, High float64
}

// AirSpan is a time from one second to before another.
type AirSpan struct{ From, Until int64 }

// AirTarget is what the air should be like in a time: wrong beyond the hard numbers, good
// between the soft ones.
type AirTarget struct {
	AirSpan
	HardLow, SoftLow, SoftHigh, HardHigh float64
}

// AirMark is something that was at a second.
type AirMark struct {
	At    int64
	Shape Shape
}

// AirRow is a line of marks under the readings, on the same axis of time.
type AirRow struct {
	Name  string
	Marks []AirMark
}

// AirData is what a chart of a temperature or a humidity shows. Points, gaps and targets
// are in order of their time.
type AirData struct {
	AirSpan
	Points   []AirPoint
	Seconds  int64     // that each point stands for
	Gaps     []AirSpan // in which readings are missing: they stand shaded, and no line goes over
	Doubtful []AirSpan // drawn as a bar above
	Targets  []AirTarget
	Rows     []AirRow
	// Offset is how far the clock is from UTC at a second, in seconds; nil: not at all.
	Offset func(int64) int64
	Amount func(float64) string // writes an amount with its unit; nil: the bare number
	Words  Words
}

// Air is a chart of readings laid out in a box of width × height.
type Air struct {
	Plot      drawing.Rectangle
	X, Y      []Tick
	data      AirData
	size      float64
	low, high float64
	places    []drawing.Point
}

// fewestHours is the longest time, in seconds, that has an axis of hours.
const fewestHours = 3 * 86400

// NewAir lays the chart out; size is the size of its type in the drawing's units.
func NewAir(data AirData, width, height, size float64) *Air {
	if data.Until <= data.From {
		data.Until = data.From + 1
	}
	if data.Offset == nil {
		data.Offset = func(int64) int64 { return 0 }
	}
	a := &Air{data: data, size: size}
	a.span()
	a.Plot = drawing.Box(0, size*1.1, width-size*1.2, height-size*2.2-a.rowHeight()*float64(len(data.Rows)))
	values, _ := RoundValues(a.low, a.high, max(2, int(a.Plot.Height()/(size*2.6))))
	a.low, a.high = values[0], values[len(values)-1]
	widest := 0.0
	for _, v := range values {
		t := Tick{At: a.y(v), Text: a.amount(v)}
		widest = max(widest, data.Words.width(t.Text, size, false))
		a.Y = append(a.Y, t)
	}
	for _, r := range data.Rows {
		widest = max(widest, min(width*.25, data.Words.width(r.Name, size, false)))
	}
	a.Plot.Min.X = widest + size*.9
	a.ticks(width)
	for _, p := range data.Points {
		a.places = append(a.places, drawing.Point{X: a.x(p.From + data.Seconds/2), Y: a.y(p.Mean)})
	}
	return a
}

func (a *Air) rowHeight() float64 { return a.size * 1.9 }

func (a *Air) span() {
	a.low, a.high = math.Inf(1), math.Inf(-1)
	for _, p := range a.data.Points {
		a.low, a.high = min(a.low, p.Low), max(a.high, p.High)
	}
	if a.low > a.high { // nothing was read: what it should be like is shown
		for _, t := range a.data.Targets {
			a.low, a.high = min(a.low, t.SoftLow), max(a.high, t.SoftHigh)
		}
	}
	for _, t := range a.data.Targets { // the good band is in sight, as far as it is near
		reach := max(a.high-a.low, 1)
		if t.SoftLow > a.low-reach*2 {
			a.low = min(a.low, t.SoftLow)
		}
		if t.SoftHigh < a.high+reach*2 {
			a.high = max(a.high, t.SoftHigh)
		}
	}
	if a.low > a.high {
		a.low, a.high = 0, 1
	}
	if a.high-a.low < 1 {
		middle := (a.high + a.low) / 2
		a.low, a.high = middle-.5, middle+.5
	}
}

func (a *Air) amount(v float64) string {
	if a.data.Amount != nil {
		return a.data.Amount(v)
	}
	return fmt.Sprintf("%g", v)
}

func (a *Air) x(at int64) float64 {
	share := float64(at-a.data.From) / float64(a.data.Until-a.data.From)
	return a.Plot.Min.X + a.Plot.Width()*max(0, min(1, share))
}

func (a *Air) y(v float64) float64 {
	return a.Plot.Max.Y - a.Plot.Height()*max(0, min(1, (v-a.low)/(a.high-a.low)))
}

// ticks are hours where the time is short, days, months or years where it is long.
func (a *Air) ticks(width float64) {
	d, size := a.data, a.size
	end := math.Inf(-1)
	add := func(at int64, day model.Day, text string) {
		t := Tick{At: a.x(at), Day: day, Text: text}
		half := d.Words.width(text, size, false) / 2
		if middle := max(half, min(width-half, t.At)); middle-half < end {
			t.Text = ""
		} else {
			end = middle + half + size*.6
		}
		a.X = append(a.X, t)
	}
	local := func(at int64) int64 { return at + d.Offset(at) }
	if d.Until-d.From <= fewestHours {
		room := d.Words.width("00:00", size, false) + size*2
		step := int64(3600)
		for _, step = range []int64{3600, 2 * 3600, 3 * 3600, 6 * 3600, 12 * 3600, 86400} {
			if float64((d.Until-d.From)/step)*room <= a.Plot.Width() {
				break
			}
		}
		for at := d.From - d.From%3600; at <= d.Until; at += 3600 {
			if clock := local(at); at >= d.From && clock%step == 0 {
				add(at, model.Day(clock/86400), fmt.Sprintf("%02d:00", clock%86400/3600))
			}
		}
		return
	}
	from, to := model.Day(local(d.From)/86400), model.Day(local(d.Until)/86400)
	room := d.Words.widest(size, d.Words.date(from, ByMonth, false), d.Words.date(from, ByDay, false)) + size*1.5
	days, step := CalendarDays(from, to, max(2, int(a.Plot.Width()/room)))
	for i, day := range days {
		at := int64(day) * 86400
		at -= d.Offset(at)
		if at >= d.From && at <= d.Until {
			add(at, day, d.Words.date(day, step, i == 0))
		}
	}
}

// Places are the points, in their order.
func (a *Air) Places() []drawing.Point { return a.places }

// Nearest is the point nearest to a place's time; −1 without points, or beside the plot.
func (a *Air) Nearest(at drawing.Point) int {
	best, found := math.Inf(1), -1
	if at.X < a.Plot.Min.X-a.size || at.X > a.Plot.Max.X+a.size {
		return found
	}
	for i, p := range a.places {
		if d := math.Abs(p.X - at.X); d < best {
			best, found = d, i
		}
	}
	return found
}

// Draw draws the chart.
func (a *Air) Draw(pen drawing.Pen) {
	unit := a.size / 12
	for _, g := range a.data.Gaps {
		a.block(pen, g, a.Plot.Min.Y, a.Plot.Max.Y, drawing.Hair, .55)
	}
	for _, t := range a.data.Targets {
		a.block(pen, t.AirSpan, a.y(t.SoftHigh), a.y(t.SoftLow), drawing.Accent, .13)
	}
	for _, t := range a.Y {
		a.level(pen, t.At, unit, drawing.Hair)
		pen.Text(drawing.Text{String: t.Text, At: drawing.Point{X: a.Plot.Min.X - a.size*.6, Y: t.At}, Align: drawing.End, Size: a.size, Role: drawing.InkSoft})
	}
	foot := a.Plot.Max.Y + a.rowHeight()*float64(len(a.data.Rows))
	for _, t := range a.X {
		pen.Stroke(drawing.Polyline(drawing.Point{X: t.At, Y: a.Plot.Min.Y}, drawing.Point{X: t.At, Y: foot + 4*unit}), unit, drawing.Hair, 1)
		half := a.data.Words.width(t.Text, a.size, false) / 2
		if t.Text != "" {
			pen.Text(drawing.Text{String: t.Text, At: drawing.Point{X: max(half, min(a.Plot.Max.X+a.size*1.2-half, t.At)), Y: foot + a.size*1.25}, Align: drawing.Middle, Size: a.size, Role: drawing.Faint})
		}
	}
	a.level(pen, a.Plot.Max.Y, unit, drawing.Edge)
	a.drawHard(pen, unit)
	for _, run := range a.runs() {
		a.drawRun(pen, run, unit)
	}
	for _, d := range a.data.Doubtful {
		a.block(pen, d, a.Plot.Min.Y-5*unit, a.Plot.Min.Y-2*unit, drawing.InkSoft, 1)
	}
	for i, r := range a.data.Rows {
		y := a.Plot.Max.Y + a.rowHeight()*(float64(i)+.75)
		a.level(pen, y, unit, drawing.Hair)
		name := a.data.Words.cut(r.Name, a.size, false, a.Plot.Min.X-a.size*.6)
		pen.Text(drawing.Text{String: name, At: drawing.Point{X: a.Plot.Min.X - a.size*.6, Y: y}, Align: drawing.End, Size: a.size, Role: drawing.InkSoft})
		for _, m := range r.Marks {
			if m.At >= a.data.From && m.At < a.data.Until {
				drawMark(pen, drawing.Point{X: a.x(m.At), Y: y}, m.Shape, drawing.Ink, 4.2*unit)
			}
		}
	}
}

// block fills a time from one height to another.
func (a *Air) block(pen drawing.Pen, s AirSpan, top, bottom float64, role drawing.Role, opacity float64) {
	left, right := a.x(s.From), a.x(s.Until)
	if s.Until <= a.data.From || s.From >= a.data.Until || bottom <= top {
		return
	}
	right = max(right, left+a.size/12)
	pen.Fill(drawing.Polygon(drawing.Point{X: left, Y: top}, drawing.Point{X: right, Y: top}, drawing.Point{X: right, Y: bottom}, drawing.Point{X: left, Y: bottom}), role, opacity)
}

func (a *Air) level(pen drawing.Pen, y, width float64, role drawing.Role) {
	pen.Stroke(drawing.Polyline(drawing.Point{X: a.Plot.Min.X, Y: y}, drawing.Point{X: a.Plot.Max.X, Y: y}), width, role, 1)
}

// drawHard draws the hard numbers as dashed lines, where they are in sight; those of
// targets that follow each other with the same number are one line.
func (a *Air) drawHard(pen drawing.Pen, unit float64) {
	for _, hard := range []func(AirTarget) float64{func(t AirTarget) float64 { return t.HardLow }, func(t AirTarget) float64 { return t.HardHigh }} {
		for i := 0; i < len(a.data.Targets); {
			first := a.data.Targets[i]
			until := first.Until
			for i++; i < len(a.data.Targets) && a.data.Targets[i].From <= until && hard(a.data.Targets[i]) == hard(first); i++ {
				until = a.data.Targets[i].Until
			}
			if v := hard(first); v > a.low && v < a.high {
				dashed(pen, []drawing.Point{{X: a.x(first.From), Y: a.y(v)}, {X: a.x(until), Y: a.y(v)}}, 4*unit, 1.2*unit, drawing.InkSoft)
			}
		}
	}
}

// runs are the points between which no reading is missing, by their indexes.
func (a *Air) runs() (all [][2]int) {
	d := a.data
	for i := range d.Points {
		whole := i > 0 && (d.Points[i].From-d.Points[i-1].From)*2 <= d.Seconds*5 && !slices.ContainsFunc(d.Gaps, func(g AirSpan) bool {
			return g.From >= d.Points[i-1].From && g.Until <= d.Points[i].From+d.Seconds && g.Until-g.From > d.Seconds
		})
		if whole {
			all[len(all)-1][1] = i + 1
		} else {
			all = append(all, [2]int{i, i + 1})
		}
	}
	return all
}

// drawRun draws from the lowest to the highest as a band, and the means as a line; a
// point alone is an upright with a dot.
func (a *Air) drawRun(pen drawing.Pen, run [2]int, unit float64) {
	var low, high, mean []drawing.Point
	for i := run[0]; i < run[1]; i++ {
		p, x := a.data.Points[i], a.places[i].X
		low, high = append(low, drawing.Point{X: x, Y: a.y(p.Low)}), append(high, drawing.Point{X: x, Y: a.y(p.High)})
		mean = append(mean, a.places[i])
	}
	if len(mean) == 1 {
		pen.Stroke(drawing.Polyline(low[0], high[0]), 1.6*unit, drawing.Ink, .4)
		drawMark(pen, mean[0], Dot, drawing.Accent, 2.2*unit)
		return
	}
	slices.Reverse(low)
	pen.Fill(drawing.Polygon(append(high, low...)...), drawing.Ink, .18)
	pen.Stroke(drawing.Polyline(mean...), 1.8*unit, drawing.Accent, 1)
}
