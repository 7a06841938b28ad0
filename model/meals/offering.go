package meals

import (
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/history"
	"coilward/model/knowledge"
)

// Offering is what is known of an animal to which food is offered.
type Offering struct {
	Name  string
	Class knowledge.Rhythm
	Known bool // the class is
	Mass  model.Mass
	Band  Band
	// BroughtUp is the day on which the last meal came up, and From the first on which
	// food is offered again; both 0 where it did not.
	BroughtUp, From model.Day
	// Next is the first day on which it is due for food again; 0: nothing was offered yet.
	Next model.Day
	// Of is the batch of feeders of the last meal that was eaten, which is what comes up
	// while that is digested by the tables; zero: none is named, or it came up already.
	Of model.BatchID
	// Times is how often prey came up within the days that the tables remember it.
	Times int
}

// Read gathers what is known of an animal at a moment; except leaves one of its
// entries out, which is about to be changed.
func Read(t *knowledge.Tables, v model.View, id model.AnimalID, at model.Moment, except model.EntryID) (Offering, error) {
	animal, err := animals.Find(v, id)
	if err != nil {
		return Offering{}, fmt.Errorf("read to whom food is offered: %w", err)
	}
	r, err := history.Lately(t, v, animal, nil, at)
	if err != nil {
		return Offering{}, err
	}
	r.Entries = slices.DeleteFunc(r.Entries, func(e care.Entry) bool { return e.ID == except })
	return Of(t, animal.Name, r, at.Day()), nil
}

// Of is what the records of an animal tell on a day.
func Of(t *knowledge.Tables, name string, r history.Records, day model.Day) Offering {
	o := Offering{Name: name, Mass: r.Context.Mass}
	o.Class, o.Known = r.Class(t)
	o.Band = BandOf(t, o.Class, o.Mass, r.Entries)
	if from, on, up := care.OfferAfterBroughtUp(t, r.Entries); up {
		o.From, o.BroughtUp = from, on
	}
	if e, meal, eaten := lastEaten(r.Entries, day); eaten && meal.Outcome == care.Took && int(day-e.At.Day()) <= t.Value(knowledge.ValueFed) {
		o.Of = meal.Batch
	}
	for _, e := range r.Entries {
		if _, is := e.Body.(care.Meal); is && o.Next == 0 {
			o.Next = max(o.From, e.At.Day()+model.Day(o.Class.OfferFrom))
		}
		if meal, is := e.Body.(care.Meal); is && meal.Outcome == care.Regurgitated && int(day-e.At.Day()) <= t.Value(knowledge.ValueRegurgitation) {
			o.Times++
		}
	}
	return o
}

// lastEaten is the newest meal up to a day that was not refused.
func lastEaten(newestFirst []care.Entry, day model.Day) (care.Entry, care.Meal, bool) {
	for _, e := range newestFirst {
		if meal, is := e.Body.(care.Meal); is && meal.Outcome != care.Refused && e.At.Day() <= day {
			return e, meal, true
		}
	}
	return care.Entry{}, care.Meal{}, false
}

// The questions that a meal can raise, by the reasons of their refusals.
const (
	AskWaits = "meal.waits" // the wait after prey was brought up is not over
	AskMore  = "meal.more"  // it is more than the band
	AskAfter = "meal.after" // it is more than the band after prey was brought up
)

// Ask asks whether a meal that lies beyond what the tables say is meant. It asks
// nothing about what came up: that is told and not offered.
func (o Offering) Ask(m care.Meal, day model.Day, confirmed model.Confirmed) *model.Refusal {
	if m.Outcome == care.Regurgitated {
		return nil
	}
	ask := func(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
		if confirmed.Has(reason) {
			return nil
		}
		gaps["Animal"] = model.TextGap(o.Name)
		return &model.Refusal{Field: field, Value: value, Reason: reason, Answer: model.Confirm, Gaps: gaps}
	}
	if day < o.From {
		if r := ask("day", day.String(), AskWaits, map[string]model.Gap{"Up": model.DayGap(o.BroughtUp), "From": model.DayGap(o.From)}); r != nil {
			return r
		}
	}
	total := m.Total()
	if o.Band.IsZero() || total.Milligrams <= o.Band.Most.Milligrams {
		return nil
	}
	gaps := map[string]model.Gap{"Prey": model.MassGap(total), "Most": model.MassGap(o.Band.Most), "Mass": model.MassGap(o.Mass),
		"Share": model.ShareGap(int(total.Milligrams * 10_000 / o.Mass.Milligrams))}
	if o.Band.After {
		return ask("prey-mass", m.Each.Typed, AskAfter, gaps)
	}
	return ask("prey-mass", m.Each.Typed, AskMore, gaps)
}
