// Package infested knows in which rooms mites are watched for: those in which an animal lives,
// or lived since they were last seen on it, that they are watched for on. Mites walk from box
// to box and stay behind when their snake moves, is sold or dies (common practice, no source).
package infested

import (
	"errors"
	"fmt"
	"maps"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

// Animal is what the records of one animal tell of mites.
type Animal struct {
	Name    string
	Status  animals.Status
	Looks   care.MiteDays
	Treated []care.Treated // against them
}

// gone reports whether nobody here can look at it: it is not here any more, or on loan.
func (a Animal) gone() bool { return !a.Status.Here() || a.Status == animals.OnLoan }

// Room is a room in which mites are watched for.
type Room struct {
	Seen model.Day // on which they were last seen on one that lives there, or lived there then or since
	On   string    // the name of that one
}

// Rooms are all of them.
type Rooms map[model.PlaceID]Room

// RoomsOf are the rooms in which mites are watched for, given what is known of all animals, also
// of those that are not here any more. Where the one on which they were seen can be looked at,
// its own watch tells for how long. Where it cannot, those who live in the room take its place:
// the watch goes on by the looks at all of them, for as long as where it is not known how warm
// it is. Time alone ends nothing.
func RoomsOf(t *knowledge.Tables, h *husbandry.House, all map[model.AnimalID]Animal, now model.Moment) Rooms {
	rooms, none := Rooms{}, map[model.PlaceID][]model.Day{}
	cool := func(model.Day) int { return t.Value(knowledge.ValueMiteWatchCool) }
	for id, a := range all {
		seen := a.Looks.Seen(now.Day())
		if seen == 0 || !watched(t, a, a.Looks, cool, now) { // what the longest watch does not watch for, no other does
			continue
		}
		if !a.gone() && !watched(t, a, a.Looks, h.MitesLast(t, id, seen, now), now) {
			continue
		}
		for _, stay := range h.Stays(id) {
			if stay.From.UTC > now.UTC || !stay.Until.IsZero() && stay.Until.Day() < seen {
				continue
			}
			room := h.Room(stay.Place)
			if a.gone() {
				if _, known := none[room]; !known {
					none[room] = noneSeen(t, h, all, room, now)
				}
				if !watched(t, a, with(a.Looks, none[room]), cool, now) {
					continue
				}
			}
			if before := rooms[room]; seen > before.Seen || seen == before.Seen && a.Name < before.On {
				rooms[room] = Room{Seen: seen, On: a.Name}
			}
		}
	}
	return rooms
}

// Near is the room with mites that an animal lives in; ok is false where none are watched for.
func (r Rooms) Near(id model.AnimalID, h *husbandry.House, now model.Moment) (room Room, ok bool) {
	if len(r) == 0 {
		return Room{}, false
	}
	stay, lives := h.Where(id, now)
	if !lives {
		return Room{}, false
	}
	room, ok = r[h.Room(stay.Place)]
	return room, ok
}

// watched reports whether mites that were seen on an animal are watched for by these looks.
func watched(t *knowledge.Tables, a Animal, looks care.MiteDays, lasts care.Lasting, now model.Moment) bool {
	watch, _ := looks.Watch(t, a.Treated, lasts, now.Day())
	return watch.Mites != 0
}

// with are looks with more days on which none were seen.
func with(looks care.MiteDays, none []model.Day) care.MiteDays {
	all := maps.Clone(looks)
	for _, day := range none {
		if _, known := all[day]; !known {
			all[day] = care.NoMites
		}
	}
	return all
}

// noneSeen are the days on which no mites were seen in a room: one who lived there was looked at,
// and of everyone who did the last look saw none and lay no longer back than two looks of one
// watch may be apart. Who is on loan now is looked at elsewhere.
func noneSeen(t *knowledge.Tables, h *husbandry.House, all map[model.AnimalID]Animal, room model.PlaceID, now model.Moment) (days []model.Day) {
	looked, gap := map[model.Day]bool{}, model.Day(t.Value(knowledge.ValueMiteGap))
	for _, stay := range h.Lived(room, model.Moment{}, now) {
		for day, grade := range all[stay.Animal].Looks {
			if grade == care.NoMites && day <= now.Day() {
				looked[day] = true
			}
		}
	}
	for day := range looked {
		end := now
		if day < now.Day() {
			end = model.MomentOn(now, day, 24*60-1, model.ToMinute)
		}
		today, each := false, true
		for _, id := range h.Living(room, end) {
			a, known := all[id]
			if known && a.Status == animals.OnLoan {
				continue
			}
			last, grade := lastLook(a.Looks, day)
			each = each && last != 0 && grade == care.NoMites && day-last <= gap
			today = today || last == day
		}
		if today && each {
			days = append(days, day)
		}
	}
	return days
}

// lastLook is the last look up to a day; 0: there is none.
func lastLook(looks care.MiteDays, until model.Day) (last model.Day, grade care.MiteGrade) {
	for day, seen := range looks {
		if day <= until && day > last {
			last, grade = day, seen
		}
	}
	return last, grade
}

// Read reads the rooms of a house. known is what was read already of those that are here; of
// all others the looks are read. unread names those of whom they cannot be.
func Read(v model.View, t *knowledge.Tables, h *husbandry.House, all []animals.Stored, known map[model.AnimalID]Animal) (rooms Rooms, unread []string) {
	looked := map[model.AnimalID]Animal{}
	maps.Copy(looked, known)
	for _, a := range all {
		gone := Animal{Status: a.Status}.gone()
		if _, read := looked[a.ID]; read || !gone { // what is here and not known cannot be read
			continue
		}
		one, err := readAnimal(v, t, a)
		if err != nil {
			unread = append(unread, a.Name)
			continue
		}
		looked[a.ID] = one
	}
	return RoomsOf(t, h, looked, v.Now()), unread
}

// readAnimal reads the looks at an animal and its treatments, back until no older look says
// otherwise. One that a newer version has written is passed over.
func readAnimal(v model.View, t *knowledge.Tables, of animals.Stored) (Animal, error) {
	a := Animal{Name: of.Name, Status: of.Status, Looks: care.MiteDays{}}
	var entries []care.Entry
	var failed error
	err := v.Timeline(of.ID.Subject(), model.Beginning, v.Now().UTC+1, func(d model.Document) bool {
		if d.Type != model.TypeEntry || d.Kind != care.KindMiteLook && d.Kind != care.KindMiteTreatment {
			return true
		}
		e, known, err := care.Decode(d)
		if !known || errors.Is(err, model.ErrNewer) {
			return true
		}
		if failed = err; err != nil {
			return false
		}
		if look, is := e.Body.(care.MiteLook); is {
			a.Looks.Add(e.At.Day(), look)
		}
		entries = append(entries, e)
		return !a.Looks.Decided(t)
	})
	if err = errors.Join(err, failed); err != nil {
		return a, fmt.Errorf("read the looks for mites at %s: %w", of.Name, err)
	}
	a.Treated = care.TreatedOf(entries)
	return a, nil
}
