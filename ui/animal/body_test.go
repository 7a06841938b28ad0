package animal

import (
	"testing"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
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
		problem(1, seen(d(1, 5), exam.New), seen(d(2, 5), exam.Gone), seen(d(4, 1), exam.CameBack)),
		problem(2, seen(d(3, 1), exam.New), seen(d(3, 20), exam.Worse)),
	}
	worse := exam.Verdict{Level: knowledge.VetWithinDays, Signs: []exam.Sign{{Problem: problems[1].ID}}, Reasons: []exam.Reason{{Level: knowledge.VetWithinDays, Signs: []int{0}}}}
	stands := history.Standing{Parts: []history.Part{{Verdict: worse}}}
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
		for _, s := range SpotsOn(problems, x.day, stands) {
			n := s.Number
			if !s.Open() {
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
	if since := SpotsOn(problems, d(5, 1), history.Standing{})[0].Since(); since != d(4, 1) {
		t.Errorf("what came back is open since %s, want the day it came back", since)
	}
}

// A problem of a past day is judged by what was known then: a check of part of the
// body takes no level from what it did not look at.
func TestBody_LevelsOfAPastDay(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	lump, mouth := model.ProblemID{ID: model.ID{1}}, model.ProblemID{ID: model.ID{2}}
	look := func(id byte, day model.Day, s exam.Standing) exam.Glimpse {
		g := seen(day, s)
		g.Check, g.Grade = model.EntryID{ID: model.ID{id}}, exam.Severe
		return g
	}
	problems := []exam.StoredProblem{
		{ID: lump, Problem: exam.Problem{Stop: "third-middle", What: "lump", Glimpses: []exam.Glimpse{look(10, 100, exam.New), look(12, 130, exam.Gone)}}},
		{ID: mouth, Problem: exam.Problem{Stop: "mouth", What: "plaque", Glimpses: []exam.Glimpse{look(11, 110, exam.New)}}},
	}
	check := func(id byte, day model.Day, of ...exam.StoredProblem) exam.StoredCheck {
		at := model.Moment{UTC: int64(day) * 86400}
		c := exam.StoredCheck{ID: model.EntryID{ID: model.ID{id}}}
		c.Begun, c.Finished = at, at
		c.Verdict = exam.Stand(tables, exam.KnownOn(of, day), exam.Context{Age: exam.Adult}, at)
		return c
	}
	r := history.Records{Checks: []exam.StoredCheck{check(12, 130, problems...), check(11, 110, problems[1]), check(10, 100, problems[0])}}
	for _, x := range []struct {
		day         model.Day
		lump, mouth bool // whether it is a matter for the vet
	}{{99, false, false}, {100, true, false}, {115, true, true}, {130, false, true}} {
		at := model.Moment{UTC: int64(x.day)*86400 + 86399}
		stands := r.StandOn(tables, history.Whose{}, problems, at)
		for _, s := range SpotsOn(problems, x.day, stands) {
			wants := map[model.ProblemID]bool{lump: x.lump, mouth: x.mouth}[s.ID]
			if s.Open() && (s.Level >= knowledge.VetWithinDays) != wants {
				t.Errorf("on day %d the %s is %s; for the vet: %v", x.day, s.What, s.Level, wants)
			}
		}
		if got := len(exam.KnownOn(problems, x.day)); (got == 0) != (x.day < 100) {
			t.Errorf("on day %d %d problems are known", x.day, got)
		}
	}
}
