package chart_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/chart"
	"coilward/model/drawing"
)

func traced() chart.TraceData {
	return chart.TraceData{From: 100, To: 220, Today: 190, Since: 120, Flag: 210,
		Bands: []chart.TraceBand{{From: 90, To: 190}, {From: 120, To: 190, Stretch: chart.Carrying}, {From: 130, To: 160, Stretch: chart.Together}},
		Marks: []chart.TraceMark{{Day: 120, Tested: chart.WasNotDetected}, {Day: 150, Tested: chart.SaysNothing}, {Day: 180, Tested: chart.WasDetected}},
		Said:  []chart.TraceWord{{Day: 180, Said: "detected", Strong: true}, {Day: 181, Said: "covers it"}, {Day: 130, Said: "last day", Below: true}}}
}

// Words of one line do not cover each other: the first is set, and the one that would
// cover it is left to its mark.
func TestWordsOfATraceCoverNone(t *testing.T) {
	_, said := written(func(pen drawing.Pen) { chart.DrawTrace(pen, traced(), 600, 56, 12) })
	if want := []string{"detected", "last day"}; !slices.Equal(said, want) {
		t.Errorf("%q, want %q", said, want)
	}
}

// The band of the animal itself is thicker than that of one that was near, and both
// thicker than that of days elsewhere, so that colour alone tells nothing.
func TestBandsOfATraceAreToldByThickness(t *testing.T) {
	thick := func(s chart.Stretch) float64 {
		d := chart.TraceData{From: 100, To: 220, Today: 190, Bands: []chart.TraceBand{{From: 120, To: 180, Stretch: s}}}
		var r drawing.Recorder
		chart.DrawTrace(&r, d, 600, 56, 12)
		for _, step := range r.Steps {
			if b := step.Path.Bounds(); step.Kind == drawing.Filled && b.Max.X-b.Min.X > 100 {
				return b.Max.Y - b.Min.Y
			}
		}
		return 0
	}
	if e, n, c := thick(chart.Elsewhere), thick(chart.Together), thick(chart.Carrying); e <= 0 || e >= n || n >= c {
		t.Errorf("elsewhere %v, together %v, carrying %v", e, n, c)
	}
}

// Whatever the days, every stroke, band and word stays in its box.
func TestATraceStaysInItsBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := func(name string) model.Day { return model.Day(rapid.IntRange(0, 400).Draw(t, name)) }
		d := traced()
		d.From, d.To = day("from"), 0
		d.To = d.From + model.Day(rapid.IntRange(1, 400).Draw(t, "days"))
		d.Today = min(d.To, max(d.From, day("today")))
		d.Since, d.Flag = min(day("since"), d.Today), 0
		d.Bands, d.Marks = []chart.TraceBand{{From: day("begun"), To: d.Today, Stretch: chart.Together}}, nil
		if d.Bands[0].From > d.Today {
			d.Bands = nil
		}
		d.Said[0].Day = max(d.From, min(d.To, day("word")))
		width := rapid.Float64Range(200, 1200).Draw(t, "width")
		var r drawing.Recorder
		chart.DrawTrace(&r, d, width, 56, 12)
		for _, s := range r.Steps {
			if s.Kind != drawing.Filled && s.Kind != drawing.Stroked {
				continue
			}
			if b := s.Path.Bounds(); b.Min.X < -3 || b.Max.X > width+3 || b.Min.Y < -1 || b.Max.Y > 57 {
				t.Fatalf("%+v of a box of %v by 56", b, width)
			}
		}
	})
}
