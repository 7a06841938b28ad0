package stats_test

import (
	"math"
	"strings"
	"testing"

	"coilward/model/stats"
)

// The limits of the first averages, by the handbook's formula: of one value, the reach is
// the width of so many deviations times the weight; of two, that times sqrt(1+.49) at a
// weight of .3; computed.
func TestEWMA_TheFirstLimits(t *testing.T) {
	chart := stats.EWMA{Weight: 0.3, Target: 50, Deviation: 2.0539, Width: 3}
	first := 3 * 2.0539 * 0.3
	for n, reach := range map[int]float64{1: first, 2: first * math.Sqrt(1.49)} {
		low, high := chart.Limits(n)
		if math.Abs(50-low-reach) > 1e-9 || math.Abs(high-50-reach) > 1e-9 {
			t.Errorf("after %d values: %v to %v, want %v around 50", n, low, high, reach)
		}
	}
}

// A sum that is the decision is no signal yet, on either side.
func TestCUSUM_AtTheDecision(t *testing.T) {
	chart := stats.CUSUM{Target: 10, Slack: 1, Decision: 4}
	for _, c := range []struct {
		value float64
		want  bool
	}{{15, false}, {15.5, true}, {5, false}, {4.5, true}} {
		if at, found := chart.Signal([]float64{c.value}); found != c.want || at != 0 {
			t.Errorf("%v: %v at %d, want %v", c.value, found, at, c.want)
		}
	}
}

// The value that is no number is named as people count.
func TestWhatIsNoNumberIsNamed(t *testing.T) {
	_, err := stats.TheilSen([]float64{1, 2, 3}, []float64{1, math.NaN(), 3}, 0.95)
	if err == nil || !strings.Contains(err.Error(), "value 2 ") {
		t.Errorf("%v, want value 2 named", err)
	}
}
