package care

import (
	"bytes"
	"fmt"
	"slices"

	"coilward/model"
)

// Weighed is one weight of an animal with its moment.
type Weighed struct {
	Entry model.EntryID
	At    model.Moment
	Weight
	// Doubtful is that it was taken with a scale that failed its check, where that was
	// looked up.
	Doubtful bool
}

// Series are the weights of an animal, oldest first.
func Series(v model.View, animal model.AnimalID) ([]Weighed, error) {
	var all []Weighed
	var failed error
	err := v.Timeline(animal.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if d.Type != model.TypeEntry || d.Kind != KindWeight {
			return true
		}
		var w Weight
		if w, failed = DecodeWeight(d); failed == nil {
			all = append(all, Weighed{Entry: model.EntryID{ID: d.ID}, At: d.At, Weight: w})
		}
		return failed == nil
	})
	if err == nil {
		err = failed
	}
	if err != nil {
		return nil, fmt.Errorf("read the weights of %s: %w", animal, err)
	}
	slices.Reverse(all)
	return all, nil
}

// Corrected tells whether the present revision of an entry says something else
// than its first, and when it was written. An undone correction leaves none.
func Corrected(present model.Document, revisions []model.Document) (model.Moment, bool) {
	for _, r := range revisions {
		if r.Revision == 1 && present.Revision > 1 {
			same := bytes.Equal(r.Body, present.Body) && r.At == present.At && r.By == present.By
			return present.Written, !same
		}
	}
	return model.Moment{}, false
}
