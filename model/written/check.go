package written

import (
	"errors"
	"fmt"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// KeepCheck keeps what stands on a sheet for a check: the check, and the mass if there is
// one, in one change.
type KeepCheck struct {
	Tables *knowledge.Tables
	Draft  exam.Draft // begun when the sheet says
	Weight care.Weight
	// Heaviest and Again are as in care.Weigh.
	Heaviest, Again model.Mass
	By              model.PersonID
	Confirmed       model.Confirmed
}

// AskSameDay is the reason of the question whether another check of the same animal was
// made on that day.
const AskSameDay = "written.same-day"

// Name is "written.check".
func (KeepCheck) Name() string { return "written.check" }

// Plan refuses what exam.Finish and care.Weigh refuse. It asks of a day on which the animal
// was not the keeper's, of a mass that is unlike the one before, and where a check of that
// day is kept already.
func (c KeepCheck) Plan(v model.View) (model.Writes, error) {
	about := care.About{Animal: c.Draft.Animal, At: c.Draft.Begun, By: c.By, Confirmed: c.Confirmed}
	if err := care.CheckSeen(v, about); err != nil {
		return model.Writes{}, err
	}
	other, there, err := SameDay(v, c.Draft.Animal, c.Draft.Begun)
	if err != nil {
		return model.Writes{}, err
	}
	if there && other != c.Draft.Check && !c.Confirmed.Has(AskSameDay) {
		return model.Writes{}, &model.Refusal{Field: "day", Value: c.Draft.Begun.Day().String(), Reason: AskSameDay, Answer: model.Confirm,
			Gaps: map[string]model.Gap{"Day": model.DayGap(c.Draft.Begun.Day())}}
	}
	writes, err := exam.Finish{Tables: c.Tables, Draft: c.Draft, By: c.By, At: c.Draft.Begun}.Plan(v)
	if err != nil || c.Weight.Mass.IsZero() {
		return writes, err
	}
	weighed, err := care.Weigh{About: about, Weight: c.Weight, Heaviest: c.Heaviest, Again: c.Again}.Plan(v)
	if err != nil {
		return model.Writes{}, err
	}
	writes.Put = append(writes.Put, weighed.Put...)
	writes.Label = model.Label{Key: "written.done.check", Gaps: writes.Label.Gaps}
	writes.Label.Gaps["Mass"] = model.MassGap(c.Weight.Mass)
	return writes, nil
}

// SameDay is a check of the animal that began on the day of a moment, if there is one.
func SameDay(v model.View, animal model.AnimalID, at model.Moment) (check model.EntryID, there bool, err error) {
	const spread = 2 * 24 * 60 * 60 // a day of every clock lies within
	err = v.Timeline(animal.Subject(), at.UTC-spread, at.UTC+spread, func(d model.Document) bool {
		there = d.Kind == exam.KindCheck && d.At.Day() == at.Day()
		check = model.EntryID{ID: d.ID}
		return !there
	})
	if err != nil {
		return model.EntryID{}, false, fmt.Errorf("look for another check of that day: %w", err)
	}
	if !there {
		check = model.EntryID{}
	}
	return check, there, nil
}

// Kept tells whether the check of a sheet with that id is kept already, and when it was.
func Kept(v model.View, sheet model.ID) (at model.Moment, kept bool, err error) {
	d, err := v.Document(sheet)
	switch {
	case errors.Is(err, model.ErrNotFound):
		return model.Moment{}, false, nil
	case err != nil:
		return model.Moment{}, false, fmt.Errorf("look for the check of a sheet: %w", err)
	}
	return d.At, true, nil
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command { return []model.Command{KeepCheck{}} }

// On is the moment of a sheet of that day: its noon to the day, or the present one where
// that lies ahead.
func On(now model.Moment, day model.Day) model.Moment {
	at := model.MomentOn(now, day, model.Noon, model.ToDay)
	if day == now.Day() && now.Before(at) {
		at = now
		at.Precision = model.ToDay
	}
	return at
}
