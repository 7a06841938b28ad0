package exam

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/knowledge"
)

// Problems are all problems of an animal, open and closed, oldest first.
func Problems(v model.View, animal model.AnimalID) ([]StoredProblem, error) {
	all, unread, err := LegibleProblems(v, animal)
	if err = errors.Join(append(unread, err)...); err != nil {
		return nil, fmt.Errorf("list the problems of an animal: %w", err)
	}
	return all, nil
}

// LegibleProblems are the problems that can be read, in the order of Problems.
// unread has one error for each of the others.
func LegibleProblems(v model.View, animal model.AnimalID) (all []StoredProblem, unread []error, err error) {
	err = v.Timeline(animal.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if d.Type != model.TypeProblem {
			return true
		}
		if p, err := ReadProblem(d); err != nil {
			unread = append(unread, err)
		} else {
			all = append(all, p)
		}
		return true
	})
	InOrder(all)
	return all, unread, err
}

// InOrder sorts problems as Problems gives them: the one that was seen first comes
// first.
func InOrder(problems []StoredProblem) {
	slices.SortStableFunc(problems, func(a, b StoredProblem) int {
		return cmp.Or(cmp.Compare(a.First().At.UTC, b.First().At.UTC), slices.Compare(a.ID.ID[:], b.ID.ID[:]))
	})
}

// KnownOn are the problems as the looks until a day knew them, in their order; one
// that was first seen later is left out.
func KnownOn(problems []StoredProblem, day model.Day) []StoredProblem {
	var known []StoredProblem
	for _, p := range problems {
		p.Glimpses = slices.DeleteFunc(slices.Clone(p.Glimpses), func(g Glimpse) bool { return g.At.Day() > day })
		if len(p.Glimpses) > 0 {
			known = append(known, p)
		}
	}
	return known
}

// Numbers names each problem by its place among all of the animal's, in the
// order in which they were first seen, so that a number never changes. The
// problems must be in the order in which Problems gives them.
func Numbers(problems []StoredProblem) map[model.ProblemID]int {
	numbers := map[model.ProblemID]int{}
	for i, p := range problems {
		numbers[p.ID] = i + 1
	}
	return numbers
}

// ReadProblem reads the body of a problem document.
func ReadProblem(d model.Document) (StoredProblem, error) {
	p := StoredProblem{ID: model.ProblemID{ID: d.ID}}
	if err := d.Decode(ProblemVersion, &p.Problem); err != nil {
		return StoredProblem{}, err
	}
	if len(p.Glimpses) == 0 {
		return StoredProblem{}, fmt.Errorf("read problem %s: no look at it is kept", d.ID)
	}
	return p, nil
}

// ReadCheck reads the body of an entry of kind "check".
func ReadCheck(d model.Document) (Check, error) {
	var c Check
	return c, d.Decode(CheckVersion, &c)
}

// StoredCheck is a check with the entry it is kept as.
type StoredCheck struct {
	ID model.EntryID
	By model.PersonID
	Check
}

// Latest is the animal's newest check that began before that moment, if there
// is one.
func Latest(v model.View, animal model.AnimalID, before model.Moment) (StoredCheck, bool, error) {
	var latest StoredCheck
	var found bool
	var failed error
	err := v.Timeline(animal.Subject(), model.Beginning, before.UTC, func(d model.Document) bool {
		if d.Type != model.TypeEntry || d.Kind != KindCheck {
			return true
		}
		latest.ID, latest.By, found = model.EntryID{ID: d.ID}, d.By, true
		latest.Check, failed = ReadCheck(d)
		return false
	})
	if err = errors.Join(err, failed); err != nil {
		return StoredCheck{}, false, fmt.Errorf("find the latest check of an animal: %w", err)
	}
	return latest, found, nil
}

// Bar is one problem on the chart of body and time.
type Bar struct {
	Problem model.ProblemID
	What    knowledge.FindingID
	Place   body.Place // where it was last seen
	Open    bool       // the last span still stands
	Spans   []Span     // in the order of time; between two that do not join it was gone
}

// Span is a stretch of time over which a problem stood at one grade.
type Span struct {
	From  model.Day
	To    model.Day // of the last span of an open bar: the day asked about
	Grade Grade
}

// Bars are the problems as bars, as the records told of them on a day: each look
// holds until the next one, and what was seen later is left out. A bar without
// a span is left out.
func Bars(problems []StoredProblem, until model.Day) []Bar {
	bars := make([]Bar, 0, len(problems))
	for _, p := range problems {
		b := Bar{Problem: p.ID, What: p.What}
		for _, g := range p.Glimpses {
			day := g.At.Day()
			if day > until {
				break
			}
			if b.Open {
				b.Spans[len(b.Spans)-1].To = day
			}
			b.Place, b.Open = g.Place, g.Standing.Present()
			if b.Open {
				b.Spans = append(b.Spans, Span{From: day, To: until, Grade: g.Grade})
			}
		}
		if len(b.Spans) > 0 {
			bars = append(bars, b)
		}
	}
	return bars
}

// with is the problem with the looks of one check replaced by those given.
func (p Problem) with(check model.EntryID, looks ...Glimpse) Problem {
	p.Glimpses = slices.DeleteFunc(slices.Clone(p.Glimpses), func(g Glimpse) bool { return g.Check == check })
	for _, g := range looks {
		g.Check = check
		p.Glimpses = append(p.Glimpses, g)
	}
	slices.SortStableFunc(p.Glimpses, func(a, b Glimpse) int { return cmp.Compare(a.At.UTC, b.At.UTC) })
	return p
}

// After are an animal's problems as they stand once this walk is kept as that
// check, but for those that it notes for the first time.
func (w Walk) After(problems []StoredProblem, check model.EntryID) []StoredProblem {
	after, links := slices.Clone(problems), w.links()
	for i, p := range after {
		if l, spoken := links[p.ID]; spoken {
			after[i].Problem = p.with(check, l.looks...)
		}
	}
	return after
}

// Stand is what the tables say today about the problems that are open, as
// they were last seen: what an animal stands with when nothing is looked at.
func Stand(t *knowledge.Tables, problems []StoredProblem, c Context, at model.Moment, sheds ...model.Moment) Verdict {
	return Urgency(t, Facts{At: at, Context: c, Signs: Open(problems, sheds...)})
}

// Open are the open problems as signs, as they were last seen; sheds are the
// animal's, in any order.
func Open(problems []StoredProblem, sheds ...model.Moment) []Sign {
	var signs []Sign
	for _, p := range problems {
		if last := p.Last(); p.Open() {
			signs = append(signs, Sign{
				Stop: p.Stop, What: p.What, Grade: last.Grade, Standing: last.Standing, Baseline: p.Baseline,
				Worsened: p.Worsened(), WorseAgain: p.worsenings() > 1, Differs: last.Differs, Old: last.Old, Sheds: p.kept(sheds), Place: last.Place, Rough: last.Rough, Problem: p.ID, Seen: last.At.Day(),
			})
		}
	}
	return signs
}
