package due

import (
	"errors"
	"strings"

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

// Plan writes the visit, and answers each obligation as done elsewhere, for as many days from
// the visit as the tables say: whether a finding is done with is for the vet to say. It is
// refused for one that is no longer due, of another kind or animal, or that was not yet seen
// on the day of the visit.
func (c HoldVisit) Plan(v model.View) (model.Writes, error) {
	w, err := c.HoldVisit.Plan(v)
	if err != nil {
		return model.Writes{}, err
	}
	visit, err := medicine.ReadVisit(w.Put[0])
	if err != nil {
		return model.Writes{}, err
	}
	for _, key := range c.About {
		if key.Job != SeeVet || key.Subject != visit.Animal.Subject() {
			return model.Writes{}, mend("seen-for", "", "due.not-seen", nil)
		}
		o, _, err := find(v, c.Tables, key)
		if err == nil && visit.At.Day() < o.Since {
			return model.Writes{}, mend("seen-for", "", "due.seen-later", map[string]model.Gap{"Since": model.DayGap(o.Since)})
		}
		answer, err := Respond{Tables: c.Tables, Key: key, What: DoneElsewhere, Why: c.Why, By: c.By, at: &visit}.Plan(v)
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

// ChangeVisit puts right what was noted of a visit, planned or held, and counts anew what
// it answered.
type ChangeVisit struct {
	Tables *knowledge.Tables
	medicine.ChangeVisit
	Why string // what stands with its answers from now on
}

// Name is "due.visit-change".
func (ChangeVisit) Name() string { return "due.visit-change" }

// Plan writes the visit anew. Where its day is another, its answers count from that. A day
// on which something that it answers was not yet seen is refused.
func (c ChangeVisit) Plan(v model.View) (model.Writes, error) {
	before, err := medicine.FindVisit(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	w, err := c.ChangeVisit.Plan(v)
	if err != nil || c.At.Day() == before.At.Day() {
		return w, err
	}
	answers, err := answersOf(v, before)
	if err != nil {
		return model.Writes{}, err
	}
	for _, d := range answers {
		s, err := Read(d)
		if err != nil {
			return model.Writes{}, err
		}
		o, _, err := find(v, c.Tables, s.Key)
		switch r := (*model.Refusal)(nil); {
		case errors.As(err, &r): // it is due no more
		case err != nil:
			return model.Writes{}, err
		case c.At.Day() < o.Since:
			return model.Writes{}, mend("day", c.At.Day().String(), "due.answered-later", map[string]model.Gap{"Since": model.DayGap(o.Since)})
		}
		a := s.Answer
		a.Until, a.Why = a.Until+c.At.Day()-before.At.Day(), strings.TrimSpace(c.Why)
		if err := d.Encode(Version, a); err != nil {
			return model.Writes{}, err
		}
		w.Put = append(w.Put, d)
	}
	return w, nil
}

// RemoveVisit takes out a visit that does not take place or should not stand there, and what
// it answered.
type RemoveVisit struct{ medicine.RemoveVisit }

// Name is "due.visit-remove".
func (RemoveVisit) Name() string { return "due.visit-remove" }

// Plan removes the visit and its answers to what was due: that asks again. Answers of the vet
// to questions stay.
func (c RemoveVisit) Plan(v model.View) (model.Writes, error) {
	visit, err := medicine.FindVisit(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	w, err := c.RemoveVisit.Plan(v)
	if err != nil {
		return model.Writes{}, err
	}
	answers, err := answersOf(v, visit)
	for _, d := range answers {
		w.Remove = append(w.Remove, d.ID)
	}
	return w, err
}

// answersOf are the documents of the answers that a visit gave to what was due.
func answersOf(v model.View, visit medicine.StoredVisit) (all []model.Document, err error) {
	var failed error
	err = v.Timeline(visit.Animal.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if d.Type != model.TypeAnswer {
			return true
		}
		s, err := Read(d)
		if errors.Is(err, model.ErrNewer) {
			return true
		}
		if failed = err; failed == nil && s.Visit == visit.ID {
			all = append(all, d)
		}
		return failed == nil
	})
	return all, errors.Join(err, failed)
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
