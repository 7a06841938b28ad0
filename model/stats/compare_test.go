package stats_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coilward/model/stats"
)

// Sources: Fisher's tea and his twins, and a third table, as in the documentation of
// published programs of Fisher's test. The one-sided values of the last two are computed with
// whole numbers.
func TestFisher_Published(t *testing.T) {
	for _, c := range []struct {
		of               string
		table            stats.Fourfold
		p, less, greater float64
		odds             float64
		decimals         int
	}{
		{"the lady tasting tea, Fisher 1935", stats.Fourfold{FirstYes: 3, FirstNo: 1, SecondYes: 1, SecondNo: 3}, 0.485714, 69.0 / 70, 0.242857, 9, 6},
		{"convicted twins, Fisher 1962", stats.Fourfold{FirstYes: 2, FirstNo: 15, SecondYes: 10, SecondNo: 3}, 0.0005367241, 0.0004651809, 0.9999845190, 0.04, 9},
		{"a worked table", stats.Fourfold{FirstYes: 8, FirstNo: 2, SecondYes: 1, SecondNo: 5}, 0.034965035, 0.9991258741, 0.0244755245, 20, 9},
	} {
		got, err := stats.Fisher(c.table)
		if err != nil {
			t.Fatal(err)
		}
		if !near(got.P, c.p, c.decimals) || !near(got.Less, c.less, c.decimals) || !near(got.Greater, c.greater, c.decimals) || !near(got.Odds, c.odds, 9) {
			t.Errorf("%s: %+v, want %+v", c.of, got, c)
		}
	}
}

func TestFisher_OddsWithoutEnd(t *testing.T) {
	got, err := stats.Fisher(stats.Fourfold{FirstYes: 3, SecondNo: 2})
	if err != nil || !math.IsInf(got.Odds, 1) || !near(got.P, 0.1, 9) {
		t.Errorf("%+v, %v; want no end of odds and p .1", got, err)
	}
	if got, err = stats.Fisher(stats.Fourfold{FirstYes: 3, SecondYes: 2}); err != nil || !math.IsNaN(got.Odds) || got.P != 1 {
		t.Errorf("%+v, %v; want odds that are no number and p 1", got, err)
	}
}

func TestFisher_Refuses(t *testing.T) {
	for _, bad := range []stats.Fourfold{{FirstYes: -1, FirstNo: 2, SecondNo: 3}, {FirstYes: 1, FirstNo: 2, SecondNo: -3}, {FirstYes: 1, FirstNo: 1_000_001, SecondNo: 3}, {SecondYes: -1, FirstNo: 3, SecondNo: 3}} {
		if _, err := stats.Fisher(bad); err == nil || !strings.Contains(err.Error(), "count") {
			t.Errorf("%+v: %v", bad, err)
		}
	}
	for _, empty := range []stats.Fourfold{{FirstYes: 1, FirstNo: 2}, {SecondYes: 1, SecondNo: 2}} {
		var few *stats.TooFewError
		if _, err := stats.Fisher(empty); !errors.As(err, &few) || few.Want != 1 {
			t.Errorf("%+v: %v", empty, err)
		}
	}
	if _, err := stats.Fisher(stats.Fourfold{FirstYes: 1_000_000, SecondNo: 1}); err != nil {
		t.Errorf("the largest count: %v", err)
	}
}

// Both groups change places, and so do both sides; each of the chances is one, and the two
// one-sided ones share the table itself.
func TestFisher_Turns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SliceOfN(rapid.IntRange(0, 15), 4, 4).Draw(t, "counts")
		table := stats.Fourfold{FirstYes: n[0], FirstNo: n[1] + 1, SecondYes: n[2], SecondNo: n[3] + 1}
		got, err := stats.Fisher(table)
		if err != nil {
			t.Fatal(err)
		}
		other, err := stats.Fisher(stats.Fourfold{FirstYes: table.SecondYes, FirstNo: table.SecondNo, SecondYes: table.FirstYes, SecondNo: table.FirstNo})
		if err != nil {
			t.Fatal(err)
		}
		if !near(got.P, other.P, 9) || !near(got.Less, other.Greater, 9) || !near(got.Greater, other.Less, 9) {
			t.Fatalf("%+v turned: %+v", got, other)
		}
		for _, p := range []float64{got.P, got.Less, got.Greater} {
			if !(p > 0 && p <= 1) {
				t.Fatalf("out of range: %+v", got)
			}
		}
		if got.Less+got.Greater < 1-1e-9 {
			t.Fatalf("both sides leave something out: %+v", got)
		}
		if got.P < min(got.Less, got.Greater)-1e-9 {
			t.Fatalf("both sides are fewer than one: %+v", got)
		}
	})
}

