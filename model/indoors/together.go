package indoors

import (
	"cmp"
	"math"
	"slices"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/climate"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/stats"
)

// Pair is what is held against what. The text is "climate.together." + value.
type Pair string

// The pairs.
const (
	Sheds    Pair = "sheds"    // sheds in pieces or with old skin left, against the humidity before
	Refusals Pair = "refusals" // meals refused, against the temperature of the day before
)

// Together is whether something goes together. It says nothing of what causes what.
type Together struct {
	Pair Pair
	Zone climate.Zone // whose readings are compared
	// Bad and Good are the means before each, in hundredths, of the newest; Left is how many
	// there are that have too few readings before them, or of which it is not known how they
	// were, and Older how many are left out because the exact test takes no more.
	Bad, Good   []int
	Left, Older int
	// Least is the smallest p that so many can give; P is that of the exact test of Mann
	// and Whitney. Without Told it cannot be told yet.
	Least, P float64
	Told     bool
}

// Chance is the p at most from which on two things are said to go together (common
// practice, no source).
const Chance = .05

// Apart reports whether the two groups differ by more than chance would.
func (t Together) Apart() bool { return t.Told && t.P <= Chance }

// event is something that went well or not.
type event struct {
	at  int64
	bad bool
}

// GoTogether holds the sheds and the meals of an animal against the readings of where it
// lived. Readings since an instrument's last good check before a failed one, and those of
// a stuck sensor, are left out. newest is the animal's entries, in any order.
func GoTogether(v model.View, t *knowledge.Tables, animal model.AnimalID, entries []care.Entry) ([]Together, error) {
	h, err := husbandry.ReadHouseOf(v, animal)
	if err != nil {
		return nil, err
	}
	var sheds, meals []event
	unknown := map[Pair]int{}
	for _, e := range entries {
		switch b := e.Body.(type) {
		case care.Shed:
			switch bad := b.Skin == care.InPieces || b.StuckEyeCaps == care.Yes || b.StuckTailTip == care.Yes; {
			case bad || b.Skin == care.Whole:
				sheds = append(sheds, event{e.At.UTC, bad})
			default:
				unknown[Sheds]++
			}
		case care.Meal:
			switch b.Outcome {
			case care.Refused, care.Took:
				meals = append(meals, event{e.At.UTC, b.Outcome == care.Refused})
			default: // it ate, but brought it up: neither the one nor the other
				unknown[Refusals]++
			}
		}
	}
	r := newBefore(v, t)
	r.house, r.animal = h, animal
	first, err := r.pair(Sheds, sheds, climate.Humidity, int64(t.Value(knowledge.ValueShedHumidity))*86400)
	if err != nil {
		return nil, err
	}
	second, err := r.pair(Refusals, meals, climate.Temperature, 86400)
	first.Left += unknown[Sheds]
	second.Left += unknown[Refusals]
	return []Together{first, second}, err
}

// before reads what was before an event where an animal lived.
type before struct {
	view   model.View
	tables *knowledge.Tables
	house  *husbandry.House
	animal model.AnimalID
	spoilt map[model.InstrumentID][]climate.Span // when an instrument's readings are doubtful
}

func newBefore(v model.View, t *knowledge.Tables) *before {
	return &before{view: v, tables: t, spoilt: map[model.InstrumentID][]climate.Span{}}
}

// pair compares, in the zone that has readings before the most events.
func (b *before) pair(p Pair, events []event, m climate.Measure, seconds int64) (Together, error) {
	slices.SortStableFunc(events, func(a, b event) int { return cmp.Compare(b.at, a.at) }) // the newest first
	means := map[climate.Zone]map[int]int{}
	for i, e := range events {
		by, err := b.means(climate.Span{From: e.at - seconds, Until: e.at}, m)
		if err != nil {
			return Together{}, err
		}
		for zone, mean := range by {
			if means[zone] == nil {
				means[zone] = map[int]int{}
			}
			means[zone][i] = mean
		}
	}
	best := Together{Pair: p, Left: len(events)}
	for _, zone := range climate.Zones() {
		one := Together{Pair: p, Zone: zone, Left: len(events) - len(means[zone])}
		for i, e := range events {
			mean, known := means[zone][i]
			switch {
			case !known:
			case len(one.Bad)+len(one.Good) == stats.RanksUpTo:
				one.Older++
			case e.bad:
				one.Bad = append(one.Bad, mean)
			default:
				one.Good = append(one.Good, mean)
			}
		}
		if zone.Inside() && one.Left < best.Left {
			best = one
		}
	}
	return best.judged()
}

