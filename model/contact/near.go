package contact

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Result is what one sample of an animal said of the thing that a positive is about.
type Result struct {
	Sample   model.SampleID
	Taken    model.Day
	Detected bool
	Speaks   bool // "not detected" in such a sample says something
	Pool     bool // it was of several animals: "not detected" says less of each of them
}

// SinceWhy is why somebody is looked for from a day on. Values are frozen; the text is
// "positive.since." + value.
type SinceWhy string

// From when on somebody is looked for.
const (
	SinceNotDetected SinceWhy = "not-detected"
	SinceArrival     SinceWhy = "arrival"
	SinceEver        SinceWhy = "ever" // neither is known
)

// Source is an animal in whose sample something was detected.
type Source struct {
	Animal model.AnimalID
	// Since is the first day from which on it is looked who was near: that of its last
	// "not detected" before, less the days for which the thing may not be found where
	// they are known, else that of its arrival; 0 where neither is known.
	Since model.Day
	Why   SinceWhy
	On    model.SampleID // of the "not detected"
	Taken model.Day      // that sample
	Lived bool           // it is known where it lived at some time since
}

// SourceOf finds out since when an animal may have carried a thing that was detected
// in a sample taken on a day. arrived is its first possible day here, 0: not known;
// worth says for how long the thing may not be found. Only a "not detected" of a
// sample of its own counts. One of that day or of a later one changes nothing: what
// was detected stands until the positive is closed.
func SourceOf(animal model.AnimalID, detected, arrived model.Day, worth knowledge.Answer, results []Result) Source {
	s := Source{Animal: animal, Since: arrived, Why: SinceArrival}
	if arrived == 0 {
		s.Why = SinceEver
	}
	for _, r := range results {
		since := r.Taken
		if worth.Known {
			since -= model.Day(worth.SpeaksAfter)
		}
		if r.Detected || !r.Speaks || r.Pool || r.Taken >= detected || since < s.Since {
			continue
		}
		if s.Why == SinceNotDetected && since == s.Since && slices.Compare(s.On.ID[:], r.Sample.ID[:]) <= 0 {
			continue
		}
		s.Since, s.Why, s.On, s.Taken = since, SinceNotDetected, r.Sample, r.Taken
	}
	return s
}

// Stay is an animal in a room from a day to a day. The order within a day is not
// known, so that both days count.
type Stay struct {
	Animal model.AnimalID
	Room   model.PlaceID
	From   model.Day
	Until  model.Day // 0: still there
}

// last is the last day of the stay that is not after a day.
func (s Stay) last(today model.Day) model.Day {
	if s.Until == 0 {
		return today
	}
	return min(s.Until, today)
}

// Stretch is a time that two animals were in one room.
type Stretch struct {
	Of          model.AnimalID // the source
	Room        model.PlaceID
	First, Last model.Day
	Still       bool // and are so still
}

// Near is an animal that was near.
type Near struct {
	Animal    model.AnimalID
	Stretches []Stretch // earliest first; never none
}

// First is the first day on which it may have caught it.
func (n Near) First() model.Day { return n.Stretches[0].First }

// Last is the stretch that went on longest: its last day is the last on which the
// animal may have caught it.
func (n Near) Last() Stretch {
	return slices.MaxFunc(n.Stretches, func(a, b Stretch) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.Last, b.Last))
	})
}

func rank(s Stretch) int {
	if s.Still {
		return 1
	}
	return 0
}

// Speaks is the first sampling day of which "not detected" says that the animal did
// not catch it; ok is false while it is near still, and where no figure is known of
// how long that takes.
func (n Near) Speaks(a knowledge.Answer) (day model.Day, ok bool) {
	last := n.Last()
	if last.Still || !a.Known {
		return 0, false
	}
	return last.Last + model.Day(a.SpeaksAfter), true
}

// Who finds who was near some animals up to a day: in the same room on a day since
// each of them may have carried it. What lies after that day counts nothing. They
// come those that are near still first, then the latest, then by id; the sources
// themselves are left out.
func Who(sources []Source, stays []Stay, today model.Day) []Near {
	byRoom := map[model.PlaceID][]Stay{}
	for _, s := range stays {
		byRoom[s.Room] = append(byRoom[s.Room], s)
	}
	found := map[model.AnimalID][]Stretch{}
	for _, source := range sources {
		for _, hers := range stays {
			if hers.Animal != source.Animal {
				continue
			}
			for _, other := range byRoom[hers.Room] {
				if slices.ContainsFunc(sources, func(s Source) bool { return s.Animal == other.Animal }) {
					continue
				}
				if stretch, met := meet(hers, other, source.Since, today); met {
					found[other.Animal] = append(found[other.Animal], stretch)
				}
			}
		}
	}
	var all []Near
	for animal, stretches := range found {
		all = append(all, Near{Animal: animal, Stretches: joined(stretches)})
	}
	slices.SortFunc(all, func(a, b Near) int {
		x, y := a.Last(), b.Last()
		return cmp.Or(cmp.Compare(rank(y), rank(x)), cmp.Compare(y.Last, x.Last), slices.Compare(a.Animal.ID[:], b.Animal.ID[:]))
	})
	return all
}

// meet is the time that two stays in one room share from a day to a day.
func meet(hers, other Stay, since, today model.Day) (s Stretch, ok bool) {
	s = Stretch{Of: hers.Animal, Room: hers.Room, First: max(hers.From, other.From, since), Last: min(hers.last(today), other.last(today))}
	s.Still = s.Last == today && open(hers, today) && open(other, today)
	return s, s.First <= s.Last
}

// open reports whether a stay goes on after a day.
func open(s Stay, today model.Day) bool { return s.Until == 0 || s.Until > today }

// joined are the stretches by their days, those that follow one another with the same
// animal in the same room as one.
func joined(all []Stretch) (some []Stretch) {
	slices.SortFunc(all, func(a, b Stretch) int {
		return cmp.Or(cmp.Compare(a.First, b.First), cmp.Compare(a.Last, b.Last), slices.Compare(a.Of.ID[:], b.Of.ID[:]), slices.Compare(a.Room.ID[:], b.Room.ID[:]))
	})
	for _, s := range all {
		i := slices.IndexFunc(some, func(o Stretch) bool { return o.Of == s.Of && o.Room == s.Room && s.First <= o.Last+1 })
		if i < 0 {
			some = append(some, s)
			continue
		}
		some[i].Last, some[i].Still = max(some[i].Last, s.Last), some[i].Still || s.Still
	}
	return some
}
