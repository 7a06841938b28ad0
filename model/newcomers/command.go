package newcomers

import (
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
)

// Arrive takes in an animal that has come: one that is known, or a new one, which is
// added; it gets its place, and its quarantine begins. All of it is done, or nothing.
type Arrive struct {
	Tables    *knowledge.Tables
	Known     model.AnimalID // zero: Animal is new
	Animal    animals.Animal
	Place     model.PlaceID     // zero: in none, or where it lives already
	Build     *husbandry.Branch // where Place is zero: a room that is made for it, with its enclosure; nil: none
	At        model.Moment
	Protocol  knowledge.ProtocolID
	Note      string
	By        model.PersonID
	Confirmed model.Confirmed
}

// Name is "newcomers.arrive".
func (Arrive) Name() string { return "newcomers.arrive" }

// Plan joins what adding the animal, making its room, moving it in and beginning the
// quarantine write, each by its own rules.
func (c Arrive) Plan(v model.View) (model.Writes, error) {
	p := &Planned{View: v}
	animal, place := c.Known, c.Place
	if animal.IsZero() {
		if err := p.Plan(animals.Add{Animal: c.Animal}); err != nil {
			return model.Writes{}, err
		}
		animal.ID = p.Last().ID
	}
	if place.IsZero() && c.Build != nil {
		if err := p.Plan(husbandry.AddPlaces{Branches: []husbandry.Branch{*c.Build}}); err != nil {
			return model.Writes{}, err
		}
		place.ID = p.Last().ID // the innermost is written last
	}
	if !place.IsZero() {
		if err := p.Plan(husbandry.Move{Animal: animal, Place: place, At: c.At, By: c.By, Confirmed: c.Confirmed}); err != nil {
			return model.Writes{}, err
		}
	}
	if err := p.Plan(quarantine.Begin{Tables: c.Tables, Animal: animal, Arrived: c.At, Protocol: c.Protocol, Note: c.Note, By: c.By, Confirmed: c.Confirmed}); err != nil {
		return model.Writes{}, err
	}
	return p.Writes, nil
}

// Planned is a view that shows what commands before have planned as well. No timeline
// shows it: nothing that is planned after may ask for what is on one.
type Planned struct {
	model.View
	Writes model.Writes
}

// Plan adds what a command writes; its label is the one that stays.
func (p *Planned) Plan(c model.Command) error {
	w, err := c.Plan(p)
	if err != nil {
		return err
	}
	p.Writes.Put, p.Writes.Remove, p.Writes.Label = append(p.Writes.Put, w.Put...), append(p.Writes.Remove, w.Remove...), w.Label
	return nil
}

// Last is what was planned last.
func (p *Planned) Last() *model.Document { return &p.Writes.Put[len(p.Writes.Put)-1] }

// Document is one that is planned, or there.
func (p *Planned) Document(id model.ID) (model.Document, error) {
	for _, d := range p.Writes.Put {
		if d.ID == id {
			return d, nil
		}
	}
	return p.View.Document(id)
}

// All visits those that are there, then those that are planned anew.
func (p *Planned) All(t model.DocumentType, visit func(model.Document) bool) error {
	more := true
	err := p.View.All(t, func(d model.Document) bool {
		more = visit(d)
		return more
	})
	for _, d := range p.Writes.Put {
		if err == nil && more && d.Type == t && d.Revision == 0 {
			more = visit(d)
		}
	}
	return err
}

// Release ends a quarantine. It keeps the list as it stands at that moment, with the
// hash of the tables that it was made by.
type Release struct {
	Tables    *knowledge.Tables
	ID        model.QuarantineID
	Base      uint32 // the revision that the release was decided on
	At        model.Moment
	By        model.PersonID
	Why       string // where something is not met
	Confirmed model.Confirmed
}

// Name is "quarantine.release".
func (Release) Name() string { return "quarantine.release" }

// Plan writes the quarantine as released. Where something is not met it is named; that
// must be confirmed, and a reason given.
func (c Release) Plan(v model.View) (model.Writes, error) {
	q, err := quarantine.Find(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	a, err := animals.Find(v, q.Animal)
	if err != nil {
		return model.Writes{}, err
	}
	q.Revision = c.Base
	if !q.Open() || c.At.IsZero() || c.At.Day() > v.Now().Day() || c.At.Day() < q.Arrived.Day() { // refused without the list
		return quarantine.End(v, q, a.Name, quarantine.Gate{}, c.Tables.Hash(), c.Why, c.At, c.By, c.Confirmed)
	}
	r := reader{v: at{v, c.At}, t: c.Tables}
	n, err := r.read(q)
	if err != nil {
		return model.Writes{}, err
	}
	return quarantine.End(v, q, a.Name, n.Gate, c.Tables.Hash(), c.Why, c.At, c.By, c.Confirmed)
}

// at is a view at an earlier moment, as far as the list asks for the present one.
type at struct {
	model.View
	now model.Moment
}

// Now is that moment.
func (a at) Now() model.Moment { return a.now }

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command { return []model.Command{Arrive{}, Release{}} }