// judged tells whether they differ. Of 1 against 9 no order of the values is rarer than 2
// in 10, so that nothing can be told of them.
func (t Together) judged() (Together, error) {
	t.Least = 1
	if len(t.Bad) == 0 || len(t.Good) == 0 {
		return t, nil
	}
	t.Least = min(1, 2/ways(len(t.Bad)+len(t.Good), len(t.Bad)))
	if t.Least > Chance {
		return t, nil
	}
	found, err := stats.MannWhitney(numbers(t.Bad), numbers(t.Good))
	if err != nil {
		return t, err
	}
	t.P, t.Told = found.P, found.Exact
	return t, nil
}

// ways is in how many ways so many of n can be chosen.
func ways(n, of int) float64 {
	all := 1.0
	for i := range of {
		all = all * float64(n-i) / float64(i+1)
	}
	return math.Round(all)
}

func numbers(all []int) (floats []float64) {
	for _, n := range all {
		floats = append(floats, float64(n))
	}
	return floats
}

// means are the means of a measure by zone where the animal lived in a time; those that
// cover less than half of it are left out.
func (b *before) means(s climate.Span, m climate.Measure) (map[climate.Zone]int, error) {
	rules := climate.RulesOf(b.tables)
	type sum struct{ weighed, seconds int64 }
	sums := map[climate.Zone]*sum{}
	for _, stay := range b.house.Stays(b.animal) {
		lived := climate.Span{From: max(s.From, stay.From.UTC), Until: s.Until}
		if !stay.Until.IsZero() {
			lived.Until = min(lived.Until, stay.Until.UTC)
		}
		if lived.From >= lived.Until {
			continue
		}
		all, _, err := climate.InPlace(b.view, stay.Place, lived)
		if err != nil {
			return nil, err
		}
		for i, one := range all {
			if all[i].Readings, err = b.good(one, m); err != nil {
				return nil, err
			}
		}
		taken := rules.Taken(all, m)
		for i, one := range all {
			rules.Spans(one.Readings, taken[i], func(r climate.Reading, seconds int64) {
				value, ok := r.Value(m)
				if !ok {
					return
				}
				if sums[one.Zone] == nil {
					sums[one.Zone] = &sum{}
				}
				sums[one.Zone].weighed += int64(value) * seconds
				sums[one.Zone].seconds += seconds
			})
		}
	}
	means := map[climate.Zone]int{}
	for zone, of := range sums {
		if of.seconds*2 >= s.Seconds() {
			means[zone] = int(of.weighed / of.seconds)
		}
	}
	return means, nil
}

// good are the readings that are neither doubtful nor of a sensor that is stuck in a measure.
func (b *before) good(s climate.Series, m climate.Measure) ([]climate.Reading, error) {
	stuck := climate.RulesOf(b.tables).Faults(s.Readings).Still(m)
	all, err := b.sound(s)
	return slices.DeleteFunc(all, func(r climate.Reading) bool {
		return slices.ContainsFunc(stuck, func(s climate.Span) bool { return r.At >= s.From && r.At <= s.Until })
	}), err
}

// sound are the readings that are not doubtful.
func (b *before) sound(s climate.Series) ([]climate.Reading, error) {
	spans, known := b.spoilt[s.With]
	if !known && !s.With.IsZero() {
		checks, err := husbandry.Checks(b.view, s.With)
		if err != nil {
			return nil, err
		}
		for _, d := range husbandry.Doubtful(checks) {
			one := climate.Span{From: model.Beginning, Until: model.EndOfTime}
			if !d.From.IsZero() {
				one.From = d.From.UTC + 1
			}
			if !d.To.IsZero() {
				one.Until = d.To.UTC
			}
			spans = append(spans, one)
		}
		b.spoilt[s.With] = spans
	}
	return slices.DeleteFunc(slices.Clone(s.Readings), func(r climate.Reading) bool {
		return slices.ContainsFunc(spans, func(s climate.Span) bool { return r.At >= s.From && r.At < s.Until })
	}), nil
}
