// Package atease joins what is known of one animal for the rules of how it is: its visits
// and handlings, what they may go with, what was looked at, and what speaks against lifting
// it today.
package atease

import (
	"errors"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/positives"
	"coilward/model/quarantine"
	"coilward/model/welfare"
)

// Known is what is known of one animal.
type Known struct {
	Entries []welfare.Entry // about the animal, newest first
	Visits  []welfare.Visit // of those, newest first
	Rest    welfare.Rest
	// Looked are the days on which each thing was looked at, and On the moments of what visits
	// may go with.
	Looked map[welfare.Looked][]model.Day
	On     map[welfare.Factor][]model.Moment
	// Unread is how many of its entries this version cannot read.
	Unread int
}

// Read joins it. What cannot be read of quarantines speaks against lifting, as if it were
// in one.
func Read(v model.View, t *knowledge.Tables, a animals.Stored, now model.Moment) (k Known, err error) {
	k = Known{Looked: map[welfare.Looked][]model.Day{}, On: map[welfare.Factor][]model.Moment{}}
	if err = k.readEntries(v, a.ID); err != nil {
		return k, fmt.Errorf("read how %q is: %w", a.Name, err)
	}
	k.Visits = welfare.Visits(t, k.Entries)
	problems, unread, err := exam.LegibleProblems(v, a.ID)
	if err != nil {
		return k, fmt.Errorf("read the findings of %q: %w", a.Name, err)
	}
	k.Unread += len(unread)
	records, err := history.Read(t, v, a, now)
	if err != nil {
		return k, fmt.Errorf("read the records of %q: %w", a.Name, err)
	}
	k.takeRecords(t, records, now)
	k.Rest.ForVet, k.Rest.Gravid, k.Rest.Came = records.Stand(t, problems, now).ForVet(), records.Gravid(), a.Since.Day
	return k, errors.Join(k.readHouse(v, t, a.ID, now), k.readTrouble(v, t, a.ID))
}

func (k *Known) readEntries(v model.View, id model.AnimalID) error {
	return v.Timeline(id.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		e, known, err := welfare.Decode(d)
		switch {
		case !known:
		case err != nil:
			k.Unread++
		default:
			k.Entries = append(k.Entries, e)
			if _, is := e.Body.(welfare.Handling); is {
				k.on(welfare.AfterHandling, e.At)
				k.look(welfare.LookedHandled, e.At.Day())
			}
		}
		return true
	})
}

func (k *Known) on(f welfare.Factor, m model.Moment) { k.On[f] = append(k.On[f], m) }
func (k *Known) look(l welfare.Looked, d model.Day)  { k.Looked[l] = append(k.Looked[l], d) }

// takeRecords takes what everyday care and checks tell.
func (k *Known) takeRecords(t *knowledge.Tables, r history.Records, now model.Moment) {
	shed := model.Day(0)
	for _, e := range r.Entries { // newest first
		day := e.At.Day()
		switch b := e.Body.(type) {
		case care.Meal:
			k.look(welfare.LookedMeal, day)
			if b.Outcome == care.Took {
				k.on(welfare.AfterFeeding, e.At)
			}
		case care.Weight:
			k.look(welfare.LookedWeight, day)
		case care.Waste:
			k.look(welfare.LookedWaste, day)
		case care.MiteLook:
			k.look(welfare.LookedMites, day)
		case care.Shed:
			k.on(welfare.BeforeShed, e.At)
			shed = max(shed, day)
		case care.Blue:
			if shed < day && k.Rest.Blue == 0 {
				k.Rest.Blue = day
			}
		}
	}
	for _, c := range r.Checks {
		k.look(welfare.LookedCheck, c.Finished.Day())
	}
	if after, resting := care.Resting(t, r.Entries, r.Context.Mass, now); resting {
		k.Rest.FedUntil = after.At
		k.Rest.FedUntil.UTC += int64(after.Hours) * 60 * 60
		if after.At.Precision != model.ToMinute {
			k.Rest.FedUntil.UTC += 24 * 60 * 60
		}
	}
	if from, _, up := care.OfferAfterBroughtUp(t, r.Entries); up {
		k.Rest.BroughtUp = from
	}
}

