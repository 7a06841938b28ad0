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
	"coilward/ui/particulars"
)

// resultDays is how long a sample stays in the tray after its result came.
const resultDays = 30

// Sample is a sample and where it stands on its way.
type Sample struct {
	samples.Stored
	Way samples.Way
}

// Animal is an animal that a sample can be of.
type Animal struct {
	ID         model.AnimalID
	Name, Home string
}

// Tray is all that the page shows, as of a day.
type Tray struct {
	Today   model.Day
	Samples []Sample // all that can be read, in shelf order
	Unread  []error  // why the others cannot; each is a *samples.Illegible
	Animals []Animal // those that are kept, in shelf order
	People  []people.Stored

	names  map[model.AnimalID]string
	person map[model.PersonID]people.Stored
}

// Load reads the samples, whom they may be of, and who takes and looks through
// them.
func Load(v model.View, t *knowledge.Tables) (Tray, error) {
	tray := Tray{Today: v.Now().Day(), names: map[model.AnimalID]string{}, person: map[model.PersonID]people.Stored{}}
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
		tray.Samples = append(tray.Samples, Sample{s, s.Way(t, took, tray.Today)})
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

// Of is the sample of that id.
func (t *Tray) Of(id model.SampleID) (Sample, bool) {
	i := slices.IndexFunc(t.Samples, func(s Sample) bool { return s.ID == id })
	if i < 0 {
		return Sample{}, false
	}
	return t.Samples[i], true
}

// some are the samples of those ids that are still there, in shelf order.
func (t *Tray) some(ids []model.SampleID) (all []Sample) {
	for _, s := range t.Samples {
		if slices.Contains(ids, s.ID) {
			all = append(all, s)
		}
	}
	return all
}

// lies reports whether a sample lies in the tray: it is on its way, or its result
// came lately.
func (t *Tray) lies(s Sample) bool {
	switch s.Way.Stage {
	case samples.Voided:
		return false
	case samples.Reported:
		return t.Today-s.Way.Since <= resultDays
	}
	return true
}

// onWay and late count the samples that are on their way, and those of them past
// their mark.
func (t *Tray) onWay() (all, late int) {
	for _, s := range t.Samples {
		if s.Way.Stage != samples.Voided && s.Way.Stage != samples.Reported {
			all++
			if s.Way.Late {
				late++
			}
		}
	}
	return all, late
}

// voided are the samples without a result of a year, the last first.
func (t *Tray) voided(year int) (all []Sample) {
	for _, s := range t.Samples {
		if s.Void != nil {
			if y, _, _ := s.Void.At.Day().Date(); y == year {
				all = append(all, s)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b Sample) int { return cmp.Compare(b.Void.At.UTC, a.Void.At.UTC) })
	return all
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

// owed are the samples of an animal with which the same is to be done next, the
// late ones first.
func (t *Tray) owed(animal model.AnimalID) (all []Sample) {
	for _, late := range []bool{true, false} {
		for _, s := range t.Samples {
			if s.Way.Late == late && s.Way.Next != samples.NoAct && slices.Contains(s.Animals, animal) && (len(all) == 0 || s.Way.Next == all[0].Way.Next) {
				all = append(all, s)
			}
		}
	}
	return all
}

// laidOut are the samples of an animal that are still to be taken and are what is asked
// for: of that material, where one is asked for, and looked through for one of the things
// at least.
func (t *Tray) laidOut(of model.AnimalID, asked particulars.Sampling) (all []Sample) {
	for _, s := range t.Samples {
		is := func(a knowledge.AgentID) bool { return slices.Contains(s.For, a) }
		if s.Way.Stage == samples.ToTake && slices.Contains(s.Animals, of) && (asked.Material == "" || asked.Material == s.Material) && slices.ContainsFunc(asked.For, is) {
			all = append(all, s)
		}
	}
	return all
}

// last is the sample that was prepared last; false: there is none.
func (t *Tray) last() (last Sample, ok bool) {
	for _, s := range t.Samples {
		if !ok || s.At.UTC >= last.At.UTC && s.Kit.Number >= last.Kit.Number {
			last, ok = s, true
		}
	}
	return last, ok
}

// together are the samples with which the same is to be done next as with one, that
// one among them; once they have left, those of the same lab.
func (t *Tray) together(one Sample) (all []Sample) {
	for _, s := range t.Samples {
		same := s.Way.Next == one.Way.Next && s.Way.Stage == one.Way.Stage
		if s.ID == one.ID || same && one.Way.Next != samples.NoAct && (s.Posted.IsZero() || s.Lab == one.Lab) {
			all = append(all, s)
		}
	}
	return all
}
