package survey

// Positives are the chances of 0, 1, 2 and so on up to all positive results when so many
// animals of the group are tested by a test that errs both ways. Exact; Cameron & Baldock
// 1998. Which animals are drawn does not depend on what their tests would say, so that
// it is the same to say first how many of the group would be positive, and then how many
// of these are drawn: their double sum, in another order.
func (g Group) Positives(tested int, test Test) ([]float64, error) {
	if err := first(g.refuse(), number("number tested", tested, 0, g.Animals), test.refuse()); err != nil {
		return nil, err
	}
	positive := make([]float64, tested+1)
	for would, p := range test.wouldBePositive(g.Infected, g.Animals-g.Infected).of {
		drawn := hypergeometric(g.Animals, would, tested)
		for i, q := range drawn.of {
			positive[drawn.from+i] += p * q
		}
	}
	return positive, nil
}

// wouldBePositive are the chances of how many of them would be positive if all were
// tested.
func (t Test) wouldBePositive(infected, others int) chances {
	return binomial(infected, t.Sensitivity).sum(binomial(others, 1-t.Specificity))
}

// CutoffSensitivity is the chance that the group is taken for infected: that as many
// results as the cut-off (1 up to the number tested), or more, are positive.
func (g Group) CutoffSensitivity(tested, cutoff int, test Test) (float64, error) {
	err := first(g.refuse(), number("number tested", tested, 1, g.Animals), number("cut-off", cutoff, 1, tested), test.refuse())
	if err != nil {
		return 0, err
	}
	return g.taken(test.wouldBePositive(g.Infected, g.Animals-g.Infected), tested, cutoff), nil
}

// negligible is a chance that changes no digit of a sum of chances.
const negligible = 1e-18

func (g Group) taken(wouldBe chances, tested, cutoff int) float64 {
	below := 0.0
	for would, p := range wouldBe.of {
		if p > negligible {
			below += p * hypergeometric(g.Animals, would, tested).below(cutoff)
		}
	}
	return max(0, 1-below)
}

// CutoffSpecificity is the chance that a group without an infected animal is not taken
// for infected: that fewer than the cut-off (1 up to the number tested) are positive. As many as 100,000. Each
// animal is positive or not by itself, so that the size of the group does not matter.
func CutoffSpecificity(tested, cutoff int, specificity float64) (float64, error) {
	err := first(number("number tested", tested, 1, mostCounted), number("cut-off", cutoff, 1, tested), chance("specificity", specificity))
	if err != nil {
		return 0, err
	}
	return binomial(tested, 1-specificity).below(cutoff), nil
}

// LargeCutoffSensitivity is [Group.CutoffSensitivity] where that share is infected of a
// large group, or of one of unknown size.
func LargeCutoffSensitivity(tested, cutoff int, share float64, test Test) (float64, error) {
	err := first(number("number tested", tested, 1, mostCounted), number("cut-off", cutoff, 1, tested), chance("share infected", share), test.refuse())
	if err != nil {
		return 0, err
	}
	return 1 - binomial(tested, test.positive(share)).below(cutoff), nil
}
