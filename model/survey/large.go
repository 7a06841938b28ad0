package survey

import "math"

// LargeSensitivity is the chance that one infected animal at least is detected when so
// many are tested, where that share is infected of a group so large, or of unknown size,
// that drawing does not change it: 1 - (1 - P Se)^n.
func LargeSensitivity(tested int, share, sensitivity float64) (float64, error) {
	err := first(number("number tested", tested, 0, math.MaxInt), chance("share infected", share), chance("sensitivity", sensitivity))
	if err != nil {
		return 0, err
	}
	return anyOf(share*sensitivity, tested), nil
}

// LargeSmallest is the fewest animals to be tested so that the chance of
// LargeSensitivity is as great as wanted (above 0, below 1).
func LargeSmallest(share, sensitivity, wanted float64) (int, error) {
	err := first(some("share infected", share), some("sensitivity", sensitivity), within("wanted chance", wanted))
	if err != nil {
		return 0, err
	}
	return draws(share*sensitivity, wanted)
}
