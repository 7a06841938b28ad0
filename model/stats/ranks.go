package stats

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// RanksUpTo is the greatest number of values, both groups together, whose ways of falling
// into the groups are counted out; beyond it the normal approximation holds.
const RanksUpTo = 80

// Ranked is what the order of the values of two groups tells of a difference.
type Ranked struct {
	// U is in how many pairs the value of the first group is the greater; ties count half.
	U float64
	// Share is U as a share of all pairs: one half where neither group is the greater.
	Share float64
	// Z is U in standard deviations from its mean, corrected for ties and not for
	// continuity; 0 where nothing can vary.
	Z float64
	// P is the chance, with no difference, of a U as far from its mean.
	P float64
	// Greater and Less are the chances of a U as great and as small.
	Greater, Less float64
	Exact         bool // the chances were counted out and are no approximation
}

// MannWhitney compares two groups by the order of their values, ties included. Each needs
// one value at least. Source: Mann & Whitney 1947, Annals of Mathematical Statistics 18:50;
// of ties: all ways in which the ranks as they are can fall into the groups.
func MannWhitney(first, second []float64) (Ranked, error) {
	if err := groups(first, second); err != nil {
		return Ranked{}, err
	}
	m, n := len(first), len(second)
	ranks := doubledRanks(slices.Concat(first, second))
	sum, squares := 0, 0.0
	for i, r := range ranks {
		if i < m {
			sum += r
		}
		away := float64(r - (m + n + 1))
		squares += away * away
	}
	least := m * (m + 1) // twice the smallest sum of ranks
	u := float64(sum-least) / 2
	found := Ranked{U: u, Share: u / float64(m*n)}
	mean := m * (m + n + 1) // of the doubled sum
	// the variance of a sum of m of the ranks, drawn without putting back
	if variance := float64(m*n) * squares / (float64(m+n) * float64(max(1, m+n-1))); variance > 0 {
		found.Z = float64(sum-mean) / math.Sqrt(variance)
	}
	if found.Exact = m+n <= RanksUpTo; !found.Exact {
		found.P = min(1, 2*distuv.UnitNormal.Survival(math.Abs(found.Z)))
		found.Greater, found.Less = distuv.UnitNormal.Survival(found.Z), distuv.UnitNormal.CDF(found.Z)
		return found, nil
	}
	all := 0.0
	for s, ways := range sums(ranks, m) {
		all += ways
		if abs(s-mean) >= abs(sum-mean) {
			found.P += ways
		}
		if s >= sum {
			found.Greater += ways
		}
		if s <= sum {
			found.Less += ways
		}
	}
	found.P, found.Greater, found.Less = found.P/all, found.Greater/all, found.Less/all
	return found, nil
}

// sums counts, for each sum, the ways to take so many of the ranks.
func sums(ranks []int, take int) []float64 {
	most := 0
	for _, r := range ranks {
		most += r
	}
	ways := make([][]float64, take+1)
	for k := range ways {
		ways[k] = make([]float64, most+1)
	}
	ways[0][0] = 1
	for _, r := range ranks {
		for k := take; k > 0; k-- {
			for s := most; s >= r; s-- {
				ways[k][s] += ways[k-1][s-r]
			}
		}
	}
	return ways[take]
}

// doubledRanks are the ranks of values, from 1, twice: equal values share their mean rank,
// which may be a half.
func doubledRanks(values []float64) []int {
	ranks := make([]int, len(values))
	for i, v := range values {
		below, same := 0, 0
		for _, w := range values {
			switch {
			case w < v:
				below++
			case w == v:
				same++
			}
		}
		ranks[i] = 2*below + same + 1
	}
	return ranks
}
