package stats

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/combin"
)

// Fourfold are the counts of a yes-or-no question in two groups.
type Fourfold struct {
	FirstYes, FirstNo   int
	SecondYes, SecondNo int
}

// FisherExact is what a fourfold table tells of a difference.
type FisherExact struct {
	// P is the chance, with no difference, of a table no likelier than this one.
	P float64
	// Less and Greater are the chances of as few and of as many yes in the first group.
	Less, Greater float64
	// Odds is the odds ratio of the table as it stands: infinite where only its
	// denominator is zero, not a number where both are.
	Odds float64
}

// likelier is by what share one table may be the likelier of two that are equally
// likely but for rounding.
const likelier = 1e-7

// mostCounted is the largest count that is taken in.
const mostCounted = 1_000_000

// Fisher is Fisher's exact test of a fourfold table: all tables with its sums of rows and
// columns, two-sided by adding those that are no likelier. Source: Fisher 1935, The Design
// of Experiments.
func Fisher(t Fourfold) (FisherExact, error) {
	for _, n := range []int{t.FirstYes, t.FirstNo, t.SecondYes, t.SecondNo} {
		if n < 0 || n > mostCounted {
			return FisherExact{}, fmt.Errorf("a count of %d is none from 0 to %d", n, mostCounted)
		}
	}
	first, second, yes := t.FirstYes+t.FirstNo, t.SecondYes+t.SecondNo, t.FirstYes+t.SecondYes
	if least := min(first, second); least < 1 {
		return FisherExact{}, &TooFewError{Got: least, Want: 1}
	}
	ways := func(of, take int) float64 { return combin.LogGeneralizedBinomial(float64(of), float64(take)) }
	chance := func(x int) float64 {
		return math.Exp(ways(first, x) + ways(second, yes-x) - ways(first+second, yes))
	}
	found := FisherExact{Odds: float64(t.FirstYes) * float64(t.SecondNo) / (float64(t.FirstNo) * float64(t.SecondYes))}
	limit := chance(t.FirstYes) * (1 + likelier)
	for x := max(0, yes-second); x <= min(first, yes); x++ {
		p := chance(x)
		if p <= limit {
			found.P += p
		}
		if x <= t.FirstYes {
			found.Less += p
		}
		if x >= t.FirstYes {
			found.Greater += p
		}
	}
	found.P, found.Less, found.Greater = min(1, found.P), min(1, found.Less), min(1, found.Greater)
	return found, nil
}
