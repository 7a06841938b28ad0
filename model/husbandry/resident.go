package husbandry

import (
	"fmt"

	"coilward/model"
)

// resident is what this package must know of an animal; its fields are named as
// in the animal's own document.
type resident struct {
	Name      string     `json:"name"`
	Hatched   model.Date `json:"hatched"`
	Since     model.Date `json:"since"`
	Status    string     `json:"status"`
	StatusDay model.Date `json:"statusDay"`

	written model.Moment
}

const animalVersion = 1

func decodeResident(d model.Document) (r resident, err error) {
	if d.Type != model.TypeAnimal {
		return r, fmt.Errorf("read animal %s, which is a document of type %s: %w", d.ID, d.Type, model.ErrNotFound)
	}
	r.written = d.Written
	return r, d.Decode(animalVersion, &r)
}

// left is since when the animal is the keeper's no more; ok is false while it is.
// Without a day of leaving it had left when that was written.
func (r resident) left() (at model.Moment, ok bool) {
	switch {
	case r.Status == "" || r.Status == "kept" || r.Status == "loan":
		return at, false
	case r.StatusDay.IsZero():
		return r.written, true
	}
	return dayMoment(lastDay(r.StatusDay)), true
}

// noon is the time of the day that stands for a day, in seconds.
const noon = 12 * 60 * 60

func dayMoment(d model.Day) model.Moment {
	return model.Moment{UTC: int64(d)*86400 + noon, Precision: model.ToDay}
}

// lastDay is the last day that the date can be.
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

// ended is the stay with the end that leaving put to it.
func (r resident) ended(s StoredStay) StoredStay {
	if at, gone := r.left(); gone && (s.To.IsZero() || Before(at, s.To)) {
		s.Until = at
		if Before(at, s.From) {
			s.Until = s.From
		}
	}
	return s
}

// lives tells why the animal cannot live in a place from a moment on, or asks.
func (r resident) lives(at model.Moment, confirmed model.Confirmed) *model.Refusal {
	day, value := at.Day(), at.Day().String()
	named := func(gap string, g model.Gap) map[string]model.Gap {
		return map[string]model.Gap{"Animal": model.TextGap(r.Name), gap: g}
	}
	left, gone := r.left()
	switch {
	case !r.Hatched.IsZero() && day < r.Hatched.Day:
		return mend("from", value, "day.before-hatching", named("Hatched", model.DayGap(r.Hatched.Day)))
	case gone && (r.StatusDay.IsZero() || day > left.Day()):
		return mend("from", value, "animal.gone", named("Status", model.KeyGap("animals.status."+r.Status)))
	case !r.Since.IsZero() && day < r.Since.Day:
		return ask(confirmed, "from", value, "day.before-arrival", named("Since", model.DayGap(r.Since.Day)))
	}
	return nil
}
