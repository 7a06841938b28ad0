package stats

import (
	"fmt"
	"math"
	"slices"
)

// PermutedMost is the greatest number of values, both groups together, whose ways of
// falling into the groups are counted out.
const PermutedMost = 40

// Permuted is what the means of two groups tell of a difference.
type Permuted struct {
	// Difference is the mean of the second group less that of the first.
	Difference float64
	// P is the share of all ways in which the values could have fallen into groups of
	// these sizes whose means lie as far apart, on either side.
	P float64
	// Ways is how many such ways there are.
	Ways float64
}

// rounded is how far two sums that are the same may lie apart, as a share of the sum of
// the sizes of all values.
const rounded = 1e-12

// Permute is the exact permutation test of the means of two groups: each needs one value
// at least, both together have at most PermutedMost. Source: Fisher 1935, The Design of
// Experiments, section 21; Pitman 1937, Journal of the Royal Statistical Society
// Supplement 4:119.
func Permute(first, second []float64) (Permuted, error) {
	if err := groups(first, second); err != nil {
		return Permuted{}, err
	}
	m, n := len(first), len(second)
	if m+n > PermutedMost {
		return Permuted{}, fmt.Errorf("%d values are too many to count all ways: at most %d", m+n, PermutedMost)
	}
	all := slices.Concat(first, second)
	total, size, taken := 0.0, 0.0, 0.0
	for i, v := range all {
		total += v
		size += math.Abs(v)
		if i < m {
			taken += v
		}
	}
	middle := total * float64(m) / float64(m+n)
	away := math.Abs(taken-middle) - size*rounded
	far, ways := farther(all, m, middle-away, middle+away)
	return Permuted{Difference: (total-taken)/float64(n) - taken/float64(m), P: far / ways, Ways: ways}, nil
}

// farther counts the ways to take so many of the values, and those whose sum is at most
// low or at least high. The values are halved: what each half gives is put in order, so
// that each sum of the one meets its bounds in the other at one glance.
func farther(values []float64, take int, low, high float64) (far, ways float64) {
	left, right := parts(values[:len(values)/2]), parts(values[len(values)/2:])
	for k, some := range left {
		if take < k || take-k >= len(right) {
			continue
		}
		others := right[take-k]
		ways += float64(len(some)) * float64(len(others))
		below, upTo := len(others), len(others) // others[:below] come to low or less, others[upTo:] to high or more
		for _, s := range some {
			for below > 0 && s+others[below-1] > low {
				below--
			}
			for upTo > 0 && s+others[upTo-1] >= high {
				upTo--
			}
			far += float64(len(others) - max(0, upTo-below))
		}
	}
	return far, ways
}

// parts are the sums of all ways to take 0, 1, 2 … of the values, each list in order.
func parts(values []float64) [][]float64 {
	found := make([][]float64, len(values)+1)
	found[0] = []float64{0}
	for i, v := range values {
		for k := i + 1; k > 0; k-- {
			for _, s := range found[k-1] {
				found[k] = append(found[k], s+v)
			}
		}
	}
	for _, list := range found {
		slices.Sort(list)
	}
	return found
}

// groups refuses two groups of which one is empty, or of which a value is no number.
func groups(first, second []float64) error {
	if least := min(len(first), len(second)); least < 1 {
		return &TooFewError{Got: least, Want: 1}
	}
	for name, list := range map[string][]float64{"first": first, "second": second} {
		for i, v := range list {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("value %d of the %s group is not a finite number", i+1, name)
			}
		}
	}
	return nil
}
