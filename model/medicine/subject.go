package medicine

import (
	"errors"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/people"
)

// subject is what this package must know of the animal; its fields are named as in the
// animal's own document.
type subject struct {
	Name      string     `json:"name"`
	Status    string     `json:"status"`
	StatusDay model.Date `json:"statusDay"`
	Hatched   model.Date `json:"hatched"`
}

const animalVersion = 1

// died is the status of an animal that is dead; a vet may still see it.
const died = "died"

func readSubject(v model.View, id model.AnimalID) (s subject, err error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return s, fmt.Errorf("read animal %s: %w", id, err)
	}
	if d.Type != model.TypeAnimal {
		return s, fmt.Errorf("read animal %s, which is a document of type %s: %w", id, d.Type, model.ErrNotFound)
	}
	return s, d.Decode(animalVersion, &s)
}

// gone reports whether the animal was the keeper's no more on that day. Without a day of
// leaving it is gone on all days.
func (s subject) gone(on model.Day) bool {
	here := s.Status == "" || slices.Contains([]string{"kept", "loan"}, s.Status)
	return !here && (s.StatusDay.IsZero() || on > s.StatusDay.Day)
}

func (s subject) refusal(field string, on model.Day) *model.Refusal {
	return mend(field, on.String(), "medicine.gone", map[string]model.Gap{"Animal": model.TextGap(s.Name), "Status": model.KeyGap("animals.status." + s.Status)})
}

// isVet refuses one who is not kept as a vet among the people; missing is the reason where
// nobody is there.
func isVet(v model.View, id model.PersonID, missing string) error {
	d, err := v.Document(id.ID)
	if errors.Is(err, model.ErrNotFound) || err == nil && d.Type != model.TypePerson {
		return mend("vet", "", missing, nil)
	}
	if err != nil {
		return fmt.Errorf("read the vet: %w", err)
	}
	p, err := people.Decode(d)
	if err == nil && !p.Is(people.Vet) && !p.Is(people.OutOfHours) {
		err = mend("vet", p.Name, "medicine.not-a-vet", map[string]model.Gap{"Person": model.TextGap(p.Name)})
	}
	return err
}

// LastWeight is the newest weighing of an animal up to a moment; false: there is none.
// One that cannot be read by this version is passed over.
func LastWeight(v model.View, animal model.AnimalID, at model.Moment) (w care.Weighed, there bool, err error) {
	err = v.Timeline(animal.Subject(), model.Beginning, at.UTC+1, func(d model.Document) bool {
		if d.Type != model.TypeEntry || d.Kind != care.KindWeight {
			return true
		}
		weight, illegible := care.DecodeWeight(d)
		if illegible != nil {
			return true
		}
		w, there = care.Weighed{Entry: model.EntryID{ID: d.ID}, At: d.At, Weight: weight}, true
		return false
	})
	if err != nil {
		return w, false, fmt.Errorf("read the last weight of %s: %w", animal, err)
	}
	return w, there, nil
}

// EndOf is the last second of the day of a moment of which only the day is known.
func EndOf(at model.Moment) model.Moment {
	if at.Precision == model.ToDay {
		at.UTC = (int64(at.Day())+1)*day*60*60 - int64(at.Offset) - 1
	}
	return at
}
