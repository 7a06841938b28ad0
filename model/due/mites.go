package due

import (
	"reflect"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/infested"
	"coilward/model/knowledge"
)

// mites makes the next look for mites due: each week after mites until the watch
// for them is over, and sooner after a speck, which is neither none seen nor mites.
// After mites it is no job of every day: it is put off no longer than any other
// look that a finding asks for.
func mites(t *knowledge.Tables, f Facts) []Obligation {
	w, watching := f.Mites, f.Watching
	if !watching {
		return nil
	}
	o := Obligation{Key: Key{Job: MiteLook, Cause: f.lastMiteLook().String()}, Since: w.Last, From: w.Next, By: w.Next, Every: w.Every, Act: ActMites}
	if w.Speck {
		o.Reasons = why("due.why.mite-speck", map[string]model.Gap{"Day": model.DayGap(w.Last), "Days": model.CountGap(w.Every)})
	}
	if w.Mites == 0 {
		return []Obligation{o}
	}
	o.Level = knowledge.LookAgain
	o.Reasons = append(o.Reasons, why("due.why.mites", map[string]model.Gap{"Day": model.DayGap(w.Mites), "Days": model.CountGap(t.Value(knowledge.ValueLookMites))})...)
	if w.Acts != 0 {
		o.Reasons = append(o.Reasons, why("due.why.mite-treated", map[string]model.Gap{"Day": model.DayGap(w.Acts)})...)
	}
	o.Reasons = append(o.Reasons, why("due.why.mite-watch", map[string]model.Gap{"Day": model.DayGap(w.Ends), "Days": model.CountGap(t.Value(knowledge.ValueMiteGap))})...)
	return []Obligation{o}
}

// lastMiteLook is the newest look for mites.
func (f Facts) lastMiteLook() (id model.EntryID) {
	for _, e := range f.Records.Entries {
		if _, is := e.Body.(care.MiteLook); is {
			return e.ID
		}
	}
	return id
}

// watch reads for how long mites are watched for, where any were seen.
func (f *Facts) watch(t *knowledge.Tables, v model.View) error {
	looks := f.Records.MiteDays()
	for day := range looks {
		if day <= f.Now.Day() {
			f.MitesLooked = max(f.MitesLooked, day)
		}
	}
	lasts := care.Lasting(func(model.Day) int { return t.Value(knowledge.ValueMiteWatchCool) })
	if looks.Positive() {
		house, err := husbandry.ReadHouseOf(v, f.Animal.ID)
		if err != nil {
			return err
		}
		lasts = house.MitesLast(t, f.Animal.ID, looks.Seen(f.Now.Day()), f.Now)
	}
	treated := f.Records.Treated()
	f.Mites, f.Watching = looks.Watch(t, treated, lasts, f.Now.Day())
	f.infested = infested.Animal{Name: f.Animal.Name, Status: f.Animal.Status, Looks: looks, Treated: treated}
	return nil
}

// nearby begins the cause of what is due because of mites in the room.
const nearby = "mites/"

// mited is what of an animal others in its room must know.
type mited struct {
	infested infested.Animal
	watching bool      // a look at it is due for itself
	looked   model.Day // of its last look; 0: none

	refused, breathes model.Day // as told says
}

func mitedOf(l leaf) mited {
	return mited{infested: l.facts.infested, watching: l.facts.Watching, looked: l.facts.MitesLooked, refused: l.facts.refused, breathes: l.facts.breathes}
}

func (m mited) loaned() bool { return m.infested.Status == animals.OnLoan }

// same reports whether the others must know the same.
func (m mited) same(other mited) bool { return reflect.DeepEqual(m, other) }

// room is a room with those who live in it.
type room struct {
	place  model.PlaceID
	title  string
	mites  infested.Room // that are watched for in it; zero: none are
	living []model.AnimalID
	seen   map[model.AnimalID]mited // of those that can be read
}

// infestedRooms are the rooms in which mites are watched for, given those that can be read.
func infestedRooms(t *knowledge.Tables, h *husbandry.House, seen map[model.AnimalID]mited, now model.Moment) infested.Rooms {
	all := make(map[model.AnimalID]infested.Animal, len(seen))
	for id, m := range seen {
		all[id] = m.infested
	}
	return infested.RoomsOf(t, h, all, now)
}