// Sources: the first is the example of an encyclopedia's implementation (values of a
// published program, .08641 by the normal approximation without continuity); the second, of
// permeability, is from memory: Hollander & Wolfe, and the one-sided chance is computed.
func TestMannWhitney_Published(t *testing.T) {
	got, err := stats.MannWhitney([]float64{19, 22, 16, 29, 24}, []float64{20, 11, 17, 12})
	if err != nil {
		t.Fatal(err)
	}
	if got.U != 17 || !near(got.P, 0.111111, 6) || !got.Exact || !near(got.Greater, 7.0/126, 9) || got.Share != 0.85 {
		t.Errorf("%+v, want U 17 and p .111111", got)
	}
	if p := math.Erfc(math.Abs(got.Z) / math.Sqrt2); !near(p, 0.08641, 5) {
		t.Errorf("by the normal approximation %v, want .08641", p)
	}
	got, err = stats.MannWhitney([]float64{.80, .83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, .73, 1.46}, []float64{1.15, .88, .90, .74, 1.21})
	if err != nil {
		t.Fatal(err)
	}
	if got.U != 35 || !near(got.Greater, 0.127206, 6) {
		t.Errorf("%+v, want U 35 and .127206 on one side", got)
	}
}

// With ties, every way in which the values can fall into groups of these sizes is looked at
// one by one.
func TestMannWhitney_CountsWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first, second := drawGroup(t, "first"), drawGroup(t, "second")
		got, err := stats.MannWhitney(first, second)
		if err != nil {
			t.Fatal(err)
		}
		middle := float64(len(first)*len(second)) / 2
		var all, far, great, small, squares float64
		eachWay(first, second, func(a, b []float64) {
			u := pairsWon(a, b)
			all++
			squares += (u - middle) * (u - middle)
			if math.Abs(u-middle) >= math.Abs(got.U-middle) {
				far++
			}
			if u >= got.U {
				great++
			}
			if u <= got.U {
				small++
			}
		})
		if got.U != pairsWon(first, second) || !near(got.P, far/all, 9) || !near(got.Greater, great/all, 9) || !near(got.Less, small/all, 9) || !got.Exact {
			t.Fatalf("%v against %v: %+v; counted %v, %v, %v", first, second, got, far/all, great/all, small/all)
		}
		z := 0.0
		if squares > 0 {
			z = (got.U - middle) / math.Sqrt(squares/all)
		}
		if !near(got.Z, z, 9) {
			t.Fatalf("%v against %v: z is %v, counted %v", first, second, got.Z, z)
		}
	})
}

// Just up to the bound the chances are counted out; beyond it they come close to that.
func TestMannWhitney_Many(t *testing.T) {
	var first, second []float64
	for i := range 41 {
		first, second = append(first, float64(i%23)+4), append(second, float64(i%29))
	}
	exact, err := stats.MannWhitney(first[:40], second[:40])
	if err != nil || !exact.Exact {
		t.Fatalf("80 values: %+v, %v", exact, err)
	}
	about, err := stats.MannWhitney(first, second[:40])
	if err != nil || about.Exact {
		t.Fatalf("81 values: %+v, %v", about, err)
	}
	if math.Abs(exact.P-about.P) > 0.05 || math.Abs(exact.Less-about.Less) > 0.05 || math.Abs(exact.Greater-about.Greater) > 0.05 {
		t.Errorf("counted %+v, by approximation %+v", exact, about)
	}
	if !near(about.Less+about.Greater, 1, 9) || !near(about.P, 2*min(about.Less, about.Greater), 9) {
		t.Errorf("sides of the approximation: %+v", about)
	}
	if same, err := stats.MannWhitney(make([]float64, 60), make([]float64, 60)); err != nil || same.Z != 0 || same.P != 1 || same.Share != 0.5 {
		t.Errorf("all the same: %+v, %v", same, err)
	}
}

// Source: computed by hand. 1, 2 against 3, 4, 5: of ten ways two lie as far apart.
func TestPermute_Few(t *testing.T) {
	got, err := stats.Permute([]float64{1, 2}, []float64{3, 4, 5})
	if err != nil || got.Difference != 2.5 || got.P != 0.2 || got.Ways != 10 {
		t.Errorf("%+v, %v; want 2.5, .2 of 10 ways", got, err)
	}
	if got, err = stats.Permute([]float64{3}, []float64{3}); err != nil || got.P != 1 || got.Ways != 2 || got.Difference != 0 {
		t.Errorf("%+v, %v; want no difference and p 1", got, err)
	}
}

