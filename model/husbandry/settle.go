package husbandry

import (
	"cmp"
	"slices"

	"coilward/model"
)

// byTime sorts stays by their beginning, the oldest first.
func byTime(a, b StoredStay) int {
	return cmp.Or(cmp.Compare(a.From.UTC, b.From.UTC), slices.Compare(a.ID.ID[:], b.ID.ID[:]))
}

// clash is why a move cannot be settled among an animal's stays, with the stay
// that it clashes with.
type clash struct {
	reason string
	with   StoredStay
}

// settle puts a new stay among the others of one animal: the stay that covers
// its beginning ends there, and the new one lasts as long as that one would
// have, or until the next one begins. changed are the stays that are new or
// other than before, the new one last.
func settle(stays []StoredStay, moved StoredStay) (changed []StoredStay, c *clash) {
	var next *StoredStay
	moved.To = model.Moment{}
	for i, s := range stays {
		switch {
		case Before(moved.From, s.From):
			if next == nil || Before(s.From, next.From) {
				next = &stays[i]
			}
		case !Before(s.From, moved.From):
			return nil, &clash{"stay.same", s}
		case s.covers(moved.From):
			if s.Place == moved.Place {
				return nil, &clash{"stay.there", s}
			}
			moved.To = s.To
			s.To = moved.From
			s.Until = s.To
			changed = append(changed, s)
		}
	}
	if next != nil && (moved.To.IsZero() || Before(next.From, moved.To)) {
		moved.To = next.From
	}
	if next != nil && next.Place == moved.Place && !Before(moved.To, next.From) {
		return nil, &clash{"stay.there-later", *next}
	}
	moved.Until = moved.To
	return append(changed, moved), nil
}

// leave ends the stay that covers a moment there; ok is false where there is
// none.
func leave(stays []StoredStay, at model.Moment) (ended StoredStay, ok bool) {
	for _, s := range slices.Backward(stays) {
		if !s.covers(at) {
			continue
		}
		s.To = at
		s.Until = at
		return s, true
	}
	return ended, false
}

// overlapping is the first of the stays that shares time with one, other than
// itself.
func overlapping(stays []StoredStay, with StoredStay) (StoredStay, bool) {
	i := slices.IndexFunc(stays, func(s StoredStay) bool { return s.ID != with.ID && s.overlaps(with.Stay) })
	if i < 0 {
		return StoredStay{}, false
	}
	return stays[i], true
}
