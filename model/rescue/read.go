package rescue

import (
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/husbandry"
	"coilward/model/infested"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/positives"
	"coilward/model/powercut"
	"coilward/model/round"
)

// House is everyone who is here in the order of rescue.
type House struct {
	Turns  []Turn
	Boxes  map[model.PlaceID]string // what they are called, with room, rack and shelf
	Class  map[model.AnimalID]round.Class
	Weight map[model.AnimalID]care.Weighed // the last weighing, of those that were weighed
	// Order is that of rounds as it was chosen last, by which hands are washed.
	Order knowledge.RoundOrder
}

// Washed reports whether hands are washed and gloves changed before the animal of that
// turn, from 0: where the one before it counts as less clean, by the order of rounds.
func (h House) Washed(turn int) bool {
	if turn == 0 {
		return false
	}
	before, now := round.Rank(h.Order, h.Counts(turn-1)), round.Rank(h.Order, h.Counts(turn))
	return before > now || before == now && round.LastTwo(h.Order, h.Counts(turn))
}

// Counts is as what the animal of a turn counts on a round; one whose records cannot be read
// counts as ill.
func (h House) Counts(turn int) round.Class {
	if c, known := h.Class[h.Turns[turn].ID]; known {
		return c
	}
	return round.Ill
}

// Read reads the order of rescue as it is now. Animals that died, were sold or are on
// loan are not in it. One whose records cannot be read is in it all the same.
func Read(v model.View, t *knowledge.Tables) (House, error) {
	h := House{Boxes: map[model.PlaceID]string{}, Class: map[model.AnimalID]round.Class{}, Weight: map[model.AnimalID]care.Weighed{}}
	last, err := round.Last(v, 1)
	if err != nil {
		return h, err
	}
	h.Order = round.Chosen(t, last)
	all, err := animals.All(v)
	if err != nil {
		return h, err
	}
	places, err := husbandry.ReadHouse(v)
	if err != nil {
		return h, err
	}
	marks, err := positives.Marked(v, t)
	if err != nil {
		return h, err
	}
	walk := map[model.PlaceID]int{}
	for i, p := range places.Places() {
		walk[p.ID] = i + 1
	}
	now := v.Now()
	owns, looked := map[model.AnimalID]round.Own{}, map[model.AnimalID]infested.Animal{}
	var some []Animal
	for _, a := range all {
		if !a.Status.Here() || a.Status == animals.OnLoan {
			continue
		}
		one := Animal{ID: a.ID, Name: a.Name}
		if stay, lives := places.Where(a.ID, now); lives {
			one.Place, one.Walk = stay.Place, walk[stay.Place]
			h.Boxes[stay.Place] = places.Title(stay.Place)
		}
		known, err := read(v, t, a, now)
		if err != nil {
			one.Facts.Unread = true
			some = append(some, one)
			continue
		}
		one.Facts = known.facts
		if known.weighed {
			h.Weight[a.ID] = known.Records.Weights[0]
		}
		owns[a.ID] = known.Own
		looked[a.ID] = known.Infested(a)
		if marks.Detected[a.ID] {
			one.Facts.Vet = true
		}
		some = append(some, one)
	}
	mites, _ := infested.Read(v, t, places, all, looked)
	for id, own := range owns {
		h.Class[id] = round.FactsOf(t, id, own, places, mites, marks, now).Class()
	}
	h.Turns = Order(t, some)
	return h, nil
}

// known is what the records of one animal tell.
type known struct {
	round.Known
	facts   Facts
	weighed bool
}

func read(v model.View, t *knowledge.Tables, a animals.Stored, now model.Moment) (k known, err error) {
	if k.Known, err = round.Know(v, t, a, now); err != nil {
		return k, fmt.Errorf("read the records of %s: %w", a.Name, err)
	}
	courses, illegible := medicine.Of(v, a.ID)
	standing := k.Records.Stand(t, k.Problems, now)
	k.weighed = len(k.Records.Weights) > 0
	k.facts = Facts{Emergency: standing.Emergency(), Airway: airway(t, standing), Chilled: len(powercut.Chilling(t, k.Cuts, now.Day())) > 0, Vet: standing.ForVet(), Unread: len(k.Unread) > 0 || illegible != nil,
		Hatchling: history.AgeClass(t, a.Hatched, now.Day()) == exam.Hatchling, Gravid: k.Records.Gravid(), Fed: fed(t, k.Records, now)}
	for _, c := range courses {
		k.facts.Vet = k.facts.Vet || c.Open()
	}
	if k.weighed {
		k.facts.Mass = k.Records.Weights[0].Mass
	}
	return k, nil
}

// airway reports whether a sign of the airways stands that is not the animal's own, or its
// breathing on a visit is a matter for the vet.
func airway(t *knowledge.Tables, standing history.Standing) bool {
	return !standing.Breathing.IsZero() || slices.ContainsFunc(standing.Parts, func(p history.Part) bool {
		return p.From != history.FromGone && slices.ContainsFunc(p.Verdict.Signs, func(s exam.Sign) bool {
			return !s.Baseline && slices.Contains(t.Cluster(knowledge.Breathing), s.What)
		})
	})
}

// fed reports whether a meal is digested still. Its days: Ott and Secor 2007.
func fed(t *knowledge.Tables, r history.Records, now model.Moment) bool {
	last := r.Context.LastMeal
	return !last.IsZero() && now.Day()-last.Day() < model.Day(t.Value(knowledge.ValueFed))
}
