package due

import (
	"fmt"
	"maps"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

// rooms are what the book keeps of places.
type rooms struct {
	cleaned map[model.PlaceID][]husbandry.Cleaned // as far back as is needed, newest first
	leaf    map[model.PlaceID]placeLeaf
	leaves  []placeLeaf      // of those in which somebody lives
	house   *husbandry.House // as it was read last
	err     error            // why the places cannot be read
}

// placeLeaf is what the book keeps of one place in which somebody lives.
type placeLeaf struct {
	owner *Owner
	due   []Obligation
	done  [2]bool // cleaned in this month and in the last
	here  [2]bool // it was in the records by the end of that month
}

// clean reads anew where somebody lives and when it was cleaned, where a change
// touched it. What cannot be read hides nothing of what animals owe, and is tried
// again. It reports whether anything was read.
func (b *Book) clean(c Source) (read bool) {
	b.marks.Lock()
	house, places, moved, lives := b.house, b.places, b.moved, b.lives
	b.house, b.places, b.moved, b.lives = false, false, map[model.PlaceID]bool{}, map[model.AnimalID]bool{}
	b.mates, b.samples = b.mates || house, b.samples || house
	b.marks.Unlock()
	if !house && len(moved) == 0 {
		return false
	}
	for id := range moved {
		delete(b.rooms.cleaned, id)
		delete(b.rooms.leaf, id)
	}
	if places || len(lives) > few {
		b.rooms.house = nil
	}
	if err := c.View(func(v model.View) error { return b.readRooms(v, slices.Collect(maps.Keys(lives))) }); err != nil {
		b.rooms = rooms{err: err}
		b.marks.Lock()
		defer b.marks.Unlock()
		b.house = true
	}
	return true
}

func (b *Book) readRooms(v model.View, moved []model.AnimalID) (err error) {
	house := b.rooms.house
	switch {
	case house == nil: // a place was changed, or much else
		house, err = husbandry.ReadHouse(v)
		b.rooms.leaf = nil
	case len(moved) > 0:
		house, err = house.After(v, moved)
	}
	if err != nil {
		return err
	}
	b.rooms.house = house
	if b.rooms.cleaned == nil {
		b.rooms.cleaned = map[model.PlaceID][]husbandry.Cleaned{}
	}
	if b.rooms.leaf == nil {
		b.rooms.leaf = map[model.PlaceID]placeLeaf{}
	}
	b.rooms.leaves, b.rooms.err = nil, nil
	for place := range house.Residents(v.Now()) {
		leaf, known := b.rooms.leaf[place]
		if !known {
			if leaf, err = b.readPlace(v, place); err != nil {
				return err
			}
			b.rooms.leaf[place] = leaf
		}
		b.rooms.leaves = append(b.rooms.leaves, leaf)
	}
	return nil
}

// readPlace derives what one place owes.
func (b *Book) readPlace(v model.View, place model.PlaceID) (leaf placeLeaf, err error) {
	cleanings, known := b.rooms.cleaned[place]
	if !known {
		if cleanings, err = cleaningsOf(v, place); err != nil {
			return leaf, err
		}
		b.rooms.cleaned[place] = cleanings
	}
	today := v.Now().Day()
	due := derivePlace(b.tables, b.rooms.house, place, cleanings)
	if err := answered(v, b.tables, due, today); err != nil {
		return leaf, err
	}
	return leafOfPlace(b.rooms.house, place, cleanings, due, today), nil
}

func leafOfPlace(h *husbandry.House, id model.PlaceID, cleanings []husbandry.Cleaned, due []Obligation, today model.Day) placeLeaf {
	p, _ := h.Place(id)
	title := h.Title(id)
	l := placeLeaf{owner: &Owner{Subject: id.Subject(), Name: title, folded: animals.Fold(title)}, due: due}
	for i, month := range months(today) {
		l.here[i] = p.Since.Day() <= month.last
		for _, c := range cleanings {
			day := c.At.Day()
			l.done[i] = l.done[i] || whole(c) && day >= month.first && day <= month.last
		}
	}
	return l
}

// whole reports whether a cleaning went as far as the substrate.
func whole(c husbandry.Cleaned) bool {
	return c.Extent == husbandry.Full || c.Extent == husbandry.Substrate
}

// cleaningsOf are the cleanings of a place back to the last full one, and to the
// beginning of the last month.
func cleaningsOf(v model.View, place model.PlaceID) (all []husbandry.Cleaned, err error) {
	since := months(v.Now().Day())[1].first
	full := false
	var failed error
	err = v.Timeline(place.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if full && d.At.Day() < since {
			return false
		}
		if d.Type != model.TypeEntry || d.Kind != husbandry.KindCleaning {
			return true
		}
		var c husbandry.Cleaned
		if c, failed = husbandry.DecodeCleaning(d); failed != nil {
			return false
		}
		all, full = append(all, c), full || c.Extent == husbandry.Full
		return true
	})
	if err == nil {
		err = failed
	}
	if err != nil {
		return nil, fmt.Errorf("read the cleanings of a place: %w", err)
	}
	return all, nil
}

// cleaning makes the next full clean of a place due in which somebody lives.
func cleaning(t *knowledge.Tables, h *husbandry.House, id model.PlaceID, cleanings []husbandry.Cleaned) []Obligation {
	again := husbandry.CleaningDue(t, h, id, cleanings)
	if again.Every == 0 {
		return nil
	}
	p, _ := h.Place(id)
	o := Obligation{Key: Key{Subject: id.Subject(), Job: Clean, Cause: "none"}, From: again.Next, By: again.Next, Since: p.Since.Day(), Every: again.Every, Act: ActClean}
	o.Reasons = why("due.why.never-cleaned", map[string]model.Gap{"Day": model.DayGap(o.Since)})
	for _, c := range cleanings {
		if c.Extent == husbandry.Full && c.At == again.Last {
			o.Cause, o.Since = c.Entry.String(), c.At.Day()
			o.Reasons = why("due.why.cleaned", map[string]model.Gap{"Day": model.DayGap(o.Since), "Days": model.CountGap(again.Every)})
			break
		}
	}
	return []Obligation{o}
}

// derivePlace is what is due for a place in which somebody lives.
func derivePlace(t *knowledge.Tables, h *husbandry.House, id model.PlaceID, cleanings []husbandry.Cleaned) []Obligation {
	var all []Obligation
	for _, feeder := range Feeders() {
		if feeder.Place != nil {
			all = append(all, feeder.Place(t, h, id, cleanings)...)
		}
	}
	return all
}

// findIn is what a place owes, with the place's name; nothing where nobody lives.
func findIn(v model.View, t *knowledge.Tables, id model.PlaceID) ([]Obligation, string, error) {
	house, err := husbandry.ReadHouse(v)
	if err != nil || len(house.Living(id, v.Now())) == 0 {
		return nil, "", err
	}
	cleanings, err := cleaningsOf(v, id)
	return derivePlace(t, house, id, cleanings), house.Title(id), err
}
