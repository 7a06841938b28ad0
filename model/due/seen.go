package due

import (
	"errors"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/medicine"
)

// HoldVisit notes that a visit to a vet took place and which open obligations to see the
// vet it was about, in one change.
type HoldVisit struct {
	Tables *knowledge.Tables
	medicine.HoldVisit
	About []Key  // obligations of the animal, each to see the vet
	Why   string // what stands with their answers, such as the day of the visit
}

// Name is "due.visit-hold".
func (HoldVisit) Name() string { return "due.visit-hold" }

// Plan writes the visit, and answers each obligation as done elsewhere, for as long as the
// tables say: whether a finding is done with is for the vet to say. It is refused for one
// that is no longer due, of another kind or animal, or that was not yet seen on the day of
// the visit.
func (c HoldVisit) Plan(v model.View) (model.Writes, error) {
	w, err := c.HoldVisit.Plan(v)
	if err != nil {
		return model.Writes{}, err
	}
	for _, key := range c.About {
		if key.Job != SeeVet || key.Subject != c.Animal.Subject() {
			return model.Writes{}, mend("seen-for", "", "due.not-seen", nil)
		}
		o, _, err := find(v, c.Tables, key)
		if err == nil && c.At.Day() < o.Since {
			return model.Writes{}, mend("seen-for", "", "due.seen-later", map[string]model.Gap{"Since": model.DayGap(o.Since)})
		}
		answer, err := Respond{Tables: c.Tables, Key: key, What: DoneElsewhere, Why: c.Why, By: c.By}.Plan(v)
		if err != nil {
			if r := (*model.Refusal)(nil); errors.As(err, &r) {
				r.Field = "seen-for"
			}
			return model.Writes{}, err
		}
		w.Put = append(w.Put, answer.Put...)
	}
	return w, nil
}

// ToSeeVet are those of some items that a visit to a vet can be about: open obligations to see
// the vet.
func ToSeeVet(items []Item) (all []Item) {
	for _, i := range items {
		if i.Job == SeeVet && i.State == Alert {
			all = append(all, i)
		}
	}
	return all
}
