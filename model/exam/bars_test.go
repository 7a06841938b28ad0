package exam_test

import (
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/exam"
)

func seenOn(day model.Day, standing exam.Standing, grade exam.Grade, along int) exam.Glimpse {
	return exam.Glimpse{At: model.Moment{UTC: int64(day)*86400 + 43200}, Standing: standing, Grade: grade, Place: body.OnTrunk(along, 0)}
}

func TestBars_AsTheyStoodOnADay(t *testing.T) {
	sore := exam.StoredProblem{ID: model.ProblemID{ID: model.ID{1}}, Problem: exam.Problem{Stop: "skin", What: "sore", Glimpses: []exam.Glimpse{
		seenOn(100, exam.New, exam.Slight, 4000), seenOn(110, exam.Worse, exam.Severe, 4100), seenOn(120, exam.Gone, exam.Severe, 4100),
		seenOn(150, exam.CameBack, exam.Marked, 4200), seenOn(160, exam.Closed, exam.Marked, 4200)}}}
	for _, c := range []struct {
		until model.Day
		open  bool
		along int
		spans []exam.Span
	}{
		{99, false, 0, nil},
		{100, true, 4000, []exam.Span{{From: 100, To: 100, Grade: exam.Slight}}},
		{109, true, 4000, []exam.Span{{From: 100, To: 109, Grade: exam.Slight}}},
		{115, true, 4100, []exam.Span{{From: 100, To: 110, Grade: exam.Slight}, {From: 110, To: 115, Grade: exam.Severe}}},
		{149, false, 4100, []exam.Span{{From: 100, To: 110, Grade: exam.Slight}, {From: 110, To: 120, Grade: exam.Severe}}},
		{155, true, 4200, []exam.Span{{From: 100, To: 110, Grade: exam.Slight}, {From: 110, To: 120, Grade: exam.Severe}, {From: 150, To: 155, Grade: exam.Marked}}},
		{900, false, 4200, []exam.Span{{From: 100, To: 110, Grade: exam.Slight}, {From: 110, To: 120, Grade: exam.Severe}, {From: 150, To: 160, Grade: exam.Marked}}},
	} {
		bars := exam.Bars([]exam.StoredProblem{sore}, c.until)
		if len(c.spans) == 0 {
			if len(bars) != 0 {
				t.Errorf("until %d: %+v before it was seen", c.until, bars)
			}
			continue
		}
		if len(bars) != 1 {
			t.Fatalf("until %d: %d bars", c.until, len(bars))
		}
		b := bars[0]
		if b.Problem != sore.ID || b.What != "sore" || b.Open != c.open || b.Place.Along != c.along || len(b.Spans) != len(c.spans) {
			t.Errorf("until %d: %+v", c.until, b)
			continue
		}
		for i, want := range c.spans {
			if b.Spans[i] != want {
				t.Errorf("until %d, span %d: %+v, want %+v", c.until, i, b.Spans[i], want)
			}
		}
	}
}

// Spans run forward and end by the day asked about; on each day a bar stands
// just where the last look until then saw the problem.
func TestBars_StandWhereTheLastLookSawTheProblem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := model.Day(1000)
		var looks []exam.Glimpse
		for range rapid.IntRange(1, 8).Draw(t, "looks") {
			day += model.Day(rapid.IntRange(1, 40).Draw(t, "days"))
			standing := rapid.SampledFrom([]exam.Standing{exam.New, exam.Same, exam.Worse, exam.Better, exam.Gone, exam.CameBack, exam.Closed, exam.Unasked}).Draw(t, "standing")
			looks = append(looks, seenOn(day, standing, exam.Grade(rapid.IntRange(0, 3).Draw(t, "grade")), 5000))
		}
		until := model.Day(rapid.IntRange(1000, int(day)+20).Draw(t, "until"))
		present := func(d model.Day) (there bool) {
			for _, g := range looks {
				if g.At.Day() <= d {
					there = g.Standing.Present()
				}
			}
			return there
		}
		var spans []exam.Span
		open := false
		for _, b := range exam.Bars([]exam.StoredProblem{{Problem: exam.Problem{Glimpses: looks}}}, until) {
			spans, open = b.Spans, b.Open
		}
		if open != present(until) {
			t.Fatalf("open is %v", open)
		}
		for i, s := range spans {
			if s.From > s.To || s.To > until || i > 0 && spans[i-1].To > s.From {
				t.Fatalf("spans %+v until %d", spans, until)
			}
		}
		for d := model.Day(1000); d < until; d++ {
			covered := false
			for _, s := range spans {
				covered = covered || s.From <= d && d < s.To
			}
			if covered != present(d) {
				t.Fatalf("day %d: covered %v, there %v; %+v", d, covered, present(d), spans)
			}
		}
	})
}
