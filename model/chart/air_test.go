package chart_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model/chart"
	"coilward/model/drawing"
)

const hour = 3600

func oneDay() chart.AirData {
	d := chart.AirData{AirSpan: chart.AirSpan{From: 0, Until: 86400}, Seconds: hour,
		Targets: []chart.AirTarget{{AirSpan: chart.AirSpan{From: 0, Until: 8 * hour}, HardLow: 21, SoftLow: 22, SoftHigh: 26, HardHigh: 35}, {AirSpan: chart.AirSpan{From: 8 * hour, Until: 20 * hour}, HardLow: 20, SoftLow: 27, SoftHigh: 29, HardHigh: 35}},
		Rows:    []chart.AirRow{{Name: "sheds", Marks: []chart.AirMark{{At: 5 * hour, Shape: chart.Diamond}, {At: 90000, Shape: chart.Diamond}}}},
		Amount:  func(v float64) string { return fmt.Sprintf("%g °C", v) }}
	for i := range int64(24) {
		if i != 12 && i != 13 {
			d.Points = append(d.Points, chart.AirPoint{From: i * hour, Low: 20 + float64(i)/4, Mean: 22 + float64(i)/4, High: 23 + float64(i)/4})
		}
	}
	return d
}

func TestAir(t *testing.T) {
	d := oneDay()
	a := chart.NewAir(d, 900, 300, 12)
	var r drawing.Recorder
	a.Draw(&r)
	var said []string
	lines, bands := 0, 0
	for _, s := range r.Steps {
		switch b := s.Path.Bounds(); {
		case s.Kind == drawing.Written:
			said = append(said, s.Text.String)
		case s.Kind == drawing.Stroked && s.Role == drawing.Accent:
			lines++
		case s.Kind == drawing.Filled && s.Role == drawing.Ink && b.Max.X-b.Min.X > 50:
			bands++
		}
	}
	for _, want := range []string{"00:00", "20 °C", "sheds"} {
		if !slices.Contains(said, want) {
			t.Errorf("%q is not said in %q", want, said)
		}
	}
	if lines != 2 || bands != 2 { // two hours are missing
		t.Errorf("%d lines and %d bands, want two of each", lines, bands)
	}
	if got := a.Nearest(a.Places()[7]); got != 7 {
		t.Errorf("nearest to the seventh: %d", got)
	}
	if got := a.Nearest(drawing.Point{X: -100}); got != -1 {
		t.Errorf("beside the plot: %d", got)
	}
}

// An hour of the clock that is not of UTC stands where it is.
func TestAir_HoursOfTheClock(t *testing.T) {
	d := oneDay()
	d.Offset = func(int64) int64 { return 5400 } // 01:30 east: no full hour of the clock is one of UTC
	if a := chart.NewAir(d, 900, 300, 12); len(a.X) != 0 {
		t.Errorf("%d hours of a clock half an hour off", len(a.X))
	}
	d.Offset = func(int64) int64 { return 7200 }
	if a := chart.NewAir(d, 2000, 300, 12); len(a.X) != 25 || a.X[0].Text != "02:00" {
		t.Errorf("%d hours, the first %+v", len(a.X), a.X[0])
	}
}

func TestAir_AYearHasMonths(t *testing.T) {
	d := oneDay()
	d.Until = 365 * 86400
	a := chart.NewAir(d, 900, 300, 12)
	if len(a.X) < 4 || len(a.X) > 13 {
		t.Errorf("%d marks", len(a.X))
	}
}

func TestAir_StaysInItsBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := oneDay()
		d.Points = nil
		for range rapid.IntRange(0, 30).Draw(t, "points") {
			m := rapid.Float64Range(-40, 85).Draw(t, "mean")
			d.Points = append(d.Points, chart.AirPoint{From: int64(len(d.Points)) * hour, Low: m - rapid.Float64Range(0, 5).Draw(t, "below"), Mean: m, High: m + 1})
		}
		d.Gaps = []chart.AirSpan{{From: 4 * hour, Until: 4*hour + rapid.Int64Range(1, 90000).Draw(t, "gap")}}
		d.Doubtful = []chart.AirSpan{{From: -5, Until: rapid.Int64Range(-4, 200000).Draw(t, "doubtful")}}
		if rapid.Bool().Draw(t, "no target") {
			d.Targets = nil
		}
		width, height := rapid.Float64Range(250, 1500).Draw(t, "width"), rapid.Float64Range(140, 500).Draw(t, "height")
		a := chart.NewAir(d, width, height, 12)
		var r drawing.Recorder
		a.Draw(&r)
		for _, s := range r.Steps {
			if s.Kind == drawing.Written {
				continue
			}
			b := s.Path.Bounds()
			for _, v := range []float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y} {
				if math.IsNaN(v) {
					t.Fatal("not a number is drawn")
				}
			}
			if b.Min.X < -1 || b.Max.X > width+1 || b.Min.Y < -1 || b.Max.Y > height+1 {
				t.Fatalf("%+v lies out of %g × %g", b, width, height)
			}
		}
		if len(a.Places()) != len(d.Points) {
			t.Fatalf("%d places of %d points", len(a.Places()), len(d.Points))
		}
	})
}
