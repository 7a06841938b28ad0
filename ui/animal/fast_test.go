package animal_test

import (
	"fmt"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/ui/animal"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// The page of the weights tells the trend with its interval, and of a fast what one was
// measured to cost; with too few weights that nothing can be told.
func TestThePageOfTheWeightsTellsTheTrend(t *testing.T) {
	grown := func(ago int64) int64 { return 1500 + ago/2 }
	tell := func(weighings int64, meals ...int64) *hand {
		return open(t, "en", small, look.ByDay, func(c *collection.Collection) {
			if _, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Wren", Species: "python-regius"}}); err != nil {
				t.Fatal(err)
			}
			for n := weighings - 1; n >= 0; n-- {
				weigh(t, c, model.Grams(grown(7*n)), 7*n)
			}
			for _, ago := range meals {
				takes(t, c, ago)
			}
		})
	}
	h := tell(3)
	h.show("Wren", animal.PageWeight)
	for _, want := range []string{"Whether it loses weight cannot be told", "No trend yet: 3 days with a weight that compares, over 14 days; it takes 6, over 60 days."} {
		if !h.Shows(want) {
			t.Errorf("three weights: %q is not among %q", want, uitest.Texts(h.Content()))
		}
	}
	h = tell(12, 70, 56, 42, 28, 14)
	h.show("Wren", animal.PageWeight)
	if want := fmt.Sprintf("it falls; −1%s%% in 30 days, between −1%s%% and −1%s%%, by 7 weights since ", nbsp, nbsp, nbsp); !h.Shows(want) || h.Shows("The dashed line") {
		t.Errorf("seven that lie eight days after a meal: %q is not among %q", want, uitest.Texts(h.Content()))
	}
	h = tell(24, 168, 154, 140, 126, 112, 98)
	h.show("Wren", animal.PageWeight)
	for _, want := range []string{"since then the animal fasts", "The dashed line is what a fast was measured to cost"} {
		if !h.Shows(want) {
			t.Errorf("a fast: %q is not among %q", want, uitest.Texts(h.Content()))
		}
	}
}

const nbsp = "\u00a0"

// takes notes a meal that was taken so many days ago.
func takes(t *testing.T, c *collection.Collection, daysAgo int64) {
	t.Helper()
	err := c.View(func(v model.View) error {
		all, err := animals.All(v)
		if err != nil {
			return err
		}
		at := v.Now()
		at.UTC -= daysAgo * 86400
		_, err = c.Do(care.Feed{About: care.About{Animal: all[0].ID, At: at}, Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
