package care

import (
	"cmp"
	"slices"

	"coilward/model"
)

// Many checks and makes entries one after the other, each by the rules of a new
// one, without reading an animal's records anew for each of them: an entry is
// compared with those of the collection and those made before it. It is valid as
// long as its view.
type Many struct {
	view  model.View
	pages map[model.AnimalID]*page
}

// page is what the rules must know of one animal.
type page struct {
	of     subject
	series []Weighed // oldest first
	read   bool      // the series was
}

// New is one entry to be made. Heaviest is as in Weigh.
type New struct {
	About
	Body     Body
	Heaviest model.Mass
}

// MassFar is the reason of the question whether a mass more than three times as
// much or as little as the one before is so. One who looked at the list of such
// masses may confirm it here, as typing again does where a single one is typed.
const MassFar = "mass.far"

// NewMany begins without an entry.
func NewMany(v model.View) *Many { return &Many{view: v, pages: map[model.AnimalID]*page{}} }

// Beside makes an animal known that is to be written by the same command.
func (m *Many) Beside(animal model.Document) error {
	p := &page{read: true}
	if err := animal.Decode(animalVersion, &p.of); err != nil {
		return err
	}
	m.pages[model.AnimalID{ID: animal.ID}] = p
	return nil
}

// Make checks an entry and gives its document. The error is a *model.Refusal
// where the entry cannot stand or where it must be asked whether it is so.
func (m *Many) Make(n New) (model.Document, error) {
	p, err := m.page(n.Animal)
	if err != nil {
		return model.Document{}, err
	}
	e := entry{about: n.About, body: n.Body, heaviest: n.Heaviest}
	if r := e.checkAlone(p.of, m.view.Now()); r != nil {
		return model.Document{}, r
	}
	w, weighed := n.Body.(Weight)
	if weighed {
		if err := isScale(m.view, w.With); err != nil {
			return model.Document{}, err
		}
		if n.Confirmed.Has(MassFar) {
			e.again = w.Mass
		}
		if err := m.weigh(p, e, w); err != nil {
			return model.Document{}, err
		}
	}
	d, err := e.document(m.view)
	if err == nil && weighed {
		p.put(Weighed{Entry: model.EntryID{ID: d.ID}, At: n.At, Weight: w})
	}
	return d, err
}

func (m *Many) weigh(p *page, e entry, w Weight) error {
	if !p.read {
		series, err := Series(m.view, e.about.Animal)
		if err != nil {
			return err
		}
		p.series, p.read = series, true
	}
	// those of other days say nothing beside the last two before it
	from, _ := slices.BinarySearchFunc(p.series, e.about.At.UTC/60*60, func(s Weighed, utc int64) int { return cmp.Compare(s.At.UTC, utc) })
	to := from
	for to < len(p.series) && p.series[to].At.UTC/60 == e.about.At.UTC/60 {
		to++
	}
	return e.checkWeight(p.series[max(0, from-2):to], w)
}

func (p *page) put(w Weighed) {
	at, _ := slices.BinarySearchFunc(p.series, w.At.UTC+1, func(s Weighed, utc int64) int { return cmp.Compare(s.At.UTC, utc) })
	p.series = slices.Insert(p.series, at, w)
}

func (m *Many) page(animal model.AnimalID) (*page, error) {
	if p := m.pages[animal]; p != nil {
		return p, nil
	}
	of, err := subjectOf(m.view, animal)
	if err != nil {
		return nil, err
	}
	m.pages[animal] = &page{of: of}
	return m.pages[animal], nil
}
