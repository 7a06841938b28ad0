package chart_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
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
		if said := strconv.FormatFloat(step, 'e', 3, 64); strings.HasPrefix(said, "2.5") && step < 25 {
			t.Fatalf("a step of %g is no whole number", step)
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
	d := chart.LineData{Amount: func(v float64) string { return fmt.Sprintf("%g g", v) }}
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
	if chart.NewLine(chart.LineData{}, 700, 300, 12).Nearest(5) != -1 {
		t.Error("something is nearest where there is nothing")
	}
}

// What is not comparable stands as a ring where it belongs, and the line runs
// past it.
func TestLineLeavesOutWhatIsNotComparable(t *testing.T) {
	d := weights(20)
	d.Values[10].Apart, d.Values[10].Amount = true, 560
	l := chart.NewLine(d, 700, 300, 12)
	var r drawing.Recorder
	l.Draw(&r)
	lines, rings := 0, 0
	for _, s := range r.Steps {
		if s.Kind != drawing.Stroked || s.Role != drawing.Accent {
			continue
		}
		switch box := s.Path.Bounds(); {
		case box.Width() > 100:
			lines++
			if n := len(s.Path); n != 19 {
				t.Errorf("the line has %d points, want 19", n)
			}
		case box.Centre().Sub(l.Points[10]).Length() < .01:
			rings++
		}
	}
	if lines != 1 || rings != 1 {
		t.Errorf("%d lines, %d rings", lines, rings)
	}
	for i := range d.Values {
		d.Values[i].Apart = true
	}
	r = drawing.Recorder{}
	chart.NewLine(d, 700, 300, 12).Draw(&r)
	if !slices.ContainsFunc(r.Steps, func(s drawing.Step) bool {
		return s.Kind == drawing.Stroked && s.Role == drawing.Accent && len(s.Path) == 20
	}) {
		t.Error("values of which none is comparable make no line")
	}
}

// What is doubtful stands as a ring, and no line goes through it, not even where
// there is nothing else.
func TestNoLineGoesThroughDoubtfulValues(t *testing.T) {
	for doubtful, want := range map[int]int{0: 20, 1: 19, 18: 2, 19: 0, 20: 0} {
		for _, apart := range []bool{false, true} {
			d := weights(20)
			for i := range d.Values {
				d.Values[i].Apart, d.Values[i].Doubtful = apart, i < doubtful
			}
			l := chart.NewLine(d, 700, 300, 12)
			var r drawing.Recorder
			l.Draw(&r)
			line, rings := 0, 0
			for _, s := range r.Steps {
				if s.Kind != drawing.Stroked || s.Role != drawing.Accent {
					continue
				}
				if at := s.Path.Bounds().Centre(); slices.ContainsFunc(l.Points[:doubtful], func(p drawing.Point) bool { return at.Sub(p).Length() < .01 }) && s.Path.Bounds().Width() < 15 {
					rings++
				} else if n := len(s.Path); s.Path.Bounds().Width() > 20 {
					line = n
				}
			}
			if line != want || rings != doubtful {
				t.Errorf("%d doubtful, apart %v: a line of %d, want %d; %d rings", doubtful, apart, line, want, rings)
			}
		}
	}
}

func TestLineHasRowsAndTheLastValue(t *testing.T) {
	d := weights(10)
	d.Rows = []chart.Row{{Name: "meals", Total: "2 of 3 taken", Marks: []chart.Mark{{Day: d.Values[0].Day}, {Day: d.Values[9].Day, Shape: chart.Ring}, {Day: d.Values[9].Day + 1}}},
		{Name: strings.Repeat("very long ", 40), Marks: []chart.Mark{{Day: d.Values[4].Day, Shape: chart.Diamond}}}}
	d.Last = []string{"540 g", "3 March"}
	l := chart.NewLine(d, 700, 300, 12)
	if alone := chart.NewLine(weights(10), 700, 300, 12); l.Plot.Max.Y >= alone.Plot.Max.Y || l.Plot.Max.X >= alone.Plot.Max.X || l.Plot.Min.X > 240 {
		t.Errorf("plot %v, without rows %v", l.Plot, alone.Plot)
	}
	var r drawing.Recorder
	l.Draw(&r)
	heights, texts := map[float64]int{}, map[string]bool{}
	for _, s := range r.Steps {
		switch {
		case s.Kind == drawing.Written:
			texts[s.Text.String] = true
			if s.Text.String != "" && s.Text.Align == drawing.End && s.Text.At.X-6*float64(len([]rune(s.Text.String))) < -.01 {
				t.Errorf("%q runs out of the drawing", s.Text.String)
			}
		case s.Role == drawing.Ink:
			if s.Kind == drawing.Stroked || s.Kind == drawing.Filled {
				heights[math.Round(s.Path.Bounds().Centre().Y)]++
			}
		}
	}
	if len(heights) != 2 {
		t.Errorf("marks at %v, want two rows", heights)
	}
	for _, want := range []string{"meals", "2 of 3 taken", "540 g", "3 March"} {
		if !texts[want] {
			t.Errorf("it does not say %q: %v", want, texts)
		}
	}
}

func open(from, until model.Day, bad int) []chart.Span {
	return []chart.Span{{From: from, To: until, Bad: bad}}
}

