package meals

import (
	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// Band is how much prey one meal is, all of it together. A zero band: it is not known.
type Band struct {
	Least, Most model.Mass
	// After is that the last meal came up, and feeding begins again with smaller prey.
	After bool
}

// IsZero reports whether nothing is known of how much prey one meal is.
func (b Band) IsZero() bool { return b.Most.IsZero() }

// BandOf is the band of an animal of a class and a mass (zero: not known); its meals
// are newest first. After prey was brought up it is smaller until a meal has stayed
// down, and no more than that share of what came up. Source: rhythm.txt and values.txt.
func BandOf(t *knowledge.Tables, class knowledge.Rhythm, mass model.Mass, newestFirst []care.Entry) Band {
	share := func(of int64, percent int) int64 { return of * int64(percent) / 100 }
	b := Band{Least: model.Mass{Milligrams: share(mass.Milligrams, class.PreyLeast)}, Most: model.Mass{Milligrams: share(mass.Milligrams, class.PreyMost)}}
	up, after := lastUp(t, newestFirst)
	if !after || mass.IsZero() {
		return b
	}
	percent := t.Value(knowledge.ValuePreyAfter)
	b.After = true
	b.Least.Milligrams, b.Most.Milligrams = share(b.Least.Milligrams, percent), share(b.Most.Milligrams, percent)
	if total := up.Total().Milligrams; total > 0 {
		b.Most.Milligrams = min(b.Most.Milligrams, share(total, percent))
		b.Least.Milligrams = min(b.Least.Milligrams, b.Most.Milligrams)
	}
	return b
}

// lastUp is the newest meal that was eaten, if it came up.
func lastUp(t *knowledge.Tables, newestFirst []care.Entry) (care.Meal, bool) {
	kept := care.Kept(t, newestFirst)
	for _, e := range newestFirst {
		meal, is := e.Body.(care.Meal)
		switch {
		case !is || meal.Outcome == care.Refused:
		case len(kept) > 0 && kept[0].ID == e.ID:
			return care.Meal{}, false
		default:
			return eaten(newestFirst, meal), true
		}
	}
	return care.Meal{}, false
}

// eaten is the meal that a regurgitation brought up: the entry itself where it says
// what was offered, or else the meal before it.
func eaten(newestFirst []care.Entry, up care.Meal) care.Meal {
	if !up.Each.IsZero() {
		return up
	}
	for _, e := range newestFirst {
		if meal, is := e.Body.(care.Meal); is && meal.Outcome == care.Took {
			return meal
		}
	}
	return up
}
