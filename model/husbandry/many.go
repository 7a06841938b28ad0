package husbandry

import (
	"fmt"
	"slices"

	"coilward/model"
)

// Many checks and makes places and stays one after the other, without reading
// the house anew for each of them: each is compared with those of the collection
// and those made before it. It is valid as long as its view.
type Many struct {
	ledger *ledger
	added  adding
	next   map[model.PlaceID]int // the order of the next place in a place
	housed map[model.PlaceID][]StoredStay
	open   map[model.PlaceID]bool // places that take any stay
}

// NewMany begins beside the places and stays of the collection.
func NewMany(v model.View) (*Many, error) {
	t, err := readTree(v)
	if err != nil {
		return nil, err
	}
	return &Many{ledger: newLedger(v, t), added: adding{view: v, tree: t, names: map[string]bool{}, codes: map[string]bool{}},
		next: map[model.PlaceID]int{}, housed: map[model.PlaceID][]StoredStay{}, open: map[model.PlaceID]bool{}}, nil
}

// Beside makes an animal known that is to be written by the same command.
func (m *Many) Beside(animal model.Document) error {
	r, err := decodeResident(animal)
	if err != nil {
		return err
	}
	id := model.AnimalID{ID: animal.ID}
	m.ledger.residents[id], m.ledger.stays[id] = r, []StoredStay{}
	return nil
}

// Place checks a place and gives its document; its Parent is one of the
// collection, one made before, or none. It stands after what is in there
// already. The error is a *model.Refusal where the place cannot stand.
func (m *Many) Place(p Place) (model.Document, error) {
	p = tidyPlace(p)
	order, known := m.next[p.Parent]
	if !known {
		order = m.ledger.tree.last(p.Parent)
	}
	p.Order = order
	t := m.ledger.tree
	if err := first(p.Check(m.ledger.view.Now().Day()), t.stands(model.PlaceID{}, p), m.added.twice(p)); err != nil {
		return model.Document{}, err
	}
	s := StoredPlace{ID: model.PlaceID{ID: m.ledger.view.NewID()}, Since: m.ledger.view.Now(), Place: p}
	m.next[p.Parent] = order + 1
	t.in[p.Parent] = append(t.in[p.Parent], s)
	t.add(s)
	return s.document()
}

// Has reports whether the collection has this very stay, by animal, place,
// beginning, end and note.
func (m *Many) Has(s Stay) (bool, error) {
	stays, err := m.ledger.of(s.Animal)
	return slices.ContainsFunc(stays, func(o StoredStay) bool {
		return o.Revision > 0 && o.Place == s.Place && same(o.From, s.From) && same(o.To, s.To) && o.Note == s.Note
	}), err
}

// same reports whether two moments are the same as exactly as both are known.
func same(a, b model.Moment) bool {
	return a.IsZero() == b.IsZero() && exact(a) == exact(b) && (a.IsZero() || !Before(a, b) && !Before(b, a) || exact(a) && a.UTC/60 == b.UTC/60)
}

// Stay checks a stay with its beginning and its end and gives its document. It
// changes no other stay: where it would overlap one it is refused. The error is
// a *model.Refusal where it cannot stand or where it must be asked whether it is
// so.
func (m *Many) Stay(s Stay, by model.PersonID, confirmed model.Confirmed) (model.Document, error) {
	l := m.ledger
	of, err := l.resident(s.Animal)
	if err != nil {
		return model.Document{}, err
	}
	now := l.view.Now()
	if err := first(checkMoment("from", s.From, now)); err != nil {
		return model.Document{}, err
	}
	if !s.To.IsZero() {
		if err := first(checkMoment("to", s.To, now), lasts(s)); err != nil {
			return model.Document{}, err
		}
	}
	stored := StoredStay{ID: model.StayID{ID: l.view.NewID()}, By: by, Stay: s, Until: s.To}
	if err := first(of.lived(s, confirmed), model.CheckText("note", s.Note, MaxNote), m.takes(stored)); err != nil {
		return model.Document{}, err
	}
	stays, err := l.of(s.Animal)
	if err != nil {
		return model.Document{}, err
	}
	if other, found := overlapping(stays, stored); found {
		return model.Document{}, l.both(of, stored, other)
	}
	if err := m.alone(of, stored, confirmed); err != nil {
		return model.Document{}, err
	}
	d, err := stored.document()
	if err == nil {
		at, _ := slices.BinarySearchFunc(stays, stored, byTime)
		l.stays[s.Animal] = slices.Insert(stays, at, stored)
		m.housed[s.Place] = append(m.housed[s.Place], of.ended(stored))
	}
	return d, err
}

// takes tells why an animal cannot live in the place of a stay.
func (m *Many) takes(s StoredStay) *model.Refusal {
	if m.open[s.Place] {
		return nil
	}
	refusal := m.ledger.takes(s)
	if _, closed := m.ledger.tree.closed(s.Place); refusal == nil && !closed {
		m.open[s.Place] = true
	}
	return refusal
}

// lived is lives for a stay whose end may be known: of an animal that left on a
// day that nobody noted, it asks only where the stay has no end.
func (r resident) lived(s Stay, confirmed model.Confirmed) *model.Refusal {
	if _, gone := r.left(); !gone || !r.StatusDay.IsZero() {
		return r.lives(s.From, confirmed)
	}
	here := r
	here.Status = ""
	if refusal := here.lives(s.From, confirmed); refusal != nil || !s.To.IsZero() {
		return refusal
	}
	return ask(confirmed, "to", "", "animal.gone-asks", map[string]model.Gap{"Animal": model.TextGap(r.Name), "Status": model.KeyGap("animals.status." + r.Status)})
}

// alone asks where an animal comes to share a place with another.
func (m *Many) alone(of resident, s StoredStay, confirmed model.Confirmed) error {
	others, known := m.housed[s.Place]
	if !known {
		var err error
		if others, err = m.ledger.lived(s.Place); err != nil {
			return err
		}
		m.housed[s.Place] = others
	}
	for _, o := range others {
		if o.Animal == s.Animal || !o.until().overlaps(of.ended(s).until()) {
			continue
		}
		other, err := m.ledger.resident(o.Animal)
		if err != nil {
			return fmt.Errorf("who else lives in %s: %w", m.ledger.tree.title(s.Place), err)
		}
		return first(ask(confirmed, "stay-place", m.ledger.tree.title(s.Place), "house.shared", map[string]model.Gap{"Animal": model.TextGap(of.Name),
			"Other": model.TextGap(other.Name), "Place": model.TextGap(m.ledger.tree.title(s.Place)), "From": model.DayGap(o.From.Day())}))
	}
	return nil
}
