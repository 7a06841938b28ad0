package due

import (
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
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
	f.Mites, f.Watching = looks.Watch(t, f.Records.Treated(), lasts, f.Now.Day())
	return nil
}

// nearby begins the cause of what is due because of mites in the room.
const nearby = "mites/"

// mited is what of an animal others in its room must know.
type mited struct {
	name     string
	loaned   bool
	mites    model.Day // on which mites were seen last, while they are watched for; 0: none
	watching bool      // a look at it is due for itself
	looked   model.Day // of its last look; 0: none

	refused, breathes model.Day // as told says
}

func mitedOf(l leaf) mited {
	m := mited{name: l.facts.Animal.Name, loaned: l.facts.Animal.Status == animals.OnLoan, watching: l.facts.Watching, looked: l.facts.MitesLooked,
		refused: l.facts.refused, breathes: l.facts.breathes}
	if l.facts.Watching {
		m.mites = l.facts.Mites.Mites
	}
	return m
}

// room is a room with those who live in it.
type room struct {
	place  model.PlaceID
	title  string
	living []model.AnimalID
	seen   map[model.AnimalID]mited // of those that can be read
}

func roomOf(h *husbandry.House, place model.PlaceID, seen map[model.AnimalID]mited, now model.Moment) room {
	return room{place: place, title: h.Title(place), living: h.Living(place, now), seen: seen}
}

// roomsTold are the rooms in which one lives that tells the others something: of mites,
// of food refused, of its airways.
func roomsTold(h *husbandry.House, seen map[model.AnimalID]mited, now model.Moment) map[model.PlaceID]room {
	rooms := map[model.PlaceID]room{}
	for id, m := range seen {
		if stay, lives := h.Where(id, now); lives && (m.mites > 0 || m.refused > 0 || m.breathes > 0) {
			if place := h.Room(stay.Place); rooms[place].place.IsZero() {
				rooms[place] = roomOf(h, place, seen, now)
			}
		}
	}
	return rooms
}

// nearMites opens looks for everyone in a room, and so on its racks, in which one has
// mites, each week until the watch of that one is over; and the keeper's clothes for
// the room. Source: common practice, no source.
func nearMites(t *knowledge.Tables, r room) []Obligation {
	var last mited
	for _, id := range r.living {
		if m := r.seen[id]; m.mites > last.mites || m.mites == last.mites && m.mites > 0 && m.name < last.name {
			last = m
		}
	}
	if last.mites == 0 {
		return nil
	}
	cause := nearby + r.place.String() + "/" + last.mites.String()
	every := t.Value(knowledge.ValueLookMites)
	all := []Obligation{{Key: Key{Subject: r.place.Subject(), Job: Clothes, Cause: cause}, From: last.mites, By: last.mites, Since: last.mites, Act: ActClean,
		Reasons: why("due.why.clothes", map[string]model.Gap{"Name": model.TextGap(last.name), "Day": model.DayGap(last.mites), "Place": model.TextGap(r.title)})}}
	for _, id := range r.living {
		m, known := r.seen[id]
		if !known || m.watching || m.loaned {
			continue
		}
		o := Obligation{Key: Key{Subject: id.Subject(), Job: MiteLook, Cause: cause + "/" + m.looked.String()}, Level: knowledge.LookAgain,
			From: last.mites, By: last.mites, Since: last.mites, Every: every, Act: ActMites,
			Reasons: why("due.why.mites-near", map[string]model.Gap{"Name": model.TextGap(last.name), "Day": model.DayGap(last.mites), "Days": model.CountGap(every)})}
		if m.looked >= last.mites {
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
	r := roomOf(house, place, map[model.AnimalID]mited{}, v.Now())
	for _, id := range r.living {
		l, err := read(t, v, id, problems{})
		if err != nil {
			return nil, "", err
		}
		if l.err == nil {
			r.seen[id] = mitedOf(l)
		}
	}
	name := r.title
	if k.Subject.Kind == model.SubjectAnimal {
		name = r.seen[model.AnimalID{ID: k.Subject.ID}].name
	}
	return feedRoom(t, r), name, nil
}
