package paper

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The bars of chances go by powers of ten: each tenth takes a third of the box, and nothing
// stands outside of it.
func TestWhereAChanceStands(t *testing.T) {
	b := Box{X0: 10, X1: 40}
	for p, want := range map[float64]float64{0: 10, .0001: 10, .001: 10, .01: 20, .1: 30, 1: 40, 2: 40} {
		if got := chanceAt(b, p); math.Abs(got-want) > 1e-9 {
			t.Errorf("%g stands at %g, want %g", p, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		p, q := rapid.Float64Range(0, 1).Draw(t, "p"), rapid.Float64Range(0, 1).Draw(t, "q")
		if (p < q) != (chanceAt(b, p) < chanceAt(b, q)) && min(p, q) >= .001 && math.Abs(math.Log(p/q)) > 1e-9 {
			t.Fatalf("%g stands at %g, %g at %g", p, chanceAt(b, p), q, chanceAt(b, q))
		}
	})
}
