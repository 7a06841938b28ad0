package stats

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// exactUpTo is the greatest number of values whose chance is counted out; beyond it
// the normal approximation holds. Source: Gilbert 1987, whose table ends there.
const exactUpTo = 10

// Monotone is what the order of values tells of a rise or a fall, whatever its shape.
type Monotone struct {
	S        int     // pairs that rise less pairs that fall
	Variance float64 // of S where there is no trend, corrected for ties
	Z        float64 // S in standard deviations, one nearer to zero; 0 where nothing can vary
	P        float64 // chance of an S as far from zero without a trend, both sides
	TauA     float64 // S as a share of all pairs, -1 to 1
	Exact    bool    // P was counted out and is not the normal approximation
}

// MannKendall tests values in the order of x for a rise or a fall. Values of one x
// say nothing of each other. Two values at least. Source: Mann 1945, Kendall 1975.
func MannKendall(x, y []float64) (Monotone, error) {
	if err := paired(x, y, 2); err != nil {
		return Monotone{}, err
	}
	n := len(x)
	m := Monotone{S: score(x, y)}
	m.TauA = float64(m.S) / float64(n*(n-1)/2)
	timesTied, valuesTied := tied(x), tied(y)
	m.Variance = variance(n, timesTied, valuesTied)
	if m.S != 0 && m.Variance > 0 {
		m.Z = (math.Abs(float64(m.S)) - 1) / math.Sqrt(m.Variance)
		m.Z = math.Copysign(m.Z, float64(m.S))
	}
	if m.Exact = n <= exactUpTo && len(timesTied) == 0; m.Exact {
		m.P = min(1, 2*chances(n, valuesTied).atLeast(abs(m.S)))
	} else {
		m.P = min(1, 2*distuv.UnitNormal.Survival(math.Abs(m.Z)))
	}
	return m, nil
}

// score is Kendall's S.
func score(x, y []float64) (s int) {
	for i := range x {
		for j := range i {
			s += sign(x[i]-x[j]) * sign(y[i]-y[j])
		}
	}
	return s
}

func sign(v float64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

func abs(i int) int { return max(i, -i) }

// tied are the sizes of the groups of equal values, two and more.
func tied(values []float64) (sizes []int) {
	sorted := slices.Sorted(slices.Values(values))
	for from := 0; from < len(sorted); {
		to := from
		for to < len(sorted) && sorted[to] == sorted[from] {
			to++
		}
		if to-from > 1 {
			sizes = append(sizes, to-from)
		}
		from = to
	}
	return sizes
}

// variance is that of S without a trend, where values and their x may be tied.
// Source: Kendall 1970, Rank correlation methods, chapter 4.
func variance(n int, x, y []int) float64 {
	all := float64(n)
	v := all * (all - 1) * (2*all + 5)
	v -= over(x, func(t float64) float64 { return t * (t - 1) * (2*t + 5) })
	v -= over(y, func(t float64) float64 { return t * (t - 1) * (2*t + 5) })
	v /= 18
	two := func(t float64) float64 { return t * (t - 1) }
	three := func(t float64) float64 { return t * (t - 1) * (t - 2) }
	v += over(x, two) * over(y, two) / (2 * all * (all - 1))
	if n > 2 {
		v += over(x, three) * over(y, three) / (9 * all * (all - 1) * (all - 2))
	}
	return max(0, v)
}

func over(sizes []int, term func(float64) float64) (sum float64) {
	for _, size := range sizes {
		sum += term(float64(size))
	}
	return sum
}

// orders counts the orders of values by their S without a trend: of the k-th entry S
// is top - 2k.
type orders struct {
	counts []int64
	top    int
}

// chances counts the orders of n values, of which some are tied. The number of
// orders by their falling pairs is the q-multinomial coefficient (Stanley,
// Enumerative combinatorics I, 1.7): the product of 1+q+...+q^(i-1) over i up to n,
// divided by the like of each group of ties.
func chances(n int, ties []int) orders {
	counts := []int64{1}
	for i := 2; i <= n; i++ {
		counts = times(counts, i)
	}
	for _, size := range ties {
		for i := 2; i <= size; i++ {
			counts = without(counts, i)
		}
	}
	return orders{counts, len(counts) - 1}
}

// times multiplies by 1+q+...+q^(i-1).
func times(p []int64, i int) []int64 {
	product := make([]int64, len(p)+i-1)
	for at, c := range p {
		for k := range i {
			product[at+k] += c
		}
	}
	return product
}

// without divides by 1+q+...+q^(i-1), which leaves nothing over.
func without(p []int64, i int) []int64 {
	quotient := make([]int64, len(p)-i+1)
	for at := range quotient {
		c := p[at]
		for k := max(0, at-i+1); k < at; k++ {
			c -= quotient[k]
		}
		quotient[at] = c
	}
	return quotient
}

// atLeast is the chance of an S of that much or more.
func (o orders) atLeast(s int) float64 {
	var far, all int64
	for k, c := range o.counts {
		all += c
		if o.top-2*k >= s {
			far += c
		}
	}
	return float64(far) / float64(all)
}
