package chart_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/chart"
	"coilward/model/drawing"
)

// Whatever is asked and whenever it is met: no mark is left of the beginning, none that
// is still to come left of today, none covers another, and no word lies on today's line.
func TestMarksOfAStayLieOnTheirSideOfToday(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words, begun := []string{"check", "at the lab", "Serpentovirus"}, model.Day(100)
		today := begun + model.Day(rapid.IntRange(0, 200).Draw(t, "today"))
		d := chart.StayData{From: begun - 2, To: today + 120, Begun: begun, Today: today, Earliest: today + 90}
		for range rapid.IntRange(0, 11).Draw(t, "marks") {
			m := chart.Milestone{Said: rapid.SampledFrom(words).Draw(t, "said"), Standing: chart.Standing(rapid.IntRange(0, 3).Draw(t, "standing"))}
			if m.Day = today + model.Day(rapid.IntRange(0, 100).Draw(t, "to come")); m.Standing == chart.IsMet {
				m.Day = begun + model.Day(rapid.IntRange(0, int(today-begun)).Draw(t, "since"))
			}
			switch {
			case m.Standing != chart.Holds:
			case rapid.Bool().Draw(t, "undated"):
				m.Undated, d.Undated = true, true
			case rapid.Bool().Draw(t, "happened"):
				m.Happened, m.Day = true, begun+model.Day(rapid.IntRange(-20, int(today-begun)).Draw(t, "on"))
			}
			d.Milestones = append(d.Milestones, m)
		}
		const width, size = 620, 12
		s := chart.NewStay(d, width, 96, size)
		x := func(day model.Day) float64 { // of a mark alone on a day
			one := d
			one.Today, one.Milestones = day, []chart.Milestone{{Day: day}}
			return chart.NewStay(one, width, 96, size).Points[0].X
		}
		for i, at := range s.Points {
			if at.X < x(begun)-.01 {
				t.Errorf("mark %d is at %.1f, the beginning at %.1f", i, at.X, x(begun))
			}
			past := d.Milestones[i].Happened || d.Milestones[i].Standing == chart.IsMet
			if len(d.Milestones) == 1 && d.Milestones[i].Happened && at.X > max(x(begun), x(d.Milestones[i].Day))+.01 {
				t.Errorf("what happened on day %d stands at %.1f, not at %.1f", d.Milestones[i].Day, at.X, x(d.Milestones[i].Day))
			}
			if !past && at.X < x(today)-.01 {
				t.Errorf("mark %d is still to come and stands at %.1f, today at %.1f", i, at.X, x(today))
			}
			for j := range d.Milestones {
				if d.Milestones[i].Undated && !d.Milestones[j].Undated && !d.Milestones[j].Happened && d.Milestones[j].Standing != chart.IsMet && at.X < s.Points[j].X {
					t.Errorf("mark %d has no day and stands at %.1f, before %d of a day at %.1f", i, at.X, j, s.Points[j].X)
				}
			}
			if d.Milestones[i].Undated && len(d.Milestones) < 4 && at.X < x(d.Earliest)-size*5 {
				t.Errorf("mark %d has no day and stands at %.1f, the end at %.1f", i, at.X, x(d.Earliest))
			}
			for j := range i {
				if far := at.X - s.Points[j].X; far*far < 16*16 {
					t.Errorf("marks %d and %d are at %.1f and %.1f", j, i, s.Points[j].X, at.X)
				}
			}
		}
		var pen drawing.Recorder
		s.Draw(&pen)
		for _, step := range pen.Steps {
			said := step.Text
			if w := float64(len(said.String)) * size / 2; step.Kind == drawing.Written && slices.Contains(words, said.String) && said.At.X > 0 && said.At.X < x(today) && said.At.X+w > x(today) {
				t.Errorf("%q lies on today's line", said.String)
			}
		}
	})
}
