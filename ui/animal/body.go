package animal

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
)

// Spot is one problem as it stood on a day: its looks are those until then.
type Spot struct {
	exam.StoredProblem
	Number int // names it on the drawing, in the list and in the chart
	Level  knowledge.Level
}

// Since is the day on which it was seen first, or came back last.
func (s Spot) Since() model.Day {
	since := s.First().At.Day()
	for _, g := range s.Glimpses {
		if g.Standing == exam.CameBack {
			since = g.At.Day()
		}
	}
	return since
}

// SpotsOn are the problems known on a day, the most urgent of the open ones
// first, those gone after them. problems are all of the animal's, in their order;
// stands is how the animal stood on that day.
func SpotsOn(problems []exam.StoredProblem, day model.Day, stands history.Standing) []Spot {
	numbers := exam.Numbers(problems)
	var spots []Spot
	for _, p := range exam.KnownOn(problems, day) {
		spots = append(spots, Spot{StoredProblem: p, Number: numbers[p.ID], Level: stands.Of(p.ID)})
	}
	slices.SortStableFunc(spots, compareSpots)
	return spots
}

func compareSpots(a, b Spot) int {
	if a.Open() != b.Open() {
		if a.Open() {
			return -1
		}
		return 1
	}
	if a.Open() {
		return cmp.Or(cmp.Compare(b.Level, a.Level), cmp.Compare(a.Number, b.Number))
	}
	return cmp.Compare(b.Last().At.UTC, a.Last().At.UTC)
}