// readHouse reads its moves, and the cleanings and readings of where it lives.
func (k *Known) readHouse(v model.View, t *knowledge.Tables, id model.AnimalID, now model.Moment) error {
	house, err := husbandry.ReadHouseOf(v, id)
	if err != nil {
		return fmt.Errorf("read where %s lived: %w", id, err)
	}
	for i, s := range house.Stays(id) {
		if i > 0 {
			k.on(welfare.AfterMove, s.From)
		}
		within := func(d model.Day) bool { return d >= s.From.Day() && (s.To.IsZero() || d <= s.To.Day()) }
		cleaned, err := husbandry.Cleanings(v, s.Place.Subject())
		if err != nil {
			return fmt.Errorf("read the cleanings where %s lived: %w", id, err)
		}
		for _, c := range cleaned {
			day := c.At.Day()
			if within(day) {
				k.on(welfare.AfterCleaning, c.At)
			}
			if within(day) && !slices.Contains(k.Looked[welfare.LookedCleaning], day) {
				k.look(welfare.LookedCleaning, day)
			}
		}
		from := now.UTC - int64(t.Value(knowledge.ValueEaseLately)+1)*24*60*60
		err = v.Timeline(model.Subject{Kind: model.SubjectReadings, ID: s.Place.ID}, from, model.EndOfTime, func(d model.Document) bool {
			if day := d.At.Day(); within(day) && !slices.Contains(k.Looked[welfare.LookedClimate], day) {
				k.look(welfare.LookedClimate, day)
			}
			return true
		})
		if err != nil {
			return fmt.Errorf("read the readings where %s lived: %w", id, err)
		}
	}
	return nil
}

// readTrouble reads whether it is in quarantine, in a positive that is not settled, or
// being treated.
func (k *Known) readTrouble(v model.View, t *knowledge.Tables, id model.AnimalID) error {
	all, unread, err := quarantine.LegibleOf(v, id)
	if err != nil {
		return fmt.Errorf("read the quarantine of %s: %w", id, err)
	}
	k.Rest.Apart = len(unread) > 0 || slices.ContainsFunc(all, quarantine.Stored.Open)
	unsettled, err := positives.Unsettled(v, t)
	if err != nil {
		return fmt.Errorf("read what was detected near %s: %w", id, err)
	}
	for _, trace := range unsettled {
		_, near := trace.NearOf(id)
		k.Rest.Positive = k.Rest.Positive || near || slices.Contains(trace.Animals, id)
	}
	return v.Timeline(id.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if d.Type == model.TypePrescription {
			p, err := medicine.Read(d)
			k.Rest.Treated = k.Rest.Treated || err != nil || p.Open()
		}
		return true
	})
}

// Contacts are the contacts that people had with an animal, newest first: entries about the
// people, which stand on no paper.
func Contacts(v model.View, id model.AnimalID) (all []welfare.Entry, err error) {
	var people []model.PersonID
	if err := v.All(model.TypePerson, func(d model.Document) bool { people = append(people, model.PersonID{ID: d.ID}); return true }); err != nil {
		return nil, fmt.Errorf("read who had to do with %s: %w", id, err)
	}
	for _, p := range people {
		befell, err := Befell(v, p)
		if err != nil {
			return nil, err
		}
		all = append(all, slices.DeleteFunc(befell, func(e welfare.Entry) bool { return e.Body.(welfare.PersonContact).Animal != id })...)
	}
	slices.SortStableFunc(all, func(a, b welfare.Entry) int { return int(b.At.UTC - a.At.UTC) })
	return all, nil
}

// Befell are the contacts that are noted of a person and can be read, newest first: with whichever
// animal, also one that is no longer in the records.
func Befell(v model.View, id model.PersonID) (all []welfare.Entry, err error) {
	err = v.Timeline(id.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		e, known, err := welfare.Decode(d)
		if _, is := e.Body.(welfare.PersonContact); known && err == nil && is {
			all = append(all, e)
		}
		return true
	})
	if err != nil {
		return nil, fmt.Errorf("read what befell %s: %w", id, err)
	}
	return all, nil
}

// Helped judges a change of an animal by its visits, beside all its other changes: the
// setting is what a change is judged by, not what it acts on.
func Helped(t *knowledge.Tables, k Known, e welfare.Entry, c welfare.Change, today model.Day) (welfare.Help, error) {
	var others []model.Day
	for _, o := range k.Entries {
		if _, is := o.Body.(welfare.Change); is && o.ID != e.ID {
			others = append(others, o.At.Day())
		}
	}
	return welfare.DidItHelp(t, c, e.At.Day(), k.Visits, others, today)
}
