package animal

import (
	"testing"
	"time"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/ui/particulars"
)

func problem(n byte, looks ...exam.Glimpse) exam.StoredProblem {
	return exam.StoredProblem{ID: model.ProblemID{ID: model.ID{n}}, Problem: exam.Problem{Glimpses: looks}}
}

func seen(day model.Day, standing exam.Standing) exam.Glimpse {
	return exam.Glimpse{At: model.Moment{UTC: int64(day) * 86400}, Standing: standing}
}

func TestSpotsOn_SlidesThroughTime(t *testing.T) {
	d := func(m time.Month, day int) model.Day { return model.NewDay(2027, m, day) }
	problems := []exam.StoredProblem{
		problem(2, seen(d(3, 1), exam.New), seen(d(3, 20), exam.Worse)),
		problem(1, seen(d(1, 5), exam.New), seen(d(2, 5), exam.Gone), seen(d(4, 1), exam.CameBack)),
	}
	levels := map[model.ProblemID]knowledge.Level{problems[0].ID: knowledge.VetWithinDays}
	for _, x := range []struct {
		day  model.Day
		want []int // numbers, gone ones negative
	}{
		{d(1, 4), nil},
		{d(1, 5), []int{1}},
		{d(2, 5), []int{-1}},
		{d(3, 1), []int{2, -1}},
		{d(4, 1), []int{2, 1}},
	} {
		var got []int
		for _, s := range SpotsOn(problems, x.day, levels) {
			n := s.Number
			if !s.Open {
				n = -n
			}
			got = append(got, n)
		}
		if len(got) != len(x.want) {
			t.Errorf("on %s: %v, want %v", x.day, got, x.want)
			continue
		}
		for i := range got {
			if got[i] != x.want[i] {
				t.Errorf("on %s: %v, want %v", x.day, got, x.want)
			}
		}
	}
	if since := SpotsOn(problems, d(5, 1), nil)[0].Since(); since != d(4, 1) {
		t.Errorf("what came back is open since %s, want the day it came back", since)
	}
}

func TestLevels_TakesTheHighestReason(t *testing.T) {
	a, b := model.ProblemID{ID: model.ID{1}}, model.ProblemID{ID: model.ID{2}}
	v := exam.Verdict{
		Signs: []exam.Sign{{Problem: a}, {Problem: b}},
		Reasons: []exam.Reason{
			{Level: knowledge.LookAgain, Signs: []int{0, 1}},
			{Level: knowledge.EmergencyToday, Signs: []int{1}},
		},
	}
	levels := particulars.Levels(v)
	if levels[a] != knowledge.LookAgain || levels[b] != knowledge.EmergencyToday {
		t.Errorf("levels %v", levels)
	}
	later, earlier := exam.StoredCheck{Check: exam.Check{Verdict: v}}, exam.StoredCheck{}
	later.Begun, earlier.Begun = model.Moment{UTC: 20 * 86400}, model.Moment{UTC: 10 * 86400}
	checks := []exam.StoredCheck{later, earlier}
	if got := LevelsOn(checks, 15); len(got) != 0 {
		t.Errorf("before the second check: %v", got)
	}
	if got := LevelsOn(checks, 20); got[b] != knowledge.EmergencyToday {
		t.Errorf("on the day of the second check: %v", got)
	}
}
