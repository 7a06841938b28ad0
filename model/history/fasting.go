package history

import (
	"iter"
	"slices"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/weight"
)

// Class is the class by which the animal is offered food and weighed: by its mass
// where that is one of the tables' species, otherwise by its age, and where neither
// is known the youngest. known is false for the last. Where the keeper has set how often
// the animal is offered food, that stands in place of the table's days.
func (r Records) Class(t *knowledge.Tables) (rhythm knowledge.Rhythm, known bool) {
	rhythm, known = r.class(t)
	if r.every > 0 {
		rhythm.OfferFrom, rhythm.OfferBy = r.every, r.every
	}
	return rhythm, known
}

func (r Records) class(t *knowledge.Tables) (rhythm knowledge.Rhythm, known bool) {
	mass, age := r.Context.Mass, r.Context.Age
	switch {
	case r.byMass && !mass.IsZero():
		return t.RhythmOf(mass), true
	case age != exam.AgeUnknown:
		return t.Rhythm(knowledge.ClassID(age)), true
	case !mass.IsZero():
		return t.RhythmOf(mass), true
	}
	return t.Rhythms()[0], false
}

// Fast is how long the animal has kept no meal.
type Fast struct {
	Kept model.Day // of the last meal kept
	From model.Day // from which on that is a fast
}

// Fast is the fast that follows the last meal kept. Where no meal kept is known, it is
// not known to fast.
func (r Records) Fast(t *knowledge.Tables) (f Fast, known bool) {
	e, known := r.LastKept(t)
	if !known {
		return Fast{}, false
	}
	return Fast{Kept: e.At.Day(), From: weight.FastFrom(t, e.At.Day(), r.usual(t))}, true
}

// gapsForUsual is how many times between meals tell what is usual. Source:
// assumed.
const gapsForUsual = 3

// usual is the animal's usual time between two meals taken, in days: the median of
// half a year up to the last one, or where too few are known the longest of its class.
func (r Records) usual(t *knowledge.Tables) int {
	if median, known := r.medianGap(t); known {
		return median
	}
	rhythm, _ := r.Class(t)
	return rhythm.OfferBy
}

// medianGap is the median of the days between two meals taken, of half a year up to the
// last one.
func (r Records) medianGap(t *knowledge.Tables) (days int, known bool) {
	return medianGap(t, r.mealsTaken())
}

// medianGap is that of meals that come newest first.
func medianGap(t *knowledge.Tables, taken iter.Seq[model.Moment]) (days int, known bool) {
	var gaps []int
	var last, until model.Day
	first := true
	for meal := range taken {
		day := meal.Day()
		switch {
		case first:
			first, until = false, day-model.Day(t.Value(knowledge.ValueLosingTo))
		case day >= until:
			gaps = append(gaps, int(last-day))
		default:
			return median(gaps)
		}
		last = day
	}
	return median(gaps)
}

// median is that of gaps, where they are enough to tell what is usual.
func median(gaps []int) (days int, known bool) {
	if len(gaps) < gapsForUsual {
		return 0, false
	}
	slices.Sort(gaps)
	return gaps[len(gaps)/2], true
}
