package chart_test

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/chart"
	"coilward/model/drawing"
)

func day(y int, m time.Month, d int) model.Day { return model.NewDay(y, m, d) }

func TestRoundValues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(-5000, 5000).Draw(t, "lo")
		hi := lo + rapid.Float64Range(.01, 9000).Draw(t, "span")
		n := rapid.IntRange(2, 12).Draw(t, "n")
		v, step := chart.RoundValues(lo, hi, n)
		if v[0] > lo+step*1e-6 || v[len(v)-1] < hi-step*1e-6 || len(v) > n+3 {
			t.Fatalf("%v for %g–%g, about %d", v, lo, hi, n)
		}
		for i := 1; i < len(v); i++ {
			if math.Abs(v[i]-v[i-1]-step) > step*1e-6 {
				t.Fatalf("uneven: %v", v)
			}
		}
	})
}

func TestCalendarDays(t *testing.T) {
	for _, c := range []struct {
		from, to model.Day
		n        int
		step     chart.Step
		first    model.Day
		count    int
	}{
		{day(2027, 3, 1), day(2027, 3, 5), 6, chart.ByDay, day(2027, 3, 1), 5},
		{day(2027, 3, 3), day(2027, 4, 20), 8, chart.ByDay, day(2027, 3, 8), 7}, // Mondays
		{day(2026, 5, 17), day(2027, 3, 3), 12, chart.ByMonth, day(2026, 6, 1), 10},
		{day(2024, 2, 29), day(2027, 3, 3), 7, chart.ByMonth, day(2024, 7, 1), 6}, // every half-year
		{day(2016, 1, 1), day(2027, 3, 3), 12, chart.ByYear, day(2016, 1, 1), 12},
	} {
		days, step := chart.CalendarDays(c.from, c.to, c.n)
		if step != c.step || len(days) != c.count || days[0] != c.first {
			t.Errorf("%v–%v: %v by %d", c.from, c.to, days, step)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		from := model.Day(rapid.IntRange(-20000, 40000).Draw(t, "from"))
		to := from + model.Day(rapid.IntRange(1, 30000).Draw(t, "span"))
		n := rapid.IntRange(2, 20).Draw(t, "n")
		days, step := chart.CalendarDays(from, to, n)
		if len(days) > n {
			t.Fatalf("%d days, at most %d", len(days), n)
		}
		for i, d := range days {
			_, m, dd := d.Date()
			if d < from || d > to || i > 0 && d <= days[i-1] || step != chart.ByDay && dd != 1 || step == chart.ByYear && m != time.January {
				t.Fatalf("%v by %d", days, step)
			}
		}
	})
}

func weights(n int) chart.LineData {
	d := chart.LineData{Unit: "g"}
	for i := range n {
		d.Values = append(d.Values, chart.Value{Day: day(2025, 1, 1) + model.Day(9*i), Amount: 500 + 10*float64(i%7)})
	}
	return d
}

func TestLineKeepsWithinItsPlot(t *testing.T) {
	for _, n := range []int{0, 1, 2, 60, 2000} {
		l := chart.NewLine(weights(n), 700, 300, 12)
		if len(l.Points) != n {
			t.Fatalf("%d points of %d", len(l.Points), n)
		}
		plot := l.Plot.Grow(1e-6)
		for _, p := range l.Points {
			if !plot.Contains(p) {
				t.Errorf("%d values: %v outside %v", n, p, l.Plot)
			}
		}
		var r drawing.Recorder
		l.Draw(&r)
		if box := drawing.Box(-1, -1, 701, 301); !box.Contains(r.Bounds().Min) || !box.Contains(r.Bounds().Max) {
			t.Errorf("%d values: drawn in %v", n, r.Bounds())
		}
	}
}

func TestLineTimeIsTrue(t *testing.T) {
	d := chart.LineData{Values: []chart.Value{{Day: 0, Amount: 1}, {Day: 10, Amount: 2}, {Day: 40, Amount: 3}}}
	l := chart.NewLine(d, 700, 300, 12)
	a, b := l.Points[1].X-l.Points[0].X, l.Points[2].X-l.Points[1].X
	if math.Abs(b-3*a) > 1e-6 {
		t.Errorf("10 days are %.2f wide, 30 days %.2f", a, b)
	}
	if i := l.Nearest(l.Points[1].X + a*.9); i != 1 {
		t.Errorf("nearest is %d", i)
	}
	if got, amount := l.At(l.Points[2]); got != 40 || math.Abs(amount-3) > 1e-6 {
		t.Errorf("at the last point: day %d, %g", got, amount)
	}
	if chart.NewLine(chart.LineData{}, 700, 300, 12).Nearest(5) != -1 {
		t.Error("something is nearest where there is nothing")
	}
}

