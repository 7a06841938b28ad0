package round

import (
	"errors"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// AsksAgain is the reason of the question what lies between two rounds of one day.
const AsksAgain = "round.again"

// The same question where tools go into something, and where nothing with a contact time is
// known for them.
const (
	asksAgainTools = "round.again-tools"
	asksAgainOwn   = "round.again-own"
)

// Begin begins a round.
type Begin struct {
	Tables *knowledge.Tables
	Order  knowledge.RoundID
	Apart  bool
	Stops  []Planned
	// At is when it was begun; zero: now.
	At        model.Moment
	By        model.PersonID
	Confirmed model.Confirmed
}

// Name is "round.begin".
func (Begin) Name() string { return "round.begin" }

// Plan writes the round. While another is open it is refused, and after one of the same
// day it asks whether what has to lie between was done ("round.again" or what begins
// with it). It is never begun in the future, and it asks of a day on which an animal was
// not the keeper's.
func (c Begin) Plan(v model.View) (model.Writes, error) {
	all, err := rounds(v)
	if err != nil {
		return model.Writes{}, err
	}
	for _, s := range all {
		if s.Open() {
			return model.Writes{}, mend("round", s.At.Day().String(), "round.open", map[string]model.Gap{"Day": model.DayGap(s.At.Day())})
		}
	}
	d, body, err := c.begun(v, all)
	if err != nil {
		return model.Writes{}, err
	}
	return put(d, body, model.Label{Key: "round.done.begin", Gaps: map[string]model.Gap{"Count": model.CountGap(len(body.Stops))}})
}

// begun is the round as it begins, beside all others.
func (c Begin) begun(v model.View, others []Stored) (d model.Document, body Round, err error) {
	if _, known := c.Tables.Round(c.Order); !known {
		return d, body, mend("round-order", string(c.Order), "choice.unknown", nil)
	}
	body = Round{Order: c.Order, Apart: c.Apart, Stops: c.Stops}
	if r := body.Check(); r != nil {
		return d, body, r
	}
	at, r := moment(v, c.At)
	if r != nil {
		return d, body, r
	}
	for _, s := range body.Stops {
		if err := there(v, s.Animals, c.At, c.By, c.Confirmed); err != nil {
			return d, body, err
		}
	}
	for _, s := range others {
		if s.At.Day() != at.Day() && s.Ended.Day() != at.Day() {
			continue
		}
		if err := s.looks(v); err != nil {
			return d, body, err
		}
		o, _ := c.Tables.Round(s.Order)
		reached, looked := s.Reached(o)
		if !looked {
			continue
		}
		body.Again = true
		if c.Confirmed.Has(AsksAgain) || c.Confirmed.Has(asksAgainTools) || c.Confirmed.Has(asksAgainOwn) {
			break
		}
		house, err := ReadHouse(v, c.Tables)
		if err != nil {
			return d, body, err
		}
		return d, body, BetweenRounds(c.Tables, s, Stops(c.Tables, house.Dwellers)).asks(reached, at.Day())
	}
	return model.Document{Type: model.TypeRound, ID: v.NewID(), At: at, By: c.By}, body, nil
}

// moment is when something is noted: at, or now where that is zero. The future is refused.
func moment(v model.View, at model.Moment) (model.Moment, *model.Refusal) {
	now := v.Now()
	if at.IsZero() {
		return now, nil
	}
	if now.Before(at) {
		return at, mend("day", at.Day().String(), "day.future", map[string]model.Gap{"Today": model.DayGap(now.Day())})
	}
	return at, nil
}

// there tells why a round cannot have gone through some animals: one is not in the
// collection, or was not the keeper's at a moment that is given.
func there(v model.View, all []model.AnimalID, at model.Moment, by model.PersonID, confirmed model.Confirmed) error {
	for _, a := range all {
		if _, err := animals.Find(v, a); errors.Is(err, model.ErrNotFound) {
			return mend("round", a.String(), "round.gone", nil)
		} else if err != nil {
			return err
		}
		if at.IsZero() {
			continue
		}
		if err := care.CheckSeen(v, care.About{Animal: a, At: at, By: by, Confirmed: confirmed}); err != nil {
			return err
		}
	}
	return nil
}

// LookInto notes that a box of a round was looked at, or left out.
type LookInto struct {
	Tables *knowledge.Tables
	Round  model.RoundID
	Look
	// At is when that was; zero: now.
	At        model.Moment
	By        model.PersonID
	Confirmed model.Confirmed
}

// Name is "round.look".
func (LookInto) Name() string { return "round.look" }

// Plan writes the entry. Within a round it never goes back to a cleaner class; what was
// left out is looked at after all only while no later class was. A box is looked at
// once, never in the future, and not before the round began.
func (c LookInto) Plan(v model.View) (model.Writes, error) {
	if r := c.Look.Check(); r != nil { // before the round is read
		return model.Writes{}, r
	}
	s, err := Find(v, c.Round)
	if err != nil {
		return model.Writes{}, err
	}
	o, _ := c.Tables.Round(s.Order)
	if r := s.takes(o, c.Look); r != nil {
		return model.Writes{}, r
	}
	at, r := moment(v, c.At)
	if r == nil && at.Before(s.At) {
		r = mend("day", at.Day().String(), "round.before-begin", map[string]model.Gap{"Day": model.DayGap(s.At.Day())})
	}
	if r != nil {
		return model.Writes{}, r
	}
	name, err := nameOf(v, c.Animals)
	if err != nil {
		return model.Writes{}, err
	}
	if !c.At.IsZero() {
		if err := there(v, c.Animals, at, c.By, c.Confirmed); err != nil {
			return model.Writes{}, err
		}
	}
	c.Place = s.Stops[s.planned(c.Look)].Place
	key := "round.done.look"
	if c.Passed {
		key = "round.done.passed"
	}
	d := model.Document{Type: model.TypeEntry, Kind: KindLook, ID: v.NewID(), At: at, By: c.By, Subjects: []model.Subject{c.Round.Subject()}}
	return put(d, c.Look, model.Label{Key: key, Gaps: map[string]model.Gap{"Animal": model.TextGap(name)}})
}

// takes tells why a look cannot be the next of a round that is open; nil if it can.
func (s Stored) takes(o knowledge.RoundOrder, l Look) *model.Refusal {
	if r := l.Check(); r != nil {
		return r
	}
	is, _ := classOf(l.Class)
	reached, looked := s.Reached(o)
	before, was := s.Of(l.Animals[0])
	switch {
	case !s.Open():
		return mend("round", s.Ended.Day().String(), "round.ended", nil)
	case s.planned(l) < 0:
		return mend("round", "", "round.not-in", nil)
	case was && (!before.Passed || l.Passed):
		return mend("round", "", "round.looked", nil)
	case !l.Passed && looked && Rank(o, is) < Rank(o, reached):
		return mend("round", "", "round.back", map[string]model.Gap{"Class": model.KeyGap("round.class." + is.String()), "Reached": model.KeyGap("round.class." + reached.String())})
	}
	return nil
}

// planned is the box of a look among the stops; below zero it is none of them.
func (s Stored) planned(l Look) int {
	return slices.IndexFunc(s.Stops, func(p Planned) bool { return slices.Equal(p.Animals, l.Animals) })
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

// Record keeps a round that was gone through on paper: begun, looked through and ended.
type Record struct {
	Begin
	// ID is that of its sheet, so that no sheet is kept twice; zero: it has none.
	ID model.RoundID
	// Looks are what was looked into or left out, in the order in which it was gone through.
	Looks []Look
}

// Name is "round.record".
func (Record) Name() string { return "round.record" }

// Plan refuses and asks what Begin and LookInto do; but it is no matter whether another
// round is open.
func (c Record) Plan(v model.View) (model.Writes, error) {
	all, err := rounds(v)
	if err != nil {
		return model.Writes{}, err
	}
	for _, s := range all {
		if s.ID == c.ID {
			return model.Writes{}, mend("round", s.At.Day().String(), "round.recorded", map[string]model.Gap{"Day": model.DayGap(s.At.Day())})
		}
	}
	d, body, err := c.begun(v, all)
	if err != nil {
		return model.Writes{}, err
	}
	if !c.ID.IsZero() {
		d.ID = c.ID.ID
	}
	s := Stored{ID: model.RoundID{ID: d.ID}, At: d.At, Round: body}
	o, _ := c.Tables.Round(c.Order)
	var writes model.Writes
	for _, l := range c.Looks {
		if r := s.takes(o, l); r != nil {
			return model.Writes{}, r
		}
		l.Place = s.Stops[s.planned(l)].Place
		look := model.Document{Type: model.TypeEntry, Kind: KindLook, ID: v.NewID(), At: d.At, By: c.By, Subjects: []model.Subject{s.ID.Subject()}}
		if err := look.Encode(Version, l); err != nil {
			return model.Writes{}, err
		}
		s.Looks = append(s.Looks, StoredLook{Look: l})
		writes.Put = append(writes.Put, look)
	}
	looked, _, _ := s.Count()
	if looked == 0 {
		return model.Writes{}, mend("round", "", "round.none-looked", nil)
	}
	body.Ended = d.At
	begun, err := put(d, body, model.Label{Key: "round.done.record", Gaps: map[string]model.Gap{"Count": model.CountGap(looked), "All": model.CountGap(len(body.Stops))}})
	begun.Put = append(begun.Put, writes.Put...)
	return begun, err
}

func put(d model.Document, body any, label model.Label) (model.Writes, error) {
	if err := d.Encode(Version, body); err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Put: []model.Document{d}, Label: label}, nil
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command { return []model.Command{Begin{}, LookInto{}, End{}, Record{}} }
