package chances

import (
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/contact"
	"coilward/model/evidence"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// joined is a thing in an animal, which stands first, and in those that share samples
// with it.
type joined struct {
	c       evidence.Case
	animals []model.AnimalID
	before  []bool // of each: it is the animal as it was before the thing was got rid of
	begun   []Begun
	exposed []Exposed        // of the first
	samples []samples.Stored // those of c.Samples
	linkage evidence.Linkage // Own where more hang together than are worked out together
	answers *answers
}

// Begun is with what an animal begins.
type Begun struct {
	Day   model.Day
	Why   BegunWhy
	Prior knowledge.Prior
}

// BegunWhy is why an animal begins on a day. Values are frozen; the text is
// "chance.begun." + value.
type BegunWhy string

// Why.
const (
	ByArrival BegunWhy = "arrival"
	ByRecords BegunWhy = "records" // nobody noted when it came: from the first that is known of it
	ByCleared BegunWhy = "cleared" // it was got rid of
)

// beyondAPool reports whether the thing was detected in a pool, and there are samples beside it:
// how the others in it shed is not carried from one to another.
func (j *joined) beyondAPool() bool {
	return len(j.c.Samples) > 1 && slices.ContainsFunc(j.c.Samples, func(s evidence.Sample) bool { return s.Detected && len(s.Of) > 1 })
}

// join is a thing in an animal with what it shares samples with. Where too many hang together
// they are the animals of its own pools, with the samples of their own, and of their other pools
// what each said.
func (r *Reader) join(k key, exposed bool) *joined {
	j, fits := r.joinWithin(k, exposed, false)
	if !fits {
		j, _ = r.joinWithin(k, exposed, true)
		j.linkage = evidence.Own
	}
	return j
}

func (r *Reader) joinWithin(k key, exposed, ownPools bool) (j *joined, fits bool) {
	j = &joined{}
	carrier, _ := r.figures.Carrier(k.of)
	j.c.Latent.Low, j.c.Latent.Mid, j.c.Latent.High = carrier.Latent.Low, carrier.Latent.Assumed, carrier.Latent.High
	ways := map[string]int{}
	r.admit(j, k, false, exposed)
	own := 0
	for i := 0; i < len(j.animals); i++ {
		for _, s := range r.samples {
			sight, speaks := r.sight(s, k.of)
			if !speaks || !slices.Contains(s.Animals, j.animals[i]) || slices.ContainsFunc(j.samples, func(o samples.Stored) bool { return o.ID == s.ID }) ||
				r.before(key{k.of, j.animals[i]}, s.Taken.Day()) != j.before[i] {
				continue
			}
			way, known := ways[sight.ID]
			if !known {
				way = len(j.c.Ways)
				ways[sight.ID] = way
				j.c.Ways = append(j.c.Ways, Way(sight))
			}
			detected := s.Outcome(k.of) == samples.Detected
			if ownPools && i > 0 && len(s.Animals) > 1 {
				j.c.Animals[i].Elsewhere = append(j.c.Animals[i].Elsewhere, evidence.Elsewhere{Day: s.Taken.Day(), Size: len(s.Animals), By: way, Detected: detected})
				continue
			}
			one := evidence.Sample{Day: s.Taken.Day(), By: way, Detected: detected}
			for _, a := range s.Animals {
				one.Of = append(one.Of, r.admit(j, key{k.of, a}, r.before(key{k.of, a}, s.Taken.Day()), exposed))
			}
			j.c.Samples, j.samples = append(j.c.Samples, one), append(j.samples, s)
		}
		if i == 0 {
			own = len(j.animals)
		}
		if len(j.animals) > max(evidence.MostLinked, own) {
			return j, false
		}
	}
	return j, true
}

// sight is how well a sample sees a thing; false where it says nothing of it.
func (r *Reader) sight(s samples.Stored, of knowledge.AgentID) (knowledge.Sight, bool) {
	sight, ok := r.figures.Sight(of, r.species(s.Animals), s.Material, s.Method(of))
	return sight, ok && s.LookedThrough(of) && !s.Taken.IsZero()
}

// species is that of some animals, empty where they are not of one.
func (r *Reader) species(of []model.AnimalID) (all knowledge.SpeciesID) {
	for i, id := range of {
		if one := r.animals[id].Species; i == 0 {
			all = one
		} else if one != all {
			return ""
		}
	}
	return all
}

// Way is a row of the table of how well things are found, for the engine.
func Way(s knowledge.Sight) evidence.Way {
	return evidence.Way{Sensitivity: of(s.Sensitivity, 1000), Share: of(s.Share, 1000), Specificity: float64(s.Right) / 1000, Spread: float64(s.Spread) / 10, Usable: float64(s.Usable) / 1000}
}

// before reports whether a day lies before the one on which the animal began anew.
func (r *Reader) before(k key, day model.Day) bool {
	begun := r.begun(k)
	return begun.Why == ByCleared && day < begun.Day
}

// admit gives an animal its place; one that began anew has another for the time before.
func (r *Reader) admit(j *joined, k key, before, exposed bool) int {
	for i := range j.animals {
		if j.animals[i] == k.animal && j.before[i] == before {
			return i
		}
	}
	begun := r.begun(k)
	if before {
		begun = r.arrived(k)
	}
	a := evidence.Animal{Arrived: begun.Day, Prior: of(begun.Prior.Chance, 1000)}
	if exposed {
		times := r.exposed(k, begun.Day)
		for _, e := range times {
			a.Exposed = append(a.Exposed, evidence.Exposure{From: max(e.From, begun.Day), To: e.Until, Daily: e.Daily})
		}
		if len(j.animals) == 0 {
			j.exposed = times
		}
	}
	j.animals, j.before, j.begun, j.c.Animals = append(j.animals, k.animal), append(j.before, before), append(j.begun, begun), append(j.c.Animals, a)
	return len(j.animals) - 1
}

// begun is with what an animal begins: with the end of the last positive where the thing
// can be got rid of, else with its arrival.
func (r *Reader) begun(k key) Begun {
	carrier, _ := r.figures.Carrier(k.of)
	if cleared := r.cleared(k); carrier.Clears && cleared != 0 {
		return Begun{Day: cleared, Why: ByCleared, Prior: r.figures.Prior(k.of, knowledge.Cleared)}
	}
	return r.arrived(k)
}

// arrived is with what an animal begins that nothing was got rid of in.
func (r *Reader) arrived(k key) Begun {
	a := r.animals[k.animal]
	b := Begun{Why: ByArrival, Prior: r.figures.Prior(k.of, origin(a.Animal))}
	for _, q := range r.quarantines[k.animal] {
		if arrived := q.Arrived.Day(); b.Day == 0 || arrived < b.Day {
			b.Day = arrived
		}
	}
	if since := a.Since.Day; since != 0 && (b.Day == 0 || since < b.Day) {
		b.Day = since
	}
	if b.Day == 0 {
		b.Day, b.Why = r.first(k.animal, a), ByRecords
	}
	return b
}

// first is the first day that is known of an animal of which nobody noted when it came.
func (r *Reader) first(animal model.AnimalID, a animals.Stored) model.Day {
	first := a.Added
	if first == 0 {
		first = r.today
	}
	for _, s := range r.samples {
		if !s.Taken.IsZero() && slices.Contains(s.Animals, animal) {
			first = min(first, s.Taken.Day())
		}
	}
	for _, s := range r.house.Stays(animal) {
		first = min(first, s.From.Day())
	}
	return first
}

// cleared is the day on which the last positive of a thing in an animal was closed by
// the vet's word, 0: none was.
func (r *Reader) cleared(k key) (day model.Day) {
	for _, t := range r.traces {
		if t.Agent == k.of && t.Closed != nil && slices.Contains(t.Animals, k.animal) && t.Closed.Why == contact.VetsWord {
			day = max(day, t.Closed.At.Day())
		}
	}
	return day
}

// origin is where an animal comes from, by the code of its papers.
func origin(a animals.Animal) knowledge.Origin {
	if a.Source == animals.SourceWild || a.Source == animals.SourceRanched {
		return knowledge.FromWild
	}
	return knowledge.FromAny
}
