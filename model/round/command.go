package round

import (
	"errors"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/knowledge"
)

// AsksAgain is the reason of the question what lies between two rounds of one day.
const AsksAgain = "round.again"

// Begin begins a round, now.
type Begin struct {
	Tables    *knowledge.Tables
	Order     knowledge.RoundID
	Apart     bool
	Stops     []Planned
	By        model.PersonID
	Confirmed model.Confirmed
}

// Name is "round.begin".
func (Begin) Name() string { return "round.begin" }

// Plan writes the round. While another is open it is refused, and after one of the same
// day it asks whether what has to lie between was done ("round.again").
func (c Begin) Plan(v model.View) (model.Writes, error) {
	if _, known := c.Tables.Round(c.Order); !known {
		return model.Writes{}, mend("round-order", string(c.Order), "choice.unknown", nil)
	}
	body := Round{Order: c.Order, Apart: c.Apart, Stops: c.Stops}
	if r := body.Check(); r != nil {
		return model.Writes{}, r
	}
	for _, s := range body.Stops {
		for _, a := range s.Animals {
			if _, err := animals.Find(v, a); errors.Is(err, model.ErrNotFound) {
				return model.Writes{}, mend("round", a.String(), "round.gone", nil)
			} else if err != nil {
				return model.Writes{}, err
			}
		}
	}
	last, err := Last(v, 1)
	if err != nil {
		return model.Writes{}, err
	}
	now := v.Now()
	for _, s := range last {
		if s.Open() {
			return model.Writes{}, mend("round", s.At.Day().String(), "round.open", map[string]model.Gap{"Day": model.DayGap(s.At.Day())})
		}
		o, _ := c.Tables.Round(s.Order)
		reached, looked := s.Reached(o)
		body.Again = looked && max(s.At.Day(), s.Ended.Day()) == now.Day()
		if body.Again && !c.Confirmed.Has(AsksAgain) {
			return model.Writes{}, &model.Refusal{Field: "round", Value: now.Day().String(), Reason: AsksAgain, Answer: model.Confirm,
				Gaps: map[string]model.Gap{"Class": model.KeyGap("round.class." + reached.String())}}
		}
	}
	d := model.Document{Type: model.TypeRound, ID: v.NewID(), At: now, By: c.By}
	return put(d, body, model.Label{Key: "round.done.begin", Gaps: map[string]model.Gap{"Count": model.CountGap(len(body.Stops))}})
}

// LookInto notes, now, that a box of a round was looked at, or left out.
type LookInto struct {
	Tables *knowledge.Tables
	Round  model.RoundID
	Look
	By model.PersonID
}

// Name is "round.look".
func (LookInto) Name() string { return "round.look" }

// Plan writes the entry. Within a round it never goes back to a cleaner class; what was
// left out is looked at after all only while no later class was. A box is looked at
// once.
func (c LookInto) Plan(v model.View) (model.Writes, error) {
	if r := c.Look.Check(); r != nil {
		return model.Writes{}, r
	}
	s, err := Find(v, c.Round)
	if err != nil {
		return model.Writes{}, err
	}
	planned := slices.IndexFunc(s.Stops, func(p Planned) bool { return slices.Equal(p.Animals, c.Animals) })
	o, _ := c.Tables.Round(s.Order)
	is, _ := classOf(c.Class)
	reached, looked := s.Reached(o)
	before, was := s.Of(c.Animals[0])
	switch {
	case !s.Open():
		return model.Writes{}, mend("round", s.Ended.Day().String(), "round.ended", nil)
	case planned < 0:
		return model.Writes{}, mend("round", "", "round.not-in", nil)
	case was && (!before.Passed || c.Passed):
		return model.Writes{}, mend("round", "", "round.looked", nil)
	case !c.Passed && looked && Rank(o, is) < Rank(o, reached):
		return model.Writes{}, mend("round", "", "round.back", map[string]model.Gap{"Class": model.KeyGap("round.class." + is.String()), "Reached": model.KeyGap("round.class." + reached.String())})
	}
	name, err := nameOf(v, c.Animals)
	if err != nil {
		return model.Writes{}, err
	}
	c.Place = s.Stops[planned].Place
	key := "round.done.look"
	if c.Passed {
		key = "round.done.passed"
	}
	d := model.Document{Type: model.TypeEntry, Kind: KindLook, ID: v.NewID(), At: v.Now(), By: c.By, Subjects: []model.Subject{c.Round.Subject()}}
	return put(d, c.Look, model.Label{Key: key, Gaps: map[string]model.Gap{"Animal": model.TextGap(name)}})
}

// nameOf is the name of the first of some animals that is still in the collection; it is
// refused where none is.
func nameOf(v model.View, all []model.AnimalID) (string, error) {
	for _, id := range all {
		a, err := animals.Find(v, id)
		if err == nil {
			return a.Name, nil
		}
		if !errors.Is(err, model.ErrNotFound) {
			return "", fmt.Errorf("note a look on a round: %w", err)
		}
	}
	return "", mend("round", all[0].String(), "round.gone", nil)
}

// End ends a round, now. What was not looked at by then was not.
type End struct {
	Round model.RoundID
	Base  uint32 // the revision that the end was decided on
}

// Name is "round.end".
func (End) Name() string { return "round.end" }

// Plan writes the end.
func (c End) Plan(v model.View) (model.Writes, error) {
	s, err := Find(v, c.Round)
	if err != nil {
		return model.Writes{}, err
	}
	if !s.Open() {
		return model.Writes{}, mend("round", s.Ended.Day().String(), "round.ended", nil)
	}
	s.Ended = v.Now()
	looked, _, _ := s.Count()
	d := model.Document{Type: model.TypeRound, ID: s.ID.ID, Revision: c.Base, At: s.At, By: s.By}
	return put(d, s.Round, model.Label{Key: "round.done.end", Gaps: map[string]model.Gap{"Count": model.CountGap(looked), "All": model.CountGap(len(s.Stops))}})
}

func put(d model.Document, body any, label model.Label) (model.Writes, error) {
	if err := d.Encode(Version, body); err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Put: []model.Document{d}, Label: label}, nil
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command { return []model.Command{Begin{}, LookInto{}, End{}} }
