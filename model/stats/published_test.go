package stats_test

import (
	"errors"
	"math"
	"testing"

	"coilward/model/stats"
)

// near reports whether two values agree to that many decimals.
func near(got, want float64, decimals int) bool {
	return math.Abs(got-want) <= 0.5*math.Pow(10, -float64(decimals))
}

func indices(n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = float64(i + 1)
	}
	return x
}

// Source: Sen 1968, Journal of the American Statistical Association 63, the
// example of section 5: 21 slopes, their median, the limits of 93 %; the intercept
// through both medians is computed of the same data.
func TestTheilSen_Sen1968(t *testing.T) {
	x := []float64{1, 2, 3, 4, 10, 12, 18}
	y := []float64{9, 15, 19, 20, 45, 55, 78}
	got, err := stats.TheilSen(x, y, 0.93)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		of        string
		got, want float64
	}{
		{"slope", got.Slope, 4}, {"lower limit", got.Low, 26.0 / 7}, {"upper limit", got.High, 35.0 / 8}, {"intercept", got.Intercept, 4},
	} {
		if !near(c.got, c.want, 12) {
			t.Errorf("%s: %v, want %v", c.of, c.got, c.want)
		}
	}
	line, err := stats.LeastSquares(x, y)
	if err != nil {
		t.Fatal(err)
	}
	if !near(line.Slope, 4.0214, 4) || !near(line.Intercept, 5.7046, 4) {
		t.Errorf("least squares of the same data: %v, want 4.0214 and 5.7046", line)
	}
}

// Source: the worked example of a statistics handbook's page on the Mann-Kendall
// test (14 values with one tie): S, its variance, Z, p and tau-a; Sen's slope is
// computed of the same data.
func TestMannKendall_WorkedExample(t *testing.T) {
	y := []float64{12.9, 14.8, 13.2, 15.7, 13.8, 15.6, 12.9, 11.0, 17.3, 15.9, 19.0, 18.3, 20.1, 21.7}
	got, err := stats.MannKendall(indices(len(y)), y)
	if err != nil {
		t.Fatal(err)
	}
	if got.S != 54 || got.Exact {
		t.Errorf("S = %d, exact %v; want 54 by the normal approximation", got.S, got.Exact)
	}
	if !near(got.Variance, 332.667, 3) || !near(got.Z, 2.9058, 4) || !near(got.P, 0.003663, 6) || !near(got.TauA, 0.5934, 4) {
		t.Errorf("got %+v; want variance 332.667, Z 2.9058, p .003663, tau-a .5934", got)
	}
	slope, err := stats.TheilSen(indices(len(y)), y, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if !near(slope.Slope, 0.566667, 6) {
		t.Errorf("slope %v, want .566667", slope.Slope)
	}
}

// Source: computed by hand: of the 5,040 orders of seven values one rises
// throughout and one falls. The upper tails of n = 4 to 10 are those of the table
// of Mann-Kendall probabilities (Gilbert 1987, table A18; from memory).
func TestMannKendall_Exact(t *testing.T) {
	for _, c := range []struct {
		of    string
		y     []float64
		s     int
		p     float64
		exact int // decimals
	}{
		{"seven that rise", []float64{1, 2, 3, 4, 5, 6, 7}, 21, 2.0 / 5040, 12},
		{"seven that fall", []float64{7, 6, 5, 4, 3, 2, 1}, -21, 2.0 / 5040, 12},
		{"four, S = 4", []float64{2, 1, 3, 4}, 4, 2 * 0.167, 2},
		{"five, S = 6", []float64{2, 1, 4, 3, 5}, 6, 2 * 0.117, 2},
		{"four, S = 0", []float64{2, 4, 1, 3}, 0, 1, 12},
		{"three, two of them tied", []float64{1, 2, 2}, 2, 2.0 / 3, 12},
		{"all alike", []float64{5, 5, 5}, 0, 1, 12},
	} {
		got, err := stats.MannKendall(indices(len(c.y)), c.y)
		if err != nil {
			t.Fatal(err)
		}
		if got.S != c.s || !got.Exact || !near(got.P, c.p, c.exact) {
			t.Errorf("%s: %+v, want S %d and p %v, counted out", c.of, got, c.s, c.p)
		}
	}
	seven, _ := stats.MannKendall(indices(7), indices(7))
	if !near(seven.Variance, 44.333, 3) || !near(seven.Z, 3.0038, 4) {
		t.Errorf("seven that rise: variance %v, Z %v; want 44.333 and 3.0038", seven.Variance, seven.Z)
	}
}

// Source: NIST StRD, linear regression, Norris: 36 observations, certified values.
func TestLeastSquares_Norris(t *testing.T) {
	y := []float64{0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8,
		557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2}
	x := []float64{0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6,
		556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5}
	got, err := stats.LeastSquares(x, y)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		of        string
		got, want float64
	}{
		{"B0", got.Intercept, -0.262323073774029}, {"B1", got.Slope, 1.00211681802045},
		{"standard error of B0", got.InterceptError, 0.232818234301152}, {"standard error of B1", got.SlopeError, 0.429796848199937e-3},
		{"residual standard deviation", got.Residual, 0.884796396144373}, {"R squared", got.RSquared, 0.999993745883712},
	} {
		if off := math.Abs(c.got-c.want) / math.Abs(c.want); off > 1e-10 {
			t.Errorf("%s: %.15g, certified %.15g", c.of, c.got, c.want)
		}
	}
}

