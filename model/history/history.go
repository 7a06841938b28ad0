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
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/welfare"
)

// Records are the facts of one animal at a moment.
type Records struct {
	Context exam.Context
	Sheds   []model.Moment     // newest first
	Weights []care.Weighed     // newest first
	Entries []care.Entry       // those of everyday care that can be read, newest first
	Checks  []exam.StoredCheck // those that can be read, newest first
	// Begun is the day from which on the records can tell of the animal; 0: it is
	// not here.
	Begun model.Day
	// byMass is that the masses of the tables are of its species, or of none that is
	// known.
	byMass bool
	every  int // days between two offers, as the keeper set them; 0: as the class has it
	// visits are those on which it was watched, newest first, for how it breathes.
	visits []welfare.Entry
	moves  []model.Day // on which it came to another place, newest first
	// doubts tells of a weight whether its scale failed; nil while nothing is read, and
	// where none did.
	doubts func(with model.InstrumentID, at model.Moment) bool
}

// Whose is what of an animal its records are judged by.
type Whose struct {
	Species knowledge.SpeciesID
	Hatched model.Date
	Begun   model.Day // as in Records
	// OfferEvery is the keeper's own time between two offers; 0: none is set.
	OfferEvery int
	// Scales are those that it was weighed with, where any may have failed, and Moves the
	// days on which it came to another place: of records that are made of entries alone.
	Scales husbandry.Scales
	Moves  []model.Day
	// Visits are those on which it was watched, newest first: likewise.
	Visits []welfare.Entry
}

// WhoseOf is that of an animal.
func WhoseOf(a animals.Stored) Whose {
	w := Whose{Species: a.Species, Hatched: a.Hatched, OfferEvery: a.OfferEvery}
	if a.Status.Here() {
		w.Begun = a.Begun()
	}
	return w
}

// Read gathers the records of an animal up to a moment. Entries that a newer
// version of the program has written are passed over.
func Read(t *knowledge.Tables, v model.View, animal animals.Stored, now model.Moment) (Records, error) {
	var documents []model.Document
	err := v.Timeline(animal.ID.Subject(), model.Beginning, now.UTC+1, func(d model.Document) bool {
		documents = append(documents, d)
		return true
	})
	if err != nil {
		return Records{}, fmt.Errorf("read the records of %s: %w", animal.Name, err)
	}
	return of(t, documents, animal, husbandry.Doubting(v), now)
}

// Of is what Read gathers, from documents that were read already, newest first.
func Of(t *knowledge.Tables, documents []model.Document, animal animals.Stored, scales husbandry.Scales, now model.Moment) (Records, error) {
	return of(t, documents, animal, scales.AreDoubtful, now)
}

func of(t *knowledge.Tables, documents []model.Document, animal animals.Stored, doubts func(model.InstrumentID, model.Moment) bool, now model.Moment) (Records, error) {
	r := Records{doubts: doubts}
	for _, d := range documents {
		if err := r.take(d); err != nil {
			return Records{}, fmt.Errorf("read the records of %s: %w", animal.Name, err)
		}
	}
	r.settle(t, WhoseOf(animal), now)
	return r, nil
}

// Made are records of entries and checks that were decoded already, both newest
// first.
func Made(t *knowledge.Tables, whose Whose, entries []care.Entry, checks []exam.StoredCheck, now model.Moment) Records {
	return made(t, whose, whose.Scales.AreDoubtful, entries, checks, now)
}

func made(t *knowledge.Tables, whose Whose, doubts func(model.InstrumentID, model.Moment) bool, entries []care.Entry, checks []exam.StoredCheck, now model.Moment) Records {
	r := Records{Entries: slices.Clip(entries), Checks: checks, moves: whose.Moves, visits: whose.Visits, doubts: doubts}
	for _, e := range entries {
		r.note(e)
	}
	r.settle(t, whose, now)
	return r
}

// take reads one document; what a newer version has written is passed over.
func (r *Records) take(d model.Document) error {
	if d.Type == model.TypeStay {
		r.moves = append(r.moves, d.At.Day())
		return nil
	}
	if d.Type == model.TypeEntry && d.Kind == exam.KindCheck {
		check, err := exam.ReadCheck(d)
		if errors.Is(err, model.ErrNewer) {
			return nil
		}
		r.Checks = append(r.Checks, exam.StoredCheck{ID: model.EntryID{ID: d.ID}, By: d.By, Check: check})
		return err
	}
	entry, ours, err := care.Decode(d)
	if err == nil && !ours {
		return r.takeVisit(d)
	}
	if errors.Is(err, model.ErrNewer) {
		return nil
	}
	if err == nil {
		r.add(entry)
	}
	return err
}

// takeVisit reads a visit on which it was watched; all else is passed over.
func (r *Records) takeVisit(d model.Document) error {
	if d.Kind != welfare.KindObservation {
		return nil
	}
	visit, ours, err := welfare.Decode(d)
	if errors.Is(err, model.ErrNewer) || !ours {
		return nil
	}
	if err == nil {
		r.visits = append(r.visits, visit)
	}
	return err
}

// settle works out what the whole of the entries tells of the circumstances.
func (r *Records) settle(t *knowledge.Tables, whose Whose, now model.Moment) {
	r.Begun, r.byMass = whose.Begun, whose.Species == "" || whose.Species == knowledge.MassesOf
	if kept, known := r.LastKept(t); known {
		r.Context.LastMeal = kept.At
	}
	r.every = whose.OfferEvery
	r.Context.Age = AgeClass(t, whose.Hatched, now.Day())
	r.doubts = nil // whose view may be over
	r.Context.LosingWeight = r.Loss(t, now.Day()).Level > knowledge.Nothing
}

// add takes one entry; they come newest first.
func (r *Records) add(e care.Entry) {
	r.Entries = append(r.Entries, e)
	r.note(e)
}

// note takes what an entry tells.
func (r *Records) note(e care.Entry) {
	switch body := e.Body.(type) {
	case care.Weight:
		if len(r.Weights) == 0 {
			r.Context.Mass = body.Mass
		}
		r.Weights = append(r.Weights, care.Weighed{Entry: e.ID, At: e.At, Weight: body, Doubtful: r.doubts != nil && r.doubts(body.With, e.At)})
	case care.Meal:
		if body.Outcome == care.Regurgitated {
			r.Context.Regurgitations = append(r.Context.Regurgitations, e.At)
		}
	case care.Shed:
		r.Sheds = append(r.Sheds, e.At)
	}
}
