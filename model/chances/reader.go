package chances

import (
	"cmp"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/assumed"
	"coilward/model/contact"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// Reader holds what all chances of a collection rest on, read once.
type Reader struct {
	tables      *knowledge.Tables
	figures     *assumed.Figures // of the tables, as the keeper has changed them
	today       model.Day
	animals     map[model.AnimalID]animals.Stored
	samples     []samples.Stored // those taken, by day
	unread      []error          // samples that cannot be read: what they say is not known
	quarantines map[model.AnimalID][]quarantine.Stored
	traces      []positives.Trace
	illegible   int // quarantines that cannot be read: they count as not released
	lived       []contact.Stay
	house       *husbandry.House
	told        map[key]Chance
	cases       map[caseKey]*joined
	earlier     map[caseKey]*joined          // of the reader before: what is the same is not worked out again
	carried     map[key][]Exposed            // nil: not worked out yet
	arrivals    map[model.AnimalID][]Exposed // nil: not worked out yet
}

// key is a thing in an animal.
type key struct {
	of     knowledge.AgentID
	animal model.AnimalID
}

// caseKey is that with what it was exposed to, or by samples alone.
type caseKey struct {
	key
	exposed bool
}

// NewReader reads what chances rest on. What cannot be read of the samples is left out,
// and each chance says so.
func NewReader(v model.View, t *knowledge.Tables) (*Reader, error) {
	r := &Reader{tables: t, today: v.Now().Day(), animals: map[model.AnimalID]animals.Stored{}, quarantines: map[model.AnimalID][]quarantine.Stored{}, told: map[key]Chance{}, cases: map[caseKey]*joined{}}
	for _, read := range []func(model.View) error{r.readAnimals, r.readSamples, r.readHouse, r.readQuarantines, r.readFigures} {
		if err := read(v); err != nil {
			return nil, fmt.Errorf("read what chances rest on: %w", err)
		}
	}
	traces, err := positives.StoodIn(v, t, positives.Known{Samples: r.samples, House: r.house, Animals: r.animals})
	if err != nil {
		return nil, fmt.Errorf("read what chances rest on: %w", err)
	}
	r.traces = traces
	return r, nil
}

func (r *Reader) readAnimals(v model.View) error {
	all, err := animals.All(v)
	for _, a := range all {
		r.animals[a.ID] = a
	}
	return err
}

func (r *Reader) readSamples(v model.View) (err error) {
	r.samples, r.unread, err = samples.Legible(v)
	slices.SortStableFunc(r.samples, func(a, b samples.Stored) int { return cmp.Compare(a.Taken.Day(), b.Taken.Day()) })
	return err
}

func (r *Reader) readHouse(v model.View) (err error) {
	if r.house, err = husbandry.ReadHouse(v); err != nil {
		return err
	}
	for id := range r.animals {
		for _, s := range r.house.Stays(id) {
			if _, known := r.house.Place(s.Place); !known {
				continue
			}
			stay := contact.Stay{Animal: id, Room: r.house.Room(s.Place), From: s.From.Day()}
			if !s.Until.IsZero() {
				stay.Until = s.Until.Day()
			}
			r.lived = append(r.lived, stay)
		}
	}
	return nil
}

func (r *Reader) readFigures(v model.View) (err error) {
	r.figures, err = assumed.ReadFigures(v, r.tables)
	return err
}

// readQuarantines takes those that cannot be read as not released, as the house does; each
// chance says so.
func (r *Reader) readQuarantines(v model.View) error {
	all, unread, err := quarantine.Legible(v)
	for _, q := range unread {
		all = append(all, quarantine.Stored{ID: q.ID, Animal: q.Animal, Arrived: q.Arrived})
	}
	for _, q := range all {
		r.quarantines[q.Animal] = append(r.quarantines[q.Animal], q)
	}
	r.illegible = len(unread)
	return err
}

// Unread are the samples that cannot be read; what they say of anything is not known.
func (r *Reader) Unread() []error { return r.unread }

// UnreadQuarantines is how many quarantines cannot be read; they count as not released.
func (r *Reader) UnreadQuarantines() int { return r.illegible }

// CannotRead says what could not be read of all that chances rest on, nothing where all was. The
// keys are "chance.cannot.unread" and "chance.cannot.unread-quarantine".
func (r *Reader) CannotRead() (all []model.Label) {
	for _, one := range []struct {
		key string
		n   int
	}{{"chance.cannot.unread", len(r.unread)}, {"chance.cannot.unread-quarantine", r.illegible}} {
		if one.n > 0 {
			all = append(all, model.Label{Key: one.key, Gaps: map[string]model.Gap{"Count": model.CountGap(one.n)}})
		}
	}
	return all
}

// Agents are the things that chances are worked out of, in the order of their table.
func (r *Reader) Agents() (all []knowledge.AgentID) {
	for _, a := range r.tables.Agents() {
		if _, ok := r.figures.Carrier(a.ID); ok {
			all = append(all, a.ID)
		}
	}
	return all
}

// Name is the name of an animal.
func (r *Reader) Name(id model.AnimalID) string { return r.animals[id].Name }

// Room is the title of a room.
func (r *Reader) Room(id model.PlaceID) string { return r.house.Title(id) }
