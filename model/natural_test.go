package model_test

import (
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
)

func TestNatural_CountsNumbers(t *testing.T) {
	sorted := []string{"", "2", "02b", "10", "a", "a1", "a01b", "a2", "a10", "b"}
	for i := range sorted[1:] {
		if model.Natural(sorted[i], sorted[i+1]) > 0 {
			t.Errorf("%q stands after %q", sorted[i], sorted[i+1])
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.StringMatching(`[a0-9]{0,5}`).Draw(t, "a"), rapid.StringMatching(`[a0-9]{0,5}`).Draw(t, "b")
		if model.Natural(a, b) != -model.Natural(b, a) {
			t.Fatalf("%q and %q: %d one way, %d the other", a, b, model.Natural(a, b), model.Natural(b, a))
		}
	})
}
