package paper

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The bars of chances go by the odds, as on the screen: what is as likely as not stands in
// the middle, a chance stands as far from one end as its contrary from the other, and nothing
// stands outside of the box.
func TestWhereAChanceStands(t *testing.T) {
	b := Box{X0: 10, X1: 40}
	for p, want := range map[float64]float64{0: 10, .0001: 10, .001: 10, .5: 25, .999: 40, 1: 40, 2: 40} {
		if got := chanceAt(b, p); math.Abs(got-want) > 1e-9 {
			t.Errorf("%g stands at %g, want %g", p, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		p, q := rapid.Float64Range(0, 1).Draw(t, "p"), rapid.Float64Range(0, 1).Draw(t, "q")
		if (p < q) != (chanceAt(b, p) < chanceAt(b, q)) && min(p, q) >= .001 && max(p, q) <= .999 && math.Abs(math.Log(p/q)) > 1e-9 {
			t.Fatalf("%g stands at %g, %g at %g", p, chanceAt(b, p), q, chanceAt(b, q))
		}
		if from, to := chanceAt(b, p)-b.X0, b.X1-chanceAt(b, 1-p); math.Abs(from-to) > 1e-6 {
			t.Fatalf("%g stands %g from the one end, its contrary %g from the other", p, from, to)
		}
	})
	if ticks := chanceTicks(); !slices.Equal(ticks, []float64{.001, .01, .05, .2, .5, .8, .95, .99, .999}) {
		t.Errorf("there are lines at %v", ticks)
	}
}
