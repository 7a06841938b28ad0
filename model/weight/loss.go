package weight

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Reason is what a loss was judged by. Its text is "weight.reason." + String.
type Reason uint8

// The reasons.
const (
	NoLoss     Reason = iota
	FewWeights        // too few to compare: it cannot be told
	Twice             // below the earlier weights at two weighings running
	Far               // far below them
	Sudden            // the newest weight alone lies far below them
	OfFew             // below the heaviest of the few weights before it
	FarOfFew          // far below it
	AboveLine         // in a fast, more than one of that length is known to cost
	LongFast          // in a fast, below the weights of its beginning
	FarFast           // in a fast, far below them
	YoungFalls        // of a young animal, falling from weighing to weighing
	YoungUnfed        // of a young animal that keeps no meal, lighter than at the last one
	Slow              // a little all the time, for months
)

// String is the reason's frozen name.
func (r Reason) String() string {
	return [...]string{"no-loss", "few-weights", "twice", "far", "sudden", "of-few", "far-of-few", "above-line", "long-fast", "far-fast", "young-falls", "young-unfed", "slow"}[r]
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
	// Doubtful is how many weights do not count, since their scale failed its check.
	Doubtful int
	Trend    Trend // of Slow alone
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
// 180 days before, three at least, in a fast against those of its beginning. An animal
// that was not weighed of late is judged by its newest weight, of 210 days at the most:
// an alarm is ended by a weight.
//
// Look again at over 5 % at two weighings running, or where the newest weight alone
// lies 20 % below; the vet at 10 %. An adult in a fast that began in good condition,
// while it has lost no more than the line: look again at 10 %, the vet at 15 %; above
// the line as everybody, but at 5 % sharp. With too few weights to compare, against the
// heaviest of 210 days: look again at 10 %, the vet at 20 %, of a young animal, under
// 300 g, at 10 %. A young one beside all that: the vet where two falls running lose
// 3 %, or where it has kept no meal for over twice its usual time and the middle of the
// newest two weighings lies below the one at that meal. Source: common practice, no
// source, but for the line; the figures of package trial.
//
// Where nothing else is said and the animal does not fast: look again where the trend of
// the weights falls so clearly that chance alone seldom does, and has cost 3 % or more.
func Judge(t *knowledge.Tables, f Facts) Loss {
	l := judge(t, f)
	if l.Level == knowledge.Nothing && len(l.Last.Of) > 0 && !f.Fasts(t) {
		l = slow(t, f, l)
	}
	l.Doubtful = f.doubted(t)
	return l
}

func judge(t *knowledge.Tables, f Facts) Loss {
	list := f.compared()
	if len(list) == 0 || int(f.On-list[0].Day) > t.Value(knowledge.ValueLosingFar) {
		return Loss{Level: knowledge.Nothing, Reason: FewWeights}
	}
	f.On = min(f.On, list[0].Day+model.Day(t.Value(knowledge.ValueLosingLast)))
	l := f.lossAt(t, f.On, list)
	isYoung := l.Last.Mass.Milligrams < grams(t, knowledge.ValueYoungMass)
	if isYoung {
		if fall := young(t, f, l, list); fall.Level > knowledge.Nothing {
			return fall
		}
	}
	switch {
	case len(l.Held.Of) == 0:
		return ofFew(t, l, list, isYoung)
	case l.Fast && l.Share <= l.Line:
		return inLine(t, l)
	}
	return f.beyond(t, l, list)
}

// slow holds the newest weights against the oldest of the trend, where that falls.
func slow(t *knowledge.Tables, f Facts, l Loss) Loss {
	c := courseOf(t, f)
	if !c.Known || c.order >= 0 || c.Chance*10_000 > float64(t.Value(knowledge.ValueSlowChance)) {
		return l
	}
	trend := c.trend()
	if trend.lost() < shareOf(t, knowledge.ValueSlowLost) {
		return l
	}
	fall := l.against(l.Last.Of, trend.Of[max(0, len(trend.Of)-lastOf):]...)
	if fall.Share <= 0 {
		return l
	}
	fall.Level, fall.Reason, fall.Trend = knowledge.LookAgain, Slow, trend
	return fall
}

// inLine judges a fast that has cost no more than one of its length is known to.
func inLine(t *knowledge.Tables, l Loss) Loss {
	switch {
	case l.Share >= shareOf(t, knowledge.ValueLosingFastVet):
		l.Level, l.Reason = knowledge.VetWithinDays, FarFast
	case l.Share >= shareOf(t, knowledge.ValueLosingFast):
		l.Level, l.Reason = knowledge.LookAgain, LongFast
	}
	return l
}

// beyond judges what no fast excuses.
func (f Facts) beyond(t *knowledge.Tables, l Loss, list []Weighing) Loss {
	alone := l.against(list[:1], l.Held.Of...)
	before := f.weighingBefore(t, list)
	losing := shareOf(t, knowledge.ValueLosing)
	switch {
	case l.Share >= shareOf(t, knowledge.ValueLosingVet):
		l.Level, l.Reason = knowledge.VetWithinDays, Far
	case l.Fast && l.Share >= losing && before.Fast && before.Share >= losing && before.Share > before.Line:
		l.Level, l.Reason = knowledge.LookAgain, AboveLine
	case !l.Fast && l.Share > losing && before.Share > losing:
		l.Level, l.Reason = knowledge.LookAgain, Twice
	case alone.Share >= shareOf(t, knowledge.ValueLosingSingle):
		alone.Level, alone.Reason = knowledge.LookAgain, Sudden
		return alone
	}
	return l
}

// ofFew holds the newest weight against the heaviest of those of earlier days, as far
// back as the tables say, where there are too few for a median.
func ofFew(t *knowledge.Tables, l Loss, list []Weighing, young bool) Loss {
	newest := list[0].Day
	before := within(list, newest-model.Day(t.Value(knowledge.ValueLosingFar)), newest-1)
	if len(before) == 0 {
		return l
	}
	heaviest := slices.MaxFunc(before, func(a, b Weighing) int { return cmp.Compare(a.Mass.Milligrams, b.Mass.Milligrams) })
	few := l.against(list[:1], heaviest)
	switch look := shareOf(t, knowledge.ValueLosingVet); {
	case few.Share >= shareOf(t, knowledge.ValueLosingSingle), young && few.Share >= look:
		few.Level, few.Reason = knowledge.VetWithinDays, FarOfFew
	case few.Share >= look:
		few.Level, few.Reason = knowledge.LookAgain, OfFew
	default:
		return l
	}
	return few
}

// weighingBefore is the loss as it was at the weighing before the newest.
func (f Facts) weighingBefore(t *knowledge.Tables, list []Weighing) Loss {
	if len(list) < 2 {
		return Loss{}
	}
	return f.lossAt(t, list[1].Day, list[1:])
}

// brokeFast is that the last break, such as a clutch, lies behind the last meal kept: what
// a fast costs then says nothing of the loss since, nor does the condition before it.
func (f Facts) brokeFast() bool { return f.Break > f.Meal }

// lossAt works the loss out, as of a day.
func (f Facts) lossAt(t *knowledge.Tables, on model.Day, list []Weighing) Loss {
	f = f.before(on)
	newest := within(list, on-model.Day(t.Value(knowledge.ValueLosingLast)), on)
	l := Loss{Level: knowledge.Nothing, Reason: FewWeights, Last: middle(newest[:min(lastOf, len(newest))])}
	held := f.heldAgainst(t, list)
	if len(held) == 0 {
		return l
	}
	l.Held, l.Reason = middle(held), NoLoss
	l.Share = shareLost(l.Last.Mass, l.Held.Mass)
	if l.Fast = f.GoodBefore && !f.brokeFast() && f.Fasts(t) && l.Held.Mass.Milligrams > adult(t); l.Fast {
		l.Line = Line(t, int(list[0].Day-f.Meal))
	}
	return l
}

// heldAgainst are the weighings of 30 to 180 days before, three at least; none where
// they are fewer. In a fast they are those up to the last meal kept, and where there is
// none the first three since that are not among the newest: what the fast has cost does
// not lower what it is held against.
func (f Facts) heldAgainst(t *knowledge.Tables, list []Weighing) []Weighing {
	near, far := model.Day(t.Value(knowledge.ValueLosingFrom)), model.Day(t.Value(knowledge.ValueLosingTo))
	if f.Fasts(t) {
		older := within(list, f.Meal+near-far, f.On-near)
		if before := within(older, f.Meal+near-far, f.Meal); len(before) > 0 {
			return before
		}
		return older[max(0, len(older)-lastOf):]
	}
	if held := within(list, f.On-far, f.On-near); len(held) >= t.Value(knowledge.ValueLosingWeights) {
		return held
	}
	return nil
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
	fed := func(w Weighing) bool {
		return w.Day <= f.Meal && w.Day >= f.Meal-model.Day(t.Value(knowledge.ValueLosingTo))
	}
	if at := slices.IndexFunc(list, fed); f.unfed() && at > 1 {
		// less than a hundredth of a percent is no loss
		if fall := l.against(list[:2], list[at]); fall.Share > 0 {
			fall.Level, fall.Reason = knowledge.VetWithinDays, YoungUnfed
			return fall
		}
	}
	return l
}

// against is the loss of some weighings against some earlier ones.
func (l Loss) against(last []Weighing, held ...Weighing) Loss {
	l.Last, l.Held = middle(last), middle(held)
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
