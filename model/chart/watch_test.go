package chart_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/chart"
	"coilward/model/drawing"
)

func looks() chart.WatchData {
	return chart.WatchData{
		Looks: []chart.Look{{Day: 100}, {Day: 107, Grade: 3}, {Day: 110, Grade: 1}, {Day: 114}, {Day: 128}, {Day: 134, Grade: 2, Other: true}},
		Gaps:  []chart.Gap{{From: 114, To: 128}}, Today: 135, From: 134, Ends: 176,
		Grades:    [5]string{"none", "a speck", "one", "several", "everywhere"},
		TodaySaid: "today", FromSaid: "counts from here", EndsSaid: "ends", GapSaid: "begun again",
	}
}

// written are the texts that a drawing sets.
func written(draw func(drawing.Pen)) (r drawing.Recorder, said []string) {
	draw(&r)
	for _, s := range r.Steps {
		if s.Kind == drawing.Written {
			said = append(said, s.Text.String)
		}
	}
	return r, said
}

func TestLooksOfEachGradeStandOnTheirLine(t *testing.T) {
	w := chart.NewWatch(looks(), 700, 220, 12)
	for i, l := range looks().Looks {
		for j, m := range looks().Looks {
			if (l.Grade < m.Grade) != (w.Points[i].Y > w.Points[j].Y) {
				t.Errorf("look %d of grade %d at %v, look %d of grade %d at %v", i, l.Grade, w.Points[i], j, m.Grade, w.Points[j])
			}
			if (l.Day < m.Day) != (w.Points[i].X < w.Points[j].X) {
				t.Errorf("look %d of day %d at %v, look %d of day %d at %v", i, l.Day, w.Points[i], j, m.Day, w.Points[j])
			}
		}
		if n := w.Nearest(w.Points[i]); n != i {
			t.Errorf("nearest to look %d is %d", i, n)
		}
	}
	_, said := written(w.Draw)
	for _, want := range []string{"today", "counts from here", "ends", "a speck", "0", "4"} {
		if !slices.Contains(said, want) {
			t.Errorf("%q is not said: %q", want, said)
		}
	}
}

// Marks are told apart without their colours: by the number and the kind of strokes
// that make them.
func TestMarksOfLooksDifferByShape(t *testing.T) {
	shapes := map[string]string{}
	for name, look := range map[string]chart.Look{"none": {Day: 5}, "speck": {Day: 5, Grade: 1}, "mites": {Day: 5, Grade: 2}, "of others": {Day: 5, Grade: 2, Other: true}} {
		w := chart.NewWatch(chart.WatchData{Looks: []chart.Look{look}, Today: 9}, 400, 200, 12)
		r, _ := written(w.Draw)
		from := 1 + slices.IndexFunc(r.Steps, func(s drawing.Step) bool { return s.Kind == drawing.Stroked && s.Role == drawing.Ink }) // the line of today
		var kinds strings.Builder
		for _, s := range r.Steps[from:] {
			if s.Kind == drawing.Written {
				break
			}
			kinds.WriteByte("fscut"[s.Kind])
			for _, part := range s.Path {
				kinds.WriteByte("mlcz"[part.Operation])
			}
		}
		if other, taken := shapes[kinds.String()]; taken {
			t.Errorf("%s and %s are drawn alike", name, other)
		}
		shapes[kinds.String()] = name
	}
}

func TestLooksWithoutAnyAreDrawn(t *testing.T) {
	w := chart.NewWatch(chart.WatchData{Today: 20000, TodaySaid: "today"}, 300, 150, 12)
	if _, said := written(w.Draw); !slices.Contains(said, "today") || w.Nearest(drawing.Point{}) != -1 {
		t.Errorf("%q", said)
	}
}

