package stats

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Slope is a straight line through the middle of the values, which single wild ones
// do not turn.
type Slope struct {
	Slope     float64 // of y for one of x: the median over all pairs
	Low, High float64 // its interval; infinite where so few values bound it on neither side
	Intercept float64 // y at x = 0, of the line through both medians
}

// TheilSen is the median slope over all pairs of different x, with Kendall's
// interval for that confidence (above 0, below 1), corrected for ties. Two values
// at least, of different x. Source: Sen 1968; the intercept is the one through both
// medians.
func TheilSen(x, y []float64, confidence float64) (Slope, error) {
	if err := paired(x, y, 2); err != nil {
		return Slope{}, err
	}
	slopes := slopesOf(x, y)
	if len(slopes) == 0 {
		return Slope{}, &TooFewError{Got: 1, Want: 2}
	}
	s := Slope{Slope: Median(slopes)}
	s.Intercept = Median(y) - s.Slope*Median(x)
	s.Low, s.High = interval(slopes, reach(x, y, confidence))
	return s, nil
}

// slopesOf are the slopes of all pairs of different x, the flattest fall first.
func slopesOf(x, y []float64) []float64 {
	slopes := make([]float64, 0, len(x)*(len(x)-1)/2)
	for i := range x {
		for j := range i {
			if x[i] != x[j] {
				slopes = append(slopes, (y[i]-y[j])/(x[i]-x[j]))
			}
		}
	}
	slices.Sort(slopes)
	return slopes
}

// reach is the S, away from zero, that chance alone does not come to at that
// confidence; of so few values that it always may, infinite.
func reach(x, y []float64, confidence float64) float64 {
	n, timesTied, valuesTied := len(x), tied(x), tied(y)
	if n > exactUpTo || len(timesTied) > 0 {
		return distuv.UnitNormal.Quantile((1+confidence)/2) * math.Sqrt(variance(n, timesTied, valuesTied))
	}
	orders := chances(n, valuesTied)
	for s := orders.top % 2; s <= orders.top; s += 2 {
		if 2*orders.atLeast(s) <= 1-confidence+rounding {
			return float64(s)
		}
	}
	return math.Inf(1)
}

// rounding keeps a chance that is what was asked for from being one bit more.
const rounding = 1e-12

// interval are the slopes between which the true one lies, by the ranks of Sen 1968,
// taken outward where they fall between two.
func interval(slopes []float64, reach float64) (low, high float64) {
	count := float64(len(slopes))
	below := math.Floor((count - reach) / 2) // rank of the lower limit, from one
	above := math.Ceil((count+reach)/2) + 1
	low, high = math.Inf(-1), math.Inf(1)
	if below >= 1 {
		low = slopes[int(below)-1]
	}
	if above <= count {
		high = slopes[int(above)-1]
	}
	return low, high
}

// Median is the middle value, between the middle two of an even number; NaN of none.
func Median(values []float64) float64 {
	if len(values) == 0 {
		return math.NaN()
	}
	sorted := slices.Sorted(slices.Values(values))
	middle := len(sorted) / 2
	if len(sorted)%2 == 1 {
		return sorted[middle]
	}
	return (sorted[middle-1] + sorted[middle]) / 2
}
