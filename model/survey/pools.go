package survey

import "math"

// Pooling is samples of so many animals put together and tested as one, of a large group
// or of one of unknown size. The test is that of a pool: its sensitivity is lower
// where one infected animal is diluted by many others.
type Pooling struct {
	Size  int     // animals in each pool, 1 and more
	Share float64 // of the animals infected, above 0
	Test  Test
}

func (p Pooling) refuse() error {
	return first(number("size of a pool", p.Size, 1, math.MaxInt), some("share infected", p.Share), p.Test.refuse())
}

// finds is the chance that a pool holds an infected animal and is positive.
func (p Pooling) finds() float64 { return anyOf(p.Share, p.Size) * p.Test.Sensitivity }

// positive is the chance that a pool is positive.
func (p Pooling) positive() float64 { return p.Test.positive(anyOf(p.Share, p.Size)) }

// Sensitivity is the chance that a pool with an infected animal in it is positive, of so
// many.
func (p Pooling) Sensitivity(pools int) (float64, error) {
	if err := first(p.refuse(), number("number of pools", pools, 0, math.MaxInt)); err != nil {
		return 0, err
	}
	return anyOf(p.finds(), pools), nil
}

// AnyPositive is the chance that any of so many pools is positive, false ones counted: the
// worse the specificity, the greater it is. It is what some sources call the sensitivity.
func (p Pooling) AnyPositive(pools int) (float64, error) {
	if err := first(p.refuse(), number("number of pools", pools, 0, math.MaxInt)); err != nil {
		return 0, err
	}
	return anyOf(p.positive(), pools), nil
}

// Needed is the fewest pools whose Sensitivity is as great as wanted (above 0, below 1).
func (p Pooling) Needed(wanted float64) (int, error) {
	if err := first(p.refuse(), some("sensitivity", p.Test.Sensitivity), within("wanted chance", wanted)); err != nil {
		return 0, err
	}
	return draws(p.finds(), wanted)
}

// NeededForAny is the fewest pools of which any is positive, false ones counted, with the
// chance that is wanted (above 0, below 1).
func (p Pooling) NeededForAny(wanted float64) (int, error) {
	if err := first(p.refuse(), some("sensitivity", p.Test.Sensitivity), within("wanted chance", wanted)); err != nil {
		return 0, err
	}
	return draws(p.positive(), wanted)
}

// Dilution is by how many cycles later a pool of so many equal volumes is detected than
// one of the infected animals alone, of which there are so many with equal loads:
// log2(n/x), where each cycle doubles.
func Dilution(animals, infected int) (float64, error) {
	if err := first(number("number of animals", animals, 1, math.MaxInt), number("number of infected animals", infected, 1, animals)); err != nil {
		return 0, err
	}
	return math.Log2(float64(animals) / float64(infected)), nil
}
