package round

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/contact"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
)

// Dweller is one animal as a round finds it.
type Dweller struct {
	Animal model.AnimalID
	Place  model.PlaceID // its box; zero: it is not housed yet
	Room   model.PlaceID // zero: in none
	Facts  Facts
	// Reasons are what its classes follow from.
	Reasons []Reason
	Young   bool
	// Agents are what was detected in it, or in one that it was near, and is not settled.
	Agents []knowledge.AgentID
}

// Young reports whether an animal is served among the young: a hatchling or juvenile by
// its age, and where that is not known, one that is lighter than the table of values
// has for it. A mass of zero is not known.
func Young(t *knowledge.Tables, hatched model.Date, mass model.Mass, on model.Day) bool {
	switch history.AgeClass(t, hatched, on) {
	case exam.Hatchling, exam.Juvenile:
		return true
	case exam.AgeUnknown:
		return !mass.IsZero() && mass.Milligrams < model.Grams(int64(t.Value(knowledge.ValueYoungMass))).Milligrams
	}
	return false
}

// Stop is one box of a round with all who live in it, or one animal that is not housed.
type Stop struct {
	Place   model.PlaceID
	Room    model.PlaceID
	Animals []model.AnimalID
	Classes []Class              // that apply to one of them, in their order
	Reasons []Told               // that they follow from, those of the class that is latest first
	Against []knowledge.TargetID // what is suspected of them, in the order of the table of targets
	Young   bool                 // one of them is
}

// Told is a reason, and of whom it is.
type Told struct {
	Animal model.AnimalID
	Reason
}

// Because are the reasons of a stop, those of a class first.
func (s Stop) Because(c Class) []Told {
	all := slices.Clone(s.Reasons)
	other := func(r Told) int {
		if r.Why.Class() == c {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(all, func(a, b Told) int { return cmp.Compare(other(a), other(b)) })
	return all
}

// Stops puts the animals of a house into boxes, in their order. Who lives in one box
// shares all, so that the classes of one count for all of them (assumed).
func Stops(t *knowledge.Tables, all []Dweller) []Stop {
	var stops []Stop
	at := map[model.PlaceID]int{}
	for _, d := range all {
		i, known := at[d.Place]
		if !known || d.Place.IsZero() {
			i = len(stops)
			at[d.Place] = i
			stops = append(stops, Stop{Place: d.Place, Room: d.Room})
		}
		s := &stops[i]
		s.Animals = append(s.Animals, d.Animal)
		s.Classes = union(s.Classes, d.Facts.All())
		for _, r := range d.Reasons {
			s.Reasons = append(s.Reasons, Told{d.Animal, r})
		}
		s.Against = append(s.Against, suspected(t, d)...)
		s.Young = s.Young || d.Young
	}
	for i := range stops {
		s := &stops[i]
		if len(s.Classes) > 1 { // where one of the others applies, resident does not
			s.Classes = slices.DeleteFunc(s.Classes, func(c Class) bool { return c == Resident })
		}
		slices.SortStableFunc(s.Reasons, func(a, b Told) int { return latest(a.Reason, b.Reason) })
		s.Against = inOrder(t, s.Against)
	}
	return stops
}

func union[T cmp.Ordered](a, b []T) []T {
	all := slices.Concat(a, b)
	slices.Sort(all)
	return slices.Compact(all)
}

// suspected are the targets that count after an animal.
func suspected(t *knowledge.Tables, d Dweller) (all []knowledge.TargetID) {
	for _, s := range t.Suspects() {
		if slices.ContainsFunc(d.Facts.All(), func(c Class) bool { return c.String() == s.Class }) {
			all = append(all, s.Target)
		}
	}
	if d.Facts.MiteWatch || d.Facts.NearMites != 0 {
		all = append(all, targetMites)
	}
	for _, agent := range d.Agents {
		if target, known := contact.Target(t, agent); known {
			all = append(all, target)
		}
	}
	return all
}

const targetMites knowledge.TargetID = "mites"

// inOrder are targets once each, in the order of their table.
func inOrder(t *knowledge.Tables, some []knowledge.TargetID) (all []knowledge.TargetID) {
	for _, target := range t.Targets() {
		if slices.Contains(some, target.ID) {
			all = append(all, target.ID)
		}
	}
	return all
}

// Rules is the class of a stop that rules by an order: of all that apply the last.
func Rules(o knowledge.RoundOrder, classes []Class) Class {
	last := Resident
	for _, c := range classes {
		if Rank(o, c) > Rank(o, last) {
			last = c
		}
	}
	return last
}

// Rank is where a class stands in an order, from 0; later is less clean.
func Rank(o knowledge.RoundOrder, c Class) int { return slices.Index(o.Classes, c.String()) }

// Part is what is gone through in one round.
type Part struct {
	Apart bool // those who are gone through in a round of their own
	Stops []Stop
	// Shared are the rooms in which some live who are gone through in the other round:
	// air and floor are one there, whatever the hands do.
	Shared []model.PlaceID
}

// Parts puts stops into the order of their classes: among residents the young first,
// within a class as they stood. Who is gone through apart is in a part of its own, in
// which those that a later class beside applies to come last. A part without a stop is
// left out.
func Parts(o knowledge.RoundOrder, stops []Stop) []Part {
	parts := []Part{{}, {Apart: true}}
	for _, s := range stops {
		i := 0
		if o.Apart != "" && Rules(o, s.Classes).String() == o.Apart {
			i = 1
		}
		parts[i].Stops = append(parts[i].Stops, s)
	}
	for i := range parts {
		slices.SortStableFunc(parts[i].Stops, func(a, b Stop) int {
			return cmp.Or(cmp.Compare(Rank(o, Rules(o, a.Classes)), Rank(o, Rules(o, b.Classes))), youngFirst(o, a, b), beside(o, a, b))
		})
		parts[i].Shared = shared(parts[i], parts[1-i])
	}
	return slices.DeleteFunc(parts, func(p Part) bool { return len(p.Stops) == 0 })
}

func youngFirst(o knowledge.RoundOrder, a, b Stop) int {
	if Rules(o, a.Classes) != Resident || a.Young == b.Young {
		return 0
	}
	if a.Young {
		return -1
	}
	return 1
}

// beside compares the classes beside the one that is gone through apart.
func beside(o knowledge.RoundOrder, a, b Stop) int {
	if o.Apart == "" || Rules(o, a.Classes).String() != o.Apart {
		return 0
	}
	rest := func(s Stop) int {
		return Rank(o, Rules(o, slices.DeleteFunc(slices.Clone(s.Classes), func(c Class) bool { return c.String() == o.Apart })))
	}
	return cmp.Compare(rest(a), rest(b))
}

func shared(one, other Part) (rooms []model.PlaceID) {
	for _, s := range one.Stops {
		if !s.Room.IsZero() && !slices.Contains(rooms, s.Room) && slices.ContainsFunc(other.Stops, func(o Stop) bool { return o.Room == s.Room }) {
			rooms = append(rooms, s.Room)
		}
	}
	return rooms
}

// LastTwo reports whether a class is one of the last two of an order: between two boxes of
// such a class the same is done as between classes.
func LastTwo(o knowledge.RoundOrder, c Class) bool { return Rank(o, c) >= len(o.Classes)-2 }
