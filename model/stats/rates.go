package stats

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Rates is how two rates of events compare.
type Rates struct {
	// Ratio is the first rate over the second; infinite where nothing happened in the second.
	Ratio float64
	// Low and High are its exact interval.
	Low, High float64
	// P is twice the smaller of both one-sided chances, at most 1: it is below one less the
	// confidence where the interval leaves out 1, and nowhere else. The sum of all counts
	// that are no likelier would not be.
	P float64
}

// RateRatio compares two counts of events, each watched for so long (in any unit, above
// zero, or as so many visits), with that confidence (above 0, below 1): given both counts
// together, the first is binomial. One event at least. Source: Przyborowski & Wilenski 1940,
// Biometrika 31:313; the interval is that of Clopper & Pearson.
func RateRatio(first int, watched float64, second int, watchedSecond float64, confidence float64) (Rates, error) {
	for _, w := range []float64{watched, watchedSecond} {
		if !(w > 0) || math.IsInf(w, 0) {
			return Rates{}, fmt.Errorf("%v is no time to watch: it must be above zero", w)
		}
	}
	for _, n := range []int{first, second} {
		if n < 0 || n > mostCounted {
			return Rates{}, fmt.Errorf("a count of %d is none from 0 to %d", n, mostCounted)
		}
	}
	all := first + second
	low, high, err := ClopperPearson(first, all, confidence)
	if err != nil {
		return Rates{}, err
	}
	of := func(share float64) float64 { return share / (1 - share) * watchedSecond / watched }
	found := Rates{Ratio: of(float64(first) / float64(all)), Low: of(low), High: of(high)}
	same := distuv.Binomial{N: float64(all), P: watched / (watched + watchedSecond)}
	few := same.CDF(float64(first))
	many := same.Survival(float64(first) - 1)
	found.P = min(1, 2*min(few, many))
	return found, nil
}
