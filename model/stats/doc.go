// Package stats holds statistics: numbers in, numbers out, nothing of animals. What
// gonum has is gonum's; what it lacks stands here, beside the published example that it
// is checked against.
package stats

import (
	"fmt"
	"math"
)

// TooFewError is returned where fewer values were given than a figure can be had of.
type TooFewError struct{ Got, Want int }

// Error names both numbers.
func (e *TooFewError) Error() string {
	return fmt.Sprintf("%d values are too few: at least %d are needed", e.Got, e.Want)
}

// paired refuses values of two lists that do not belong together, that are too few,
// or of which one is no number.
func paired(x, y []float64, fewest int) error {
	if len(x) != len(y) {
		return fmt.Errorf("%d values of one list cannot be paired with %d of the other", len(x), len(y))
	}
	if len(x) < fewest {
		return &TooFewError{Got: len(x), Want: fewest}
	}
	for i := range x {
		for _, v := range []float64{x[i], y[i]} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("value %d of the list is not a finite number", i+1)
			}
		}
	}
	return nil
}
