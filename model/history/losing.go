package history

import (
	"slices"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// AgeClass is the class of an animal that hatched then, on a day. The ages are
// those of the tables; source: common practice, no source.
func AgeClass(t *knowledge.Tables, hatched model.Date, on model.Day) exam.Age {
	if hatched.IsZero() || hatched.Day > on {
		return exam.AgeUnknown
	}
	switch days := int(on - hatched.Day); {
	case days <= t.Value(knowledge.ValueHatchling):
		return exam.Hatchling
	case days <= t.Value(knowledge.ValueJuvenile):
		return exam.Juvenile
	case days <= t.Value(knowledge.ValueSubadult):
		return exam.Subadult
	}
	return exam.Adult
}

// Loss is how far a weight lies below the median of earlier ones.
type Loss struct {
	Last   care.Weighed
	Median model.Mass // of the weights it is held against
	// Before is the day of the one weight that it is held against, where there are
	// too few for a median; 0: there are enough.
	Before model.Day
	Share  int // hundredths of a percent of the median; below zero: a gain
}

// tells reports whether a weight tells of a loss: one that was taken soon after a
// meal weighs the prey as well.
func tells(w care.Weight) bool { return w.Gut != care.GutFed }

// LossOf holds the last weight against the median of those before it, over the
// days that the tables name, and where those are too few against the one before
// it; not known where the last is too old or there is none before it. Weights soon
// after a meal are left out. Source: common practice, no source.
func LossOf(t *knowledge.Tables, newestFirst []care.Weighed, on model.Day) (loss Loss, known bool) {
	newestFirst = slices.DeleteFunc(slices.Clone(newestFirst), func(w care.Weighed) bool { return !tells(w.Weight) })
	if len(newestFirst) == 0 || int(on-newestFirst[0].At.Day()) > t.Value(knowledge.ValueLosingLast) {
		return Loss{}, false
	}
	loss.Last = newestFirst[0]
	var before []int64
	for _, w := range newestFirst[1:] {
		age := int(loss.Last.At.Day() - w.At.Day())
		if age >= t.Value(knowledge.ValueLosingFrom) && age <= t.Value(knowledge.ValueLosingTo) {
			before = append(before, w.Mass.Milligrams)
		}
	}
	if len(before) < max(1, t.Value(knowledge.ValueLosingWeights)) {
		one, known := loss.weightBefore(t, newestFirst)
		if !known {
			return Loss{}, false
		}
		before, loss.Before = []int64{one.Mass.Milligrams}, one.At.Day()
	}
	median := medianOf(before)
	if median == 0 {
		return Loss{}, false
	}
	loss.Median = model.Mass{Milligrams: median}
	loss.Share = int((median - loss.Last.Mass.Milligrams) * 10_000 / median)
	return loss, true
}

// weightBefore is the newest weight of an earlier day, where it is not too old to
// be compared with.
func (l Loss) weightBefore(t *knowledge.Tables, newestFirst []care.Weighed) (care.Weighed, bool) {
	for _, w := range newestFirst[1:] {
		if age := int(l.Last.At.Day() - w.At.Day()); age > 0 {
			return w, age <= t.Value(knowledge.ValueLosingTo)
		}
	}
	return care.Weighed{}, false
}

// medianOf lies between the middle two of an even number.
func medianOf(list []int64) int64 {
	slices.Sort(list)
	middle := len(list) / 2
	if len(list)%2 == 0 {
		return (list[middle-1] + list[middle]) / 2
	}
	return list[middle]
}

// atLeast reports whether the loss is that many percent or more, without
// rounding.
func (l Loss) atLeast(percent int) bool {
	return (l.Median.Milligrams-l.Last.Mass.Milligrams)*100 >= l.Median.Milligrams*int64(percent)
}

// Losing reports whether the last weight lies so far below the median of earlier
// ones that the animal counts as losing weight.
func Losing(t *knowledge.Tables, newestFirst []care.Weighed, on model.Day) bool {
	loss, known := LossOf(t, newestFirst, on)
	return known && loss.atLeast(loss.percent(t, knowledge.ValueLosing))
}

// ForVet reports whether the loss is so great that a vet should hear of it.
func (l Loss) ForVet(t *knowledge.Tables) bool {
	return l.atLeast(l.percent(t, knowledge.ValueLosingVet))
}

// percent is the percentage that counts: that value, and of a single earlier weight
// the one that is said of such.
func (l Loss) percent(t *knowledge.Tables, value knowledge.ValueID) int {
	if l.Before > 0 {
		value = knowledge.ValueLosingSingle
	}
	return t.Value(value)
}
