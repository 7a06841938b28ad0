package husbandry

import (
	"errors"
	"fmt"
	"slices"

	"coilward/model"
)

// ledger is the stays that a command reads and changes. It reads the timelines
// of the animals and places concerned, never the whole collection.
type ledger struct {
	view      model.View
	tree      *tree
	residents map[model.AnimalID]resident
	stays     map[model.AnimalID][]StoredStay // as changed so far, oldest first
	changed   []model.StayID                  // in the order of change
	moved     []model.StayID                  // of these, those that are elsewhere, or at another time, than before
}

func newLedger(v model.View, t *tree) *ledger {
	return &ledger{view: v, tree: t, residents: map[model.AnimalID]resident{}, stays: map[model.AnimalID][]StoredStay{}}
}

// ledgerOf is the ledger of what changes the stays of some animals and puts them in some
// places: of the tree it has these, those that they ever lived in, and what they stand in.
func ledgerOf(v model.View, concerned []model.AnimalID, into ...model.PlaceID) (*ledger, error) {
	l := newLedger(v, nil)
	for _, id := range concerned {
		stays, err := l.of(id)
		if err != nil {
			return nil, err
		}
		for _, s := range stays {
			into = append(into, s.Place)
		}
	}
	var known []StoredPlace
	for _, id := range into {
		var err error
		if known, err = climb(v, id, known); err != nil {
			return nil, err
		}
	}
	l.tree = newTree(known)
	return l, nil
}

func (l *ledger) resident(id model.AnimalID) (resident, error) {
	if r, known := l.residents[id]; known {
		return r, nil
	}
	d, err := l.view.Document(id.ID)
	if err != nil {
		return resident{}, fmt.Errorf("read animal %s: %w", id, err)
	}
	r, err := decodeResident(d)
	if err == nil {
		l.residents[id] = r
	}
	return r, err
}

// of are the stays of an animal, oldest first.
func (l *ledger) of(id model.AnimalID) ([]StoredStay, error) {
	if stays, known := l.stays[id]; known {
		return stays, nil
	}
	stays, err := timeline(l.view, id.Subject())
	if err == nil {
		l.stays[id] = stays
	}
	return stays, err
}

