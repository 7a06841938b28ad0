package husbandry

import (
	"errors"
	"fmt"
	"maps"
	"slices"

	"coilward/model"
)

// After is the house as it is after something of some animals was changed: they moved,
// came or went, or their quarantine was. Everything else is as it was when it was read.
func (h *House) After(v model.View, changed []model.AnimalID) (*House, error) {
	n := &House{tree: h.tree, past: h.past, animals: maps.Clone(h.animals), lived: maps.Clone(h.lived), came: maps.Clone(h.came), quarantined: maps.Clone(h.quarantined)}
	for _, id := range changed {
		if err := n.again(v, id); err != nil {
			return nil, fmt.Errorf("read where an animal lives now: %w", err)
		}
	}
	return n, nil
}

// again reads one animal anew.
func (h *House) again(v model.View, id model.AnimalID) error {
	for _, s := range h.animals[id] {
		h.lived[s.Place] = slices.DeleteFunc(slices.Clone(h.lived[s.Place]), func(o StoredStay) bool { return o.Animal == id })
		if len(h.lived[s.Place]) == 0 {
			delete(h.lived, s.Place)
		}
	}
	delete(h.animals, id)
	delete(h.came, id)
	delete(h.quarantined, id)
	var stays []StoredStay
	if err := visit(v, id.Subject(), func(d model.Document) (err error) {
		switch d.Type {
		case model.TypeStay:
			var s StoredStay
			s, err = DecodeStay(d)
			stays = append(stays, s)
		case model.TypeQuarantine:
			quarantinedBy(d, h.quarantined)
		}
		return err
	}); err != nil {
		return err
	}
	of, err := newLedger(v, nil).resident(id)
	if errors.Is(err, model.ErrNotFound) {
		return nil
	}
	if err != nil {
		return err
	}
	h.admit(id, of)
	slices.SortStableFunc(stays, byTime)
	for _, s := range stays {
		s = of.ended(s)
		h.animals[id] = append(h.animals[id], s)
		lived := append(slices.Clone(h.lived[s.Place]), s)
		slices.SortStableFunc(lived, byTime)
		h.lived[s.Place] = lived
	}
	return nil
}

// admit notes when an animal came, where it came from elsewhere.
func (h *House) admit(id model.AnimalID, of resident) {
	if of.Since != of.Hatched {
		h.came[id] = of.Since
	}
}

// visit visits all that is about something, until it fails.
func visit(v model.View, about model.Subject, read func(model.Document) error) error {
	var failed error
	err := v.Timeline(about, model.Beginning, model.EndOfTime, func(d model.Document) bool {
		failed = read(d)
		return failed == nil
	})
	return errors.Join(err, failed)
}
