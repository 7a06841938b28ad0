package stats_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"coilward/model/stats"
)

const (
	arenavirus    = "Hoon-Hanks et al. 2019, Frontiers in Veterinary Science 6:338, abstract read; computed"
	murdoch       = "summary of a thesis, Murdoch University; read"
	rsurveillance = "the R package RSurveillance, its source and test file; read"
)

func TestWilson_Published(t *testing.T) {
	for _, c := range []struct {
		seen, n   int
		low, high float64
		decimals  int
		source    string
	}{
		{0, 4, 0, .490, 3, arenavirus}, {0, 12, 0, .2425, 4, arenavirus}, {0, 14, 0, .2153, 4, arenavirus},
		{8, 79, .0522, .1873, 4, arenavirus}, {156, 414, .3315, .4244, 4, arenavirus},
		{25, 200, .08611974, .1780143, 7, rsurveillance},
	} {
		low, high, err := stats.Wilson(c.seen, c.n, .95)
		if err != nil {
			t.Fatal(err)
		}
		if !near(low, c.low, c.decimals) || !near(high, c.high, c.decimals) {
			t.Errorf("%d of %d: %v to %v, want %v to %v (%s)", c.seen, c.n, low, high, c.low, c.high, c.source)
		}
	}
}

func TestClopperPearson_Published(t *testing.T) {
	for _, c := range []struct {
		seen, n    int
		confidence float64
		low, high  float64
		decimals   int
		source     string
	}{
		{2, 38, .95, .0064, .1775, 4, murdoch}, {25, 200, .95, .08255234, .1789738, 7, rsurveillance},
		{0, 10, .9, 0, 1 - math.Pow(.05, .1), 9, "computed: 1 - .05^(1/10)"}, {10, 10, .9, math.Pow(.05, .1), 1, 9, "computed: .05^(1/10)"},
		{1, 1, .5, .25, 1, 9, "computed: the quarter"},
	} {
		low, high, err := stats.ClopperPearson(c.seen, c.n, c.confidence)
		if err != nil {
			t.Fatal(err)
		}
		if !near(low, c.low, c.decimals) || !near(high, c.high, c.decimals) {
			t.Errorf("%d of %d: %v to %v, want %v to %v (%s)", c.seen, c.n, low, high, c.low, c.high, c.source)
		}
	}
}

// The exact limits are the shares at which as many as were seen, or as few, have half of
// what the confidence leaves; those of the score are as many deviations from what was seen
// as the confidence has. Both mirror with what was not seen.
func TestShare_LimitsAreWhatTheySay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 300).Draw(t, "n")
		seen := rapid.IntRange(0, n).Draw(t, "seen")
		confidence := rapid.Float64Range(.5, .999).Draw(t, "confidence")
		tail := (1 - confidence) / 2
		low, high, err := stats.ClopperPearson(seen, n, confidence)
		if err != nil {
			t.Fatal(err)
		}
		share := float64(seen) / float64(n)
		if low > share || high < share {
			t.Fatalf("%v lies outside %v to %v", share, low, high)
		}
		if seen > 0 {
			if p := 1 - (distuv.Binomial{N: float64(n), P: low}).CDF(float64(seen-1)); !near(p, tail, 7) {
				t.Fatalf("%d and more at %v have %v, want %v", seen, low, p, tail)
			}
		}
		if seen < n {
			if p := (distuv.Binomial{N: float64(n), P: high}).CDF(float64(seen)); !near(p, tail, 7) {
				t.Fatalf("%d and fewer at %v have %v, want %v", seen, high, p, tail)
			}
		}
		from, to, err := stats.Wilson(seen, n, confidence)
		if err != nil {
			t.Fatal(err)
		}
		z := distuv.UnitNormal.Quantile(1 - tail)
		for _, limit := range []float64{from, to} {
			if away := z*z*limit*(1-limit)/float64(n) - (share-limit)*(share-limit); math.Abs(away) > 1e-9 {
				t.Fatalf("the limit %v of %d in %d is not %v deviations away", limit, seen, n, z)
			}
		}
		for _, interval := range []func(int, int, float64) (float64, float64, error){stats.ClopperPearson, stats.Wilson} {
			a, b, _ := interval(seen, n, confidence)
			c, d, _ := interval(n-seen, n, confidence)
			if math.Abs(a-(1-d)) > 1e-7 || math.Abs(b-(1-c)) > 1e-7 || a < 0 || b > 1 {
				t.Fatalf("%d of %d: %v to %v, the others %v to %v", seen, n, a, b, c, d)
			}
		}
	})
}

func TestShare_WhatCannotBeHad(t *testing.T) {
	for _, interval := range []func(int, int, float64) (float64, float64, error){stats.ClopperPearson, stats.Wilson} {
		var few *stats.TooFewError
		if _, _, err := interval(0, 0, .95); !errors.As(err, &few) || few.Got != 0 || few.Want != 1 {
			t.Errorf("none of none: %v", err)
		}
		for _, c := range []struct {
			seen, n    int
			confidence float64
			says       string
		}{
			{-1, 4, .95, "-1 of 4"}, {5, 4, .95, "5 of 4"}, {1, 4, 0, "confidence of 0"}, {1, 4, 1, "confidence of 1"}, {1, 4, math.NaN(), "NaN"},
		} {
			if low, high, err := interval(c.seen, c.n, c.confidence); err == nil || !strings.Contains(err.Error(), c.says) || low != 0 || high != 0 {
				t.Errorf("%d of %d at %v: %v to %v, %v", c.seen, c.n, c.confidence, low, high, err)
			}
		}
		for _, seen := range []int{0, 1} {
			if low, high, err := interval(seen, 1, .95); err != nil || !(low < high) {
				t.Errorf("%d of 1: %v to %v, %v", seen, low, high, err)
			}
		}
	}
}
