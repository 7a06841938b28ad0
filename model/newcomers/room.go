package newcomers

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/contact"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
)

// mate is a stay of another in a room, as far as the newcomer lived there too.
type mate struct {
	husbandry.StoredStay
	room        model.PlaceID
	first, last model.Day // that both were there
}

// room joins what others in its rooms have to do with a newcomer: those that came in
// since, and mites. A move takes nothing of that back.
func (r *reader) room(n *Newcomer, f *quarantine.Facts, now model.Moment) error {
	_, lives := r.house.Where(n.Animal.ID, now)
	f.Nowhere = !lives
	var mates []mate
	for _, own := range r.house.Stays(n.Animal.ID) {
		if husbandry.Before(now, own.From) {
			continue
		}
		first, last := max(f.Arrived, own.From.Day()), f.Today
		if !own.Until.IsZero() {
			last = min(last, own.Until.Day())
		}
		if first > last {
			continue
		}
		room := r.house.Room(own.Place)
		for _, s := range r.house.Lived(room, n.Quarantine.Arrived, now) {
			m := mate{s, room, max(first, s.From.Day()), last}
			if !s.Until.IsZero() {
				m.last = min(m.last, s.Until.Day())
			}
			if s.Animal != n.Animal.ID && m.first <= m.last {
				mates = append(mates, m)
			}
		}
	}
	if err := r.restarts(n, f, mates, now); err != nil {
		return err
	}
	return r.mitesOf(n, f, mates, now)
}

// restarts are those that came into the room since, its own move to others, and the last
// day on which it was near a positive.
func (r *reader) restarts(n *Newcomer, f *quarantine.Facts, mates []mate, now model.Moment) error {
	for _, s := range mates {
		if s.From.Day() <= f.Arrived || s.From.Day() != s.first || r.wasIn(s.room, s.StoredStay) ||
			slices.ContainsFunc(f.Restarts, func(r quarantine.Restart) bool { return r.Stay == s.ID }) {
			continue
		}
		mate, err := r.animal(s.Animal)
		switch {
		case errors.Is(err, model.ErrNotFound):
			continue
		case err != nil:
			return err
		case mate.Hatched.Precision == model.ToDay && mate.Hatched.Day == s.From.Day():
			continue // it came to the world there
		}
		f.Restarts = append(f.Restarts, quarantine.Restart{Day: s.From.Day(), Stay: s.ID, Name: mate.Name})
	}
	for _, t := range r.stood {
		near, was := t.NearOf(n.Animal.ID)
		near.Stretches = slices.DeleteFunc(slices.Clone(near.Stretches), func(s contact.Stretch) bool { return s.First > f.Today })
		if !t.Stands || !was || len(near.Stretches) == 0 {
			continue
		}
		last := near.Last()
		one := quarantine.Restart{Day: min(last.Last, f.Today), Positive: t.Document(), NearTo: t.Name(last.Of), Agent: t.Agent, Confined: r.t.Confined(t.Agent), Still: last.Still && last.Last >= f.Today}
		if from, known := near.Speaks(t.Worth); known && last.Last <= f.Today {
			one.Speaks = from
		} else if (last.Still || last.Last > f.Today) && t.Worth.Known { // from then on at the earliest
			one.Speaks = one.Day + model.Day(t.Worth.SpeaksAfter)
		}
		f.Restarts = append(f.Restarts, one)
	}
	for _, s := range r.house.Stays(n.Animal.ID) {
		if s.From.Day() <= f.Arrived || husbandry.Before(now, s.From) || r.wasIn(r.house.Room(s.Place), s) {
			continue
		}
		if others := slices.DeleteFunc(r.house.Living(r.house.Room(s.Place), s.From), func(id model.AnimalID) bool { return id == n.Animal.ID }); len(others) > 0 {
			f.Restarts = append(f.Restarts, quarantine.Restart{Day: s.From.Day(), Stay: s.ID})
		}
	}
	return nil
}

// wasIn reports whether the animal of a stay lived in the room right before.
func (r *reader) wasIn(room model.PlaceID, s husbandry.StoredStay) bool {
	return slices.ContainsFunc(r.house.Stays(s.Animal), func(o husbandry.StoredStay) bool {
		return o.ID != s.ID && r.house.Room(o.Place) == room && o.From.UTC <= s.From.UTC && (o.Until.IsZero() || o.Until.Day() >= s.From.Day())
	})
}

// miteEntries are the looks for mites and the treatments of an animal until a moment,
// newest first.
func (r *reader) miteEntries(animal model.AnimalID, now model.Moment) ([]care.Entry, error) {
	all, known := r.mites[animal]
	if !known {
		var err error
		if all, err = r.readMites(animal); err != nil {
			return nil, fmt.Errorf("read the looks for mites: %w", err)
		}
		r.mites[animal] = all
	}
	past := slices.IndexFunc(all, func(e care.Entry) bool { return e.At.UTC <= now.UTC })
	if past < 0 {
		return nil, nil
	}
	return all[past:], nil
}

// readMites reads them with those to come.
func (r *reader) readMites(animal model.AnimalID) (all []care.Entry, err error) {
	var failed error
	err = r.v.Timeline(animal.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if d.Type != model.TypeEntry || d.Kind != care.KindMiteLook && d.Kind != care.KindMiteTreatment {
			return true
		}
		e, ours, err := care.Decode(d)
		if errors.Is(err, model.ErrNewer) || err == nil && !ours {
			return true
		}
		if failed = err; err == nil {
			all = append(all, e)
		}
		return err == nil
	})
	return all, cmp.Or(err, failed)
}

// sign is a day from which on a watch may count.
type sign struct {
	day   model.Day
	why   quarantine.MitesWhy
	entry model.EntryID
}

