package survey

import (
	"errors"
	"math"
	"sort"
)

// Group is a group whose animals are counted, and how many of them, if it is infected,
// are at least: the number that a survey is to find.
type Group struct {
	Animals  int // 1 to 100,000
	Infected int // 1 up to all
}

func (g Group) refuse() error {
	return first(number("number of animals", g.Animals, 1, mostCounted), number("number of infected animals", g.Infected, 1, g.Animals))
}

// Sensitivity is the chance that one infected animal at least is detected when so many
// are tested, each once, by a test of that sensitivity that detects nothing in the
// others. Exact: 1 - sum over d of C(D,d) C(N-D,n-d) / C(N,n) (1-Se)^d.
func (g Group) Sensitivity(tested int, sensitivity float64) (float64, error) {
	err := first(g.refuse(), number("number tested", tested, 0, g.Animals), chance("sensitivity", sensitivity))
	if err != nil {
		return 0, err
	}
	return g.found(tested, sensitivity), nil
}

func (g Group) found(tested int, sensitivity float64) float64 {
	missed := 0.0
	drawn := hypergeometric(g.Animals, g.Infected, tested)
	for i, p := range drawn.of {
		missed += p * math.Pow(1-sensitivity, float64(drawn.from+i))
	}
	return max(0, 1-missed)
}

// Smallest is the fewest animals to be tested so that the chance of Sensitivity is as
// great as wanted (above 0, below 1). Where all of them are too few the error is an
// [UnreachableError]: an infected animal that a test can miss is missed in every size of
// group.
func (g Group) Smallest(sensitivity, wanted float64) (int, error) {
	if err := first(g.refuse(), some("sensitivity", sensitivity), within("wanted chance", wanted)); err != nil {
		return 0, err
	}
	if err := g.reach(sensitivity, wanted); err != nil {
		return 0, err
	}
	return 1 + sort.Search(g.Animals-1, func(i int) bool { return reaches(g.found(i+1, sensitivity), wanted) }), nil
}

// reach refuses what testing every animal once does not give.
func (g Group) reach(sensitivity, wanted float64) error {
	best := anyOf(sensitivity, g.Infected)
	if reaches(best, wanted) {
		return nil
	}
	rounds, err := draws(best, wanted)
	unreachable := &UnreachableError{Wanted: wanted, Best: best}
	if err != nil {
		return errors.Join(unreachable, err)
	}
	unreachable.Rounds, unreachable.Reached = rounds, anyOf(best, rounds)
	return unreachable
}
