package survey

import "math"

// ZeroLimit is the greatest share that goes with no positive result in so many tests of
// animals of a large group: one-sided, exact, with that confidence (above 0, below 1), of
// a perfect test: 1 - (1-CL)^(1/n).
func ZeroLimit(tested int, confidence float64) (float64, error) {
	if err := first(number("number tested", tested, 1, math.MaxInt), within("confidence", confidence)); err != nil {
		return 0, err
	}
	return -math.Expm1(math.Log1p(-confidence) / float64(tested)), nil
}

// RuleOfThree is ZeroLimit at 95 % in one's head: 3/n, and 1 at most.
func RuleOfThree(tested int) (float64, error) {
	if err := number("number tested", tested, 1, math.MaxInt); err != nil {
		return 0, err
	}
	return min(1, 3/float64(tested)), nil
}
