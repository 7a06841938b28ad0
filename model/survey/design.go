package survey

// Design is how many animals are tested, and from how many positive results on their
// group is taken for infected.
type Design struct {
	Tested, Cutoff int
	Sensitivity    float64 // chance of taking an infected group for infected
	Specificity    float64 // chance of not taking another one for infected
}

// mostRounds is how many rounds are tried where one is not enough.
const mostRounds = 12

// SmallestDesign is the one of fewest animals whose sensitivity and specificity are as
// great as wanted (above 0, below 1). Some sources give the last number of positive
// results that is still passed over: one less than the cut-off here. The test must tell
// infected from others: Se + Sp above 1. Where no number of animals is enough the error is
// an [UnreachableError]; its rounds test every animal, and all results are counted
// together against one cut-off.
func (g Group) SmallestDesign(test Test, sensitivity, specificity float64) (Design, error) {
	if err := first(g.refuse(), test.tells(), within("wanted sensitivity", sensitivity), within("wanted specificity", specificity)); err != nil {
		return Design{}, err
	}
	wouldBe := test.wouldBePositive(g.Infected, g.Animals-g.Infected)
	found, best := smallest(g.Animals, test, sensitivity, specificity, func(tested, cutoff int) float64 {
		return g.taken(wouldBe, tested, cutoff)
	})
	if found.Tested > 0 {
		return found, nil
	}
	unreachable := &UnreachableError{Wanted: sensitivity, Best: best}
	for rounds := 2; rounds <= mostRounds; rounds++ {
		cutoff, _ := cutoffFor(rounds*g.Animals, 1, test, specificity)
		reached := 1 - test.wouldBePositive(rounds*g.Infected, rounds*(g.Animals-g.Infected)).below(cutoff)
		if reaches(reached, sensitivity) {
			unreachable.Rounds, unreachable.Reached = rounds, reached
			break
		}
	}
	return Design{}, unreachable
}

// LargeDesign is like [Group.SmallestDesign] where that share is infected of a large
// group, or of one of unknown size, of which at most so many (1 to 100,000) can be tested.
func LargeDesign(share float64, test Test, sensitivity, specificity float64, most int) (Design, error) {
	err := first(some("share infected", share), test.tells(), within("wanted sensitivity", sensitivity),
		within("wanted specificity", specificity), number("greatest number tested", most, 1, mostCounted))
	if err != nil {
		return Design{}, err
	}
	found, best := smallest(most, test, sensitivity, specificity, func(tested, cutoff int) float64 {
		return 1 - binomial(tested, test.positive(share)).below(cutoff)
	})
	if found.Tested == 0 {
		return Design{}, &UnreachableError{Wanted: sensitivity, Best: best}
	}
	return found, nil
}

// smallest goes through the numbers tested one by one: with each higher cut-off the
// sensitivity falls back, so that it does not rise with them steadily. Of a number only the
// lowest cut-off that is specific enough can do. Nothing found is the zero design, and
// then best is the greatest sensitivity there was.
func smallest(most int, test Test, sensitivity, specificity float64, taken func(tested, cutoff int) float64) (found Design, best float64) {
	cutoff := 1
	for tested := 1; tested <= most; tested++ {
		var specific float64
		cutoff, specific = cutoffFor(tested, cutoff, test, specificity)
		sensitive := taken(tested, cutoff)
		if reaches(sensitive, sensitivity) {
			return Design{tested, cutoff, sensitive, specific}, sensitive
		}
		best = max(best, sensitive)
	}
	return Design{}, best
}

// cutoffFor is the lowest cut-off, from that one on, at which so many tests of others
// are specific enough, and how specific they are.
func cutoffFor(tests, from int, test Test, specificity float64) (cutoff int, specific float64) {
	others := binomial(tests, 1-test.Specificity)
	for cutoff = from; ; cutoff++ {
		if specific = others.below(cutoff); reaches(specific, specificity) {
			return cutoff, specific
		}
	}
}
