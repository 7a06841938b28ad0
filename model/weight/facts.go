package weight

import (
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Weighing is one weight that can be compared: of an empty gut, or taken just before
// a meal of the usual rhythm.
type Weighing struct {
	Entry model.EntryID
	Day   model.Day
	Mass  model.Mass
	// Doubtful is that its scale failed the check after it: it counts in nothing.
	Doubtful bool
}

// Facts are what is known of the weights of one animal on a day.
type Facts struct {
	On        model.Day
	Weighings []Weighing // those that can be compared, newest first
	// Break is the day of the last break, such as a clutch: what was weighed before
	// it says nothing of a loss after it; 0: none.
	Break model.Day
	Meal  model.Day // of the last meal kept, or since when the records tell of the animal; 0: not known
	// Fed is the day of the meal that ended the last fast; 0: none is known.
	Fed model.Day
	// Moves are the days on which the animal came to another place, in any order: a
	// trend does not reach back beyond one, an alarm of a loss does.
	Moves []model.Day
	// Usual is the animal's usual time between two meals taken, in days.
	Usual int
	// GoodBefore is that the last look before the last meal kept found a good
	// condition: not thin.
	GoodBefore bool
}

// before is what was known at an earlier day.
func (f Facts) before(day model.Day) Facts {
	f.On = day
	return f
}

// compared are the weighings that count on the day, newest first.
func (f Facts) compared() []Weighing {
	all := within(f.Weighings, f.Break, f.On)
	if !slices.ContainsFunc(all, doubtful) {
		return all
	}
	return slices.DeleteFunc(slices.Clone(all), doubtful)
}

func doubtful(w Weighing) bool { return w.Doubtful }

// doubted counts the doubtful weighings of the days of which a weight may tell.
func (f Facts) doubted(t *knowledge.Tables) (n int) {
	for _, w := range within(f.Weighings, max(f.Break, f.On-model.Day(t.Value(knowledge.ValueLosingFar))), f.On) {
		if w.Doubtful {
			n++
		}
	}
	return n
}

// unfed reports whether more than twice the usual time has passed without a meal.
func (f Facts) unfed() bool { return f.Meal > 0 && f.Usual > 0 && int(f.On-f.Meal) > 2*f.Usual }

// Fasts reports whether the animal fasts on the day.
func (f Facts) Fasts(t *knowledge.Tables) bool {
	return f.Meal > 0 && f.Usual > 0 && f.On >= FastFrom(t, f.Meal, f.Usual)
}

// FastFrom is the day from which on an animal fasts that keeps no meal after one: when
// none was kept for over twice its usual time, in days, and for as many days as the
// tables say.
func FastFrom(t *knowledge.Tables, meal model.Day, usual int) model.Day {
	return meal + model.Day(max(t.Value(knowledge.ValueFastFrom), 2*usual+1))
}
