package indoors_test

import (
	"math"
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/stats"
)

// Of more meals than the exact test takes the newest are compared, and it is told how many
// are left out.
func TestOfManyMealsTheNewestAreCompared(t *testing.T) {
	w := begin(t)
	w.log(w.warm(), 101, 0, func(hour int) (int, int) {
		back := (int(w.now.UTC/3600) - hour) / 24
		return 2400 + back%2*400 + hour%7, -1
	})
	const meals = 100
	for i := range meals { // refused after the warm days, but for the oldest
		m := care.Meal{Outcome: care.Took, Prey: care.Rat, Count: 1, Each: model.Grams(80)}
		if i%2 == 0 != (i >= stats.RanksUpTo) {
			m.Outcome = care.Refused
		}
		w.do(care.Feed{About: care.About{Animal: w.animal, At: w.ago(i), Confirmed: model.Confirmed{"day.before-arrival"}}, Meal: m})
	}
	_, got := w.together()
	if len(got.Bad) != 40 || len(got.Good) != 40 || got.Older != meals-80 || got.Left != 0 || !got.Told {
		t.Fatalf("%d and %d, %d older, %d left, told %v", len(got.Bad), len(got.Good), got.Older, got.Left, got.Told)
	}
	// all of 40 above all of 40 (or below): 2 of the ways in which 80 can fall
	ways := 1.
	for i := range 40 {
		ways *= float64(80-i) / float64(i+1)
	}
	if math.Abs(got.P*ways-2) > 1e-6 {
		t.Errorf("p = %g, want %g", got.P, 2/ways)
	}
}