func TestStayKeepsItsLabelsApartAndWithin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := chart.StayData{From: 20000, To: 20120, Begun: 20003, Today: 20000 + model.Day(rapid.IntRange(3, 110).Draw(t, "today")),
			Earliest: 20000 + model.Day(rapid.IntRange(3, 120).Draw(t, "earliest")), Undated: rapid.Bool().Draw(t, "undated"), End: "9 March", EndBelow: "in 6 days", Open: "no date"}
		for range rapid.IntRange(0, 10).Draw(t, "marks") {
			d.Milestones = append(d.Milestones, chart.Milestone{Day: 20003 + model.Day(rapid.IntRange(0, 117).Draw(t, "day")), Said: rapid.StringMatching("[a-z]{3,14}").Draw(t, "said"), Standing: chart.Standing(rapid.IntRange(0, 2).Draw(t, "standing"))})
		}
		if rapid.Bool().Draw(t, "broken") {
			d.Breaks = []chart.Break{{Day: 20003 + model.Day(rapid.IntRange(0, 60).Draw(t, "break")), Said: "begun again: someone came in"}}
		}
		width := float64(rapid.IntRange(360, 1100).Draw(t, "width"))
		s := chart.NewStay(d, width, 96, 12)
		r, _ := written(s.Draw)
		var boxes []drawing.Rectangle
		for _, step := range r.Steps {
			if step.Kind != drawing.Written || step.Text.String == d.End || step.Text.String == d.EndBelow || step.Text.String == d.Open {
				continue
			}
			w := float64(len(step.Text.String)) * 6
			b := drawing.Box(step.Text.At.X, step.Text.At.Y-6, step.Text.At.X+w, step.Text.At.Y+6)
			if b.Min.X < -1e-9 || b.Max.X > width+1e-9 || b.Min.Y < 0 || b.Max.Y > 96 {
				t.Fatalf("%q at %v of a width of %g", step.Text.String, b, width)
			}
			for _, other := range boxes {
				if b.Min.X < other.Max.X && other.Min.X < b.Max.X && b.Min.Y < other.Max.Y && other.Min.Y < b.Max.Y {
					t.Fatalf("%q covers another label", step.Text.String)
				}
			}
			boxes = append(boxes, b)
		}
		for i, p := range s.Points {
			if n := s.Nearest(p); s.Points[n] != p {
				t.Fatalf("at mark %d is mark %d", i, n)
			}
		}
	})
}

func TestStaySaysItsEnd(t *testing.T) {
	d := chart.StayData{From: 20000, To: 20120, Begun: 20003, Today: 20040, Earliest: 20090, End: "9 March", EndBelow: "in 50 days", Open: "no date"}
	if _, said := written(chart.NewStay(d, 700, 96, 12).Draw); !slices.Equal(said, []string{"9 March", "in 50 days"}) {
		t.Errorf("%q", said)
	}
	d.Undated = true
	if _, said := written(chart.NewStay(d, 700, 96, 12).Draw); !slices.Equal(said, []string{"no date"}) {
		t.Errorf("%q", said)
	}
	if _, said := written(func(pen drawing.Pen) { chart.DrawStayScale(pen, d, "today", 700, 44, 12) }); !slices.Contains(said, "today") {
		t.Errorf("%q", said)
	}
}

func TestLivesSayEachStageAndTheWatch(t *testing.T) {
	d := chart.LivesData{Lives: []chart.Life{{Name: "egg", Least: 1.2, Most: 4.1, Said: "1.2 to 4.1"}, {Name: "adult", Least: 10, Most: 40, Said: "10 to 40"}}, Days: 42, Now: 17, DaysSaid: "watch 42", NowSaid: "day 17"}
	r, said := written(func(pen drawing.Pen) { chart.DrawLives(pen, d, 500, 12) })
	for _, want := range []string{"egg", "1.2 to 4.1", "adult", "10 to 40", "watch 42", "day 17"} {
		if !slices.Contains(said, want) {
			t.Errorf("%q is not said: %q", want, said)
		}
	}
	var ends []float64 // of the bars: faint to the longest, full to the shortest
	for _, s := range r.Steps {
		if s.Kind == drawing.Filled && s.Role == drawing.LitLine {
			ends = append(ends, s.Path.Bounds().Max.X)
		}
	}
	if len(ends) != 4 || !(ends[1] < ends[0] && ends[0] < ends[3] && ends[3] < ends[2]) {
		t.Errorf("bars end at %v", ends)
	}
	d.Now = -1
	if _, said := written(func(pen drawing.Pen) { chart.DrawLives(pen, d, 500, 12) }); slices.Contains(said, "day 17") {
		t.Error("a watch that has not begun has come no way")
	}
}

// A look that does not count is told by its size from one that does.
func TestALookThatDoesNotCountIsSmaller(t *testing.T) {
	size := func(passing bool) (widest float64) {
		d := chart.WatchData{Today: 101, Looks: []chart.Look{{Day: 100, Passing: passing}}}
		w := chart.NewWatch(d, 700, 220, 12)
		var pen drawing.Recorder
		w.Draw(&pen)
		for _, step := range pen.Steps {
			if b := step.Path.Bounds(); step.Kind != drawing.Written && b.Contains(w.Points[0]) && b.Max.X-b.Min.X < 20 && b.Max.Y-b.Min.Y < 20 {
				widest = max(widest, b.Max.X-b.Min.X)
			}
		}
		return widest
	}
	if counts, passing := size(false), size(true); passing == 0 || passing >= counts {
		t.Errorf("%.1f wide, one that counts is %.1f", passing, counts)
	}
}
