package photo

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/label"
)

// Pause is the longest time between two shots of one series, in seconds. After a
// longer one nobody can tell whether the animal in front of the camera is still
// the one of the card: common practice, no source.
const Pause = 2 * 60 * 60

// Shot is one picture in the series.
type Shot struct {
	ID    model.PhotoID
	Name  string // of its file
	At    model.Moment
	Dated Dated
	Card  label.Label // in the picture; zero: none
}

// Dated tells who says when a shot was taken.
type Dated uint8

// Who says when a shot was taken. The time of a file is that of its last copying
// as often as not: it is proposed, never taken.
const (
	ByFile Dated = iota
	ByCamera
)

// Series are the shots that follow one card.
type Series struct {
	Card  label.Label // zero: no card was seen
	At    model.Moment
	Cards []Shot // pictures of the card itself
	Shots []Shot
}

// Sort puts shots in the order in which they were taken and parts them into
// series, oldest first: a picture of a card begins one, and so does a pause of
// more than Pause, after which no card holds any more. Shots of one second stay
// in the order of their names, as cameras count on.
func Sort(shots []Shot) []Series {
	sorted := slices.Clone(shots)
	slices.SortStableFunc(sorted, func(a, b Shot) int {
		return cmp.Or(cmp.Compare(a.At.UTC, b.At.UTC), cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID))
	})
	var all []Series
	for i, s := range sorted {
		carded := s.Card != label.Label{}
		paused := i > 0 && s.At.UTC-sorted[i-1].At.UTC > Pause
		if i == 0 || paused || carded && s.Card != all[len(all)-1].Card {
			all = append(all, Series{Card: s.Card, At: s.At})
		}
		last := &all[len(all)-1]
		if carded {
			last.Cards = append(last.Cards, s)
		} else {
			last.Shots = append(last.Shots, s)
		}
	}
	return all
}

// Series are the series of what waits. What was kept or left out takes part in the
// sorting, so that a card still holds for the shots after it; a series of which
// nothing waits but its cards is left out.
func (l Listing) Series() []Series {
	waits := map[model.PhotoID]bool{}
	for _, s := range l.Waiting {
		waits[s.ID] = true
	}
	all := Sort(slices.Concat(l.Waiting, l.LeftOut, l.Kept))
	for i := range all {
		all[i].Shots = slices.DeleteFunc(all[i].Shots, func(s Shot) bool { return !waits[s.ID] })
	}
	return slices.DeleteFunc(all, func(s Series) bool { return len(s.Shots) == 0 })
}

// Waits counts what waits: the pictures of series, and apart from them those of
// cards, which are only read.
func (l Listing) Waits() (shots, cards int) {
	for _, s := range l.Waiting {
		if s.Card == (label.Label{}) {
			shots++
		} else {
			cards++
		}
	}
	return shots, cards
}

// Household is what must be known to tell whose a card is.
type Household interface {
	// Known tells whether the animal is in the collection.
	Known(model.AnimalID) bool
	// Living are those who lived in a place at a moment; ok is false where there is
	// no such place.
	Living(place model.PlaceID, at model.Moment) (all []model.AnimalID, ok bool)
}

// Whose tells whose a card is.
type Whose uint8

// Whose a card is. Only with One is there an answer; the others are asked.
const (
	NoCard   Whose = iota // there is no card before the shots
	Stranger              // a card of another collection, or of what was removed
	Nobody                // nobody lived in that place then
	Several               // more than one did
	One
)

// Of tells whose a series is: the animal of the card, or the only one that lived in
// the card's place when it was taken. among are those in question.
func (s Series) Of(h Household) (whose Whose, among []model.AnimalID) {
	if animal, ok := s.Card.Animal(); ok {
		if !h.Known(animal) {
			return Stranger, nil
		}
		return One, []model.AnimalID{animal}
	}
	place, ok := s.Card.Place()
	if !ok {
		return NoCard, nil
	}
	among, ok = h.Living(place, s.At)
	switch {
	case !ok:
		return Stranger, nil
	case len(among) == 0:
		return Nobody, nil
	case len(among) > 1:
		return Several, among
	}
	return One, among
}
