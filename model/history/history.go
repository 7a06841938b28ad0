// Package history joins what the capabilities know of one animal into the facts
// that their rules ask for: it reads the entries of the days and gives the
// context that a check is judged in.
package history

import (
	"errors"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
)

// Records are the facts of one animal at a moment.
type Records struct {
	Context exam.Context
	Sheds   []model.Moment // newest first
	Weights []Weighed      // newest first
	Entries []care.Entry   // those of everyday care that can be read, newest first
}

// Weighed is one weighing.
type Weighed struct {
	At   model.Moment
	Mass model.Mass
}

// Read gathers the records of an animal up to a moment. Entries that a newer
// version of the program has written are passed over.
func Read(v model.View, animal animals.Stored, now model.Moment) (Records, error) {
	var documents []model.Document
	err := v.Timeline(animal.ID.Subject(), model.Beginning, now.UTC+1, func(d model.Document) bool {
		documents = append(documents, d)
		return true
	})
	if err != nil {
		return Records{}, fmt.Errorf("read the records of %s: %w", animal.Name, err)
	}
	return Of(documents, animal, now)
}

// Of is what Read gathers, from documents that were read already, newest first.
func Of(documents []model.Document, animal animals.Stored, now model.Moment) (Records, error) {
	var r Records
	for _, d := range documents {
		entry, ours, err := care.Decode(d)
		if errors.Is(err, model.ErrNewer) {
			continue
		}
		if err != nil {
			return Records{}, fmt.Errorf("read the records of %s: %w", animal.Name, err)
		}
		if ours {
			r.add(entry)
		}
	}
	r.Context.Age = AgeClass(animal.Hatched, now.Day())
	r.Context.LosingWeight = Losing(r.Weights, now.Day())
	return r, nil
}

// add takes one entry; they come newest first.
func (r *Records) add(e care.Entry) {
	r.Entries = append(r.Entries, e)
	switch body := e.Body.(type) {
	case care.Weight:
		if len(r.Weights) == 0 {
			r.Context.Mass = body.Mass
		}
		r.Weights = append(r.Weights, Weighed{At: e.At, Mass: body.Mass})
	case care.Meal:
		switch body.Outcome {
		case care.Took:
			if r.Context.LastMeal.IsZero() {
				r.Context.LastMeal = e.At
			}
		case care.Regurgitated:
			r.Context.Regurgitations = append(r.Context.Regurgitations, e.At)
		}
	case care.Shed:
		r.Sheds = append(r.Sheds, e.At)
	}
}

// AgeClass is the class of an animal that hatched then, on a day: a hatchling up
// to three months, a juvenile in its first year, a subadult up to three years,
// then an adult. Source: common practice, no source.
func AgeClass(hatched model.Date, on model.Day) exam.Age {
	if hatched.IsZero() || hatched.Day > on {
		return exam.AgeUnknown
	}
	switch days := int(on - hatched.Day); {
	case days <= 91:
		return exam.Hatchling
	case days < 365:
		return exam.Juvenile
	case days < 3*365:
		return exam.Subadult
	}
	return exam.Adult
}

// Losing reports whether the last weight lies 5 % or more below the median of
// those of 30 to 180 days before it, of which there must be three, and is not
// older than 30 days. Source of the 5 %: common practice, no source.
func Losing(newestFirst []Weighed, on model.Day) bool {
	if len(newestFirst) == 0 || on-newestFirst[0].At.Day() > 30 {
		return false
	}
	last := newestFirst[0]
	var before []int64
	for _, w := range newestFirst[1:] {
		if age := last.At.Day() - w.At.Day(); age >= 30 && age <= 180 {
			before = append(before, w.Mass.Milligrams)
		}
	}
	if len(before) < 3 {
		return false
	}
	slices.Sort(before)
	middle := len(before) / 2
	median := before[middle]
	if len(before)%2 == 0 {
		median = (before[middle-1] + before[middle]) / 2
	}
	return last.Mass.Milligrams*100 <= median*95
}
