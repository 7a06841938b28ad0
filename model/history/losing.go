package history

import (
	"iter"
	"slices"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/weight"
)

// Loss is what the weights up to a day tell of a loss.
func (r Records) Loss(t *knowledge.Tables, on model.Day) weight.Loss {
	return weight.Judge(t, r.weightFacts(t, on))
}

// LossWith is what they would tell with one weight more, on its day.
func (r Records) LossWith(t *knowledge.Tables, more care.Weighed) weight.Loss {
	at := slices.IndexFunc(r.Weights, func(w care.Weighed) bool { return !more.At.Before(w.At) })
	if at < 0 {
		at = len(r.Weights)
	}
	r.Weights = slices.Insert(slices.Clone(r.Weights), at, more)
	return r.Loss(t, more.At.Day())
}

func (r Records) weightFacts(t *knowledge.Tables, on model.Day) weight.Facts {
	f := weight.Facts{On: on, Usual: r.usual(t), Meal: r.Begun, Break: max(r.notGravidSince(), r.laidBefore()), Moves: r.moves}
	if kept, known := r.LastKept(t); known {
		f.Meal, f.GoodBefore = kept.At.Day(), r.goodBefore(t, kept.At)
	}
	f.Fed = r.fedAgain(t, f.Usual)
	enough := r.daysAfterMeal(t, f.Usual)
	for w, meal := range r.beforeWeights() {
		if compares(w, meal, enough) {
			f.Weighings = append(f.Weighings, weight.Weighing{Entry: w.Entry, Day: w.At.Day(), Mass: w.Mass, Doubtful: w.Doubtful})
		}
	}
	return f
}

// fedAgain is the day of the meal that ended the last fast: none was kept before it for
// as long as that takes, or for 180 days, as far as the records tell; 0: none did.
func (r Records) fedAgain(t *knowledge.Tables, usual int) (again model.Day) {
	after := func(day model.Day) bool {
		return again > 0 && again >= min(weight.FastFrom(t, day, usual), day+model.Day(t.Value(knowledge.ValueLosingTo)))
	}
	var k care.Keeping
	for _, e := range r.Entries {
		if !k.Keeps(t, e) {
			continue
		}
		if day := e.At.Day(); after(day) {
			return again
		}
		again = e.At.Day()
	}
	if after(r.Begun) {
		return again
	}
	return 0
}

// Trend is the course of the weights up to a day.
func (r Records) Trend(t *knowledge.Tables, on model.Day) weight.Trend {
	return weight.TrendOf(t, r.weightFacts(t, on))
}

// Fasting is the fast that goes on, with what it is known to cost.
func (r Records) Fasting(t *knowledge.Tables, on model.Day) (weight.Fast, bool) {
	return weight.FastOf(t, r.weightFacts(t, on))
}

// Breaks are the days that break the course of the weights, in order: clutches, other
// places, meals after a fast; only what some weight lies before.
func (r Records) Breaks(t *knowledge.Tables, on model.Day) []model.Day {
	if len(r.Weights) == 0 {
		return nil
	}
	f, first := r.weightFacts(t, on), r.Weights[len(r.Weights)-1].At.Day()
	days := slices.DeleteFunc(append(slices.Clone(f.Moves), f.Break, f.Fed), func(day model.Day) bool { return day <= first || day > on })
	slices.Sort(days)
	return slices.Compact(days)
}

// beforeWeights are the weights, newest first, each with the last meal taken before it;
// zero: there is none.
func (r Records) beforeWeights() iter.Seq2[care.Weighed, model.Moment] {
	return func(yield func(care.Weighed, model.Moment) bool) {
		rest := r.Entries
		for _, w := range r.Weights {
			for len(rest) > 0 && !(taken(rest[0]) && rest[0].At.Before(w.At)) {
				rest = rest[1:]
			}
			var meal model.Moment
			if len(rest) > 0 {
				meal = rest[0].At
			}
			if !yield(w, meal) {
				return
			}
		}
	}
}

// mealsTaken are the moments of the meals taken, newest first.
func (r Records) mealsTaken() iter.Seq[model.Moment] {
	return func(yield func(model.Moment) bool) {
		for _, e := range r.Entries {
			if taken(e) && !yield(e.At) {
				return
			}
		}
	}
}

// taken reports whether the entry is a meal that was taken.
func taken(e care.Entry) bool {
	meal, ok := e.Body.(care.Meal)
	return ok && meal.Outcome == care.Took
}

// beforeNext is how many days before its usual time the next meal counts as near.
// Source: assumed.
const beforeNext = 2

// daysAfterMeal is how long after a meal a weight compares with others: when the gut is
// as before it, or the next meal of the usual rhythm is near.
func (r Records) daysAfterMeal(t *knowledge.Tables, usual int) int {
	return min(t.Value(knowledge.ValueFed), max(1, usual-beforeNext))
}

// compares reports whether a weight can stand beside others: of an empty gut, or just
// before a meal; where that is not said, where the last meal before it, if there is
// one, is so many days ago.
func compares(w care.Weighed, meal model.Moment, enough int) bool {
	if w.Gut != care.GutUnknown || meal.IsZero() {
		return w.Gut != care.GutFed
	}
	return int(w.At.Day()-meal.Day()) >= enough
}

// goodBefore reports whether the last check of the time before a meal that felt the
// animal did not find it thin. One from before the weights that a fast is held against
// says nothing.
func (r Records) goodBefore(t *knowledge.Tables, meal model.Moment) bool {
	since := meal.Day() - model.Day(t.Value(knowledge.ValueLosingTo))
	for _, c := range r.Checks {
		if c.Begun.Before(meal) && c.Begun.Day() >= since && feltForThin(t, c) {
			return !slices.ContainsFunc(c.Signs(), func(s exam.Sign) bool { return s.What == knowledge.Thin })
		}
	}
	return false
}

// feltForThin reports whether the check looked where an animal is felt to be thin.
func feltForThin(t *knowledge.Tables, c exam.StoredCheck) bool {
	for _, stop := range t.Stops() {
		if slices.Contains(stop.Choices, knowledge.Thin) && !c.At(stop.ID).Look.Looked() {
			return false
		}
	}
	return true
}

// laidBefore is the day after the newest clutch, the first on which a weight is surely one
// of after it; 0: no clutch is noted.
func (r Records) laidBefore() model.Day {
	for _, e := range r.Entries {
		if _, laid := e.Body.(care.Clutch); laid {
			return e.At.Day() + 1
		}
	}
	return 0
}

// notGravidSince is the day of the first check that did not call the animal gravid any
// more; 0: none did, or the newest still does.
func (r Records) notGravidSince() (day model.Day) {
	for _, c := range r.Checks {
		if c.Context.Gravid {
			return day
		}
		day = c.Begun.Day()
	}
	return 0
}