// mitesOf is how far the watch for mites has come: it counts from the later of the
// first look after the arrival, the last live mite in the room, and the last day on
// which a treatment there acts; how it goes on from there is the rule of care.
func (r *reader) mitesOf(n *Newcomer, f *quarantine.Facts, mates []mate, now model.Moment) error {
	own, err := r.miteEntries(n.Animal.ID, now)
	if err != nil {
		return err
	}
	looks, from := care.MiteDays{}, sign{}
	take := func(s sign) { // mites say more than another look of their day
		if s.day > from.day || s.day == from.day && s.why == quarantine.FromMites {
			from = s
		}
	}
	for _, e := range slices.Backward(own) {
		if look, is := e.Body.(care.MiteLook); is && e.At.Day() >= f.Arrived {
			if looks.Add(e.At.Day(), look); from.day == 0 && look.Counts() {
				from = sign{e.At.Day(), quarantine.FromLook, e.ID}
			}
			n.Looks = append(n.Looks, Look{Entry: e.ID, Animal: n.Animal.ID, Day: e.At.Day(), Grade: look.Grade, Glance: !look.Counts()})
		}
	}
	m := quarantine.Mites{Days: r.house.MiteWatch(r.t, n.Animal.ID, f.Arrived, now)}
	m.Cool = m.Days == r.t.Value(knowledge.ValueMiteWatchCool)
	if from.day > 0 { // the watch begins with a look
		for _, e := range own {
			r.sign(e, f.Arrived, f.Today, take)
		}
	}
	for _, s := range mates {
		entries, err := r.miteEntries(s.Animal, now)
		if err != nil {
			return err
		}
		if brings, on := r.brings(s, entries); brings && from.day > 0 {
			take(sign{s.first, quarantine.FromMites, on})
		}
		for _, e := range entries {
			day := e.At.Day()
			if day > s.last {
				continue
			}
			if from.day > 0 {
				r.sign(e, s.first, s.last, take)
			}
			if day < s.first {
				continue
			}
			if look, is := e.Body.(care.MiteLook); is && look.Grade.Positive() {
				n.Looks = append(n.Looks, Look{Entry: e.ID, Animal: s.Animal, Day: day, Grade: look.Grade, Mate: true})
			}
		}
	}
	slices.SortStableFunc(n.Looks, func(a, b Look) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), slices.Compare(a.Entry.ID[:], b.Entry.ID[:]))
	})
	n.Looks = slices.CompactFunc(n.Looks, func(a, b Look) bool { return a.Entry == b.Entry })
	if from.day > 0 {
		lasts := r.house.MitesLast(r.t, n.Animal.ID, f.Arrived, now)
		if c := looks.CourseOf(r.t, from.day, lasts, f.Today); c.Over != 0 {
			m.Days = lasts(c.Over)
			m.Cool = m.Days == r.t.Value(knowledge.ValueMiteWatchCool)
		}
		m = r.course(m, n, looks, from, f.Today)
	}
	for _, l := range n.Looks {
		if l.Glance && l.Day > m.Last {
			m.Glances++
		}
	}
	f.Mites = m
	return nil
}

// brings reports whether mites come with one: it is watched for them still on the day on
// which the two first live in one room. Source: common practice, no source.
func (r *reader) brings(m mate, entries []care.Entry) (brings bool, on model.EntryID) {
	looks := care.MiteDays{}
	for _, e := range slices.Backward(entries) {
		if look, is := e.Body.(care.MiteLook); is && e.At.Day() <= m.first {
			if looks.Add(e.At.Day(), look); look.Grade.Positive() {
				on = e.ID
			}
		}
	}
	treated := slices.DeleteFunc(care.TreatedOf(entries), func(one care.Treated) bool { return one.On > m.first })
	watch, watching := looks.Watch(r.t, treated, r.house.MitesLast(r.t, m.Animal, looks.Seen(m.first), model.MomentOn(m.From, m.first, model.Noon, model.ToDay)), m.first)
	return watching && watch.Mites > 0, on
}

// sign tells of an entry from when on it makes a watch count.
func (r *reader) sign(e care.Entry, from, to model.Day, take func(sign)) {
	day := e.At.Day()
	if day > to {
		return
	}
	switch body := e.Body.(type) {
	case care.MiteLook:
		if day >= from && body.Grade.Positive() {
			take(sign{day, quarantine.FromMites, e.ID})
		}
	case care.MiteTreatment:
		if acts := body.Acts(day); acts >= from { // one of before may act still
			take(sign{acts, quarantine.FromTreatment, e.ID})
		}
	}
}

// course holds the looks against the rule of care.
func (r *reader) course(m quarantine.Mites, n *Newcomer, looks care.MiteDays, from sign, today model.Day) quarantine.Mites {
	c := looks.Course(r.t, from.day, m.Days, today)
	m.From, m.Why, m.On, m.Ends, m.Over = c.From, from.why, []model.EntryID{from.entry}, c.Ends, c.Over
	if c.From != from.day {
		m.Why = quarantine.FromGap
	}
	grade := care.NoMites
	for _, l := range n.Looks {
		if l.Mate || l.Glance {
			continue
		}
		if l.Day == m.Over && l.Grade == care.NoMites {
			m.On = append(m.On, l.Entry)
		}
		if m.Last = l.Day; looks[l.Day] == care.MiteSpeck {
			m.Speck = l.Day
		} else {
			m.Speck = 0
		}
		grade = looks[l.Day]
	}
	every := knowledge.ValueLookMites
	if grade == care.MiteSpeck {
		every = knowledge.ValueLookSpeck
	}
	m.Next = m.Last + model.Day(r.t.Value(every))
	return m
}
