package husbandry

import (
	"fmt"
	"slices"
	"strings"

	"coilward/model"
)

// Scales are the scales of a collection with the spans in which their weights are
// doubtful.
type Scales map[model.InstrumentID]Weigher

// Weigher is one scale, as far as weights need it.
type Weigher struct {
	StoredInstrument
	Failed   bool // its last check
	Doubtful []Span
}

// ReadScales reads the scales, also those no longer used. One that cannot be read
// is left out: it keeps no weight from being shown.
func ReadScales(v model.View) (Scales, error) {
	all := Scales{}
	err := v.All(model.TypeInstrument, func(d model.Document) bool {
		if i, err := DecodeInstrument(d); err == nil && i.Kind == Scale {
			all[i.ID] = Weigher{StoredInstrument: i}
		}
		return true
	})
	if err != nil {
		return nil, fmt.Errorf("read the scales: %w", err)
	}
	for id, w := range all {
		checks, err := Checks(v, id)
		if err != nil {
			delete(all, id)
			continue
		}
		w.Doubtful = Doubtful(checks)
		last, checked := LastCheck(checks)
		w.Failed = checked && !last.Good
		all[id] = w
	}
	return all, nil
}

// Doubts tells whether a weight that was taken with a scale at a moment is
// doubtful, and what the scale is called. A weight without a scale is not.
func (s Scales) Doubts(with model.InstrumentID, at model.Moment) (name string, doubtful bool) {
	w, known := s[with]
	return w.Name, known && In(w.Doubtful, at)
}

// Doubting tells whether a weight that was taken with a scale at a moment is doubtful. It
// reads each scale once, when it is first asked for, and is valid as long as its view.
// Of a scale that cannot be read, no weight is.
func Doubting(v model.View) func(with model.InstrumentID, at model.Moment) bool {
	known := map[model.InstrumentID][]Span{}
	return func(with model.InstrumentID, at model.Moment) bool {
		if with.IsZero() {
			return false
		}
		spans, read := known[with]
		if !read {
			if checks, err := Checks(v, with); err == nil {
				spans = Doubtful(checks)
			}
			known[with] = spans
		}
		return In(spans, at)
	}
}

// AreDoubtful is Doubts without the name.
func (s Scales) AreDoubtful(with model.InstrumentID, at model.Moment) bool {
	_, doubtful := s.Doubts(with, at)
	return doubtful
}

// InUse are the scales that are still used, by name.
func (s Scales) InUse() []Weigher {
	var all []Weigher
	for _, w := range s {
		if w.Closed.IsZero() {
			all = append(all, w)
		}
	}
	slices.SortFunc(all, func(a, b Weigher) int { return strings.Compare(fold(a.Name), fold(b.Name)) })
	return all
}

// Usual is the scale that is offered for the next weight: the one that was used
// last, where it is still used, or the only one.
func (s Scales) Usual(last model.InstrumentID) model.InstrumentID {
	if w, known := s[last]; known && w.Closed.IsZero() {
		return last
	}
	if all := s.InUse(); len(all) == 1 {
		return all[0].ID
	}
	return model.InstrumentID{}
}
