package stats

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// ClopperPearson is the exact interval of a share of which so many in n were seen, with
// that confidence (above 0, below 1): wide enough whatever the share is. Source: Clopper &
// Pearson 1934, Biometrika 26:404, by way of the beta distribution.
func ClopperPearson(seen, n int, confidence float64) (low, high float64, err error) {
	if err := counted(seen, n, confidence); err != nil {
		return 0, 0, err
	}
	tail := (1 - confidence) / 2
	low, high = 0, 1
	if seen > 0 {
		low = distuv.Beta{Alpha: float64(seen), Beta: float64(n - seen + 1)}.Quantile(tail)
	}
	if seen < n {
		high = distuv.Beta{Alpha: float64(seen + 1), Beta: float64(n - seen)}.Quantile(1 - tail)
	}
	return low, high, nil
}

// Wilson is the score interval of a share of which so many in n were seen, with that
// confidence (above 0, below 1): right on the average. Source: Wilson 1927, Journal of the
// American Statistical Association 22:209.
func Wilson(seen, n int, confidence float64) (low, high float64, err error) {
	if err := counted(seen, n, confidence); err != nil {
		return 0, 0, err
	}
	all, share := float64(n), float64(seen)/float64(n)
	z := distuv.UnitNormal.Quantile((1 + confidence) / 2)
	middle := share + z*z/(2*all)
	reach := z * math.Sqrt(share*(1-share)/all+z*z/(4*all*all))
	whole := 1 + z*z/all
	return max(0, (middle-reach)/whole), min(1, (middle+reach)/whole), nil
}

// counted refuses a share that cannot be, and a confidence that is none.
func counted(seen, n int, confidence float64) error {
	if n < 1 {
		return &TooFewError{Got: n, Want: 1}
	}
	if seen < 0 || seen > n {
		return fmt.Errorf("%d of %d is no share", seen, n)
	}
	if !(confidence > 0 && confidence < 1) {
		return fmt.Errorf("a confidence of %v is not above 0 and below 1", confidence)
	}
	return nil
}