// timeline are the stays about an animal or a place, oldest first.
func timeline(v model.View, about model.Subject) ([]StoredStay, error) {
	var all []StoredStay
	err := visit(v, about, func(d model.Document) error {
		if d.Type != model.TypeStay {
			return nil
		}
		s, err := DecodeStay(d)
		all = append(all, s)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("read the stays of %s %s: %w", about.Kind, about.ID, err)
	}
	slices.SortStableFunc(all, byTime)
	return all, nil
}

// lived are the stays in a place as changed so far, ended where the animal left
// the collection.
func (l *ledger) lived(place model.PlaceID) ([]StoredStay, error) {
	stored, err := timeline(l.view, place.Subject())
	if err != nil {
		return nil, err
	}
	all := slices.DeleteFunc(stored, func(s StoredStay) bool { return l.stays[s.Animal] != nil })
	for _, stays := range l.stays {
		for _, s := range stays {
			if s.Place == place {
				all = append(all, s)
			}
		}
	}
	slices.SortStableFunc(all, byTime)
	var ended []StoredStay
	for _, s := range all {
		r, err := l.resident(s.Animal)
		if errors.Is(err, model.ErrNotFound) {
			continue // taken out by undoing an old change
		}
		if err != nil {
			return nil, err
		}
		ended = append(ended, r.ended(s))
	}
	return ended, nil
}

// put takes a changed or new stay in.
func (l *ledger) put(s StoredStay) {
	stays := slices.DeleteFunc(slices.Clone(l.stays[s.Animal]), func(o StoredStay) bool { return o.ID == s.ID })
	stays = append(stays, s)
	slices.SortStableFunc(stays, byTime)
	l.stays[s.Animal] = stays
	if !slices.Contains(l.changed, s.ID) {
		l.changed = append(l.changed, s.ID)
	}
}

// move settles a move.
func (l *ledger) move(r Relocation, at model.Moment, by model.PersonID, note string, confirmed model.Confirmed) error {
	of, err := l.resident(r.Animal)
	if err != nil {
		return err
	}
	if err := first(checkMoment("from", at, l.view.Now())); err != nil {
		return err
	}
	if err := first(of.lives(at, confirmed), model.CheckText("note", note, MaxNote)); err != nil {
		return err
	}
	stays, err := l.of(r.Animal)
	if err != nil {
		return err
	}
	moved := StoredStay{ID: model.StayID{ID: l.view.NewID()}, By: by, Stay: Stay{Animal: r.Animal, Place: r.Place, From: at, Note: note}}
	changed, c := settle(stays, moved)
	if c != nil {
		field, value := "from", at.Day().String()
		if c.reason == "stay.there" { // no other day mends it
			field, value = "stay-place", l.tree.title(r.Place)
		}
		return mend(field, value, c.reason, map[string]model.Gap{"Animal": model.TextGap(of.Name),
			"Place": model.TextGap(l.tree.title(c.with.Place)), "Day": model.DayGap(c.with.From.Day())})
	}
	for _, s := range changed {
		l.put(s)
	}
	l.moved = append(l.moved, moved.ID)
	return first(l.takes(changed[len(changed)-1]))
}

// takes tells why an animal cannot live in the place of a stay.
func (l *ledger) takes(s StoredStay) *model.Refusal {
	p, ok := l.tree.place(s.Place)
	gaps := map[string]model.Gap{"Place": model.TextGap(l.tree.title(s.Place)), "Kind": model.KeyGap("husbandry.place-kind." + string(p.Kind))}
	switch {
	case !ok:
		return mend("stay-place", "", "house.gone", nil)
	case !p.Kind.Houses():
		return mend("stay-place", p.Name, "house.no-enclosure", gaps)
	}
	if day, closed := l.tree.closed(s.Place); closed && (s.To.IsZero() || s.To.Day() > day) {
		gaps["Day"] = model.DayGap(day)
		return mend("stay-place", p.Name, "house.closed", gaps)
	}
	return nil
}

// shared asks where an animal comes to share a place with another.
func (l *ledger) shared(confirmed model.Confirmed) error {
	for _, id := range l.moved {
		s := l.stay(id)
		others, err := l.lived(s.Place)
		if err != nil {
			return err
		}
		of, err := l.resident(s.Animal)
		if err != nil {
			return err
		}
		for _, o := range others {
			if o.Animal == s.Animal || !o.until().overlaps(of.ended(s).until()) {
				continue
			}
			other, err := l.resident(o.Animal)
			if err != nil {
				return err
			}
			if r := ask(confirmed, "stay-place", l.tree.title(s.Place), "house.shared", map[string]model.Gap{"Animal": model.TextGap(of.Name),
				"Other": model.TextGap(other.Name), "Place": model.TextGap(l.tree.title(s.Place)), "From": model.DayGap(o.From.Day())}); r != nil {
				return r
			}
		}
	}
	return nil
}

// until is the stay as it truly ended.
func (s StoredStay) until() Stay {
	stay := s.Stay
	stay.To = s.Until
	return stay
}

func (l *ledger) stay(id model.StayID) StoredStay {
	for _, stays := range l.stays {
		for _, s := range stays {
			if s.ID == id {
				return s
			}
		}
	}
	return StoredStay{}
}

// writes are the documents of all stays that were changed.
func (l *ledger) writes(label model.Label) (model.Writes, error) {
	w := model.Writes{Label: label}
	for _, id := range l.changed {
		d, err := l.stay(id).document()
		if err != nil {
			return model.Writes{}, err
		}
		w.Put = append(w.Put, d)
	}
	return w, nil
}

// neverLived refuses where an animal ever lived in a place.
func (l *ledger) neverLived(id model.PlaceID) error {
	stays, err := l.lived(id)
	if err != nil || len(stays) == 0 {
		return err
	}
	return l.livedIn(stays[0], "place-kind", "house.lived")
}

// emptySince refuses where an animal lives in a place, or in what stands in it,
// after a day.
func (l *ledger) emptySince(id model.PlaceID, day model.Day) error {
	for _, p := range l.tree.branch(id) {
		stays, err := l.lived(p.ID)
		if err != nil {
			return err
		}
		for _, s := range stays {
			if s.open() || s.Until.Day() > day {
				return l.livedIn(s, "place", "house.lived-in")
			}
		}
	}
	return nil
}

func (l *ledger) livedIn(s StoredStay, field, reason string) error {
	of, err := l.resident(s.Animal)
	if err != nil {
		return err
	}
	title := l.tree.title(s.Place)
	return mend(field, title, reason, map[string]model.Gap{"Animal": model.TextGap(of.Name), "Place": model.TextGap(title), "From": model.DayGap(s.From.Day())})
}
