package history

import (
	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// Unfed is a young animal that has kept no meal for as long as the tables say: a
// matter for the vet. Source of the days: common practice, no source.
type Unfed struct {
	Meal  model.EntryID // the last meal kept; zero: none is in the records
	Since model.Day     // of that meal, or since when the records tell of the animal
	From  model.Day     // from which on a vet should hear of it
}

// Unfed reports whether the animal is young and has kept no meal for so long;
// begun is the day from which on the records can tell of it.
func (r Records) Unfed(t *knowledge.Tables, begun, on model.Day) (u Unfed, unfed bool) {
	if !r.young(t) {
		return Unfed{}, false
	}
	u.Since = begun
	if e, kept := r.LastKept(); kept {
		u.Meal, u.Since = e.ID, e.At.Day()
	}
	u.From = u.Since + model.Day(t.Value(knowledge.ValueYoungUnfed))
	return u, on >= u.From
}

// young reports whether it is a hatchling or juvenile, by its age or where that is
// not known by its mass, and light as one.
func (r Records) young(t *knowledge.Tables) bool {
	age, mass := r.Context.Age, r.Context.Mass
	if age != exam.Hatchling && age != exam.Juvenile && (age != exam.AgeUnknown || mass.IsZero()) {
		return false
	}
	return mass.Milligrams < model.Grams(int64(t.Value(knowledge.ValueYoungMass))).Milligrams
}

// LastKept is the newest meal that was taken and not brought up.
func (r Records) LastKept() (care.Entry, bool) {
	for _, e := range r.Entries {
		if meal, ok := e.Body.(care.Meal); ok && meal.Outcome == care.Took {
			return e, true
		}
	}
	return care.Entry{}, false
}