func problems() chart.BodyTimeData {
	from, to, now := day(2026, 1, 1), day(2027, 1, 1), day(2026, 11, 1)
	d := chart.BodyTimeData{From: from, To: to, Day: now, CameBack: "back", Cursor: "today", Bars: []chart.Bar{
		{Number: 1, Text: "lump", Place: body.OnTrunk(5000, 90), Open: true, Spans: []chart.Span{{From: day(2026, 3, 1), To: day(2026, 5, 1), Bad: 1}, {From: day(2026, 7, 1), To: now, Bad: 3}}},
		{Number: 2, Text: "scab", Place: body.OnTrunk(5100, 90), Open: true, Quiet: true, Spans: open(day(2026, 8, 1), now, 2)},
		{Number: 3, Text: "later", Place: body.OnTail(5000, 0), Open: true, Spans: open(day(2026, 12, 1), day(2027, 2, 1), 2)},
		{Number: 4, Text: "mites", Spans: open(day(2026, 4, 1), day(2026, 6, 1), 1)},
	}}
	d.Zones = chart.Zones(func(id string) string { return id })
	return d
}

func TestBodyTime(t *testing.T) {
	c := chart.NewBodyTime(problems(), 900, 320, 12)
	if !(c.Bars[3].Height() < c.Bars[1].Height() && c.Bars[1].Height() < c.Bars[0].Height()) {
		t.Errorf("worse must be thicker: %v", c.Bars)
	}
	if !(c.Bars[2].Centre().Y > c.Bars[1].Centre().Y && c.Bars[1].Centre().Y > c.Bars[0].Centre().Y && c.Bars[0].Centre().Y > c.Bars[3].Centre().Y) {
		t.Errorf("order along the body, the whole animal at the top: %v", c.Bars)
	}
	for i, at := range []int{0, 1, -1, 3} {
		if got := c.BarAt(c.Bars[i].Centre()); got != at {
			t.Errorf("bar %d is met as %d", i, got)
		}
	}
	if d := c.DayAt(c.Bars[1].Min.X); d != day(2026, 8, 1) {
		t.Errorf("the second bar begins on %v", d)
	}
	if c.DayAt(-50) != day(2026, 1, 1) || c.DayAt(9000) != day(2027, 1, 1) {
		t.Error("days outside those shown")
	}
}

func TestBodyTimeIsDrawn(t *testing.T) {
	steps := func(d chart.BodyTimeData) []drawing.Step {
		var r drawing.Recorder
		chart.NewBodyTime(d, 900, 320, 12).Draw(&r)
		return r.Steps
	}
	said := func(steps []drawing.Step) (texts []string) {
		for _, s := range steps {
			if s.Kind == drawing.Written {
				texts = append(texts, s.Text.String)
			}
		}
		return texts
	}
	texts := said(steps(problems()))
	for _, want := range []string{"whole", "neck", "tail", "1", "2", "lump", "scab", "mites", "today"} {
		if !slices.Contains(texts, want) {
			t.Errorf("it does not say %q: %v", want, texts)
		}
	}
	if slices.Contains(texts, "later") || slices.Contains(texts, "4") {
		t.Errorf("what came later, or a number of what is gone: %v", texts)
	}
	var pins []drawing.Text
	widths := map[float64]bool{}
	for _, s := range steps(problems()) {
		if s.Kind == drawing.Written && (s.Text.String == "1" || s.Text.String == "2") {
			pins = append(pins, s.Text)
		}
		if s.Kind == drawing.Stroked && s.Role == drawing.Ink {
			widths[s.Width] = true
		}
	}
	if len(pins) != 2 || math.Abs(pins[0].At.Y-pins[1].At.Y) < 18 || pins[0].Role != drawing.Sheet || pins[1].Role != drawing.Ink {
		t.Errorf("pins: %+v", pins)
	}
	for _, width := range []float64{5, 7, 9} { // slight, marked, severe at type of 12
		if !widths[width] {
			t.Errorf("no bar %g wide: %v", width, widths)
		}
	}
	without := problems()
	without.Cursor = ""
	for _, s := range steps(without) {
		if s.Role == drawing.Accent {
			t.Error("a cursor without words is drawn")
		}
	}
}

// However many problems lie in a zone, each stays within it, and those at one
// place do not cover each other.
func TestBodyTimeKeepsBarsInTheirZones(t *testing.T) {
	d := problems()
	d.Bars = nil
	for i := range 5 {
		for _, p := range []body.Place{{}, {Part: body.Head, View: body.HeadAbove, Region: "snout"}, body.OnTrunk(9000, 0), body.OnTail(200, 0)} {
			d.Bars = append(d.Bars, chart.Bar{Number: i, Place: p, Open: true, Spans: open(d.From+30, d.Day, 1+i%3)})
		}
	}
	c := chart.NewBodyTime(d, 900, 600, 12)
	for zone := range 4 {
		for i := zone; i < len(c.Bars); i += 4 {
			for k := zone; k < i; k += 4 {
				if math.Abs(c.Bars[i].Centre().Y-c.Bars[k].Centre().Y) < 1 {
					t.Errorf("bars %d and %d lie on each other", i, k)
				}
			}
			for other := range 4 {
				if a, b := c.Bars[i].Centre().Y, c.Bars[other].Centre().Y; other > zone && a >= b || other < zone && a <= b {
					t.Errorf("bar %d has left its zone", i)
				}
			}
		}
	}
}

// Names are cut to the room they have, whatever is written.
func TestBodyTimeCutsLongNames(t *testing.T) {
	d := problems()
	d.Bars[0].Text = strings.Repeat("endless ", 60)
	var r drawing.Recorder
	c := chart.NewBodyTime(d, 900, 320, 12)
	c.Draw(&r)
	for _, s := range r.Steps {
		if w := 6 * float64(len([]rune(s.Text.String))); s.Kind == drawing.Written && s.Text.Align == drawing.Start && s.Text.At.X+w > 900 {
			t.Errorf("%q ends at %.0f", s.Text.String, s.Text.At.X+w)
		}
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
