package husbandry

import (
	"errors"
	"fmt"

	"coilward/model"
	"coilward/model/knowledge"
)

// MiteWatch is for how many days mites are watched for, at an animal whose watch began
// on a day, by what was known until a moment: longer where on any day since then the
// coolest zone where it lived was cool, or not known. Warmth makes mites grow up sooner,
// not die sooner: neither a warmer place nor what is typed later shortens the watch.
func (h *House) MiteWatch(t *knowledge.Tables, animal model.AnimalID, from model.Day, until model.Moment) (days int) {
	if _, lives := h.Where(animal, until); !lives {
		return t.Value(knowledge.ValueMiteWatchCool)
	}
	for day := min(from, until.Day()); day <= until.Day(); day++ {
		if !h.warm(t, animal, day) {
			return t.Value(knowledge.ValueMiteWatchCool)
		}
	}
	return t.Value(knowledge.ValueMiteWatch)
}

// MitesLast is MiteWatch by what was known at the end of each day, and of the day of now
// until now.
func (h *House) MitesLast(t *knowledge.Tables, animal model.AnimalID, from model.Day, now model.Moment) func(until model.Day) (days int) {
	return func(until model.Day) int {
		if until < now.Day() {
			return h.MiteWatch(t, animal, from, model.MomentOn(now, until, 24*60-1, model.ToMinute))
		}
		return h.MiteWatch(t, animal, from, now)
	}
}

// warm reports whether an animal lived on a day, and wherever it did the coolest zone
// was known and not cool.
func (h *House) warm(t *knowledge.Tables, animal model.AnimalID, day model.Day) (warm bool) {
	for _, s := range h.animals[animal] {
		if s.From.Day() > day || !s.open() && s.Until.Day() < day {
			continue
		}
		coolest, known := h.zonesOn(s.Place, day).Coolest()
		if warm = known && coolest.Hundredths >= int64(t.Value(knowledge.ValueMiteCool)); !warm {
			return false
		}
	}
	return warm
}

// version is a place as it was noted on a day, at the end of it.
type version struct {
	day    model.Day
	zones  Zones
	parent model.PlaceID
}

// readPast reads what was noted of a place before, where it was ever changed.
func (h *House) readPast(v model.View, p StoredPlace) error {
	if p.Revision <= 1 {
		return nil
	}
	all, err := v.Revisions(p.ID.ID)
	if err != nil {
		return fmt.Errorf("read what was noted of place %s before: %w", p.ID, err)
	}
	for _, d := range all {
		switch s, err := DecodePlace(d); {
		case errors.Is(err, model.ErrNewer): // by another version of the program
		case err != nil:
			return err
		default:
			h.past[p.ID] = append(h.past[p.ID], version{d.Written.Day(), s.Zones, s.Parent})
		}
	}
	return nil
}

// zonesOn are the temperatures of a place by what was noted of it by the end of a day;
// before the first note of it they are those of the day of that note.
func (h *House) zonesOn(id model.PlaceID, day model.Day) Zones {
	seen := map[model.PlaceID]bool{} // taking back old changes may leave places that stand in each other
	for own := true; ; own = false {
		p, there := h.tree.place(id)
		if !there || seen[id] {
			return Zones{}
		}
		seen[id] = true
		zones, parent := p.Zones, p.Parent
		for _, past := range h.past[id] {
			if past.day <= max(day, h.past[id][0].day) {
				zones, parent = past.zones, past.parent
			}
		}
		if (own || p.Kind != Room) && zones != (Zones{}) {
			return zones
		}
		id = parent
	}
}
