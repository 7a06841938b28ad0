package husbandry

import (
	"errors"
	"fmt"

	"coilward/model"
)

// Move says that an animal lives in a place from a moment on. The stay that it
// was in then ends at that moment; the new one lasts as long as that one would
// have, or until the animal's next stay begins, or is open. So the order in
// which moves are entered does not matter.
type Move struct {
	Animal    model.AnimalID
	Place     model.PlaceID
	At        model.Moment
	By        model.PersonID
	Note      string
	Confirmed model.Confirmed
}

// Name is "husbandry.move".
func (Move) Name() string { return "husbandry.move" }

// Plan writes the new stay and the end of the one before.
func (c Move) Plan(v model.View) (model.Writes, error) {
	return MoveAll{Moves: []Relocation{{c.Animal, c.Place}}, At: c.At, By: c.By, Note: c.Note, Confirmed: c.Confirmed}.Plan(v)
}

// MoveAll moves several animals at one moment, each to its own place, all or
// none: two that swap their places, or everyone of a rack.
type MoveAll struct {
	Moves     []Relocation
	At        model.Moment
	By        model.PersonID
	Note      string
	Confirmed model.Confirmed
}

// Relocation is one animal and where it goes.
type Relocation struct {
	Animal model.AnimalID
	Place  model.PlaceID
}

// Name is "husbandry.move-all".
func (MoveAll) Name() string { return "husbandry.move-all" }

// Plan writes all stays. It asks where two animals come to share a place.
func (c MoveAll) Plan(v model.View) (model.Writes, error) {
	if len(c.Moves) == 0 {
		return model.Writes{}, mend("stay-animal", "", "move.nobody", nil)
	}
	var concerned []model.AnimalID
	var into []model.PlaceID
	for _, m := range c.Moves {
		concerned, into = append(concerned, m.Animal), append(into, m.Place)
	}
	l, err := ledgerOf(v, concerned, into...)
	if err != nil {
		return model.Writes{}, err
	}
	seen := map[model.AnimalID]bool{}
	for _, m := range c.Moves {
		if seen[m.Animal] {
			return model.Writes{}, mend("stay-animal", l.residents[m.Animal].Name, "move.twice", map[string]model.Gap{"Animal": model.TextGap(l.residents[m.Animal].Name)})
		}
		seen[m.Animal] = true
		if err := l.move(m, c.At, c.By, c.Note, c.Confirmed); err != nil {
			return model.Writes{}, err
		}
	}
	if err := l.shared(c.Confirmed); err != nil {
		return model.Writes{}, err
	}
	one := c.Moves[0]
	gaps := map[string]model.Gap{"Animal": model.TextGap(l.residents[one.Animal].Name), "Place": model.TextGap(l.tree.title(one.Place))}
	if len(c.Moves) == 1 {
		return l.writes(model.Label{Key: "husbandry.done.move", Gaps: gaps})
	}
	return l.writes(model.Label{Key: "husbandry.done.move-all", Gaps: map[string]model.Gap{"Count": model.CountGap(len(c.Moves))}})
}

// MoveOut says that an animal lives in no place of the collection from a moment
// on: on loan, at the vet, on its way to a new keeper.
type MoveOut struct {
	Animal model.AnimalID
	At     model.Moment
}

// Name is "husbandry.move-out".
func (MoveOut) Name() string { return "husbandry.move-out" }

// Plan writes the end of the stay.
func (c MoveOut) Plan(v model.View) (model.Writes, error) {
	l, err := ledgerOf(v, []model.AnimalID{c.Animal})
	if err != nil {
		return model.Writes{}, err
	}
	of, err := l.resident(c.Animal)
	if err != nil {
		return model.Writes{}, err
	}
	if err := first(checkMoment("to", c.At, v.Now())); err != nil {
		return model.Writes{}, err
	}
	stays, err := l.of(c.Animal)
	if err != nil {
		return model.Writes{}, err
	}
	gaps := map[string]model.Gap{"Animal": model.TextGap(of.Name)}
	ended, ok := leave(stays, c.At)
	if !ok {
		return model.Writes{}, mend("to", c.At.Day().String(), "stay.nowhere", gaps)
	}
	gaps["Place"] = model.TextGap(l.tree.title(ended.Place))
	if err := first(lasts(ended.Stay)); err != nil {
		return model.Writes{}, err
	}
	l.put(ended)
	return l.writes(model.Label{Key: "husbandry.done.move-out", Gaps: gaps})
}

