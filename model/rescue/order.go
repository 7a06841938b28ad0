package rescue

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/knowledge"
)

// Facts are what the turn of one animal follows from.
type Facts struct {
	Emergency bool // something stands for which a vet should see it today
	Airway    bool // a sign of the airways stands
	Chilled   bool // in a power cut of the last days, which are those of the watch after it
	Vet       bool // something stands that is a matter for the vet, or a course of medicine goes on
	Unread    bool // its records, or some of them, cannot be read
	Hatchling bool // by its age
	Gravid    bool // by its last check, and it has not laid since
	Fed       bool // a meal that it kept is not digested yet
	// Mass is the last that was weighed; zero: it is not known.
	Mass model.Mass
}

// Why is all that applies, in the order of the table; never none.
func (f Facts) Why(t *knowledge.Tables) (all []knowledge.RescueID) {
	small := model.Grams(int64(t.Value(knowledge.ValueSmall)))
	applies := map[knowledge.RescueID]bool{
		knowledge.RescueEmergency: f.Emergency, knowledge.RescueAirway: f.Airway, knowledge.RescueChilled: f.Chilled, knowledge.RescueVet: f.Vet, knowledge.RescueUnread: f.Unread, knowledge.RescueHatchling: f.Hatchling,
		knowledge.RescueSmall: !f.Mass.IsZero() && f.Mass.Milligrams < small.Milligrams, knowledge.RescueUnweighed: f.Mass.IsZero() && !f.Unread,
		knowledge.RescueGravid: f.Gravid, knowledge.RescueFed: f.Fed,
	}
	for _, c := range t.Rescue() {
		if applies[c.ID] || c.ID == knowledge.RescueRest && len(all) == 0 {
			all = append(all, c.ID)
		}
	}
	return all
}

// Animal is one animal of the house.
type Animal struct {
	ID    model.AnimalID
	Name  string
	Place model.PlaceID // its box; zero: it is not housed
	// Walk is where its box lies in a walk through rooms, racks and shelves, from 1; 0: nowhere.
	Walk  int
	Facts Facts
}

// Turn is one animal in its turn, with why.
type Turn struct {
	Animal
	Why []knowledge.RescueID
}

// Order puts animals into the order of rescue: by the first row of the table that applies,
// then by the walk through the house, those without a box last, then by name. It does not
// depend on the order in which they are handed in.
func Order(t *knowledge.Tables, all []Animal) []Turn {
	turns := make([]Turn, len(all))
	for i, a := range all {
		turns[i] = Turn{a, a.Facts.Why(t)}
	}
	rank := func(id knowledge.RescueID) int {
		return slices.IndexFunc(t.Rescue(), func(c knowledge.Criterion) bool { return c.ID == id })
	}
	walk := func(n int) int { // nowhere is after everywhere
		if n == 0 {
			return int(^uint(0) >> 1)
		}
		return n
	}
	slices.SortFunc(turns, func(a, b Turn) int {
		return cmp.Or(cmp.Compare(rank(a.Why[0]), rank(b.Why[0])), cmp.Compare(walk(a.Walk), walk(b.Walk)),
			model.Natural(animals.Fold(a.Name), animals.Fold(b.Name)), slices.Compare(a.ID.ID[:], b.ID.ID[:]))
	})
	return turns
}