// Source: NIST/SEMATECH e-Handbook 6.3.2.4, its example of 20 values; the limits of
// the first value are computed.
func TestEWMA_Handbook(t *testing.T) {
	values := []float64{52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1}
	want := []float64{50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99}
	chart := stats.EWMA{Weight: 0.3, Target: 50, Deviation: 2.0539, Width: 3}
	low, high := chart.Limit()
	if !near(high, 52.58843, 4) || !near(low, 47.41157, 4) {
		t.Errorf("limits %v and %v, want 47.4115 and 52.5884", low, high)
	}
	if _, first := chart.Limits(1); !near(first, 51.8485, 3) {
		t.Errorf("upper limit of the first value %v, want 51.8485", first)
	}
	for i, got := range chart.Averages(values) {
		if math.Abs(got-want[i]) > 0.0101 { // the handbook rounds on the way
			t.Errorf("average %d: %v, want %v", i+1, got, want[i])
		}
		if got < low || got > high {
			t.Errorf("average %d: %v is out of control; the handbook finds none", i+1, got)
		}
	}
}

// Source: NIST/SEMATECH e-Handbook 6.3.2.3, its example of 20 values.
func TestCUSUM_Handbook(t *testing.T) {
	values := []float64{324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600, 324.625, 325.150, 328.325, 327.250, 327.825, 328.500, 326.675, 327.775, 326.875, 328.350}
	chart := stats.CUSUM{Target: 325, Slack: 0.3175, Decision: 4.1959}
	high, low := chart.Sums(values)
	if !near(high[12], 3.0075, 4) || !near(high[13], 4.94, 4) || !near(high[19], 19.035, 3) {
		t.Errorf("upper sums %v, want 3.0075 at 13, 4.94 at 14, 19.035 at the end", high)
	}
	greatest, at := 0.0, 0
	for i, sum := range low {
		if sum > greatest {
			greatest, at = sum, i
		}
	}
	if !near(greatest, 0.715, 3) || at != 7 {
		t.Errorf("greatest lower sum %v at %d, want .715 at 8", greatest, at+1)
	}
	if first, found := chart.Signal(values); !found || first != 13 {
		t.Errorf("first signal at %d (%v), want 14", first+1, found)
	}
	if _, found := chart.Signal(values[:13]); found {
		t.Error("the first 13 values give no signal")
	}
}

func TestWhatCannotBeHad(t *testing.T) {
	var few *stats.TooFewError
	for of, err := range map[string]error{
		"one value": second(stats.MannKendall([]float64{1}, []float64{1})), "one x": second(stats.TheilSen([]float64{2, 2}, []float64{1, 3}, 0.9)),
		"two for a line": second(stats.LeastSquares([]float64{1, 2}, []float64{1, 2})), "a line of one x": second(stats.LeastSquares([]float64{1, 1, 1}, []float64{1, 2, 3})),
	} {
		if !errors.As(err, &few) {
			t.Errorf("%s: %v, want too few", of, err)
		}
	}
	if second(stats.TheilSen([]float64{1, 2}, []float64{1}, 0.9)) == nil {
		t.Error("lists of different length are paired")
	}
	if second(stats.MannKendall([]float64{1, 2}, []float64{1, math.NaN()})) == nil {
		t.Error("a value that is no number is taken")
	}
	if !math.IsNaN(stats.Median(nil)) {
		t.Error("the median of nothing is a number")
	}
}

func second[T any](_ T, err error) error { return err }
