package positives

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/contact"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/model/welfare"
)

// Trace is a positive with who was near, as far as it is known today; of a closed one,
// as far as it was by the day on which it was closed. Its ID and Opened are zero where
// something was detected and nobody opened a positive for it yet.
type Trace struct {
	contact.Stored
	// Stands is that the result still says "detected"; else the lab put it right, or
	// the sample was taken out, and the positive asks to be closed.
	Stands  bool
	Day     model.Day // up to which everything counts: today, or the day of closing
	Sampled model.Day // of the sample in which it was detected
	Worth   knowledge.Answer
	// MayBeFalse is that it may be a false alarm and nothing known of the animals
	// speaks against saying so: none of them has an open sign of the airway.
	MayBeFalse bool
	Sources    []contact.Source
	Near       []contact.Near
	// Unplaced were here in that time without a place that is known: they may have
	// been near.
	Unplaced []model.AnimalID
	Acts     []contact.Standing
	// Results are what samples of each of them said of the thing, by sampling day.
	Results map[model.AnimalID][]contact.Result
	// Stays are where each of them lived since the first day that counts.
	Stays map[model.AnimalID][]contact.Stay
	// Rooms are those in which the sources live on that day.
	Rooms []model.PlaceID

	world *world
}

// world is what is read once for all positives.
type world struct {
	tables  *knowledge.Tables
	house   *husbandry.House
	animals map[model.AnimalID]animals.Stored
	samples []samples.Stored
	stays   []contact.Stay
	now     model.Moment
}

// Known is what is known already, and is not read again: the samples, the house and all
// animals; of the last two what is nil is read.
type Known struct {
	Samples []samples.Stored
	House   *husbandry.House
	Animals map[model.AnimalID]animals.Stored
}

// readWorld reads it round what is known.
func readWorld(v model.View, t *knowledge.Tables, known Known) (w *world, err error) {
	w = &world{tables: t, house: known.House, animals: known.Animals, samples: known.Samples, now: v.Now()}
	if w.house == nil {
		if w.house, err = husbandry.ReadHouse(v); err != nil {
			return nil, err
		}
	}
	if w.animals == nil {
		all, err := animals.All(v)
		if err != nil {
			return nil, err
		}
		w.animals = map[model.AnimalID]animals.Stored{}
		for _, a := range all {
			w.animals[a.ID] = a
		}
	}
	for _, id := range slices.SortedFunc(maps.Keys(w.animals), func(a, b model.AnimalID) int { return slices.Compare(a.ID[:], b.ID[:]) }) {
		for _, s := range w.house.Stays(id) {
			if _, known := w.house.Place(s.Place); !known {
				continue
			}
			stay := contact.Stay{Animal: id, Room: w.house.Room(s.Place), From: s.From.Day()}
			if !s.Until.IsZero() {
				stay.Until = s.Until.Day()
			}
			w.stays = append(w.stays, stay)
		}
	}
	return w, nil
}

// All are the open positives of the collection, the earliest opened first.
func All(v model.View, t *knowledge.Tables) ([]Trace, error) {
	return traces(v, t, contact.Stored.Open, false)
}

// Unsettled are the open positives, the earliest opened first, and then what was
// detected and has none: it counts from the day on which the lab says it, not from
// that on which somebody presses a button.
func Unsettled(v model.View, t *knowledge.Tables) ([]Trace, error) {
	return traces(v, t, contact.Stored.Open, true)
}

// Stood are those that are unsettled and those that were closed without being called
// off: whoever was near one of them was near it, also after it was closed.
func Stood(v model.View, t *knowledge.Tables) ([]Trace, error) {
	return traces(v, t, stood, true)
}

// StoodIn is Stood by what is known already. Those of it that are open are Unsettled.
func StoodIn(v model.View, t *knowledge.Tables, known Known) ([]Trace, error) {
	return tracesIn(v, t, known, stood, true)
}

