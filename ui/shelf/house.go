package shelf

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/round"
)

// Animal is one animal as the shelf knows it.
type Animal struct {
	ID      model.AnimalID
	Name    string
	Coat    animals.Coat
	Species knowledge.SpeciesID
	Hatched model.Date
	Classes []round.Class // that apply, the one that rules last; as the house was arranged

	own     round.Own      // as far as its own records tell
	facts   round.Facts    // that its classes follow from
	reasons []round.Reason // of them
	agents  []knowledge.AgentID

	Weights []care.Weighed // newest first, as far as they were read
	Meals   []care.Entry   // newest first
	Looked  model.Moment   // for mites; zero: not lately
	Grade   care.MiteGrade // of that look
	Checked model.Moment
	Due     []due.Item // that press today
	Kits    []Kit      // that wait to be used for it
	waits   bool       // it was answered that food is not due now
}

// Class is the class that rules.
func (a *Animal) Class() round.Class { return a.Classes[len(a.Classes)-1] }

// Box is one enclosure with who lives in it.
type Box struct {
	Place   husbandry.StoredPlace
	Zones   husbandry.Zones
	Animals []*Animal
	Due     []due.Item // of the box itself
}

// Row is one shelf. The animals that are not housed yet stand in a row without
// a place, each by itself.
type Row struct {
	Room  model.PlaceID // zero: in no room
	Place model.PlaceID // shelf, or the rack or room that its boxes stand in right away
	Name  string        // empty where the room says it
	Boxes []Box
	Loose bool
}

// Room is a tab: a place that stands in no other, with its rows.
type Room struct {
	ID    model.PlaceID
	Name  string
	Count int         // animals
	Class round.Class // the latest of those in it
}

// House is the house as it stands.
type House struct {
	Rooms   []Room
	Rows    []Row
	animals map[model.AnimalID]*Animal
	places  *husbandry.House
	scales  husbandry.Scales
	tubes   *Tubes
}

// Animal is the animal of that id; nil where it is not here.
func (h *House) Animal(id model.AnimalID) *Animal { return h.animals[id] }

// Len is how many animals are here.
func (h *House) Len() int { return len(h.animals) }

// LoadAnimals reads all animals that are here. progress is told the share done;
// it may be nil.
func LoadAnimals(v model.View, t *knowledge.Tables, now model.Moment, progress func(float64)) (map[model.AnimalID]*Animal, error) {
	all, err := animals.All(v)
	if err != nil {
		return nil, err
	}
	here := make(map[model.AnimalID]*Animal, len(all))
	for i, a := range all {
		if !a.Status.Here() {
			continue
		}
		if here[a.ID], err = loadAnimal(v, t, a, now); err != nil {
			return nil, err
		}
		if progress != nil && i%50 == 0 {
			progress(float64(i) / float64(len(all)))
		}
	}
	return here, nil
}

