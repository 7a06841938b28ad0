package round

import (
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/contact"
	"coilward/model/knowledge"
)

// Barrier is what lies between one box and the next.
type Barrier struct {
	Measures []knowledge.MeasureID // none: nothing
	Rounds   bool                  // it lies between two rounds, not between two boxes
	// Uses are what the tools are put into, unless the next animal has its own: one
	// after the other, rinsed between, never mixed.
	Uses []Use
	// Untimed are suspected too, and no means with a contact time is known to work on
	// them: nothing is carried on that was there.
	Untimed []knowledge.TargetID
	// Gases are those of the means that give off poisonous gas with others of the tables.
	Gases []Gas
	// Vain are means that others are disinfected with and that do nothing against what is
	// suspected, so that nobody trusts in them.
	Vain []knowledge.Effect
}

// Use is a means, how long it has to act on a wet surface, and on what it works.
type Use struct {
	Means   knowledge.MeansID
	Minutes int
	Targets []knowledge.TargetID
}

// Gas is a means, and the classes of means with which it gives off poisonous gas, in the order of
// the table of means.
type Gas struct {
	Means knowledge.MeansID
	With  []knowledge.MeansClass
}

// IsZero reports whether nothing lies between.
func (b Barrier) IsZero() bool { return len(b.Measures) == 0 }

// Barriers are what lies before each stop of a part; before the first lies nothing. It
// follows from all who were served since the last one.
func Barriers(t *knowledge.Tables, o knowledge.RoundOrder, stops []Stop) []Barrier {
	all := make([]Barrier, len(stops))
	var carried []knowledge.TargetID
	known := map[string]Barrier{} // many boxes leave the same on the hands
	for i, s := range stops {
		if i > 0 {
			was, is := Rules(o, stops[i-1].Classes), Rules(o, s.Classes)
			if was != is || LastTwo(o, is) {
				key := fmt.Sprint(inOrder(t, carried))
				b, was := known[key]
				if !was {
					b = barrier(t, carried, false)
					known[key] = b
				}
				all[i], carried = b, nil
			}
		}
		carried = append(carried, s.Against...)
	}
	return all
}

// BetweenRounds is what lies between a round that was gone through and the next one: it
// follows from the classes that were looked at on it, and from what is suspected now of
// those animals, as stops tell.
func BetweenRounds(t *knowledge.Tables, gone Stored, stops []Stop) Barrier {
	var carried []knowledge.TargetID
	for _, l := range gone.Looks {
		if l.Passed {
			continue
		}
		for _, s := range t.Suspects() {
			if s.Class == l.Class {
				carried = append(carried, s.Target)
			}
		}
		for _, s := range stops {
			if slices.ContainsFunc(s.Animals, func(a model.AnimalID) bool { return slices.Contains(l.Animals, a) }) {
				carried = append(carried, s.Against...)
			}
		}
	}
	return barrier(t, carried, true)
}

func barrier(t *knowledge.Tables, carried []knowledge.TargetID, rounds bool) Barrier {
	b := Barrier{Rounds: rounds}
	for _, m := range t.Measures() {
		if rounds || !m.Rounds {
			b.Measures = append(b.Measures, m.ID)
		}
	}
	targets := inOrder(t, carried)
	b.Uses, b.Untimed = Disinfect(t, targets)
	for _, u := range b.Uses {
		if g := gasOf(t, u.Means); len(g.With) > 0 {
			b.Gases = append(b.Gases, g)
		}
	}
	b.Vain = vain(t, targets)
	return b
}

// gasOf is with what of the table of means one of them gives off poisonous gas.
func gasOf(t *knowledge.Tables, id knowledge.MeansID) Gas {
	g := Gas{Means: id}
	m, _ := t.MeansOf(id)
	for _, other := range t.Means() {
		if m.Class.Poisonous(other.Class) && !slices.Contains(g.With, other.Class) {
			g.With = append(g.With, other.Class)
		}
	}
	return g
}

// vain are the means that the tables give for some other target, and of which they tell that
// they do nothing against one of these, in the order of the table of means.
func vain(t *knowledge.Tables, targets []knowledge.TargetID) (all []knowledge.Effect) {
	for _, target := range targets {
		for _, e := range contact.FailsOn(t, target) {
			if slices.ContainsFunc(t.Targets(), func(other knowledge.Target) bool {
				return slices.ContainsFunc(contact.WorksOn(t, other.ID), func(works knowledge.Effect) bool { return works.Means == e.Means })
			}) {
				all = append(all, e)
			}
		}
	}
	return all
}

// asks is the question whether what lies between two rounds was done; reached is how far
// the one before came.
func (b Barrier) asks(reached Class, day model.Day) *model.Refusal {
	var measures, means, targets []string
	for _, m := range b.Measures {
		measures = append(measures, "round.measure."+string(m))
	}
	minutes := 0
	for _, u := range b.Uses {
		means, minutes = append(means, "means."+string(u.Means)), max(minutes, u.Minutes)
	}
	for _, target := range b.Untimed {
		targets = append(targets, "target."+string(target))
	}
	gaps := map[string]model.Gap{"Class": model.KeyGap("round.class." + reached.String()), "Measures": model.KeysGap(measures...)}
	r := &model.Refusal{Field: "round", Value: day.String(), Reason: AsksAgain, Answer: model.Confirm, Gaps: gaps}
	switch {
	case len(targets) > 0:
		r.Reason, gaps["Targets"] = asksAgainOwn, model.KeysGap(targets...)
	case len(means) > 0:
		r.Reason, gaps["Means"], gaps["Minutes"] = asksAgainTools, model.KeysGap(means...), model.CountGap(minutes)
	}
	return r
}

// Disinfect is what tools are put into against all of some targets: the fewest means
// that each work on one of them for certain within an hour, that fail on none of them,
// and of which no two give off poisonous gas together. untimed are the targets for which
// there is none. Sources: the tables of means and effects.
func Disinfect(t *knowledge.Tables, targets []knowledge.TargetID) (uses []Use, untimed []knowledge.TargetID) {
	left := slices.Clone(targets)
	for len(left) > 0 {
		var best Use
		for _, m := range t.Means() {
			if u := useOf(t, m, targets, left); len(u.Targets) > len(best.Targets) && suits(t, m, uses) {
				best = u
			}
		}
		if best.Means == "" {
			return uses, left
		}
		uses = append(uses, best)
		left = slices.DeleteFunc(left, func(target knowledge.TargetID) bool { return slices.Contains(best.Targets, target) })
	}
	return uses, nil
}

// useOf is a means with those of the targets left that it works on; none where it fails
// on one of all targets.
func useOf(t *knowledge.Tables, m knowledge.Means, all, left []knowledge.TargetID) Use {
	u := Use{Means: m.ID}
	for _, target := range all {
		if e, told := t.Effect(m.ID, target); told && e.Works == knowledge.NotWorks {
			return Use{}
		}
	}
	for _, target := range left {
		for _, e := range contact.WorksOn(t, target) {
			if e.Means == m.ID && e.Minutes > 0 {
				u.Minutes, u.Targets = max(u.Minutes, e.Minutes), append(u.Targets, target)
			}
		}
	}
	return u
}

// suits reports whether a means gives off no poisonous gas with any of those chosen.
func suits(t *knowledge.Tables, m knowledge.Means, uses []Use) bool {
	return !slices.ContainsFunc(uses, func(u Use) bool {
		other, _ := t.MeansOf(u.Means)
		return m.Class.Poisonous(other.Class)
	})
}
