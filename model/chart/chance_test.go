package chart_test

import (
	"cmp"
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/chart"
	"coilward/model/drawing"
)

func course() chart.ChanceData {
	return chart.ChanceData{
		Course:  []chart.Likely{{Day: 100, Low: .05, Mid: .2, High: .4}, {Day: 120, Low: .05, Mid: .2, High: .4}, {Day: 120, Low: .003, Mid: .036, High: .3}, {Day: 160, Low: .01, Mid: .05, High: .35}},
		Answers: []chart.Answer{{Day: 120, At: .036}, {Day: 150, At: .05, Detected: true}},
		Near:    []chart.Days{{From: 130, To: 140}}, NearSaid: "near", Goal: .01, GoalSaid: "wanted", Today: 160, TodaySaid: "today",
		Said: func(p float64) string { return strconv.FormatFloat(p, 'g', -1, 64) },
	}
}

func TestChance_WhatIsLikelierStandsHigher(t *testing.T) {
	c := chart.NewChance(course(), 700, 260, 12)
	if !(c.Points[0].Y > c.Points[1].Y && c.Points[0].X < c.Points[1].X) {
		t.Errorf("3.6 in 100 stands at %v, later 5 in 100 at %v", c.Points[0], c.Points[1])
	}
	r, said := written(c.Draw)
	for _, want := range []string{"wanted", "today", "near", "0.01", "0.2"} {
		if !slices.Contains(said, want) {
			t.Errorf("%q is not written, but %v", want, said)
		}
	}
	bands, near := 0, 0
	for _, s := range r.Steps {
		if s.Kind == drawing.Filled && s.Role == drawing.Accent && s.Opacity < .5 {
			bands++
		}
		if s.Kind == drawing.Stroked && s.Role == drawing.Warn {
			near++
		}
	}
	if bands != 1 || near != 1 {
		t.Errorf("%d bands and %d times near", bands, near)
	}
}

// What an answer of today made of the range is seen behind its mark, which stands on the line.
func TestChance_AnAnswerOfTheLastDay(t *testing.T) {
	data := course()
	data.Answers[1].Day, data.Answers[1].At = 160, .9
	data.Course = append(data.Course, chart.Likely{Day: 160, Low: .6, Mid: .9, High: .99})
	for name, course := range map[string][]chart.Likely{"after others": data.Course, "and nothing before": data.Course[3:]} {
		data.Course = course
		c := chart.NewChance(data, 700, 260, 12)
		mark := c.Points[1]
		r, _ := written(c.Draw)
		for _, s := range r.Steps {
			around := s.Path.Bounds()
			band := s.Kind == drawing.Filled && s.Role == drawing.Accent && s.Opacity < .5
			line := s.Kind == drawing.Stroked && s.Role == drawing.Accent && s.Opacity == 1 && around.Max.X > mark.X-1 && around.Width() < 650
			if (band || line) && !(around.Max.X > mark.X+4 && around.Max.X <= c.Plot.Max.X && around.Min.Y <= mark.Y) {
				t.Errorf("%s: the mark stands at %v, what is behind it ends at %v", name, mark, around)
			}
		}
	}
}

func TestChance_NothingToShow(t *testing.T) {
	c := chart.NewChance(chart.ChanceData{Today: 100}, 400, 200, 12)
	if got := c.Nearest(drawing.Point{X: 10, Y: 10}); got != -1 {
		t.Errorf("nearest is %d", got)
	}
	written(c.Draw)
}

func TestChance_StaysInItsPlot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data := course()
		data.Course = nil
		for day := range rapid.IntRange(0, 8).Draw(t, "days") {
			p := rapid.Float64Range(1e-9, 1-1e-9).Draw(t, "chance")
			data.Course = append(data.Course, chart.Likely{Day: model.Day(100 + day), Low: p / 2, Mid: p, High: (1 + p) / 2})
			data.Answers = append(data.Answers, chart.Answer{Day: model.Day(100 + day), At: p})
		}
		c := chart.NewChance(data, rapid.Float64Range(200, 1600).Draw(t, "width"), rapid.Float64Range(120, 500).Draw(t, "height"), 12)
		for i, p := range c.Points {
			if p.Y < c.Plot.Min.Y-1e-9 || p.Y > c.Plot.Max.Y+1e-9 || p.X < c.Plot.Min.X-1e-9 || p.X > c.Plot.Max.X+1e-9 {
				t.Fatalf("answer %d stands at %v, outside %v", i, p, c.Plot)
			}
			if near := c.Nearest(p); c.Points[near] != p {
				t.Fatalf("nearest to answer %d is %d", i, near)
			}
		}
	})
}

// What is written beside the axis does not touch, whatever the range, what is wanted, and
// whether the animal was near others.
func TestChance_WhatIsWrittenBesideTheAxisDoesNotTouch(t *testing.T) {
	const size = 12
	rapid.Check(t, func(t *rapid.T) {
		data := course()
		low := rapid.Float64Range(.0005, .5).Draw(t, "low")
		data.Course = []chart.Likely{{Day: 100, Low: low, Mid: low, High: rapid.Float64Range(low, .9995).Draw(t, "high")}}
		data.Goal = rapid.SampledFrom([]float64{0, .001, .004, .01, .015, .05, .3}).Draw(t, "wanted")
		if rapid.Bool().Draw(t, "alone") {
			data.Near = nil
		}
		c := chart.NewChance(data, 700, rapid.Float64Range(150, 400).Draw(t, "height"), size)
		r, _ := written(c.Draw)
		var at []drawing.Text
		for _, s := range r.Steps {
			if s.Kind == drawing.Written && s.Text.Align == drawing.End {
				at = append(at, s.Text)
			}
		}
		if len(at) == 0 {
			t.Fatal("nothing is written beside the axis")
		}
		slices.SortFunc(at, func(a, b drawing.Text) int { return cmp.Compare(a.At.Y, b.At.Y) })
		for i := 1; i < len(at); i++ {
			if apart := at[i].At.Y - at[i-1].At.Y; apart < 1.3*size {
				t.Fatalf("%q is written %.1f above %q", at[i-1].String, apart, at[i].String)
			}
		}
	})
}
