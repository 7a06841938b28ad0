package paper

import (
	"cmp"
	"slices"
)

// sortBy sorts by a value of each element; equal ones keep their order.
func sortBy[E any](list []E, value func(E) float64) {
	slices.SortStableFunc(list, func(a, b E) int { return cmp.Compare(value(a), value(b)) })
}
