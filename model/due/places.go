package due

import (
	"fmt"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

// rooms are what the book keeps of places.
type rooms struct {
	cleaned map[model.PlaceID][]husbandry.Cleaned // as far back as is needed, newest first
	leaves  []placeLeaf
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
	house, moved := b.house, b.moved
	b.house, b.moved = false, map[model.PlaceID]bool{}
	b.mates, b.samples = b.mates || house, b.samples || house
	b.marks.Unlock()
	if !house && len(moved) == 0 {
		return false
	}
	for id := range moved {
		delete(b.rooms.cleaned, id)
	}
	if house {
		b.rooms.house = nil
	}
	if err := c.View(b.readRooms); err != nil {
		b.rooms = rooms{err: err}
		b.marks.Lock()
		defer b.marks.Unlock()
		b.house = true
	}
	return true
}

func (b *Book) readRooms(v model.View) (err error) {
	house := b.rooms.house
	if house == nil { // somebody moved, came or went, or a place was changed
		if house, err = husbandry.ReadHouse(v); err != nil {
			return err
		}
		b.rooms.house = house
	}
	if b.rooms.cleaned == nil {
		b.rooms.cleaned = map[model.PlaceID][]husbandry.Cleaned{}
	}
	b.rooms.leaves, b.rooms.err = nil, nil
	for place := range house.Residents(v.Now()) {
		cleanings, known := b.rooms.cleaned[place]
		if !known {
			if cleanings, err = cleaningsOf(v, place); err != nil {
				return err
			}
			b.rooms.cleaned[place] = cleanings
		}
		due := derivePlace(b.tables, house, place, cleanings)
		if err := answered(v, b.tables, due, v.Now().Day()); err != nil {
			return err
		}
		b.rooms.leaves = append(b.rooms.leaves, leafOfPlace(house, place, cleanings, due, v.Now().Day()))
	}
	return nil
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
