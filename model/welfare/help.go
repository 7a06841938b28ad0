package welfare

import (
	"fmt"
	"math"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/stats"
)

// Verdict is what can be said of a change that was tried. Values are frozen; the text is
// "welfare.verdict." + value.
type Verdict string

// The verdicts.
const (
	NotYet Verdict = "not-yet" // there are too few weeks with a visit after it
	// TooFewBefore: there are too few before it, which come no more, unless visits of then are noted yet.
	TooFewBefore Verdict = "too-few-before"
	Helped       Verdict = "helped" // so clear a difference in the better direction is seldom chance
	// BetterSince is as clear too, but other changes were tried in these weeks.
	BetterSince Verdict = "better-since"
	Freezes     Verdict = "freezes"   // it is as clear, but it freezes on more of the visits than before
	Worse       Verdict = "worse"     // and in the other
	NotShown    Verdict = "not-shown" // what was seen may well be chance
)

// Week is one week with a visit.
type Week struct {
	First  model.Day
	Visits int
	Mean   float64 // signs of a visit
}

// Help is what visits tell of a change.
type Help struct {
	Before, After []Week // oldest first: those that are compared
	// WantBefore and WantAfter are how many weeks with a visit are still missing.
	WantBefore, WantAfter int
	Verdict               Verdict
	// Difference is the mean of the weeks after less that of those before, in signs of a
	// visit; P the chance of one as large, on either side, if the change did nothing. Both
	// are zero where it is not to be told yet.
	Difference, P float64
	// Least is about how large a difference would have been seen eight times in ten with
	// these weeks; zero where nothing varied, or it is not to be told yet.
	Least float64
	// Others is how many other changes were tried within these weeks.
	Others int
}

// DidItHelp judges a change by the visits of its setting: each visit is one value, the
// number of signs that it is hoped to change; each week one mean; then all ways in which
// the weeks could have fallen on both sides of the change. At least as many weeks as the
// tables say, before and after, are needed, and at most so many of the nearest are taken.
// Days in a row are alike; a test holds how often nothing is then taken for help. Visits of
// later than today are left out. others are the days of the animal's other changes.
func DidItHelp(t *knowledge.Tables, c Change, since model.Day, visits []Visit, others []model.Day, today model.Day) (Help, error) {
	before, after := map[model.Day][]float64{}, map[model.Day][]float64{}
	frozen := map[model.Day]int{}
	for _, v := range In(c.Setting, visits) {
		day, value := v.At.Day(), float64(len(v.Unease))
		if c.Hoped == MoreEase {
			value = float64(len(v.Ease))
		}
		first := day - (day-since)%7
		switch {
		case day > today:
			continue
		case day >= since:
			after[first] = append(after[first], value)
		default:
			first = since - 7*((since-day+6)/7)
			before[first] = append(before[first], value)
		}
		if slices.Contains(v.Unease, knowledge.Freezing) {
			frozen[first]++
		}
	}
	least, most := t.Value(knowledge.ValueHelpWeeks), t.Value(knowledge.ValueHelpMost)
	h := Help{Before: weeks(before), After: weeks(after), Verdict: NotYet}
	h.Before = h.Before[max(0, len(h.Before)-most):]
	h.After = h.After[:min(most, len(h.After))]
	h.WantBefore, h.WantAfter = max(0, least-len(h.Before)), max(0, least-len(h.After))
	switch {
	case h.WantBefore > 0:
		h.Verdict = TooFewBefore
		return h, nil
	case h.WantAfter > 0:
		return h, nil
	}
	for _, other := range others {
		if other > h.Before[0].First && other < h.After[len(h.After)-1].First+7 {
			h.Others++
		}
	}
	was, is := means(h.Before), means(h.After)
	p, err := stats.Permute(was, is)
	if err != nil {
		return h, fmt.Errorf("compare %d weeks with %d: %w", len(was), len(is), err)
	}
	h.Difference, h.P, h.Verdict = p.Difference, p.P, NotShown
	h.Least = detectable(was, is, float64(t.Value(knowledge.ValueHelpAlike))/100)
	if seldom(t, p.P) {
		h.Verdict = Worse
		if p.Difference < 0 == (c.Hoped == LessUnease) {
			h.Verdict = Helped
			if h.Others > 0 {
				h.Verdict = BetterSince
			}
		}
		if h.Verdict != Worse && often(frozen, h.After) > often(frozen, h.Before) {
			h.Verdict = Freezes // fewer signs, for one that freezes shows no others: that is no calm
		}
	}
	return h, nil
}

// seldom is that a difference with this p comes by chance as seldom as the tables want.
func seldom(t *knowledge.Tables, p float64) bool {
	return p*1000 <= float64(t.Value(knowledge.ValueHelpChance))
}

// often is on which share of the visits of some weeks it was so.
func often(so map[model.Day]int, of []Week) float64 {
	n, visits := 0, 0
	for _, w := range of {
		n, visits = n+so[w.First], visits+w.Visits
	}
	return float64(n) / float64(visits)
}

