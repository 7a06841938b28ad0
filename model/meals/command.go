package meals

import (
	"coilward/model"
	"coilward/model/care"
	"coilward/model/feeders"
	"coilward/model/knowledge"
)

// Offer notes a meal and what became of it, and asks where it lies beyond what the
// tables say. What came up by an entry of its own that names no batch is of the batch of
// the meal before it. With an entry, it changes that one; Base is the revision that the
// change was made on.
type Offer struct {
	Tables *knowledge.Tables
	care.About
	care.Meal
	Entry model.EntryID
	Base  uint32
}

// Name is "meals.offer".
func (Offer) Name() string { return "meals.offer" }

// Plan writes the meal, by the rules of everyday care.
func (c Offer) Plan(v model.View) (model.Writes, error) {
	w, err := c.write(v)
	if err != nil {
		return model.Writes{}, err
	}
	o, err := Read(c.Tables, v, c.Animal, c.At, c.Entry)
	if err != nil {
		return model.Writes{}, err
	}
	if c.Entry.IsZero() && c.Outcome == care.Regurgitated && c.BroughtUp.IsZero() && c.Batch.IsZero() && !o.Of.IsZero() {
		c.Batch = o.Of
		if w, err = c.write(v); err != nil {
			return model.Writes{}, err
		}
	}
	if err := feeders.TakenBy(c.Tables, v, c.About, c.Meal, c.Entry); err != nil {
		return model.Writes{}, err
	}
	if same, err := c.said(v); err != nil || same {
		return w, err
	}
	if r := o.Ask(c.Meal, c.At.Day(), c.Confirmed); r != nil {
		return model.Writes{}, r
	}
	return w, nil
}

func (c Offer) write(v model.View) (model.Writes, error) {
	if c.Entry.IsZero() {
		return care.Feed{About: c.About, Meal: c.Meal}.Plan(v)
	}
	return care.Change{Entry: c.Entry, Base: c.Base, About: c.About, Body: c.Meal}.Plan(v)
}

// said reports whether the entry that is changed says the same of all that is asked
// about.
func (c Offer) said(v model.View) (bool, error) {
	if c.Entry.IsZero() {
		return false, nil
	}
	d, err := v.Document(c.Entry.ID)
	if err != nil {
		return false, err
	}
	before, err := care.DecodeMeal(d)
	return err == nil && before.Outcome == c.Outcome && before.Total().Milligrams == c.Total().Milligrams && d.At.Day() == c.At.Day(), err
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command { return []model.Command{Offer{}} }