// LoadAnimal reads one animal anew; nil where it is no longer here.
func LoadAnimal(v model.View, t *knowledge.Tables, id model.AnimalID, now model.Moment) (*Animal, error) {
	a, err := animals.Find(v, id)
	if errors.Is(err, model.ErrNotFound) || err == nil && !a.Status.Here() {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return loadAnimal(v, t, a, now)
}

func loadAnimal(v model.View, t *knowledge.Tables, stored animals.Stored, now model.Moment) (*Animal, error) {
	a := &Animal{ID: stored.ID, Name: stored.Name, Coat: stored.Coat, Species: stored.Species, Hatched: stored.Hatched}
	known, err := round.Know(v, t, stored, now)
	if err != nil {
		return nil, err
	}
	records := known.Records
	a.own = known.Own
	a.Weights = records.Weights
	if len(records.Checks) > 0 {
		a.Checked = records.Checks[0].Begun
	}
	for _, e := range records.Entries {
		switch b := e.Body.(type) {
		case care.Meal:
			a.Meals = append(a.Meals, e)
		case care.MiteLook:
			if a.Looked.IsZero() {
				a.Looked, a.Grade = e.At, b.Grade
			}
		}
	}
	return a, nil
}

// Arrange puts the animals where they live at a moment, with what is due, and
// tells as what they count.
func Arrange(t *knowledge.Tables, places *husbandry.House, scales husbandry.Scales, all map[model.AnimalID]*Animal, list due.List, now model.Moment) *House {
	h := &House{animals: all, places: places, scales: scales, tubes: &Tubes{}}
	pressing, waits := map[model.Subject][]due.Item{}, map[model.Subject]bool{}
	for subject, items := range list.BySubject() {
		for _, item := range items {
			if item.State.Presses() {
				pressing[subject] = append(pressing[subject], item)
			}
			waits[subject] = waits[subject] || item.Job == due.Offer && item.Answer != nil && !item.State.Presses()
		}
	}
	for id, a := range all {
		a.Due, a.waits = pressing[id.Subject()], waits[id.Subject()]
		a.facts = round.FactsOf(t, id, a.own, places, list.Mites, list.Positives, now)
		a.Classes, a.agents = a.facts.All(), list.Positives.Agents[id]
		a.reasons = round.ReasonsOf(a.facts, id, a.own, places, list.Positives)
	}
	housed := map[model.AnimalID]bool{}
	residents := places.Residents(now)
	for _, p := range places.Places() {
		if !p.Closed.IsZero() && len(residents[p.ID]) == 0 {
			continue
		}
		if p.Parent.IsZero() {
			h.Rooms = append(h.Rooms, Room{ID: p.ID, Name: p.Name})
		}
		if !p.Kind.Houses() {
			h.open(p)
			continue
		}
		box := Box{Place: p, Zones: places.Zones(p.ID), Due: pressing[p.ID.Subject()]}
		for _, id := range residents[p.ID] {
			if a := all[id]; a != nil {
				box.Animals = append(box.Animals, a)
				housed[id] = true
			}
		}
		h.put(box)
	}
	h.Rows = slices.DeleteFunc(h.Rows, func(r Row) bool { return len(r.Boxes) == 0 && h.holds(r.Place) })
	h.loose(housed)
	h.count()
	return h
}

// open begins the row of a shelf, or of a room or rack that boxes stand in right
// away.
func (h *House) open(p husbandry.StoredPlace) {
	path := h.places.Path(p.ID)
	row := Row{Room: path[0].ID, Place: p.ID}
	if len(path) > 1 {
		var names []string
		for _, part := range path[1:] {
			names = append(names, part.Name)
		}
		row.Name = strings.Join(names, ", ")
	}
	h.Rows = append(h.Rows, row)
}

// put puts a box into the row of what it stands in; one that stands in nothing
// has a room of its own.
func (h *House) put(b Box) {
	parent := b.Place.Parent
	if parent.IsZero() {
		parent = b.Place.ID
	}
	for i := len(h.Rows) - 1; i >= 0; i-- {
		if h.Rows[i].Place == parent {
			h.Rows[i].Boxes = append(h.Rows[i].Boxes, b)
			return
		}
	}
	room := parent
	if path := h.places.Path(b.Place.ID); len(path) > 0 {
		room = path[0].ID
	}
	h.Rows = append(h.Rows, Row{Room: room, Place: parent, Boxes: []Box{b}})
}

// holds reports whether something stands in a place.
func (h *House) holds(id model.PlaceID) bool { return len(h.places.In(id)) > 0 }

// loose puts those who live nowhere into a row of their own, by name, so that
// nobody is forgotten.
func (h *House) loose(housed map[model.AnimalID]bool) {
	row := Row{Loose: true}
	for id, a := range h.animals {
		if !housed[id] {
			row.Boxes = append(row.Boxes, Box{Animals: []*Animal{a}})
		}
	}
	slices.SortFunc(row.Boxes, func(a, b Box) int {
		return model.Natural(animals.Fold(a.Animals[0].Name), animals.Fold(b.Animals[0].Name))
	})
	if len(row.Boxes) > 0 { // first, where they are seen without scrolling
		h.Rows = append([]Row{row}, h.Rows...)
	}
}

func (h *House) count() {
	for i := range h.Rooms {
		r := &h.Rooms[i]
		for _, row := range h.Rows {
			if row.Loose || row.Room != r.ID {
				continue
			}
			for _, b := range row.Boxes {
				r.Count += len(b.Animals)
				for _, a := range b.Animals {
					r.Class = max(r.Class, a.Class())
				}
			}
		}
	}
}

// In are the rows of a room, and those not housed yet; a zero room stands for
// the whole house.
func (h *House) In(room model.PlaceID) (rows []Row) {
	for _, r := range h.Rows {
		if room.IsZero() || r.Loose || r.Room == room {
			rows = append(rows, r)
		}
	}
	return rows
}

// Whole is a whole room as one row: all boxes of all its shelves, in order.
func (h *House) Whole(room model.PlaceID) Row {
	whole := Row{Room: room, Place: room}
	for _, r := range h.Rows {
		if !r.Loose && r.Room == room {
			whole.Boxes = append(whole.Boxes, r.Boxes...)
		}
	}
	return whole
}

// ToLookForMites is at how many others in the room of an animal a look for mites is due.
func (h *House) ToLookForMites(id model.AnimalID) (n int) {
	due := map[model.PlaceID]int{} // by room
	var room model.PlaceID
	for _, row := range h.Rows {
		if row.Loose {
			continue
		}
		for _, b := range row.Boxes {
			in := h.places.Room(b.Place.ID)
			for _, a := range b.Animals {
				switch wanted, _ := round.Mites.Wants(a.Due); {
				case a.ID == id:
					room = in
				case wanted:
					due[in]++
				}
			}
		}
	}
	return due[room]
}

// UsualScale is the scale that is offered for the next weights: that of the last
// weight of all.
func (h *House) UsualScale() model.InstrumentID {
	var newest []care.Weighed
	for _, a := range h.animals {
		newest = append(newest, a.Weights[:min(1, len(a.Weights))]...)
	}
	return h.scales.Usual(care.LastScale(newest...))
}

// RoomName is the name of the room that a row stands in.
func (h *House) RoomName(r Row) string {
	for _, room := range h.Rooms {
		if room.ID == r.Room {
			return room.Name
		}
	}
	return ""
}

// Stops are what a walk through these rows asks about, in their order: those that
// it is due on, or all of them. Those not housed yet come last: most often they
// are new. Where it is not known when food is due, because none was ever offered, it
// is offered, and first. Samples are taken in the order of the classes.
func Stops(rows []Row, job round.Job, all bool) (stops []Stop) {
	if job == round.Through {
		return stopsThrough(rows)
	}
	var first []Stop
	rows = slices.Clone(rows)
	slices.SortStableFunc(rows, func(a, b Row) int {
		switch {
		case a.Loose == b.Loose:
			return 0
		case b.Loose:
			return -1
		}
		return 1
	})
	for _, row := range rows {
		for _, box := range row.Boxes {
			if job == round.Clean {
				if wanted, late := job.Wants(box.Due); !row.Loose && (wanted || all) {
					stops = append(stops, Stop{Place: box.Place.ID, Late: late})
				}
				continue
			}
			for _, a := range box.Animals {
				if job == round.Swab {
					stops = append(stops, swabs(box.Place.ID, a, all)...)
					continue
				}
				wanted, late := job.Wants(a.Due)
				s := Stop{Place: box.Place.ID, Animal: a.ID, Late: late}
				switch never := job == round.Feed && !a.waits && round.NeverOffered(a.Meals); {
				case never && !row.Loose && round.OfferedFirst(a.Class(), a.Meals):
					first = append(first, s)
				case wanted || never || all:
					stops = append(stops, s)
				}
			}
		}
	}
	if job == round.Swab {
		served(stops, rows)
	}
	return append(first, stops...)
}

// mealsOf are the meals of each animal in some rows, newest first.
func mealsOf(rows []Row) (meals [][]care.Entry) {
	for _, row := range rows {
		for _, box := range row.Boxes {
			for _, a := range box.Animals {
				meals = append(meals, a.Meals)
			}
		}
	}
	return meals
}

// Entry is the newest entry of a kind about a subject, noted for that moment.
func Entry(v model.View, subject model.Subject, kind string, at model.Moment) (model.Document, error) {
	var found model.Document
	err := v.Timeline(subject, at.UTC, at.UTC+1, func(d model.Document) bool {
		if d.Kind == kind {
			found = d
		}
		return found.ID.IsZero()
	})
	if err == nil && found.ID.IsZero() {
		err = fmt.Errorf("find what was noted just now: %w", model.ErrNotFound)
	}
	return found, err
}
