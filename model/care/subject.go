package care

import (
	"errors"
	"fmt"

	"coilward/model"
)

// subject is what this package must know of the animal; its fields are named as
// in the animal's own document.
type subject struct {
	Name      string     `json:"name"`
	Hatched   model.Date `json:"hatched"`
	Since     model.Date `json:"since"`
	Status    string     `json:"status"`
	Sex       string     `json:"sex"`
	StatusDay model.Date `json:"statusDay"`
}

const animalVersion = 1

func readSubject(v model.View, id model.AnimalID) (subject, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return subject{}, fmt.Errorf("read animal %s: %w", id, err)
	}
	if d.Type != model.TypeAnimal {
		return subject{}, fmt.Errorf("read animal %s, which is a document of type %s: %w", id, d.Type, model.ErrNotFound)
	}
	var s subject
	return s, d.Decode(animalVersion, &s)
}

// subjectOf is readSubject for what is to be noted: an animal that was removed in the meantime is
// refused.
func subjectOf(v model.View, id model.AnimalID) (subject, error) {
	s, err := readSubject(v, id)
	if errors.Is(err, model.ErrNotFound) {
		return s, mend("animal", "", "animal.missing", nil)
	}
	return s, err
}

// gone reports whether the animal was the keeper's no more on that day. Without
// a day of leaving it is gone on all days.
func (s subject) gone(day model.Day) bool {
	here := s.Status == "" || s.Status == "kept" || s.Status == "loan"
	return !here && (s.StatusDay.IsZero() || day > lastDay(s.StatusDay))
}

func lastDay(d model.Date) model.Day {
	year, month, _ := d.Day.Date()
	switch d.Precision {
	case model.ToMonth:
		return model.NewDay(year, month+1, 0)
	case model.ToYear:
		return model.NewDay(year, 12, 31)
	}
	return d.Day
}

// checkDay tells why an entry cannot be of that moment, or asks.
func (s subject) checkDay(a About, kind string, now model.Moment) *model.Refusal {
	day, value := a.At.Day(), a.At.Day().String()
	ask := func(reason, gap string, on model.Day) *model.Refusal {
		if a.Confirmed.Has(reason) {
			return nil
		}
		return &model.Refusal{Field: "day", Value: value, Reason: reason, Answer: model.Confirm,
			Gaps: map[string]model.Gap{"Animal": model.TextGap(s.Name), gap: model.DayGap(on)}}
	}
	switch {
	case a.At.IsZero():
		return mend("day", "", "day.empty", nil)
	case day > now.Day() || a.At.Precision == model.ToMinute && a.At.UTC > now.UTC+60:
		return mend("day", value, "day.future", map[string]model.Gap{"Today": model.DayGap(now.Day())})
	case s.gone(day) && (kind == KindMeal || kind == KindShed || kind == KindClutch):
		gaps := map[string]model.Gap{"Animal": model.TextGap(s.Name), "Status": model.KeyGap("animals.status." + s.Status)}
		if s.StatusDay.IsZero() {
			return mend("day", value, "animal.gone", gaps)
		}
		gaps["Day"] = model.DayGap(lastDay(s.StatusDay))
		return mend("day", value, "animal.gone-since", gaps)
	case s.gone(day) && (kind == KindWeight || kind == KindWaste || kind == KindMiteLook || kind == KindMiteTreatment || kind == KindBlue || kind == KindBath || kind == KindFluids) && !a.Confirmed.Has("animal.gone-asks"):
		return &model.Refusal{Field: "day", Value: value, Reason: "animal.gone-asks", Answer: model.Confirm,
			Gaps: map[string]model.Gap{"Animal": model.TextGap(s.Name), "Status": model.KeyGap("animals.status." + s.Status)}}
	case !s.Hatched.IsZero() && day < s.Hatched.Day:
		if r := ask("day.before-hatched", "Hatched", s.Hatched.Day); r != nil {
			return r
		}
	}
	if !s.Since.IsZero() && day < s.Since.Day {
		return ask("day.before-arrival", "Since", s.Since.Day)
	}
	return nil
}
