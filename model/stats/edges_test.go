package stats_test

import (
	"errors"
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

// What is no number is refused, whichever it is, and named as people count.
func TestWhatIsNoNumberIsNamed(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		_, err := stats.TheilSen([]float64{1, 2, 3}, []float64{1, v, 3}, 0.95)
		if err == nil || !strings.Contains(err.Error(), "value 2 ") {
			t.Errorf("%v: %v, want value 2 named", v, err)
		}
	}
}

// Values of one time are one value where a line is asked for.
func TestLines_OfOneTime(t *testing.T) {
	x, y := []float64{2, 2, 2}, []float64{1, 3, 4}
	_, steep := stats.TheilSen(x, y, 0.9)
	_, least := stats.LeastSquares(x, y)
	for name, err := range map[string]error{"Theil-Sen": steep, "least squares": least} {
		var few *stats.TooFewError
		if !errors.As(err, &few) || few.Got != 1 || few.Want != 2 {
			t.Errorf("%s: %v, want that one is too few of two", name, err)
		}
	}
}

// Of more than ten values the limits are by the normal approximation of Sen 1968, computed by
// hand: of 0 to 10 and their squares the 55 slopes are the sums of two of them, and S varies by
// 11 x 10 x 27 / 18 = 165. At 95 % 1.959964 x sqrt(165) = 25.18, so the limits are the slopes of the
// ranks 14 and 42: 7 and 13.
func TestTheilSen_LimitsOfMoreThanTen(t *testing.T) {
	var x, y []float64
	for n := range 11 {
		x, y = append(x, float64(n)), append(y, float64(n*n))
	}
	got, err := stats.TheilSen(x, y, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if got.Slope != 10 || got.Low != 7 || got.High != 13 {
		t.Errorf("the slope is %v, %v to %v; want 10, 7 to 13", got.Slope, got.Low, got.High)
	}
}

// Up to ten values are counted out.
func TestMannKendall_CountedOutUpToTen(t *testing.T) {
	for n, want := range map[int]bool{9: true, 10: true, 11: false} {
		if got, err := stats.MannKendall(indices(n), indices(n)); err != nil || got.Exact != want {
			t.Errorf("%d values: counted out is %v (%v)", n, got.Exact, err)
		}
	}
}