// Six weeks of none against six with one each: two of 924 ways.
func TestPermute_SixAgainstSix(t *testing.T) {
	got, err := stats.Permute([]float64{1, 1, 1, 1, 1, 1}, make([]float64, 6))
	if err != nil || !near(got.P, 2.0/924, 12) || got.Ways != 924 || got.Difference != -1 {
		t.Errorf("%+v, %v; want 2 of 924", got, err)
	}
}

// Decimals whose sums differ by rounding alone are as far apart as each other.
func TestPermute_RoundingIsNoDifference(t *testing.T) {
	got, err := stats.Permute([]float64{0.1, 0.2, 0.7}, []float64{0.3, 0.6, 0.1})
	if err != nil {
		t.Fatal(err)
	}
	whole, err := stats.Permute([]float64{1, 2, 7}, []float64{3, 6, 1})
	if err != nil || got.P != whole.P {
		t.Errorf("%v of tenths, %v of whole numbers, %v", got.P, whole.P, err)
	}
}

func TestPermute_CountsWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first, second := drawGroup(t, "first"), drawGroup(t, "second")
		got, err := stats.Permute(first, second)
		if err != nil {
			t.Fatal(err)
		}
		apart := mean(second) - mean(first)
		all, far := 0.0, 0.0
		eachWay(first, second, func(a, b []float64) {
			all++
			if math.Abs(mean(b)-mean(a)) >= math.Abs(apart)-1e-9 {
				far++
			}
		})
		if !near(got.P, far/all, 9) || got.Ways != all || !near(got.Difference, apart, 9) {
			t.Fatalf("%v against %v: %+v; counted %v of %v", first, second, got, far, all)
		}
		turned, err := stats.Permute(second, first)
		if err != nil || !near(turned.P, got.P, 9) || !near(turned.Difference, -got.Difference, 9) {
			t.Fatalf("%+v turned: %+v, %v", got, turned, err)
		}
	})
}

// As many values as are taken, and one more.
func TestPermute_Most(t *testing.T) {
	var first, second []float64
	for i := range 20 {
		first, second = append(first, float64(i)), append(second, float64(i)+0.5)
	}
	got, err := stats.Permute(first, second)
	if err != nil || got.Ways != 137846528820 || !(got.P > 0.7 && got.P < 0.9) {
		t.Errorf("%+v, %v; want C(40, 20) ways", got, err)
	}
	if _, err = stats.Permute(first, append(second, 1)); err == nil || !strings.Contains(err.Error(), "41") {
		t.Errorf("41 values: %v", err)
	}
}

func TestGroups_Refused(t *testing.T) {
	for _, test := range map[string]func(a, b []float64) error{
		"ranks": func(a, b []float64) error { _, err := stats.MannWhitney(a, b); return err },
		"means": func(a, b []float64) error { _, err := stats.Permute(a, b); return err },
	} {
		var few *stats.TooFewError
		if err := test(nil, []float64{1}); !errors.As(err, &few) || few.Got != 0 || few.Want != 1 {
			t.Errorf("no first group: %v", err)
		}
		if err := test([]float64{1}, nil); !errors.As(err, &few) {
			t.Errorf("no second group: %v", err)
		}
		if err := test([]float64{1, math.NaN()}, []float64{1}); err == nil || !strings.Contains(err.Error(), "value 2 of the first") {
			t.Errorf("no number: %v", err)
		}
		if err := test([]float64{1}, []float64{math.Inf(-1)}); err == nil || !strings.Contains(err.Error(), "value 1 of the second") {
			t.Errorf("without end: %v", err)
		}
		if err := test([]float64{1}, []float64{2}); err != nil {
			t.Errorf("one of each: %v", err)
		}
	}
}

