package weight

import (
	"math"

	"coilward/model"
	"coilward/model/knowledge"
)

// Expected is what an animal weighs on a day of a fast: by the measured rate, and the
// least and the most by what its metabolism takes.
type Expected struct {
	Day                   model.Day
	Measured, Least, Most model.Mass
}

// Fast is a fast that goes on, as it is shown beside the weights.
type Fast struct {
	Meal model.Day // the last that was kept
	From model.Mass
	// Days run from the meal to the day on which it was asked; none where no weight tells
	// what the fast began with.
	Days []Expected
}

// expectedEvery is how many days lie between two points of the line of a fast. Source:
// assumed, so that it is drawn smooth.
const expectedEvery = 7

// FastOf is the fast on a day: from what it began with, what it is known to cost. Of young
// animals nothing is shown: what was measured is of others. Nor is anything of one that laid since the meal. Source: McCue 2007 as Line has
// it, without its margin.
func FastOf(t *knowledge.Tables, f Facts) (fast Fast, fasts bool) {
	if !f.Fasts(t) {
		return Fast{}, false
	}
	fast = Fast{Meal: f.Meal, From: f.begun(t)}
	if fast.From.Milligrams < grams(t, knowledge.ValueYoungMass) || f.brokeFast() {
		return fast, true
	}
	for day := f.Meal; ; day = min(day+expectedEvery, f.On) {
		starved := starving(t, int(day-f.Meal))
		least, most := band(t, float64(fast.From.Milligrams)/1000, starved)
		fast.Days = append(fast.Days, Expected{Day: day, Least: milligrams(least), Most: milligrams(most),
			Measured: milligrams(float64(fast.From.Milligrams) / 1000 * math.Exp(-Daily(t)*float64(starved)))})
		if day >= f.On {
			return fast, true
		}
	}
}

// begun is what the animal weighed when the fast began: the middle of the newest weights of
// the 30 days up to the meal, else what a loss is held against, else the newest weight
// before the meal; zero: none tells.
func (f Facts) begun(t *knowledge.Tables) model.Mass {
	list := f.compared()
	if newest := within(list, f.Meal-model.Day(t.Value(knowledge.ValueLosingLast)), f.Meal); len(newest) > 0 {
		return middle(newest[:min(lastOf, len(newest))]).Mass
	}
	if held := f.heldAgainst(t, list); len(held) > 0 {
		return middle(held).Mass
	}
	if before := within(list, f.Meal-model.Day(t.Value(knowledge.ValueLosingTo)), f.Meal); len(before) > 0 {
		return before[0].Mass
	}
	return model.Mass{}
}

func milligrams(grams float64) model.Mass {
	return model.Mass{Milligrams: int64(math.Round(grams * 1000))}
}
