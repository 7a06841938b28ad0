package evidence

import "slices"

// Ends are the choices of an end of each of some ranges: -1 its low end, 0 what is assumed, 1
// its high end. What is assumed of all comes first; then each end alone with the rest as it is
// assumed; then the ends of all together. A range that is not ranged has no ends.
func Ends(ranged []bool) [][]int {
	all := [][]int{make([]int, len(ranged))}
	corners := [][]int{make([]int, len(ranged))}
	for of, is := range ranged {
		if !is {
			continue
		}
		var next [][]int
		for _, end := range []int{-1, 1} {
			for _, c := range corners {
				c = slices.Clone(c)
				c[of] = end
				next = append(next, c)
			}
			alone := make([]int, len(ranged))
			alone[of] = end
			all = append(all, alone)
		}
		corners = next
	}
	for _, c := range corners {
		if !slices.ContainsFunc(all, func(o []int) bool { return slices.Equal(o, c) }) {
			all = append(all, c)
		}
	}
	return all
}

// At is the end of the range that is meant: -1 the low one, 0 what is assumed, 1 the high one.
func (r Range) At(end int) float64 { return [3]float64{r.Low, r.Mid, r.High}[end+1] }

// Widen makes a range hold a value; first is that of what is assumed.
func (r *Range) Widen(value float64, first bool) {
	if first {
		*r = Exactly(value)
	}
	r.Low, r.High = min(r.Low, value), max(r.High, value)
}
