package weight

import (
	"coilward/model"
	"coilward/model/knowledge"
)

// Weighing is one weight that can be compared: of an empty gut, or taken just before
// a meal of the usual rhythm.
type Weighing struct {
	Entry model.EntryID
	Day   model.Day
	Mass  model.Mass
}

// Facts are what is known of the weights of one animal on a day.
type Facts struct {
	On        model.Day
	Weighings []Weighing // those that can be compared, newest first
	// Break is the day of the last break, such as a clutch: what was weighed before
	// it says nothing of a loss after it; 0: none.
	Break model.Day
	Meal  model.Day // of the last meal kept, or since when the records tell of the animal; 0: not known
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
func (f Facts) compared() []Weighing { return within(f.Weighings, f.Break, f.On) }

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
