package weight

import (
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Reason is what a loss was judged by. Its text is "weight.reason." + String.
type Reason uint8

// The reasons.
const (
	NoLoss     Reason = iota
	FewWeights        // too few to compare: nothing is said
	Twice             // below the earlier weights at two weighings running
	Far               // far below them
	FarOfOne          // very far below the one weight before it, where those are too few
	AboveLine         // in a fast, more than one of that length is known to cost
	LongFast          // in a fast, below the weights before it
	FarFast           // in a fast, far below them
	YoungFalls        // of a young animal, falling from weighing to weighing
	YoungUnfed        // of a young animal that keeps no meal, lighter than at the last one
)

// String is the reason's frozen name.
func (r Reason) String() string {
	return [...]string{"no-loss", "few-weights", "twice", "far", "far-of-one", "above-line", "long-fast", "far-fast", "young-falls", "young-unfed"}[r]
}

// Loss is what the weights of an animal tell of a loss.
type Loss struct {
	Level  knowledge.Level // Nothing, LookAgain or VetWithinDays
	Reason Reason
	Last   Middle // of the newest weights
	// Held is what they are held against; of none where there are too few.
	Held  Middle
	Share int  // hundredths of a percent of Held that were lost; below zero: a gain
	Fast  bool // judged as the fast of an adult that began in good condition
	Line  int  // of a fast: the share that one of that length is known to cost at the most
}

// ForVet reports whether a vet should hear of it.
func (l Loss) ForVet() bool { return l.Level >= knowledge.VetWithinDays }

// HeldDay is the day of the newest weight that it is held against; 0: of none.
func (l Loss) HeldDay() model.Day {
	if len(l.Held.Of) == 0 {
		return 0
	}
	return l.Held.Of[0].Day
}

// Middle is the median of some weighings.
type Middle struct {
	Mass model.Mass
	Of   []Weighing // newest first
}

func middle(of []Weighing) Middle {
	if len(of) == 0 {
		return Middle{}
	}
	masses := make([]int64, len(of))
	for i, w := range of {
		masses[i] = w.Mass.Milligrams
	}
	slices.Sort(masses)
	half := len(masses) / 2
	if len(masses)%2 == 0 {
		return Middle{model.Mass{Milligrams: (masses[half-1] + masses[half]) / 2}, of}
	}
	return Middle{model.Mass{Milligrams: masses[half]}, of}
}

// lastOf is how many of the newest weights say what an animal weighs now. Source:
// assumed; the figures of package trial rest on it.
const lastOf = 3

// Judge is the one alarm of a loss of weight. The last is the median of the newest
// three weights of 30 days; it is held against the median of the weights of 30 to
// 180 days ago, three at least, in a fast of those before it.
//
// An adult in a fast that began in good condition: look again at 10 %, the vet at
// 15 %, and look again sooner where 5 % or more, at two weighings running, lies above
// the line. Everybody else: look again at over 5 % at two weighings running, the vet
// at 10 %; with too few weights to compare, the vet at 20 % below the one before. A
// young animal, under 300 g, beside that: the vet where two falls running lose 3 %, or
// where it has kept no meal for over twice its usual time and the middle of the newest
// two weighings lies below the one at that meal. Source: common practice, no source,
// but for the line; the figures of package trial.
func Judge(t *knowledge.Tables, f Facts) Loss {
	list := f.compared()
	l, last := f.lossAt(t, f.On, list)
	if !last {
		return l
	}
	if l.Last.Mass.Milligrams < grams(t, knowledge.ValueYoungMass) {
		if young := young(t, f, l, list); young.Level > knowledge.Nothing {
			return young
		}
	}
	if len(l.Held.Of) == 0 {
		return ofOne(t, l, list)
	}
	if l.Fast {
		return fasting(t, f, l, list)
	}
	switch losing := shareOf(t, knowledge.ValueLosing); {
	case l.Share >= shareOf(t, knowledge.ValueLosingVet):
		l.Level, l.Reason = knowledge.VetWithinDays, Far
	case l.Share > losing && f.weighingBefore(t, list).Share > losing:
		l.Level, l.Reason = knowledge.LookAgain, Twice
	}
	return l
}

// ofOne holds the newest weight against the one of the day before it, where there are
// too few for a median: of an animal that has just come there are no more.
func ofOne(t *knowledge.Tables, l Loss, list []Weighing) Loss {
	for _, w := range list {
		if age := int(list[0].Day - w.Day); age > 0 && age <= t.Value(knowledge.ValueLosingTo) {
			if one := l.against(list[:1], w); one.Share >= shareOf(t, knowledge.ValueLosingSingle) {
				one.Level, one.Reason = knowledge.VetWithinDays, FarOfOne
				return one
			}
			return l
		}
	}
	return l
}

// weighingBefore is the loss as it was at the weighing before the newest.
func (f Facts) weighingBefore(t *knowledge.Tables, list []Weighing) (l Loss) {
	if len(list) > 1 {
		l, _ = f.lossAt(t, list[1].Day, list[1:])
	}
	return l
}

// lossAt works the loss out, as of a day; last is false where no weight is new enough
// to tell of it.
func (f Facts) lossAt(t *knowledge.Tables, on model.Day, list []Weighing) (l Loss, last bool) {
	f = f.before(on)
	l = Loss{Level: knowledge.Nothing, Reason: FewWeights}
	newest := within(list, on-model.Day(t.Value(knowledge.ValueLosingLast)), on)
	if l.Last = middle(newest[:min(lastOf, len(newest))]); len(newest) == 0 {
		return l, false
	}
	held := f.heldAgainst(t, list)
	if len(held) < t.Value(knowledge.ValueLosingWeights) {
		return l, true
	}
	l.Held, l.Reason = middle(held), NoLoss
	l.Share = shareLost(l.Last.Mass, l.Held.Mass)
	if l.Fast = f.GoodBefore && f.Fasts(t) && l.Held.Mass.Milligrams > adult(t); l.Fast {
		l.Line = Line(t, int(list[0].Day-f.Meal))
	}
	return l, true
}

// heldAgainst are the weighings of 30 to 180 days ago. Where enough of before a fast
// are known, those of the fast itself are not among them: what it has cost so far does
// not lower what it is held against.
func (f Facts) heldAgainst(t *knowledge.Tables, list []Weighing) []Weighing {
	near, far := model.Day(t.Value(knowledge.ValueLosingFrom)), model.Day(t.Value(knowledge.ValueLosingTo))
	if f.Fasts(t) && f.Meal < f.On-near {
		if before := within(list, f.Meal+near-far, f.Meal); len(before) >= t.Value(knowledge.ValueLosingWeights) {
			return before
		}
	}
	return within(list, f.On-far, f.On-near)
}

// within are those from one day to another, both included, of a list that is newest
// first.
func within(list []Weighing, from, to model.Day) []Weighing {
	first := slices.IndexFunc(list, func(w Weighing) bool { return w.Day <= to })
	if first < 0 {
		return nil
	}
	list = list[first:]
	if older := slices.IndexFunc(list, func(w Weighing) bool { return w.Day < from }); older >= 0 {
		list = list[:older]
	}
	return list
}

func fasting(t *knowledge.Tables, f Facts, l Loss, list []Weighing) Loss {
	above := func(l Loss) bool { return l.Fast && l.Share >= shareOf(t, knowledge.ValueLosing) && l.Share > l.Line }
	switch {
	case l.Share >= shareOf(t, knowledge.ValueLosingFastVet):
		l.Level, l.Reason = knowledge.VetWithinDays, FarFast
	case l.Share >= shareOf(t, knowledge.ValueLosingFast):
		l.Level, l.Reason = knowledge.LookAgain, LongFast
	case above(l) && above(f.weighingBefore(t, list)):
		l.Level, l.Reason = knowledge.LookAgain, AboveLine
	}
	return l
}

// young judges a young animal. What it is held against is the first of the falling
// weights, or the one at its last meal.
func young(t *knowledge.Tables, f Facts, l Loss, list []Weighing) Loss {
	newest := within(list, f.On-model.Day(t.Value(knowledge.ValueYoungFalling)), f.On)
	if len(newest) > 2 {
		if fall := l.against(newest[:1], newest[2]); falls(newest) && fall.Share >= shareOf(t, knowledge.ValueYoungFall) {
			fall.Level, fall.Reason = knowledge.VetWithinDays, YoungFalls
			return fall
		}
	}
	if at := slices.IndexFunc(list, func(w Weighing) bool { return w.Day <= f.Meal }); f.unfed() && at > 1 {
		if fall := l.against(list[:2], list[at]); fall.Last.Mass.Milligrams < fall.Held.Mass.Milligrams {
			fall.Level, fall.Reason = knowledge.VetWithinDays, YoungUnfed
			return fall
		}
	}
	return l
}

// against is the loss of some weighings against a single earlier one.
func (l Loss) against(last []Weighing, one Weighing) Loss {
	l.Last, l.Held = middle(last), middle([]Weighing{one})
	l.Share = shareLost(l.Last.Mass, l.Held.Mass)
	return l
}

// falls reports whether the newest three fall.
func falls(newest []Weighing) bool {
	return newest[2].Mass.Milligrams > newest[1].Mass.Milligrams && newest[1].Mass.Milligrams > newest[0].Mass.Milligrams
}

// shareLost is in hundredths of a percent.
func shareLost(last, held model.Mass) int {
	return int((held.Milligrams - last.Milligrams) * 10_000 / max(1, held.Milligrams))
}

// adult is the mass, in milligrams, above which an animal is an adult: that of the
// heaviest class of the tables.
func adult(t *knowledge.Tables) int64 {
	classes := t.Rhythms()
	return classes[len(classes)-1].Lightest.Milligrams
}

// shareOf is a percentage of the tables, in hundredths of a percent.
func shareOf(t *knowledge.Tables, v knowledge.ValueID) int { return t.Value(v) * 100 }

// grams is a mass of the tables, in milligrams.
func grams(t *knowledge.Tables, v knowledge.ValueID) int64 {
	return model.Grams(int64(t.Value(v))).Milligrams
}
