package chart_test

import (
	"fmt"
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

// What a sample said is told by its shape: "detected" alone is a filled triangle, "not
// detected" an open ring, and one that says nothing a ring in grey with a bar, never in
// the colour of one that counts.
func TestWhatASampleSaidIsToldByItsShape(t *testing.T) {
	signs := func(tested chart.Tested) (shapes []string) {
		var r drawing.Recorder
		chart.DrawTested(&r, drawing.Point{X: 50, Y: 50}, tested, 1)
		for _, s := range r.Steps {
			if s.Role == drawing.Sheet {
				continue // the ground under it
			}
			b := s.Path.Bounds()
			kind := map[bool]string{true: "filled", false: "drawn"}[s.Kind == drawing.Filled]
			shape := fmt.Sprintf("%s %d corners", kind, len(s.Path))
			if w, h := b.Max.X-b.Min.X, b.Max.Y-b.Min.Y; w > 9 && w < 13 && h > 9 && h < 13 {
				shape = kind + " ring"
			}
			shapes = append(shapes, fmt.Sprintf("%s %v", shape, s.Role == drawing.Faint))
		}
		return shapes
	}
	for tested, want := range map[chart.Tested][]string{
		chart.WasDetected:    {"filled 4 corners false"},
		chart.WasNotDetected: {"drawn ring false"},
		chart.SaysNothing:    {"drawn ring true", "drawn 2 corners true"},
	} {
		if got := signs(tested); !slices.Equal(got, want) {
			t.Errorf("%v is %q, want %q", tested, got, want)
		}
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
