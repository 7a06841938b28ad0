package round

import (
	"slices"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/powercut"
)

// Against is what speaks against food for an animal today, as far as the records
// know.
type Against struct {
	// ForVet: something stands that is a matter for the vet, or it was chilled; the vet is
	// asked first.
	ForVet bool
	// BroughtUp is the day on which prey was brought up, and From the first on which
	// food is offered again; both 0 where the wait is over, or there is none.
	BroughtUp, From model.Day
	// PowerCut: one has ended so lately that food waits until all has been as warm as usual
	// for a day, and nothing is to be asked of the vet first.
	PowerCut bool
}

// AgainstFood tells what speaks against food for an animal of a class; its meals
// are newest first. Source of the wait: common practice, no source.
func (own Own) AgainstFood(t *knowledge.Tables, c Class, meals []care.Entry, today model.Day) Against {
	a := Against{ForVet: c == Ill || len(powercut.Chilling(t, own.cuts, today)) > 0}
	a.PowerCut = !a.ForVet && powercut.FoodWaits(own.cuts, today)
	if from, on, broughtUp := care.OfferAfterBroughtUp(t, meals); broughtUp && from > today {
		a.BroughtUp, a.From = on, from
	}
	return a
}

// NeverOffered reports whether no offer of food is known of an animal with these
// meals: when it is due is not known then, and it is offered food.
func NeverOffered(meals []care.Entry) bool {
	return !slices.ContainsFunc(meals, func(e care.Entry) bool { _, offered := e.Body.(care.Meal); return offered })
}

// OfferedFirst reports whether an animal of a class is offered food before those that
// stand before it: it was never offered any, and carries nothing to them that is known.
func OfferedFirst(c Class, meals []care.Entry) bool { return c <= LookAgain && NeverOffered(meals) }

// UsualMeal is the prey that most of some animals were offered last, of equally
// many the newest; the meals of each are newest first. ok is false where it was
// never said what was offered.
func UsualMeal(meals [][]care.Entry) (m care.Meal, ok bool) {
	count := map[care.Prey]int{}
	var last []care.Entry // of each animal that was said what it was
	for _, of := range meals {
		for _, e := range of {
			if m, is := e.Body.(care.Meal); is && m.Prey != "" {
				count[m.Prey]++
				last = append(last, e)
				break
			}
		}
	}
	var best care.Entry
	for _, e := range last {
		more := count[e.Body.(care.Meal).Prey] - count[preyOf(best)]
		if best.Body == nil || more > 0 || more == 0 && best.At.Before(e.At) {
			best = e
		}
	}
	if best.Body == nil {
		return m, false
	}
	m = best.Body.(care.Meal)
	return care.Meal{Prey: m.Prey, Size: m.Size, Each: m.Each, Count: m.Count, State: m.State}, true
}

func preyOf(e care.Entry) care.Prey {
	m, _ := e.Body.(care.Meal)
	return m.Prey
}
