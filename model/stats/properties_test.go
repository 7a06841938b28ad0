package stats_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model/stats"
)

// series draws values of rising x, whole numbers so that ties come up.
func series(t *rapid.T) (x, y []float64) {
	n := rapid.IntRange(2, 14).Draw(t, "n")
	at := 0.0
	for range n {
		at += float64(rapid.IntRange(1, 9).Draw(t, "step"))
		x = append(x, at)
		y = append(y, float64(rapid.IntRange(0, 12).Draw(t, "value")))
	}
	return x, y
}

// TestExactChance_CountsOrders holds the counted chance against every order there is.
func TestExactChance_CountsOrders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := rapid.SliceOfN(rapid.Map(rapid.IntRange(0, 4), func(i int) float64 { return float64(i) }), 2, 6).Draw(t, "y")
		got, err := stats.MannKendall(indices(len(y)), y)
		if err != nil {
			t.Fatal(err)
		}
		far, all := 0, 0
		orders(slices.Clone(y), 0, func(order []float64) {
			s := 0
			for i := range order {
				for j := range i {
					switch {
					case order[i] > order[j]:
						s++
					case order[i] < order[j]:
						s--
					}
				}
			}
			all++
			if s >= max(got.S, -got.S) {
				far++
			}
		})
		want := min(1, 2*float64(far)/float64(all))
		if !near(got.P, want, 9) {
			t.Fatalf("p of %v is %v, counting every order gives %v", y, got.P, want)
		}
	})
}

// orders hands out every order of the values.
func orders(values []float64, from int, each func([]float64)) {
	if from == len(values) {
		each(values)
		return
	}
	for i := from; i < len(values); i++ {
		values[from], values[i] = values[i], values[from]
		orders(values, from+1, each)
		values[from], values[i] = values[i], values[from]
	}
}

// TestVariance_IsThatOfAllOrders holds the formula with ties against every order.
func TestVariance_IsThatOfAllOrders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		small := rapid.Map(rapid.IntRange(0, 2), func(i int) float64 { return float64(i) })
		n := rapid.IntRange(2, 6).Draw(t, "n")
		x := rapid.SliceOfN(small, n, n).Draw(t, "x")
		y := rapid.SliceOfN(small, n, n).Draw(t, "y")
		got, err := stats.MannKendall(x, y)
		if err != nil {
			t.Fatal(err)
		}
		squares, all := 0.0, 0
		orders(slices.Clone(y), 0, func(order []float64) {
			of, err := stats.MannKendall(x, order)
			if err != nil {
				t.Fatal(err)
			}
			squares += float64(of.S * of.S)
			all++
		})
		if want := squares / float64(all); !near(got.Variance, want, 6) {
			t.Fatalf("variance of %v over %v is %v, over every order it is %v", y, x, got.Variance, want)
		}
	})
}

func TestSlope_TurnsWithTheValues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := series(t)
		tilt, up := float64(rapid.IntRange(-5, 5).Draw(t, "tilt")), float64(rapid.IntRange(-9, 9).Draw(t, "up"))
		turned := make([]float64, len(y))
		for i := range y {
			turned[i] = y[i] + tilt*x[i] + up
		}
		was, err := stats.TheilSen(x, y, 0.9)
		if err != nil {
			t.Fatal(err)
		}
		is, err := stats.TheilSen(x, turned, 0.9)
		if err != nil {
			t.Fatal(err)
		}
		if !near(is.Slope, was.Slope+tilt, 9) {
			t.Fatalf("slope %v of %v, tilted by %v: %v", was.Slope, y, tilt, is.Slope)
		}
		if is.Low > is.Slope || is.Slope > is.High {
			t.Fatalf("the slope lies outside its interval: %+v", is)
		}
	})
}

func TestTrend_MirrorsAndHasNoScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := series(t)
		was, err := stats.MannKendall(x, y)
		if err != nil {
			t.Fatal(err)
		}
		mirrored := make([]float64, len(y))
		for i := range y {
			mirrored[i] = -math.Exp(y[i])
		}
		is, err := stats.MannKendall(x, mirrored)
		if err != nil {
			t.Fatal(err)
		}
		if is.S != -was.S || is.P != was.P || is.Variance != was.Variance || is.Z != -was.Z {
			t.Fatalf("%+v mirrored is %+v", was, is)
		}
		if was.P < 0 || was.P > 1 || was.TauA < -1 || was.TauA > 1 {
			t.Fatalf("out of range: %+v", was)
		}
	})
}

func TestWiderConfidence_WiderInterval(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := series(t)
		narrow, err := stats.TheilSen(x, y, 0.8)
		if err != nil {
			t.Fatal(err)
		}
		wide, err := stats.TheilSen(x, y, 0.99)
		if err != nil {
			t.Fatal(err)
		}
		if wide.Low > narrow.Low || wide.High < narrow.High {
			t.Fatalf("99 %%: %+v, 80 %%: %+v", wide, narrow)
		}
	})
}
