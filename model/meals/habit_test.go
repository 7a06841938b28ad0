package meals_test

import (
	"reflect"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/meals"
)

func TestHabitOf(t *testing.T) {
	entry := func(daysAgo int, prey care.Prey, outcome care.Outcome) care.Entry {
		return care.Entry{At: model.MomentOf(time.Date(2026, time.June, 30-daysAgo, 19, 0, 0, 0, time.UTC)), Body: care.Meal{Prey: prey, Outcome: outcome}}
	}
	for name, c := range map[string]struct {
		entries []care.Entry
		want    meals.Habit
		ok      bool
	}{
		"nothing":   {},
		"two meals": {entries: []care.Entry{entry(0, care.Rat, care.Took), entry(7, care.Rat, care.Took)}},
		"rats every week, one mouse": {[]care.Entry{entry(0, care.Mouse, care.Took), entry(7, care.Rat, care.Took), entry(14, care.Rat, care.Took)},
			meals.Habit{Meal: care.Meal{Prey: care.Rat}, Same: 2, Of: 3, Days: 7}, true},
		"as many of each: the later": {[]care.Entry{entry(0, care.Mouse, care.Took), entry(5, care.Rat, care.Took), entry(11, care.Rat, care.Took), entry(20, care.Mouse, care.Took)},
			meals.Habit{Meal: care.Meal{Prey: care.Mouse}, Same: 2, Of: 4, Days: 6}, true},
		"what was refused is left out": {[]care.Entry{entry(0, care.Rat, care.Took), entry(7, care.Mouse, care.Refused), entry(14, care.Rat, care.Took), entry(28, care.Rat, care.Took)},
			meals.Habit{Meal: care.Meal{Prey: care.Rat}, Same: 3, Of: 3, Days: 14}, true},
	} {
		if got, ok := meals.HabitOf(c.entries); !reflect.DeepEqual(got, c.want) || ok != c.ok {
			t.Errorf("%s: %+v %v, want %+v %v", name, got, ok, c.want, c.ok)
		}
	}
}