// lasts wants the end of a stay not to lie before its beginning, nor at the very
// same minute.
func lasts(s Stay) *model.Refusal {
	if s.To.IsZero() || Before(s.From, s.To) || !Before(s.To, s.From) && !(exact(s.From) && exact(s.To)) {
		return nil
	}
	return mend("to", s.To.Day().String(), "stay.end-first", map[string]model.Gap{"From": model.DayGap(s.From.Day())})
}

// ChangeStay puts a stay right; Base is the revision that the change was made
// on. A stay keeps its animal.
type ChangeStay struct {
	ID        model.StayID
	Base      uint32
	Place     model.PlaceID
	From, To  model.Moment // zero To: still there
	By        model.PersonID
	Note      string
	Confirmed model.Confirmed
}

// Name is "husbandry.stay.change".
func (ChangeStay) Name() string { return "husbandry.stay.change" }

// Plan writes the stay anew. It is refused where it would overlap another stay
// of the animal.
func (c ChangeStay) Plan(v model.View) (model.Writes, error) {
	stored, err := present(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	l, err := ledgerOf(v, []model.AnimalID{stored.Animal}, c.Place)
	if err != nil {
		return model.Writes{}, err
	}
	of, err := l.resident(stored.Animal)
	if err != nil {
		return model.Writes{}, err
	}
	stays, err := l.of(stored.Animal)
	if err != nil {
		return model.Writes{}, err
	}
	s := StoredStay{ID: c.ID, Revision: c.Base, By: c.By, Until: c.To, Stay: Stay{Animal: stored.Animal, Place: c.Place, From: c.From, To: c.To, Note: c.Note}}
	if err := first(checkMoment("from", c.From, v.Now())); err != nil {
		return model.Writes{}, err
	}
	if !c.To.IsZero() {
		if err := first(checkMoment("to", c.To, v.Now()), lasts(s.Stay)); err != nil {
			return model.Writes{}, err
		}
	}
	if err := first(of.lives(c.From, c.Confirmed), model.CheckText("note", c.Note, MaxNote)); err != nil {
		return model.Writes{}, err
	}
	if other, found := overlapping(stays, s); found {
		return model.Writes{}, l.both(of, s, other)
	}
	l.put(s)
	if s.Place != stored.Place || s.From != stored.From || s.To != stored.To {
		l.moved = append(l.moved, s.ID)
	}
	if err := first(l.takes(s)); err != nil {
		return model.Writes{}, err
	}
	if err := l.shared(c.Confirmed); err != nil {
		return model.Writes{}, err
	}
	return l.writes(model.Label{Key: "husbandry.done.stay-change", Gaps: map[string]model.Gap{
		"Animal": model.TextGap(of.Name), "Place": model.TextGap(l.tree.title(c.Place)),
	}})
}

// both names the two stays that one animal cannot have at once.
func (l *ledger) both(of resident, s, other StoredStay) *model.Refusal {
	end := func(m model.Moment) model.Gap {
		if m.IsZero() {
			return model.KeyGap("husbandry.today")
		}
		return model.DayGap(m.Day())
	}
	return mend("from", s.From.Day().String(), "stay.overlap", map[string]model.Gap{
		"Animal": model.TextGap(of.Name),
		"Place":  model.TextGap(l.tree.title(s.Place)), "From": model.DayGap(s.From.Day()), "To": end(s.To),
		"Other": model.TextGap(l.tree.title(other.Place)), "OtherFrom": model.DayGap(other.From.Day()), "OtherTo": end(other.To),
	})
}

// RemoveStay takes out a stay that was entered by mistake. The stays before and
// after it are left as they are.
type RemoveStay struct{ ID model.StayID }

// Name is "husbandry.stay.remove".
func (RemoveStay) Name() string { return "husbandry.stay.remove" }

// Plan removes the stay.
func (c RemoveStay) Plan(v model.View) (model.Writes, error) {
	s, err := present(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	l, err := ledgerOf(v, []model.AnimalID{s.Animal})
	if err != nil {
		return model.Writes{}, err
	}
	of, err := l.resident(s.Animal)
	if err != nil && !errors.Is(err, model.ErrNotFound) {
		return model.Writes{}, err
	}
	return model.Writes{Remove: []model.ID{c.ID.ID}, Label: model.Label{Key: "husbandry.done.stay-remove", Gaps: map[string]model.Gap{
		"Animal": model.TextGap(of.Name), "Place": model.TextGap(l.tree.title(s.Place)),
	}}}, nil
}

func present(v model.View, id model.StayID) (StoredStay, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return StoredStay{}, fmt.Errorf("read stay %s: %w", id, err)
	}
	return DecodeStay(d)
}