func roomOf(h *husbandry.House, place model.PlaceID, mites infested.Rooms, seen map[model.AnimalID]mited, now model.Moment) room {
	return room{place: place, title: h.Title(place), mites: mites[place], living: h.Living(place, now), seen: seen}
}

// roomsTold are the rooms in which those who live there are told something: of mites, of
// food refused, of airways.
func roomsTold(h *husbandry.House, mites infested.Rooms, seen map[model.AnimalID]mited, now model.Moment) map[model.PlaceID]room {
	rooms := map[model.PlaceID]room{}
	for id, m := range seen {
		stay, lives := h.Where(id, now)
		if !lives {
			continue
		}
		place := h.Room(stay.Place)
		if _, near := mites[place]; (near || m.refused > 0 || m.breathes > 0) && rooms[place].place.IsZero() {
			rooms[place] = roomOf(h, place, mites, seen, now)
		}
	}
	return rooms
}

// nearMites opens looks for everyone in a room, and so on its racks, in which mites are
// watched for, each week until that watch is over; and the keeper's clothes for the room.
// Source: common practice, no source.
func nearMites(t *knowledge.Tables, r room) []Obligation {
	last := r.mites
	if last.Seen == 0 {
		return nil
	}
	cause := nearby + r.place.String() + "/" + last.Seen.String()
	every := t.Value(knowledge.ValueLookMites)
	all := []Obligation{{Key: Key{Subject: r.place.Subject(), Job: Clothes, Cause: cause}, From: last.Seen, By: last.Seen, Since: last.Seen, Act: ActClean,
		Reasons: why("due.why.clothes", map[string]model.Gap{"Name": model.TextGap(last.On), "Day": model.DayGap(last.Seen), "Place": model.TextGap(r.title)})}}
	for _, id := range r.living {
		m, known := r.seen[id]
		if !known || m.watching || m.loaned() {
			continue
		}
		o := Obligation{Key: Key{Subject: id.Subject(), Job: MiteLook, Cause: cause + "/" + m.looked.String()}, Level: knowledge.LookAgain,
			From: last.Seen, By: last.Seen, Since: last.Seen, Every: every, Act: ActMites,
			Reasons: why("due.why.mites-near", map[string]model.Gap{"Name": model.TextGap(last.On), "Day": model.DayGap(last.Seen), "Count": model.CountGap(every)})}
		if m.looked >= last.Seen {
			o.From = m.looked + model.Day(every)
			o.By = o.From
		}
		all = append(all, o)
	}
	return all
}

// findNear is what the animals of a room and the room owe because of those who live in it.
func findNear(v model.View, t *knowledge.Tables, k Key) ([]Obligation, string, error) {
	house, err := husbandry.ReadHouse(v)
	if err != nil {
		return nil, "", err
	}
	place := model.PlaceID{ID: k.Subject.ID}
	if k.Subject.Kind == model.SubjectAnimal {
		stay, lives := house.Where(model.AnimalID{ID: k.Subject.ID}, v.Now())
		if !lives {
			return nil, "", nil
		}
		place = house.Room(stay.Place)
	}
	seen, unread := map[model.AnimalID]mited{}, map[model.AnimalID]bool{}
	for _, stay := range house.Lived(place, model.Moment{}, v.Now()) { // also those who have left it
		id := stay.Animal
		if _, known := seen[id]; known || unread[id] {
			continue
		}
		l, err := read(t, v, id, problems{})
		if err != nil {
			return nil, "", err
		}
		if unread[id] = l.err != nil; !unread[id] {
			seen[id] = mitedOf(l)
		}
	}
	r := roomOf(house, place, infestedRooms(t, house, seen, v.Now()), seen, v.Now())
	name := r.title
	if k.Subject.Kind == model.SubjectAnimal {
		name = seen[model.AnimalID{ID: k.Subject.ID}].infested.Name
	}
	return feedRoom(t, r), name, nil
}
