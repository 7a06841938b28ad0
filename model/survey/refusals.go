package survey

import (
	"fmt"
	"math"
)

// tolerance is by how much a figure may miss what is wanted and still reach it: sums of
// chances are not exact, and a tie is a hit.
const tolerance = 1e-12

func reaches(got, wanted float64) bool { return got >= wanted-tolerance }

// InputError is returned where no answer can be had of what was given.
type InputError struct {
	Of   string // such as "sensitivity"
	Got  float64
	Want string // what it must be
}

// Error names the figure, its value and what it must be.
func (e *InputError) Error() string {
	return fmt.Sprintf("%s is %v and must be %s", e.Of, e.Got, e.Want)
}

// UnreachableError is returned where no number of animals is enough.
type UnreachableError struct {
	Wanted float64 // the chance of finding that was asked for
	Best   float64 // the greatest that one round gives
	// Rounds is the fewest rounds of testing every animal that do, each result
	// independent of the last; 0 where that is not known.
	Rounds  int
	Reached float64 // what that many rounds give
}

// Error says what can be had in one round, and how many would do.
func (e *UnreachableError) Error() string {
	said := fmt.Sprintf("a chance of %v cannot be reached in one round: at best it is %.4g", e.Wanted, e.Best)
	if e.Rounds > 0 {
		said += fmt.Sprintf("; %d rounds of every animal give %.4g", e.Rounds, e.Reached)
	}
	return said
}

// chance refuses what is not from 0 to 1.
func chance(of string, v float64) error {
	if v >= 0 && v <= 1 {
		return nil
	}
	return &InputError{of, v, "from 0 to 1"}
}

// some refuses what is not above 0, and at most 1.
func some(of string, v float64) error {
	if v > 0 && v <= 1 {
		return nil
	}
	return &InputError{of, v, "above 0 and at most 1"}
}

// within refuses what is not above 0 and below 1.
func within(of string, v float64) error {
	if v > 0 && v < 1 {
		return nil
	}
	return &InputError{of, v, "above 0 and below 1"}
}

// number refuses a whole number outside its limits.
func number(of string, v, low, high int) error {
	if v >= low && v <= high {
		return nil
	}
	if high == math.MaxInt {
		return &InputError{of, float64(v), fmt.Sprintf("at least %d", low)}
	}
	return &InputError{of, float64(v), fmt.Sprintf("from %d to %d", low, high)}
}

// first is the first of the refusals.
func first(refusals ...error) error {
	for _, err := range refusals {
		if err != nil {
			return err
		}
	}
	return nil
}
