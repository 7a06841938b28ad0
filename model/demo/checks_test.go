package demo

import (
	"slices"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
)

// Every check of the story began with what a check of that moment begins with: put
// right without a change, from what is kept, it is judged as it was.
func TestChecksAreThoseOfAnyKeeper(t *testing.T) {
	c, tables := filled(t, time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC))
	checks, urgent, weighed := 0, 0, 0
	err := c.View(func(v model.View) error {
		all, err := animals.All(v)
		if err != nil {
			return err
		}
		for _, a := range all {
			problems, err := exam.Problems(v, a.ID)
			if err != nil {
				return err
			}
			now, err := history.Read(tables, v, a, v.Now())
			if err != nil {
				return err
			}
			for _, k := range now.Checks {
				records, err := history.Read(tables, v, a, k.Begun)
				if err != nil {
					return err
				}
				before := exam.Before(problems, k.ID, k.Begun)
				standing := records.Stand(tables, before, k.Begun)
				again := exam.Again(tables, exam.Beginning{Check: k.ID, Animal: a.ID, At: k.Begun, Problems: before, Context: records.Context,
					Sheds: records.Sheds, StuckCaps: records.StuckCaps(), VetBy: standing.VetFor(), Noted: standing.VetNoted()}, k.Check)
				verdict := again.Verdict(tables, k.Finished)
				if verdict.Level != k.Verdict.Level || len(verdict.Reasons) != len(k.Verdict.Reasons) || k.Context.Mass != records.Context.Mass || k.Context.Age != records.Context.Age {
					t.Errorf("%s, %s: stands as %s for %d reasons with %+v, want %s for %d with %+v", a.Name, k.Begun.Day(), k.Verdict.Level, len(k.Verdict.Reasons), k.Context, verdict.Level, len(verdict.Reasons), records.Context)
				}
				checks++
				if !k.Context.Mass.IsZero() {
					weighed++
				}
				if k.Verdict.Level > knowledge.NoAction {
					urgent++
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if checks < 50 || urgent < 8 || weighed < checks-2 {
		t.Errorf("%d checks, %d of them urgent, %d with a weight", checks, urgent, weighed)
	}
}

// What is for a vet is so for somebody who can be called in time: nothing lies
// overdue, whatever the day.
func TestNoVetIsOverdue(t *testing.T) {
	for _, now := range []time.Time{time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC), time.Date(2026, 11, 28, 23, 30, 0, 0, time.UTC), time.Date(2027, 7, 1, 0, 10, 0, 0, time.UTC)} {
		c, tables := filled(t, now)
		levels := map[knowledge.Level][]string{}
		err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			if err != nil {
				return err
			}
			for _, a := range all {
				records, err := history.Read(tables, v, a, v.Now())
				if err != nil {
					return err
				}
				problems, err := exam.Problems(v, a.ID)
				if err != nil {
					return err
				}
				standing := records.Stand(tables, problems, v.Now())
				levels[standing.Level()] = append(levels[standing.Level()], a.Name)
				for _, o := range standing.Due() {
					if o.By < v.Now().Day() {
						t.Errorf("%s: %s was due by %s, today is %s", a.Name, o.Kind, o.By, v.Now().Day())
					}
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		for level, want := range map[knowledge.Level][]string{knowledge.VetWithinDays: {"Juniper", "Sorrel"}, knowledge.LookAgain: {"Linnet", "Teasel"}, knowledge.EmergencyToday: nil} {
			got := levels[level]
			slices.Sort(got)
			if !slices.Equal(got, want) {
				t.Errorf("on %s at %s: %v, want %v", now.Format(time.DateOnly), level, got, want)
			}
		}
	}
}

// What heals comes back as the same problem, and what a vet has closed stays closed.
func TestWhatComesBackIsTheSameProblem(t *testing.T) {
	c, _ := filled(t, time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC))
	courses := map[string][]exam.Standing{}
	err := c.View(func(v model.View) error {
		all, err := animals.All(v)
		if err != nil {
			return err
		}
		for _, a := range all {
			problems, err := exam.Problems(v, a.ID)
			if err != nil {
				return err
			}
			for _, p := range problems {
				var course []exam.Standing
				for _, g := range p.Glimpses {
					course = append(course, g.Standing)
				}
				courses[a.Name+" "+string(p.What)] = course
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string][]exam.Standing{
		"Linnet nose-rub": {exam.New, exam.Better, exam.Gone, exam.CameBack},
		"Bramble sore":    {exam.New, exam.Better, exam.Gone, exam.Closed},
		"Plover mites":    {exam.New, exam.Better, exam.Gone, exam.Closed},
	} {
		if !slices.Equal(courses[name], want) {
			t.Errorf("%s: its course is %v, want %v", name, courses[name], want)
		}
	}
}
