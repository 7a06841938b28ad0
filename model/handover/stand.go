package handover

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/animals"
)

// Stand is how papers stand to a collection before they are taken in.
type Stand struct {
	// Before is what was taken in of the animal last; nil: nothing was.
	Before *Taken
	// Same, Older and OtherKey hold the papers against those: the very same ones, made
	// earlier, signed with another key.
	Same, Older, OtherKey bool
	// Here is the animal as which they would be taken in; zero: it is not here.
	Here model.AnimalID
	// Lives tells that it is here now, so that no quarantine begins.
	Lives bool
	// Candidates are those here that it may be, where it is not here by its id: those with the
	// digits of its chip first, then those with its name, then the others by their names.
	Candidates []Candidate
}

// Candidate is an animal here that papers may be of.
type Candidate struct {
	ID       model.AnimalID
	Name     string
	SameChip bool
	Lives    bool // here now
}

// StandOf reads how papers with that key and sum stand to what is here.
func StandOf(v model.View, r Record, key, sum string) (s Stand, err error) {
	before, _, ever, err := TakenOf(v, r.Animal.ID)
	if err != nil {
		return Stand{}, err
	}
	if ever {
		s = Stand{Before: &before, Same: before.Sum == sum, Older: before.Issued > r.Issued.UTC, OtherKey: before.Key != key}
	}
	here, err := TakeIn{Record: r}.here(v, before)
	if err != nil {
		return Stand{}, err
	}
	switch known, err := animals.Find(v, here); {
	case err == nil:
		s.Here, s.Lives = here, known.Status.Here()
		return s, nil
	case !errors.Is(err, model.ErrNotFound):
		return Stand{}, err
	}
	s.Candidates, err = candidates(v, r.Animal)
	return s, err
}

func candidates(v model.View, of Animal) (out []Candidate, err error) {
	all, err := animals.All(v)
	if err != nil {
		return nil, fmt.Errorf("look for an animal among those here: %w", err)
	}
	for _, a := range all {
		out = append(out, Candidate{ID: a.ID, Name: a.Name, SameChip: !of.Chip.IsZero() && a.Chip.Digits == of.Chip.Digits, Lives: a.Status.Here()})
	}
	rank := func(c Candidate) int {
		switch {
		case c.SameChip:
			return 0
		case strings.EqualFold(c.Name, of.Name):
			return 1
		}
		return 2
	}
	slices.SortStableFunc(out, func(a, b Candidate) int {
		if d := rank(a) - rank(b); d != 0 {
			return d
		}
		return strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name))
	})
	return out, nil
}
