package chart_test

import (
	"testing"

	"coilward/model"
	"coilward/model/chart"
	"coilward/model/drawing"
)

// What is expected is a dashed line over a band that never leaves the plot; a break is a
// dashed upright at its day. Without either the chart is as before.
func TestExpectedAndBreaks(t *testing.T) {
	plain := weights(20)
	draw := func(data chart.LineData) (*chart.Line, []drawing.Step) {
		l, pen := chart.NewLine(data, 800, 400, 12), &drawing.Recorder{}
		l.Draw(pen)
		return l, pen.Steps
	}
	_, before := draw(plain)
	data := plain
	first := plain.Values[0].Day
	for d := model.Day(0); d <= 100; d += 20 {
		data.Expected = append(data.Expected, chart.Expected{Day: first + d, Amount: 500 - float64(d), Low: -10_000, High: 520})
	}
	l, with := draw(data)
	if l.Y[0].Text != "400 g" {
		t.Errorf("the axis begins at %s, want where the line ends", l.Y[0].Text)
	}
	dashes, bands := 0, 0
	for _, s := range with {
		if s.Kind == drawing.Stroked && s.Role == drawing.InkSoft {
			dashes++
			if box := s.Path.Bounds(); box.Width() > 8 {
				t.Errorf("a dash is %.1f long", box.Width())
			}
		}
		if s.Kind == drawing.Filled && s.Role == drawing.InkSoft {
			bands++
			if box := s.Path.Bounds(); box.Max.Y > l.Plot.Max.Y || box.Min.Y < l.Plot.Min.Y {
				t.Errorf("the band %v leaves the plot %v", box, l.Plot)
			}
		}
	}
	if bands != 1 || dashes < 10 || len(with) <= len(before)+dashes-1 {
		t.Errorf("%d bands and %d dashes", bands, dashes)
	}
	broken := plain
	broken.Breaks = []model.Day{first - 1, plain.Values[7].Day, plain.Values[19].Day + 1}
	l, with = draw(broken)
	uprights := 0
	for _, s := range with {
		if s.Kind == drawing.Stroked && s.Role == drawing.Ink {
			uprights++
			if box := s.Path.Bounds(); box.Min.X != l.Points[7].X || box.Max.X != l.Points[7].X || box.Min.Y < l.Plot.Min.Y || box.Max.Y > l.Plot.Max.Y+1e-9 {
				t.Errorf("a dash of the break at %v, want at %.1f", box, l.Points[7].X)
			}
		}
	}
	if uprights < 20 {
		t.Errorf("%d dashes of the break that lies within the days shown", uprights)
	}
}
