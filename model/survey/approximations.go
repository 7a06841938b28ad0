package survey

import "math"

// CannonRoe is their approximation of how many are to be tested by a perfect test, and
// the figure before it was rounded up: [1 - (1-CL)^(1/D)] [N - (D-1)/2]. It is at times one
// more than the exact [Group.Smallest]. Their table was worked out with fractions of an
// infected animal, so that these are taken here alone: 1 and more.
func CannonRoe(animals int, infected, wanted float64) (tested int, before float64, err error) {
	if err := first(number("number of animals", animals, 1, math.MaxInt), within("wanted chance", wanted)); err != nil {
		return 0, 0, err
	}
	if !(infected >= 1 && infected <= float64(animals)) {
		return 0, 0, &InputError{"number of infected animals", infected, "from 1 to the number of animals"}
	}
	before = (1 - math.Pow(1-wanted, 1/infected)) * (float64(animals) - (infected-1)/2)
	return roundUp(before), before, nil
}

// MacDiarmidSensitivity is his approximation of [Group.Sensitivity]: 1 - (1 - Se n/N)^D.
func (g Group) MacDiarmidSensitivity(tested int, sensitivity float64) (float64, error) {
	err := first(g.refuse(), number("number tested", tested, 0, g.Animals), chance("sensitivity", sensitivity))
	if err != nil {
		return 0, err
	}
	return anyOf(sensitivity*float64(tested)/float64(g.Animals), g.Infected), nil
}

// MacDiarmidSmallest is his approximation of [Group.Smallest], and the figure before it
// was rounded up: N/Se [1 - (1-CL)^(1/D)]. Where that is more than all the animals the error
// is an [UnreachableError].
func (g Group) MacDiarmidSmallest(sensitivity, wanted float64) (tested int, before float64, err error) {
	if err := first(g.refuse(), some("sensitivity", sensitivity), within("wanted chance", wanted)); err != nil {
		return 0, 0, err
	}
	if err := g.reach(sensitivity, wanted); err != nil {
		return 0, 0, err
	}
	before = float64(g.Animals) / sensitivity * (1 - math.Pow(1-wanted, 1/float64(g.Infected)))
	return min(g.Animals, roundUp(before)), before, nil
}
