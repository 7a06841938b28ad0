package positives

import (
	"errors"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/contact"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

// The reasons of what is asked while something detected is not settled. Nothing is
// forbidden.
const (
	AsksMove  = "positive.move"  // into or out of its room, or of one near to another
	AsksCarry = "positive.carry" // of itself to another room, where that goes by its droppings
	AsksLeave = "positive.leave" // it, or one near, is sold, given away or lent
)

// Asking is a command that is asked about first where something was detected and is not
// settled: whether to move somebody in or out of its room, or let it or one near leave
// the collection.
type Asking struct {
	Tables    *knowledge.Tables
	Command   model.Command
	Confirmed model.Confirmed
}

// Name is the command's own.
func (a Asking) Name() string { return a.Command.Name() }

// Plan is the command's own, or the question.
func (a Asking) Plan(v model.View) (model.Writes, error) {
	w, err := a.Command.Plan(v)
	if err != nil || a.Confirmed.Has(AsksMove) && a.Confirmed.Has(AsksLeave) {
		return w, err
	}
	steps, err := stepsOf(v, w)
	if err != nil || steps.none() {
		return w, err
	}
	found, err := Unsettled(v, a.Tables)
	if err != nil {
		return model.Writes{}, err
	}
	for _, t := range found {
		if r := t.asks(steps, a.Confirmed); r != nil {
			return model.Writes{}, r
		}
	}
	return w, nil
}

// step is an animal that goes from rooms to rooms, or leaves.
type step struct {
	animal    model.AnimalID
	out, into []model.PlaceID // places
	day       model.Day
	leaves    animals.Status // empty: it does not
}

type steps struct{ all []*step }

func (s *steps) none() bool { return len(s.all) == 0 }

func (s *steps) of(id model.AnimalID) *step {
	for _, o := range s.all {
		if o.animal == id {
			return o
		}
	}
	o := &step{animal: id}
	s.all = append(s.all, o)
	return o
}

// stepsOf reads out of what a command writes who moves and who leaves.
func stepsOf(v model.View, w model.Writes) (*steps, error) {
	s := &steps{}
	for _, d := range w.Put {
		var err error
		switch d.Type {
		case model.TypeStay:
			err = s.stay(v, d)
		case model.TypeAnimal:
			err = s.status(v, d)
		}
		if err != nil {
			return nil, fmt.Errorf("see who is moved: %w", err)
		}
	}
	return s, nil
}

func (s *steps) stay(v model.View, d model.Document) error {
	now, err := husbandry.DecodeStay(d)
	if err != nil {
		return err
	}
	before, err := v.Document(d.ID)
	if errors.Is(err, model.ErrNotFound) {
		o := s.of(now.Animal)
		o.into, o.day = append(o.into, now.Place), max(o.day, now.From.Day())
		return nil
	}
	if err != nil {
		return err
	}
	was, err := husbandry.DecodeStay(before)
	if err != nil {
		return err
	}
	o := s.of(now.Animal)
	if was.Place != now.Place {
		o.out, o.into, o.day = append(o.out, was.Place), append(o.into, now.Place), max(o.day, now.From.Day())
	}
	if was.To != now.To && !now.To.IsZero() {
		o.out, o.day = append(o.out, now.Place), max(o.day, now.To.Day())
	}
	return nil
}

func (s *steps) status(v model.View, d model.Document) error {
	now, err := animals.Decode(d)
	if err != nil {
		return err
	}
	before, err := v.Document(d.ID)
	if errors.Is(err, model.ErrNotFound) {
		return nil
	}
	if err != nil {
		return err
	}
	was, err := animals.Decode(before)
	if err == nil && was.Status != now.Status && was.Status.Here() && slices.Contains([]animals.Status{animals.OnLoan, animals.Sold, animals.Given}, now.Status) {
		s.of(now.ID).leaves = now.Status
	}
	return err
}

// asks is the question that a positive asks of some steps; nil where there is none.
func (t Trace) asks(s *steps, confirmed model.Confirmed) *model.Refusal {
	for _, o := range s.all {
		gaps := map[string]model.Gap{"Animal": model.TextGap(t.Name(o.animal)), "Of": model.TextGap(t.Names()), "Agent": model.KeyGap("agent." + string(t.Agent)), "Day": model.DayGap(t.Reported.Day())}
		own := slices.Contains(t.Animals, o.animal)
		concerned := own || slices.ContainsFunc(t.Exposed(), func(n contact.Near) bool { return n.Animal == o.animal })
		move, asks := AsksMove, true
		if t.world.tables.Confined(t.Agent) {
			move, asks = AsksCarry, own
		}
		switch {
		case o.leaves != "" && concerned && !confirmed.Has(AsksLeave):
			return &model.Refusal{Field: "status", Value: t.Name(o.animal), Reason: AsksLeave, Gaps: gaps, Answer: model.Confirm}
		case asks && o.day >= t.From() && t.crosses(o, concerned) && !confirmed.Has(move):
			return &model.Refusal{Field: "stay-place", Value: t.Name(o.animal), Reason: move, Gaps: gaps, Answer: model.Confirm}
		}
	}
	return nil
}

// crosses reports whether an animal goes in or out of a room of the positive, or one
// that is concerned goes from any room to another.
func (t Trace) crosses(o *step, concerned bool) bool {
	out, into := t.rooms(o.out), t.rooms(o.into)
	for _, room := range slices.Concat(out, into) {
		if slices.Contains(out, room) != slices.Contains(into, room) && (concerned || slices.Contains(t.Rooms, room)) {
			return true
		}
	}
	return false
}

func (t Trace) rooms(places []model.PlaceID) (rooms []model.PlaceID) {
	for _, p := range places {
		if path := t.world.house.Path(p); len(path) > 0 {
			rooms = append(rooms, path[0].ID)
		}
	}
	return rooms
}

// Means are what works on the thing, for the disinfection.
func (t Trace) Means() []knowledge.Effect { return contact.Means(t.world.tables, t.Agent) }
