package meals

import (
	"slices"

	"coilward/model/care"
)

// Habit is how an animal ate lately, told from the meals that it took: no advice.
type Habit struct {
	Meal care.Meal // prey, size and state of most of them; of as many, the later
	Same int       // how many of them were such
	Of   int       // of how many, the newest
	Days int       // the middle one of the times between two of them, in whole days; of two, the shorter
}

// habitOf and leastForHabit are how many of the newest meals taken tell a habit, at most
// and at least (assumed).
const (
	habitOf       = 10
	leastForHabit = 3
)

// HabitOf reads the habit from entries, newest first; ok is false where too few meals were
// taken to tell one. What was refused, dropped or brought up again tells no habit.
func HabitOf(newestFirst []care.Entry) (h Habit, ok bool) {
	type prey struct {
		of    care.Prey
		size  care.PreySize
		state care.PreyState
	}
	counted := map[prey]int{}
	var gaps []int
	var before care.Entry
	var order []care.Meal
	for _, e := range newestFirst {
		m, is := e.Body.(care.Meal)
		if !is || m.Outcome != care.Took || h.Of == habitOf {
			continue
		}
		if h.Of > 0 {
			gaps = append(gaps, int(before.At.Day()-e.At.Day()))
		}
		before = e
		h.Of++
		counted[prey{m.Prey, m.Size, m.State}]++
		order = append(order, m)
	}
	if h.Of < leastForHabit {
		return Habit{}, false
	}
	for _, m := range order {
		if n := counted[prey{m.Prey, m.Size, m.State}]; n > h.Same {
			h.Same, h.Meal = n, care.Meal{Prey: m.Prey, Size: m.Size, State: m.State}
		}
	}
	slices.Sort(gaps)
	h.Days = gaps[(len(gaps)-1)/2]
	return h, true
}
