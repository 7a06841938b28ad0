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
	From  model.Day     // from which on a vet should hear of it; 0: the animal is none such
}

// IsZero reports whether the animal is none such.
func (u Unfed) IsZero() bool { return u.From == 0 }

// unfed is how long the animal has kept no meal, where it is here, young, and so
// long without one.
func (r Records) unfed(t *knowledge.Tables, on model.Day) Unfed {
	if r.Begun == 0 || !r.young(t) {
		return Unfed{}
	}
	u := Unfed{Since: r.Begun}
	if e, kept := r.LastKept(t); kept {
		u.Meal, u.Since = e.ID, e.At.Day()
	}
	u.From = u.Since + model.Day(t.Value(knowledge.ValueYoungUnfed))
	if on < u.From {
		return Unfed{}
	}
	return u
}

// young reports whether it is a hatchling or juvenile: by its age, and where the
// masses of the tables are of its species, by its mass as well.
func (r Records) young(t *knowledge.Tables) bool {
	age, mass := r.Context.Age, r.Context.Mass
	light := mass.Milligrams < model.Grams(int64(t.Value(knowledge.ValueYoungMass))).Milligrams
	if age == exam.AgeUnknown {
		return r.byMass && light && !mass.IsZero()
	}
	return (age == exam.Hatchling || age == exam.Juvenile) && (light || !r.byMass)
}

// LastKept is the newest meal that was taken and not brought up.
func (r Records) LastKept(t *knowledge.Tables) (care.Entry, bool) {
	var k care.Keeping
	for _, e := range r.Entries {
		if k.Keeps(t, e) {
			return e, true
		}
	}
	return care.Entry{}, false
}