// Sources: the ratio and interval of the first from the test file of a published program
// (11 events in 800 against 21 in 3,011), the counts of the second from a package's example;
// the rest computed. The doubled chance of the second is not below .05, and its interval
// holds 1: by the other definition, .033, it would be, against its own interval.
func TestRateRatio_Published(t *testing.T) {
	for _, c := range []struct {
		of                  string
		first               int
		watched             float64
		second              int
		watchedSecond       float64
		ratio, low, high, p float64
		ratioTo, lowTo, pTo int
		highTo              int
	}{
		{"published", 11, 800, 21, 3011, 1.971488, 0.858426, 4.277266, 0.112017, 6, 6, 6, 6},
		{"a package's example", 2, 17877, 9, 16660, 0.207094, 0.021774, 1.000549, 0.050106, 6, 6, 6, 6},
		{"ten against three in 30 days", 10, 30, 3, 30, 10.0 / 3, 0.858, 18.85, 0.0923, 9, 3, 4, 2},
		{"none against five in 28 days", 0, 28, 5, 28, 0, 0, 1.091, 0.0625, 9, 9, 4, 3},
		{"one against one", 1, 10, 1, 10, 1, 0.01274, 78.497, 1, 9, 4, 9, 1},
	} {
		got, err := stats.RateRatio(c.first, c.watched, c.second, c.watchedSecond, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		if !near(got.Ratio, c.ratio, c.ratioTo) || !near(got.Low, c.low, c.lowTo) || !near(got.High, c.high, c.highTo) || !near(got.P, c.p, c.pTo) {
			t.Errorf("%s: %+v, want %+v", c.of, got, c)
		}
	}
}

// What is said to be no chance lies outside the interval, and the other way round; turned
// about, the ratio is one over it.
func TestRateRatio_AgreesWithItsInterval(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first, second := rapid.IntRange(0, 40).Draw(t, "first"), rapid.IntRange(0, 40).Draw(t, "second")
		if first+second == 0 {
			first = 1
		}
		watched, other := float64(rapid.IntRange(1, 90).Draw(t, "watched")), float64(rapid.IntRange(1, 90).Draw(t, "other"))
		confidence := rapid.SampledFrom([]float64{0.8, 0.9, 0.95, 0.99}).Draw(t, "confidence")
		got, err := stats.RateRatio(first, watched, second, other, confidence)
		if err != nil {
			t.Fatal(err)
		}
		if !(got.Low <= got.Ratio && got.Ratio <= got.High) || !(got.P > 0 && got.P <= 1) {
			t.Fatalf("out of range: %+v", got)
		}
		if math.Abs(got.P-(1-confidence)) > 1e-6 && (got.P < 1-confidence) != (got.Low > 1 || got.High < 1) {
			t.Fatalf("p and interval do not agree at %v: %+v", confidence, got)
		}
		turned, err := stats.RateRatio(second, other, first, watched, confidence)
		if err != nil || !near(turned.P, got.P, 9) {
			t.Fatalf("%+v turned: %+v, %v", got, turned, err)
		}
		if first > 0 && second > 0 && !near(turned.Ratio*got.Ratio, 1, 9) {
			t.Fatalf("%+v turned: %+v", got, turned)
		}
	})
}

func TestRateRatio_Refuses(t *testing.T) {
	for _, c := range []struct {
		first      int
		watched    float64
		second     int
		other      float64
		confidence float64
		names      string
	}{
		{1, 0, 1, 1, 0.95, "time to watch"}, {1, 1, 1, -2, 0.95, "-2"}, {1, math.NaN(), 1, 1, 0.95, "time to watch"}, {1, math.Inf(1), 1, 1, 0.95, "time to watch"},
		{-1, 1, 1, 1, 0.95, "-1"}, {1, 1, -3, 1, 0.95, "-3"}, {1_000_001, 1, 1, 1, 0.95, "1000001"}, {1, 1, 1, 1, 1, "confidence"}, {0, 1, 0, 1, 0.95, "too few"},
	} {
		if _, err := stats.RateRatio(c.first, c.watched, c.second, c.other, c.confidence); err == nil || !strings.Contains(err.Error(), c.names) {
			t.Errorf("%+v: %v", c, err)
		}
	}
	if got, err := stats.RateRatio(3, 1, 0, 1, 0.95); err != nil || !math.IsInf(got.Ratio, 1) || !math.IsInf(got.High, 1) {
		t.Errorf("nothing in the second: %+v, %v", got, err)
	}
	if _, err := stats.RateRatio(1_000_000, 1, 1, 1, 0.95); err != nil {
		t.Errorf("the largest count: %v", err)
	}
}

// drawGroup draws one to five small whole numbers, so that ties come up.
func drawGroup(t *rapid.T, name string) []float64 {
	return rapid.SliceOfN(rapid.Map(rapid.IntRange(0, 6), func(i int) float64 { return float64(i) }), 1, 5).Draw(t, name)
}

// eachWay hands out every way in which the values can fall into groups of these sizes.
func eachWay(first, second []float64, each func(a, b []float64)) {
	all := append(append([]float64{}, first...), second...)
	for chosen := range 1 << len(all) {
		var a, b []float64
		for i, v := range all {
			if chosen>>i&1 == 1 {
				a = append(a, v)
			} else {
				b = append(b, v)
			}
		}
		if len(a) == len(first) {
			each(a, b)
		}
	}
}

// pairsWon is U by its definition.
func pairsWon(a, b []float64) (u float64) {
	for _, x := range a {
		for _, y := range b {
			switch {
			case x > y:
				u++
			case x == y:
				u += 0.5
			}
		}
	}
	return u
}

func mean(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}