func weeks(of map[model.Day][]float64) []Week {
	var all []Week
	for first, values := range of {
		sum := 0.0
		for _, v := range values {
			sum += v
		}
		all = append(all, Week{First: first, Visits: len(values), Mean: sum / float64(len(values))})
	}
	slices.SortFunc(all, func(a, b Week) int { return int(a.First - b.First) })
	return all
}

func means(of []Week) []float64 {
	all := make([]float64, len(of))
	for i, w := range of {
		all[i] = w.Mean
	}
	return all
}

// The bounds of the normal distribution for a chance of .05 on both sides, and for being
// found eight times in ten.
const twentieth, eightInTen = 1.959964, 0.841621

// detectable is about how large a difference of the means is found eight times in ten: by
// the normal approximation, where two days running are so much alike (0 to below 1).
func detectable(was, is []float64, alike float64) float64 {
	n, m := float64(len(was)), float64(len(is))
	variance := (squares(was) + squares(is)) / (n + m - 2)
	if variance < nothing {
		return 0
	}
	next := weekly(alike)
	spreads := (1+2*next*(n-1)/n)/n + (1+2*next*(m-1)/m)/m - 2*next/(n*m)
	return (twentieth + eightInTen) * math.Sqrt(variance*spreads)
}

// nothing is a variance that is none but for rounding.
const nothing = 1e-12

// squares is the sum of the squares of the differences from the mean.
func squares(of []float64) float64 {
	mean, sum := 0.0, 0.0
	for _, v := range of {
		mean += v / float64(len(of))
	}
	for _, v := range of {
		sum += (v - mean) * (v - mean)
	}
	return sum
}

// weekly is how alike the means of two weeks running are, where two days running are so
// much alike and days farther apart by its powers.
func weekly(alike float64) float64 {
	within, across := 0.0, 0.0
	for i := range 7 {
		for j := range 7 {
			within += math.Pow(alike, math.Abs(float64(i-j)))
			across += math.Pow(alike, float64(7+j-i))
		}
	}
	return across / within
}

// Factor is what signs of unease may go with. Values are frozen; the text is
// "welfare.factor." + value.
type Factor string

// The factors.
const (
	AfterHandling Factor = "handling"
	AfterFeeding  Factor = "feeding"
	BeforeShed    Factor = "shed"
	AfterMove     Factor = "move"
	AfterCleaning Factor = "cleaning"
)

// Factors are all of them, in the order in which they are offered.
func Factors() []Factor {
	return []Factor{AfterHandling, AfterFeeding, BeforeShed, AfterMove, AfterCleaning}
}

// Halves are the visits with a factor and those without.
type Halves struct {
	With, Without Tally
	Want          int // visits that one half or the other still lacks; 0: enough
	// P is the chance of so unlike shares of visits with unease, if they do not go with the
	// factor; zero where visits are wanting.
	P float64
	// Seldom is that P is as small as a change needs to be said to have helped.
	Seldom bool
}

// GoesWith parts visits by whether the factor was at one of the moments: on the visit's own day
// or, for what comes before a visit, on one of so many days before as the tables say; a shed
// comes after. What is known to have come later on the visit's day came not before it. Visits
// that by today may still turn out to be before a shed are left out. What goes together need
// not come of it.
func GoesWith(t *knowledge.Tables, f Factor, visits []Visit, moments []model.Moment, today model.Day) (Halves, error) {
	var h Halves
	reach := model.Day(t.Value(knowledge.ValueGoesDays))
	if f == BeforeShed {
		reach = model.Day(t.Value(knowledge.ValueBlueCycle))
	}
	for _, v := range visits {
		on := v.At.Day()
		// a shed may still follow: whether the visit was before one cannot be told yet
		open := f == BeforeShed && on > today-reach
		near := slices.ContainsFunc(moments, func(m model.Moment) bool {
			d := m.Day()
			if f == BeforeShed {
				return on <= d && d-on <= reach
			}
			later := v.At.Before(m) && v.At.Precision == model.ToMinute && m.Precision == model.ToMinute
			return d <= on && on-d <= reach && !later
		})
		switch {
		case near:
			h.With.add(v)
		case !open:
			h.Without.add(v)
		}
	}
	least := t.Value(knowledge.ValueGoesVisits)
	h.Want = max(0, least-h.With.Visits, least-h.Without.Visits)
	if h.Want > 0 {
		return h, nil
	}
	exact, err := stats.Fisher(stats.Fourfold{FirstYes: h.With.Unease, FirstNo: h.With.Visits - h.With.Unease,
		SecondYes: h.Without.Unease, SecondNo: h.Without.Visits - h.Without.Unease})
	if err != nil {
		return h, fmt.Errorf("compare %d visits with %d: %w", h.With.Visits, h.Without.Visits, err)
	}
	h.P, h.Seldom = exact.P, seldom(t, exact.P)
	return h, nil
}
