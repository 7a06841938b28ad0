package importing

import (
	"errors"
	"slices"

	"coilward/model"
	"coilward/model/husbandry"
)

// Place is a place to be made, in one of the collection or, where New is at
// least 0, in Rows.Places[New], which stands before it; else Place.Parent, which
// may be none.
type Place struct {
	Source
	husbandry.Place
	New int
}

// Stay is a stay to be made, of an animal as in Entry, in a place of the
// collection or, where Place is zero, in Rows.Places[NewPlace].
type Stay struct {
	Source
	Of       model.AnimalID
	New      int
	Place    model.PlaceID
	NewPlace int
	From, To model.Moment // zero To: still there
	Note     string
}

// stays judges all stays, the earlier ones first, and makes the places that one
// of those that can stand is in.
func (w *walk) stays(goodAnimal []int) error {
	if len(w.rows.Places)+len(w.rows.Stays) == 0 {
		return nil
	}
	many, err := husbandry.NewMany(w.view)
	if err != nil {
		return err
	}
	for _, d := range w.documents {
		if d.Type == model.TypeAnimal {
			if err := many.Beside(d); err != nil {
				return err
			}
		}
	}
	h := &housing{walk: w, many: many, used: make([]bool, len(w.rows.Places))}
	if err := h.places(); err != nil {
		return err
	}
	ordered := slices.Clone(w.rows.Stays)
	slices.SortStableFunc(ordered, func(a, b Stay) int { return byTime(a.From, b.From) })
	for _, s := range ordered {
		if err := w.tick(); err != nil {
			return err
		}
		if err := h.stay(s, goodAnimal); err != nil {
			return err
		}
	}
	h.keepUsed()
	return nil
}

// housing are the places and stays of rows on their way in.
type housing struct {
	*walk
	many  *husbandry.Many
	built []model.Document // of rows.Places; without an id: refused
	used  []bool           // a stay that can stand is in it, or in what stands in it
	stays []model.Document
}

func (h *housing) places() error {
	for _, p := range h.rows.Places {
		if p.New >= 0 {
			if h.built[p.New].ID.IsZero() {
				h.built = append(h.built, model.Document{})
				h.Refused = append(h.Refused, Refused{Source: p.Source, Part: Part{Type: model.TypePlace}, Refusal: h.outer(p.New)})
				continue
			}
			p.Parent = model.PlaceID{ID: h.built[p.New].ID}
		}
		d, err := h.many.Place(p.Place)
		if _, failed := h.refuse(p.Source, Part{Type: model.TypePlace}, err); failed != nil {
			return failed
		}
		h.built = append(h.built, d)
	}
	return nil
}

// outer says that a place to be made cannot be.
func (h *housing) outer(place int) *model.Refusal {
	p := h.rows.Places[place]
	return &model.Refusal{Field: "stay-place", Value: p.Name, Reason: "movein.place-refused", Answer: model.Mend, Gaps: map[string]model.Gap{"Line": model.CountGap(p.Line)}}
}

func (h *housing) stay(s Stay, goodAnimal []int) error {
	stay := husbandry.Stay{Animal: s.Of, Place: s.Place, From: s.From, To: s.To, Note: s.Note}
	if stay.Animal.IsZero() {
		if stay.Animal = h.made[s.New]; stay.Animal.IsZero() {
			h.Refused = append(h.Refused, Refused{Source: s.Source, Part: Part{Type: model.TypeStay}, Refusal: h.ofRefused(s.New)})
			return nil
		}
	}
	if stay.Place.IsZero() {
		if stay.Place = (model.PlaceID{ID: h.built[s.NewPlace].ID}); stay.Place.IsZero() {
			h.Refused = append(h.Refused, Refused{Source: s.Source, Part: Part{Type: model.TypeStay}, Refusal: h.outer(s.NewPlace)})
			return nil
		}
	}
	if there, err := h.many.Has(stay); err != nil {
		return err
	} else if there {
		h.There++
		return nil
	}
	d, err := h.many.Stay(stay, h.rows.By, h.rows.Confirmed)
	if refused, failed := h.refuse(s.Source, Part{Type: model.TypeStay}, fields(err)); failed != nil || refused {
		return failed
	}
	h.stays = append(h.stays, d)
	h.Stays++
	if s.Place.IsZero() {
		for i := s.NewPlace; i >= 0 && !h.used[i]; i = h.rows.Places[i].New {
			h.used[i] = true
		}
	}
	if s.Of.IsZero() {
		s.New = goodAnimal[s.New]
	}
	h.good.Stays = append(h.good.Stays, s)
	return nil
}

// keepUsed leaves out the places that no stay is in.
func (h *housing) keepUsed() {
	at := make([]int, len(h.rows.Places))
	for i, p := range h.rows.Places {
		if !h.used[i] {
			continue
		}
		if p.New >= 0 {
			p.New = at[p.New]
		}
		at[i] = h.Places
		h.Places++
		h.documents = append(h.documents, h.built[i])
		h.good.Places = append(h.good.Places, p)
	}
	for i, s := range h.good.Stays {
		if s.Place.IsZero() {
			h.good.Stays[i].NewPlace = at[s.NewPlace]
		}
	}
	h.documents = append(h.documents, h.stays...)
}

// fields is a refusal with the beginning of a stay called as rows call it: of an
// animal, "from" is whom it came from.
func fields(err error) error {
	var r *model.Refusal
	if !errors.As(err, &r) || r.Field != "from" {
		return err
	}
	again := *r
	again.Field = "stay-from"
	return &again
}
