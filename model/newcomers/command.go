package newcomers

import (
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
)

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
func Commands() []model.Command { return []model.Command{Release{}} }
