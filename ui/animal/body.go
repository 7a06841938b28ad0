package animal

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/ui/particulars"
)

// Spot is one problem as it stood on a day.
type Spot struct {
	exam.StoredProblem
	// Number names it on the drawing, in the list and in the chart: problems are
	// counted as they were first seen, so that a number never changes.
	Number int
	Now    exam.Glimpse // the last look on or before the day
	Looks  int          // how many looks until then
	Open   bool
	Level  knowledge.Level // as the last check until then said
}

// Since is the day on which it was seen first, or came back last.
func (s Spot) Since() model.Day {
	since := s.First().At.Day()
	for _, g := range s.Glimpses[:s.Looks] {
		if g.Standing == exam.CameBack {
			since = g.At.Day()
		}
	}
	return since
}

// SpotsOn are the problems known on a day, the most urgent of the open ones
// first, those gone after them. levels are those of the last check until then.
func SpotsOn(problems []exam.StoredProblem, day model.Day, levels map[model.ProblemID]knowledge.Level) []Spot {
	order := slices.Clone(problems)
	slices.SortStableFunc(order, func(a, b exam.StoredProblem) int {
		return cmp.Or(cmp.Compare(a.First().At.UTC, b.First().At.UTC), slices.Compare(a.ID.ID[:], b.ID.ID[:]))
	})
	var spots []Spot
	for i, p := range order {
		s := Spot{StoredProblem: p, Number: i + 1, Level: levels[p.ID]}
		for _, g := range p.Glimpses {
			if g.At.Day() <= day {
				s.Now, s.Looks = g, s.Looks+1
			}
		}
		if s.Looks > 0 {
			s.Open = s.Now.Standing.Present()
			spots = append(spots, s)
		}
	}
	slices.SortStableFunc(spots, compareSpots)
	return spots
}

func compareSpots(a, b Spot) int {
	if a.Open != b.Open {
		if a.Open {
			return -1
		}
		return 1
	}
	if a.Open {
		return cmp.Or(cmp.Compare(b.Level, a.Level), cmp.Compare(a.Number, b.Number))
	}
	return cmp.Compare(b.Now.At.UTC, a.Now.At.UTC)
}

// LevelsOn is how urgent each problem was by the last check on or before a day.
// checks may stand in any order.
func LevelsOn(checks []exam.StoredCheck, day model.Day) map[model.ProblemID]knowledge.Level {
	var last *exam.StoredCheck
	for i := range checks {
		c := &checks[i]
		if c.Begun.Day() <= day && (last == nil || c.Begun.UTC >= last.Begun.UTC) {
			last = c
		}
	}
	if last == nil {
		return nil
	}
	return particulars.Levels(last.Verdict)
}
