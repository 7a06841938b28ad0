package care

import (
	"coilward/model"
	"coilward/model/knowledge"
)

// AfterMeal is a meal so short ago that the animal is better left unlifted.
type AfterMeal struct {
	At    model.Moment
	Large bool
	Hours int // how long it is better left alone, from the meal on
}

// Resting is the last meal taken, if at that moment it is so short ago that the
// animal is better neither lifted nor felt: longer after a large one. Entries are
// newest first, mass is the animal's (zero: not known, and no meal is large). Of
// a meal whose hour is not known, the whole day counts.
func Resting(t *knowledge.Tables, newestFirst []Entry, mass model.Mass, at model.Moment) (AfterMeal, bool) {
	for _, e := range newestFirst {
		meal, ok := e.Body.(Meal)
		exact := e.At.Precision == model.ToMinute
		if !ok || meal.Outcome != Took || exact && at.Before(e.At) || e.At.Day() > at.Day() {
			continue
		}
		after := AfterMeal{At: e.At, Large: LargeMeal(t, meal, mass), Hours: t.Value(knowledge.ValueRestAfterMeal)}
		if after.Large {
			after.Hours = t.Value(knowledge.ValueRestAfterLarge)
		}
		since := at.UTC - e.At.UTC
		if !exact {
			since -= 24 * 60 * 60
		}
		return after, since < int64(after.Hours)*60*60
	}
	return AfterMeal{}, false
}

// LargeMeal reports whether prey is a large meal for an animal of that mass (zero:
// not known, and none is). Source: common practice, no source.
func LargeMeal(t *knowledge.Tables, m Meal, mass model.Mass) bool {
	return !mass.IsZero() && m.Total().Milligrams*100 > mass.Milligrams*int64(t.Value(knowledge.ValueLargeMeal))
}

// Kept are the meals that were taken and stayed down, of entries that come newest
// first.
func Kept(t *knowledge.Tables, newestFirst []Entry) []Entry {
	var kept []Entry
	var k Keeping
	for _, e := range newestFirst {
		if k.Keeps(t, e) {
			kept = append(kept, e)
		}
	}
	return kept
}

// Keeping tells of entries that come newest first, one after the other, which of them are
// meals that were taken and stayed down. Prey that came up by an entry of its own is that
// of the meal before it, as far back as a meal is digested by the tables.
type Keeping struct {
	cameUp model.Day // 0: nothing that is still to be told whose it was
}

// Keeps reports whether the next entry is such a meal.
func (k *Keeping) Keeps(t *knowledge.Tables, next Entry) bool {
	meal, ok := next.Body.(Meal)
	switch {
	case !ok:
	case meal.Outcome == Regurgitated && meal.BroughtUp.IsZero():
		k.cameUp = next.At.Day()
	case meal.Outcome != Took:
	case k.cameUp > 0 && int(k.cameUp-next.At.Day()) <= t.Value(knowledge.ValueFed):
		k.cameUp = 0
	default:
		k.cameUp = 0
		return true
	}
	return false
}

// OfferAfterBroughtUp is the first day on which food is offered again where the
// last meal that was eaten was brought up, and the day on which it was: what was
// refused since shortens no wait. Entries are newest first. Source: common practice, no source.
func OfferAfterBroughtUp(t *knowledge.Tables, newestFirst []Entry) (from, on model.Day, broughtUp bool) {
	for _, e := range newestFirst {
		meal, ok := e.Body.(Meal)
		if !ok || meal.Outcome == Refused {
			continue
		}
		on = max(e.At.Day(), meal.BroughtUp.Day)
		return on + model.Day(t.Value(knowledge.ValueWaitBroughtUp)), on, meal.Outcome == Regurgitated
	}
	return 0, 0, false
}