func TestLineBreaksWhereNotComparable(t *testing.T) {
	strokes := func(d chart.LineData) (n int) {
		var r drawing.Recorder
		chart.NewLine(d, 700, 300, 12).Draw(&r)
		for _, s := range r.Steps {
			if s.Kind == drawing.Stroked && s.Role == drawing.Accent {
				n++
			}
		}
		return n
	}
	d := weights(20)
	if strokes(d) != 1 {
		t.Error("an unbroken line is drawn in pieces")
	}
	d.Values[10].Apart = true
	if strokes(d) != 2 {
		t.Error("the line runs on over a break")
	}
}

func problems() chart.BodyTimeData {
	from, to := day(2026, 1, 1), day(2027, 1, 1)
	return chart.BodyTimeData{From: from, To: to, Day: day(2026, 11, 1), CameBack: "back", Bars: []chart.Bar{
		{Number: 1, Text: "lump", Place: body.OnTrunk(5000, 90), From: day(2026, 3, 1), To: day(2026, 5, 1), Bad: 1},
		{Number: 1, Text: "lump", Place: body.OnTrunk(5000, 90), From: day(2026, 7, 1), Open: true, Bad: 3, Back: true},
		{Number: 2, Text: "scab", Place: body.OnTrunk(5100, 90), From: day(2026, 8, 1), Open: true, Bad: 2},
		{Number: 3, Text: "later", Place: body.OnTail(5000, 0), From: day(2026, 12, 1), Open: true, Bad: 2},
	}}
}

func TestBodyTime(t *testing.T) {
	c := chart.NewBodyTime(problems(), 900, 320, 12)
	if !(c.Bars[0].Height() < c.Bars[2].Height() && c.Bars[2].Height() < c.Bars[1].Height()) {
		t.Errorf("worse must be thicker: %v", c.Bars)
	}
	if !(c.Bars[0].Max.X < c.Bars[1].Min.X && c.Bars[3].Centre().Y > c.Bars[2].Centre().Y && c.Bars[2].Centre().Y > c.Bars[1].Centre().Y) {
		t.Errorf("order in time and along the body: %v", c.Bars)
	}
	if got := c.BarAt(c.Bars[0].Centre()); got != 0 {
		t.Errorf("bar 0 is met as %d", got)
	}
	if got := c.BarAt(c.Bars[3].Centre()); got != -1 {
		t.Errorf("what begins after the cursor is met as %d", got)
	}
	if d := c.DayAt(c.Bars[1].Min.X); d != day(2026, 7, 1) {
		t.Errorf("the second bar begins on %v", d)
	}
	if c.DayAt(-50) != day(2026, 1, 1) || c.DayAt(9000) != day(2027, 1, 1) {
		t.Error("days outside those shown")
	}
	var r drawing.Recorder
	c.Draw(&r)
	var numbers []drawing.Text
	for _, s := range r.Steps {
		if s.Kind == drawing.Written && (s.Text.String == "1" || s.Text.String == "2" || s.Text.String == "3") {
			numbers = append(numbers, s.Text)
		}
	}
	if len(numbers) != 2 || math.Abs(numbers[0].At.Y-numbers[1].At.Y) < 18 {
		t.Errorf("pins: %+v", numbers)
	}
}

func TestYears(t *testing.T) {
	y := chart.NewYears(chart.YearsData{FirstYear: 2024, Counts: make([]int, 30), From: 1, To: 0}, 720, 80, 12)
	if m := y.Month(14); m != day(2025, 3, 1) {
		t.Errorf("month 14 is %v", m)
	}
	if y.MonthAt(0) != 0 || y.MonthAt(719) != 35 || y.MonthAt(-4) != 0 || y.MonthAt(20*14+1) != 14 {
		t.Error("months at their places")
	}
	heights := func(counts []int) (out []float64) {
		var r drawing.Recorder
		chart.NewYears(chart.YearsData{FirstYear: 2024, Counts: counts, From: 1}, 720, 80, 12).Draw(&r)
		for _, s := range r.Steps {
			if s.Kind == drawing.Filled && s.Role == drawing.Edge {
				out = append(out, s.Path.Bounds().Height())
			}
		}
		return out
	}
	h := heights([]int{4, 0, 8, 1})
	if len(h) != 3 || math.Abs(2*h[0]-h[1]) > 1e-6 || !(h[2] < h[0]) {
		t.Errorf("columns of 4, 8 and 1 are %v high", h)
	}
}

func BenchmarkLine2000(b *testing.B) {
	d := weights(2000)
	for b.Loop() {
		var r drawing.Recorder
		chart.NewLine(d, 900, 420, 12).Draw(&r)
	}
}
