package handover

import (
	"encoding/json"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/people"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// MostPhotos is how many photos go with a record at most: the portrait and the
// newest.
const MostPhotos = 100

// Gathered is a record and the photos of the collection that go with it, in the
// order of Record.Photos. Of their files nothing but the pictures may go out.
type Gathered struct {
	Record Record
	Photos []model.PhotoID
}

// Gather reads what is told of an animal. What cannot be read is counted.
func Gather(v model.View, t *knowledge.Tables, id model.AnimalID, program string) (Gathered, error) {
	animal, err := animals.Find(v, id)
	if err != nil {
		return Gathered{}, err
	}
	now := v.Now()
	g := gathering{tables: t, doubts: husbandry.Doubting(v), hands: map[model.PersonID]string{}, did: map[model.PersonID]bool{}}
	g.Record = Record{Form: Form, Animal: animalOf(animal), Issued: Issued{UTC: now.UTC, Day: now.Day(), Program: program, Tables: t.Hash()}}
	persons, err := people.All(v)
	if err != nil {
		return Gathered{}, err
	}
	for _, p := range persons {
		if !p.Private {
			g.hands[p.ID] = p.Name
		}
	}
	problems, unread, err := exam.LegibleProblems(v, id)
	if err != nil {
		return Gathered{}, err
	}
	g.Record.Unread = len(unread)
	for _, p := range problems {
		last := p.Last()
		g.Record.Problems = append(g.Record.Problems, Problem{Since: whenOf(p.First().At), Last: whenOf(last.At),
			Found: Found{What: p.What, Stop: p.Stop, Standing: last.Standing, Grade: last.Grade, Place: last.Place, Rough: last.Rough, Size: last.Size.Tenths, Own: p.Baseline}})
	}
	if animal.Portrait != "" {
		g.picture(animal.Portrait, Photo{Portrait: true})
	}
	err = v.Timeline(id.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool { g.add(d); return true })
	if err != nil {
		return Gathered{}, fmt.Errorf("gather what is told of %s: %w", animal.Name, err)
	}
	r := &g.Record
	slices.Reverse(r.Entries)
	slices.Reverse(r.Checks)
	slices.Reverse(r.Samples)
	slices.Reverse(r.Quarantines)
	for _, p := range persons {
		if g.did[p.ID] {
			r.Hands = append(r.Hands, Hand{ID: p.ID, Name: p.Name})
		}
	}
	if err := r.check(); err != nil {
		return Gathered{}, fmt.Errorf("gather what is told of %s: %w", animal.Name, err)
	}
	return g.Gathered, nil
}

func animalOf(a animals.Stored) Animal {
	chip := a.Chip
	return Animal{ID: a.ID, Name: a.Name, Species: a.Species, Sex: a.Sex, SexHow: a.SexHow, Hatched: a.Hatched, Morph: a.Morph,
		Source: a.Source, Chip: chip, Length: a.Length.SnoutVent.Tenths, Measured: a.Length.On}
}

// gathering goes through what there is, newest first.
type gathering struct {
	Gathered
	tables *knowledge.Tables
	doubts func(with model.InstrumentID, at model.Moment) bool
	hands  map[model.PersonID]string
	did    map[model.PersonID]bool
}

func (g *gathering) by(id model.PersonID) model.PersonID {
	if g.hands[id] == "" {
		return model.PersonID{}
	}
	g.did[id] = true
	return id
}

func (g *gathering) picture(id model.PhotoID, p Photo) {
	if len(g.Photos) < MostPhotos && !slices.Contains(g.Photos, id) {
		g.Photos, g.Record.Photos = append(g.Photos, id), append(g.Record.Photos, p)
	}
}

func (g *gathering) add(d model.Document) {
	var err error
	switch d.Type {
	case model.TypeEntry:
		if d.Kind == exam.KindCheck {
			err = g.addCheck(d)
		} else {
			err = g.addEntry(d)
		}
	case model.TypeSample:
		err = g.addSample(d)
	case model.TypeQuarantine:
		err = g.addQuarantine(d)
	case model.TypePrescription:
		g.Record.Courses++
	case model.TypeVisit:
		var visit medicine.StoredVisit
		if visit, err = medicine.ReadVisit(d); err == nil && visit.Held != nil {
			g.Record.Visits++
		}
	}
	if err != nil {
		g.Record.Unread++
	}
}

func (g *gathering) addEntry(d model.Document) error {
	e, known, err := care.Decode(d)
	if err != nil || !known {
		return err // of other kinds the paper tells
	}
	if p, is := e.Body.(care.Photo); is {
		for _, id := range p.Photos {
			g.picture(id, Photo{When: whenOf(e.At), Pose: p.Pose})
		}
		return nil
	}
	said, told := bare(e.Body)
	if !told {
		return nil
	}
	if refusal := e.Check(); refusal != nil {
		return refusal
	}
	raw, err := json.Marshal(said)
	if err != nil {
		return fmt.Errorf("write entry %s: %w", d.ID, err)
	}
	entry := Entry{ID: e.ID, Kind: d.Kind, When: whenOf(e.At), By: g.by(e.By), Body: raw}
	if w, is := e.Body.(care.Weight); is {
		entry.Doubtful = g.doubts(w.With, e.At)
	}
	if _, err := entry.Care(); err != nil {
		return err
	}
	g.Record.Entries = append(g.Record.Entries, entry)
	return nil
}

func (g *gathering) addCheck(d model.Document) error {
	c, err := exam.ReadCheck(d)
	if err != nil {
		return err
	}
	out := Check{ID: model.EntryID{ID: d.ID}, When: whenOf(d.At), By: g.by(d.By), Extent: c.Extent(g.tables), Level: c.Verdict.Level, Tables: c.Verdict.Tables}
	if by, wanted := c.Verdict.VetBy(); wanted {
		out.VetBy = by
	}
	for _, s := range c.Stops {
		out.Stops = append(out.Stops, Stop{Stop: s.Stop, Look: s.Look})
	}
	for _, f := range c.Findings {
		out.Findings = append(out.Findings, Found{What: f.What, Stop: f.Stop, Standing: f.Standing, Grade: f.Grade, Place: f.Place, Rough: f.Rough, Size: f.Size.Tenths, Own: f.Baseline})
	}
	for _, e := range c.Earlier {
		if s := e.Now.Standing; s != exam.Unasked && s.Present() {
			out.Findings = append(out.Findings, Found{What: e.What, Stop: e.Stop, Standing: s, Grade: e.Now.Grade, Place: e.Now.Place, Rough: e.Now.Rough, Size: e.Now.Size.Tenths, Own: e.Baseline})
		}
	}
	g.Record.Checks = append(g.Record.Checks, out)
	return nil
}

func (g *gathering) addSample(d model.Document) error {
	s, err := samples.Read(d)
	if err != nil {
		return err
	}
	out := Sample{ID: s.ID, Material: s.Material, For: s.For, Lab: g.hands[s.Lab], Others: max(0, len(s.Animals)-1)}
	if !s.Taken.IsZero() {
		at := whenOf(s.Taken)
		out.Taken = &at
	}
	if s.Void != nil {
		out.Void = s.Void.Why
	}
	for _, r := range s.Results {
		out.Results = append(out.Results, Result{Of: r.Of, Outcome: r.Outcome, Method: r.Method, When: whenOf(r.At), Report: r.Report})
	}
	g.Record.Samples = append(g.Record.Samples, out)
	return nil
}

func (g *gathering) addQuarantine(d model.Document) error {
	q, err := quarantine.Read(d)
	if err != nil {
		return err
	}
	out := Quarantine{Arrived: whenOf(q.Arrived), Protocol: q.Protocol}
	if q.Released != nil {
		at := whenOf(q.Released.At)
		out.Released = &at
		for _, l := range q.Released.Lines {
			out.Lines = append(out.Lines, Line{Item: l.Item, Agents: l.Agents, State: l.State, Have: l.Have, Want: l.Want})
		}
	}
	g.Record.Quarantines = append(g.Record.Quarantines, out)
	return nil
}
