package tray

import (
	"cmp"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/samples"
)

// Sample is a sample and where it stands on its way.
type Sample = samples.Followed

// Animal is an animal that a sample can be of.
type Animal struct {
	ID         model.AnimalID
	Name, Home string
}

// Tray is all that the page shows, as of a day.
type Tray struct {
	Today   model.Day
	Samples samples.Tray // all that can be read, in shelf order
	Unread  []error      // why the others cannot; each is a *samples.Illegible
	Animals []Animal     // those that are kept, in shelf order
	People  []people.Stored

	// overtaken are the things that were detected since a plan was made in animals of its rounds.
	overtaken map[model.SampleID][]knowledge.AgentID
	names     map[model.AnimalID]string
	person    map[model.PersonID]people.Stored
}

// Load reads the samples, whom they may be of, and who takes and looks through
// them.
func Load(v model.View, t *knowledge.Tables) (Tray, error) {
	tray := Tray{Today: v.Now().Day(), overtaken: map[model.SampleID][]knowledge.AgentID{}, names: map[model.AnimalID]string{}, person: map[model.PersonID]people.Stored{}}
	house, err := husbandry.ReadHouse(v)
	if err != nil {
		return tray, fmt.Errorf("read where the animals live: %w", err)
	}
	known, err := animals.All(v)
	if err != nil {
		return tray, fmt.Errorf("read the animals: %w", err)
	}
	if tray.People, err = people.All(v); err != nil {
		return tray, fmt.Errorf("read the people: %w", err)
	}
	for _, p := range tray.People {
		tray.person[p.ID] = p
	}
	order := tray.inShelfOrder(known, house, v.Now())
	all, unread, err := samples.Legible(v)
	if err != nil {
		return tray, fmt.Errorf("read the samples: %w", err)
	}
	tray.Unread = unread
	past := map[model.PersonID][]int{}
	for _, s := range all {
		took, read := past[s.Lab]
		if !read {
			took = samples.PastOf(all, s.Lab)
			past[s.Lab] = took
		}
		if of := samples.Overtaken(all, s); len(of) > 0 {
			tray.overtaken[s.ID] = of
		}
		tray.Samples = append(tray.Samples, Sample{Stored: s, Way: s.Way(t, took, tray.Today)})
	}
	first := func(s Sample) int {
		if len(s.Animals) == 0 {
			return len(order)
		}
		return order[s.Animals[0]]
	}
	slices.SortStableFunc(tray.Samples, func(a, b Sample) int {
		return cmp.Or(cmp.Compare(first(a), first(b)), cmp.Compare(a.Kit.Number, b.Kit.Number))
	})
	return tray, nil
}

// inShelfOrder takes the animals as they stand on the shelf, those that live
// nowhere last, and tells the order.
func (t *Tray) inShelfOrder(known []animals.Stored, house *husbandry.House, now model.Moment) map[model.AnimalID]int {
	of := map[model.AnimalID]animals.Stored{}
	for _, a := range known {
		of[a.ID], t.names[a.ID] = a, a.Name
	}
	order := map[model.AnimalID]int{}
	take := func(a animals.Stored, home string) {
		if _, there := order[a.ID]; there {
			return
		}
		order[a.ID] = len(order)
		if a.Status.Here() {
			t.Animals = append(t.Animals, Animal{a.ID, a.Name, home})
		}
	}
	residents := house.Residents(now)
	for _, p := range house.Places() {
		for _, id := range residents[p.ID] {
			if a, there := of[id]; there {
				take(a, house.Title(p.ID))
			}
		}
	}
	for _, a := range known {
		take(a, "")
	}
	return order
}

// with are the people of a role.
func (t *Tray) with(r people.Role) (all []people.Stored) {
	for _, p := range t.People {
		if p.Is(r) {
			all = append(all, p)
		}
	}
	return all
}
