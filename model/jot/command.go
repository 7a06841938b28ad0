package jot

import (
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/meals"
	"coilward/model/medicine"
)

// Asked is what a command needs beside the line: who writes, what the person has
// said to the questions so far, and the heaviest known of an animal's species.
type Asked struct {
	By        model.PersonID
	Confirmed model.Confirmed
	Tables    *knowledge.Tables               // of a cleaning and a meal
	Again     model.Mass                      // the mass as typed a second time
	Heaviest  func(model.AnimalID) model.Mass // nil: not known of any
}

// Command is what notes the reading: the command of everyday care for one animal,
// one that can be undone at once for several. It is nil for a reading that notes
// nothing.
func (r Reading) Command(a Asked) model.Command {
	if r.Cleaning != nil {
		return husbandry.Clean{Tables: a.Tables, Places: r.Places, At: r.At, By: a.By, Cleaning: *r.Cleaning, Confirmed: a.Confirmed}
	}
	if len(r.Animals) == 0 {
		return nil
	}
	if r.Question != "" {
		return medicine.AskQuestion{Animal: r.Animals[0], At: r.At, By: a.By, Words: r.Question}
	}
	if len(r.Animals) > 1 {
		return r.many(a)
	}
	about := care.About{Animal: r.Animals[0], At: r.At, By: a.By, Confirmed: a.Confirmed}
	switch b := r.Body.(type) {
	case care.Weight:
		c := care.Weigh{About: about, Weight: b, Again: a.Again}
		if a.Heaviest != nil {
			c.Heaviest = a.Heaviest(about.Animal)
		}
		return c
	case care.Meal:
		return meals.Offer{Tables: a.Tables, About: about, Meal: b}
	case care.Shed:
		return care.RecordShed{About: about, Shed: b}
	case care.Blue:
		return care.RecordBlue{About: about, Blue: b}
	case care.Waste:
		return care.RecordWaste{About: about, Waste: b}
	case care.MiteLook:
		return care.LookForMites{About: about, MiteLook: b}
	case care.Note:
		return care.WriteNote{About: about, Note: b}
	}
	return nil
}

func (r Reading) many(a Asked) model.Command {
	if b, ok := r.Body.(care.MiteLook); ok && b.Grade == care.NoMites && b.Note == "" {
		return care.NoMitesSeen{Animals: r.Animals, Where: b.Where, At: r.At, By: a.By, Confirmed: a.Confirmed}
	}
	return NoteSeveral{Animals: r.Animals, Body: r.Body, At: r.At, By: a.By, Confirmed: a.Confirmed}
}

// NoteSeveral notes the same of several animals: one change, one undo. Weights it
// does not take: no two animals are weighed at once.
type NoteSeveral struct {
	Animals   []model.AnimalID
	Body      care.Body
	At        model.Moment
	By        model.PersonID
	Confirmed model.Confirmed
}

// Name is "jot.several".
func (NoteSeveral) Name() string { return "jot.several" }

// Plan writes an entry for each animal, by the rules of a single one.
func (c NoteSeveral) Plan(v model.View) (model.Writes, error) {
	if _, weight := c.Body.(care.Weight); c.Body == nil || weight || len(c.Animals) == 0 {
		return model.Writes{}, fmt.Errorf("note %T of %d animals: a body that several can have, and animals, are needed", c.Body, len(c.Animals))
	}
	many := care.NewMany(v)
	writes := model.Writes{Label: model.Label{Key: "jot.done.several", Gaps: map[string]model.Gap{
		"Kind": model.KeyGap("kind." + c.Body.Kind()), "Count": model.CountGap(len(c.Animals))}}}
	for i, animal := range c.Animals {
		if slices.Contains(c.Animals[:i], animal) {
			continue
		}
		d, err := many.Make(care.New{About: care.About{Animal: animal, At: c.At, By: c.By, Confirmed: c.Confirmed}, Body: c.Body})
		if err != nil {
			return model.Writes{}, err
		}
		writes.Put = append(writes.Put, d)
	}
	return writes, nil
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command { return []model.Command{NoteSeveral{}} }