// stood reports whether a positive was not called off.
func stood(s contact.Stored) bool {
	return s.Open() || s.Closed.Why != contact.Corrected && s.Closed.Why != contact.NotConfirmed
}

// traces are the positives that are kept, and with unopened what has none.
func traces(v model.View, t *knowledge.Tables, keep func(contact.Stored) bool, unopened bool) ([]Trace, error) {
	tested, _, err := samples.Legible(v) // of what cannot be read, the tray and verifying tell
	if err != nil {
		return nil, err
	}
	return tracesIn(v, t, Known{Samples: tested}, keep, unopened)
}

func tracesIn(v model.View, t *knowledge.Tables, known Known, keep func(contact.Stored) bool, unopened bool) ([]Trace, error) {
	opened, err := contact.All(v)
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(opened, func(a, b contact.Stored) int { return cmp.Compare(a.Opened.UTC, b.Opened.UTC) })
	var stored []contact.Stored
	for _, s := range opened {
		if keep(s) {
			stored = append(stored, s)
		}
	}
	if unopened {
		for _, d := range without(opened, known.Samples) {
			worth, _ := t.Answer(d.Agent)
			stored = append(stored, contact.Stored{Animals: d.Animals, Positive: contact.Positive{Sample: d.Sample, Agent: d.Agent, Taken: d.Taken, Reported: d.At, Doubt: worth.FalseAlarm}})
		}
	}
	if len(stored) == 0 {
		return nil, nil
	}
	w, err := readWorld(v, t, known)
	if err != nil {
		return nil, fmt.Errorf("find out who was near a positive: %w", err)
	}
	all := make([]Trace, len(stored))
	for i, s := range stored {
		if all[i], err = w.trace(v, s); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// Of is one positive, open or closed.
func Of(v model.View, t *knowledge.Tables, id contact.PositiveID) (Trace, error) {
	s, err := contact.Find(v, id)
	if err != nil {
		return Trace{}, err
	}
	tested, _, err := samples.Legible(v) // of what cannot be read, the tray and verifying tell
	if err != nil {
		return Trace{}, err
	}
	w, err := readWorld(v, t, Known{Samples: tested})
	if err != nil {
		return Trace{}, fmt.Errorf("find out who was near a positive: %w", err)
	}
	return w.trace(v, s)
}

// Document is what is shown of it: the positive, or the sample where none was opened.
func (t Trace) Document() model.ID {
	if t.ID.IsZero() {
		return t.Sample.ID
	}
	return t.ID.ID
}

func (w *world) trace(v model.View, s contact.Stored) (t Trace, err error) {
	t = Trace{Stored: s, Day: w.now.Day(), Sampled: s.Taken.Day(), world: w, Results: map[model.AnimalID][]contact.Result{}, Stays: map[model.AnimalID][]contact.Stay{}}
	if s.Closed != nil {
		t.Day = s.Closed.At.Day()
	}
	t.Worth, _ = w.tables.Answer(s.Agent)
	w.results(&t)
	for _, a := range s.Animals {
		t.Sources = append(t.Sources, w.source(t, a))
	}
	t.Near = contact.Who(t.Sources, w.stays, t.Day)
	slices.SortStableFunc(t.Near, func(a, b contact.Near) int {
		x, y := a.Last(), b.Last()
		if x.Still != y.Still || x.Last != y.Last {
			return 0
		}
		return cmp.Compare(w.fold(a.Animal), w.fold(b.Animal))
	})
	w.places(&t)
	t.Unplaced = w.unplaced(t)
	t.Acts = s.Acts(w.tables, contact.Owes{Near: len(t.Near), Newcomers: len(t.Newcomers())})
	if t.MayBeFalse = s.Doubt; s.Doubt {
		airway, err := w.airway(v, s.Animals)
		if err != nil {
			return t, err
		}
		t.MayBeFalse = !airway
	}
	return t, nil
}

// airway reports whether some of the animals has an open sign of the airway, breathes on a visit as
// is for the vet, or may have one that cannot be read.
func (w *world) airway(v model.View, all []model.AnimalID) (bool, error) {
	for _, a := range all {
		problems, unread, err := exam.LegibleProblems(v, a)
		if err != nil {
			return false, fmt.Errorf("look for signs of the airway: %w", err)
		}
		signs := exam.Open(problems)
		if len(unread) > 0 || slices.ContainsFunc(signs, func(s exam.Sign) bool { return slices.Contains(w.tables.Cluster("airway"), s.What) }) {
			return true, nil
		}
		visits, left, err := welfare.Watched(v, w.tables, a)
		if err != nil {
			return false, fmt.Errorf("look for signs of the airway: %w", err)
		}
		if left > 0 || !welfare.ForVet(w.tables, visits, w.now.Day()).IsZero() {
			return true, nil
		}
	}
	return false, nil
}

// results are what samples said of the thing, by the day of the sample.
func (w *world) results(t *Trace) {
	for _, s := range w.samples {
		if s.ID == t.Sample {
			t.Stands = s.Outcome(t.Agent) == samples.Detected
			t.Sampled = s.Taken.Day()
		}
		if !s.LookedThrough(t.Agent) || s.Taken.IsZero() || s.Taken.Day() > t.Day {
			continue
		}
		r := contact.Result{Sample: s.ID, Taken: s.Taken.Day(), Detected: s.Outcome(t.Agent) == samples.Detected, Speaks: samples.Speaks(w.tables, s.Sample, t.Agent), Pool: len(s.Animals) > 1}
		for _, a := range s.Animals {
			t.Results[a] = append(t.Results[a], r)
		}
	}
	for _, all := range t.Results {
		slices.SortStableFunc(all, func(a, b contact.Result) int { return cmp.Compare(a.Taken, b.Taken) })
	}
}

func (w *world) source(t Trace, animal model.AnimalID) contact.Source {
	var arrived model.Day
	if since := w.animals[animal].Since; !since.IsZero() {
		arrived = since.Day
	}
	s := contact.SourceOf(animal, t.Sampled, arrived, t.Worth, t.Results[animal])
	s.Lived = slices.ContainsFunc(w.stays, func(o contact.Stay) bool {
		return o.Animal == animal && o.From <= t.Day && (o.Until == 0 || o.Until >= s.Since)
	})
	return s
}

// From is the first day that counts for any of the sources.
func (t Trace) From() model.Day {
	from := t.Day
	for _, s := range t.Sources {
		from = min(from, s.Since)
	}
	return from
}

// places tells where they live now, and where each lived in that time.
func (w *world) places(t *Trace) {
	from := t.From()
	for _, s := range w.stays {
		if s.From > t.Day || s.Until != 0 && s.Until < from {
			continue
		}
		t.Stays[s.Animal] = append(t.Stays[s.Animal], s)
		if slices.Contains(t.Animals, s.Animal) && (s.Until == 0 || s.Until > t.Day) && !slices.Contains(t.Rooms, s.Room) {
			t.Rooms = append(t.Rooms, s.Room)
		}
	}
}

func (w *world) unplaced(t Trace) (all []model.AnimalID) {
	for id, a := range w.animals {
		left := !a.Status.Here() && (a.StatusDay.IsZero() || a.StatusDay.Day < t.From())
		late := !a.Since.IsZero() && a.Since.Day > t.Day
		if !left && !late && len(t.Stays[id]) == 0 && !slices.Contains(t.Animals, id) {
			all = append(all, id)
		}
	}
	slices.SortFunc(all, func(a, b model.AnimalID) int {
		return cmp.Or(cmp.Compare(w.fold(a), w.fold(b)), slices.Compare(a.ID[:], b.ID[:]))
	})
	return all
}

func (w *world) fold(id model.AnimalID) string { return animals.Fold(w.animals[id].Name) }

// Animal is one of the animals of the collection.
func (t Trace) Animal(id model.AnimalID) (animals.Stored, bool) {
	a, ok := t.world.animals[id]
	return a, ok
}

// Name is the name of an animal; empty where it was taken out.
func (t Trace) Name(id model.AnimalID) string { return t.world.animals[id].Name }

// Names are those of the animals of the sample.
func (t Trace) Names() string {
	var all []string
	for _, a := range t.Animals {
		if name := t.Name(a); name != "" {
			all = append(all, name)
		}
	}
	return strings.Join(all, ", ")
}

// Room names a room.
func (t Trace) Room(id model.PlaceID) string { return t.world.house.Title(id) }

// NearOf is how an animal was near; ok is false where it was not.
func (t Trace) NearOf(animal model.AnimalID) (contact.Near, bool) {
	i := slices.IndexFunc(t.Near, func(n contact.Near) bool { return n.Animal == animal })
	if i < 0 {
		return contact.Near{}, false
	}
	return t.Near[i], true
}

// Exposed are those near that may have caught it: where what was detected does not go
// through a room, nobody has by having been in one.
func (t Trace) Exposed() []contact.Near {
	if t.world.tables.Confined(t.Agent) {
		return nil
	}
	return t.Near
}

// Newcomers are those near that are newcomers still: all of a room begin again, where what
// was detected goes through it.
func (t Trace) Newcomers() (all []model.AnimalID) {
	for _, n := range t.Exposed() {
		a := t.world.animals[n.Animal]
		if a.Status.Here() && t.world.house.Newcomer(t.world.tables, n.Animal, t.Day) {
			all = append(all, n.Animal)
		}
	}
	return all
}

// Here are those near that are in the collection still, as they are sampled.
func (t Trace) Here() (all []model.AnimalID) {
	for _, n := range t.Near {
		if t.world.animals[n.Animal].Status.Here() {
			all = append(all, n.Animal)
		}
	}
	return all
}

// Told says how an animal was near, and from when "not detected" speaks of it.
func (t Trace) Told(n contact.Near) (how, speaks model.Label) {
	last := n.Last()
	gaps := map[string]model.Gap{"Of": model.TextGap(t.Name(last.Of)), "Room": model.TextGap(t.Room(last.Room)), "First": model.DayGap(n.First()), "Last": model.DayGap(last.Last),
		"Times": model.CountGap(len(n.Stretches))}
	switch {
	case len(n.Stretches) > 1 && last.Still:
		how.Key = "positive.near.often-still"
	case len(n.Stretches) > 1:
		how.Key = "positive.near.often"
	case last.Still:
		how.Key = "positive.near.still"
	case n.First() == last.Last:
		how.Key = "positive.near.day"
	default:
		how.Key = "positive.near.days"
	}
	how.Gaps = gaps
	day, known := n.Speaks(t.Worth)
	switch {
	case known:
		speaks = model.Label{Key: "positive.speaks.from", Gaps: map[string]model.Gap{"Day": model.DayGap(day)}}
	case last.Still:
		speaks = model.Label{Key: "positive.speaks.still"}
	default:
		speaks = model.Label{Key: "positive.speaks.unknown", Gaps: map[string]model.Gap{"Day": model.DayGap(last.Last)}}
	}
	return how, speaks
}

// Since says from when a source is looked at, and why from then.
func (t Trace) Since(s contact.Source) model.Label {
	said := model.Label{Key: "positive.since." + string(s.Why), Gaps: map[string]model.Gap{"Animal": model.TextGap(t.Name(s.Animal)), "Day": model.DayGap(s.Since)}}
	if s.Why == contact.SinceNotDetected && t.Worth.Known {
		said.Key = "positive.since.before-not-detected"
		said.Gaps["Taken"], said.Gaps["Days"] = model.DayGap(s.Taken), model.CountGap(t.Worth.SpeaksAfter)
	}
	return said
}
