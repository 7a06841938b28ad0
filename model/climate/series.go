package climate

import (
	"cmp"
	"math"
	"slices"

	"coilward/model/knowledge"
)

// Rules are the numbers that the readings of a sensor are judged by; the table has
// them with their sources.
type Rules struct {
	GapHundredths int   // a gap is more than so many hundredths of the sensor's own median step
	Stands        int64 // a reading stands for no more seconds than these
	FlatSeconds   int64 // a sensor that shows the same for so long is stuck
	DampBy        int   // hundredths of a degree; a humidity that stays while the temperature moves by so much is stuck
	JumpBy        int   // hundredths of a degree; by more than this ...
	JumpWithin    int64 // ... within so many seconds a sensor does not move
}

// RulesOf are the table's.
func RulesOf(t *knowledge.Tables) Rules {
	return Rules{GapHundredths: t.Value(knowledge.ValueClimateGap), Stands: int64(t.Value(knowledge.ValueStands)) * 60, FlatSeconds: int64(t.Value(knowledge.ValueSensorFlat)) * 3600,
		DampBy: t.Value(knowledge.ValueSensorDamp), JumpBy: t.Value(knowledge.ValueSensorJump), JumpWithin: int64(t.Value(knowledge.ValueSensorJumpIn))}
}

// Span is a time from one second to before another.
type Span struct{ From, Until int64 }

// Seconds is how long it is.
func (s Span) Seconds() int64 { return s.Until - s.From }

// Minutes is the span from the minute that begins at from to the end of the one that begins
// at until. Where one of them is the minute of its own first or last second it is as exact as
// before.
func (s Span) Minutes(from, until int64) Span {
	begin := func(at int64) int64 { return at - at%60 }
	if from == begin(s.From) {
		from = s.From
	}
	if until == begin(s.Until-1) {
		return Span{from, s.Until}
	}
	return Span{from, until + 60}
}

// MedianStep is the median of the seconds between sorted readings, the lower of two; 0
// for fewer than two.
func MedianStep(all []Reading) int64 {
	if len(all) < 2 {
		return 0
	}
	steps := make([]int64, len(all)-1)
	for i := range steps {
		steps[i] = all[i+1].At - all[i].At
	}
	slices.Sort(steps)
	return steps[(len(steps)-1)/2]
}

// isGap reports whether a step is one, of a sensor with that median step.
func (r Rules) isGap(step, median int64) bool { return step*100 > int64(r.GapHundredths)*median }

// Single reports whether readings with that median step lie so far apart that each
// tells of its own time alone, as those that are taken by hand.
func (r Rules) Single(median int64) bool { return median > r.Stands }

// Gaps are the times in which sorted readings are missing; single ones have none.
func (r Rules) Gaps(all []Reading) (gaps []Span) {
	median := MedianStep(all)
	if r.Single(median) {
		return nil
	}
	for i := 1; i < len(all); i++ {
		if r.isGap(all[i].At-all[i-1].At, median) {
			gaps = append(gaps, Span{all[i-1].At, all[i].At})
		}
	}
	return gaps
}

// Faults are what the readings of a sensor say of the sensor itself.
type Faults struct {
	Stuck []Span  // it showed the same all the time, by what it measures
	Damp  []Span  // its humidity did, while its temperature moved
	Jumps []int64 // the seconds to which it moved farther than air does
}

// None reports whether there is nothing of it.
func (f Faults) None() bool { return len(f.Stuck)+len(f.Damp)+len(f.Jumps) == 0 }

// Still are the times in which a measure of the sensor tells nothing, because it is stuck.
func (f Faults) Still(m Measure) []Span {
	if m == Humidity {
		return slices.Concat(f.Stuck, f.Damp)
	}
	return f.Stuck
}

// Faults looks for a sensor that is stuck, or that jumps. One that measures both is
// stuck where neither moves, and where the humidity does not though the temperature does:
// the relative humidity of the same air changes with its warmth. Readings over a gap, and
// single ones, are not compared.
func (r Rules) Faults(all []Reading) (f Faults) {
	median := MedianStep(all)
	from, damp := 0, 0
	low, high := 0, 0                // the temperatures since damp
	end := func(i int, moved bool) { // the readings from from to before i show the same
		if i > from && all[i-1].At-all[from].At >= r.FlatSeconds {
			f.Stuck = append(f.Stuck, Span{all[from].At, all[i-1].At})
		}
		if i > damp && moved && high-low >= r.DampBy && all[damp].Humidity != NoHumidity && all[i-1].At-all[damp].At >= r.FlatSeconds {
			f.Damp = append(f.Damp, Span{all[damp].At, all[i-1].At})
		}
		from = i
		if moved {
			damp, low, high = i, math.MaxInt16, math.MinInt16
		}
	}
	end(0, true)
	for i, now := range all {
		if i > 0 {
			before := all[i-1]
			step := now.At - before.At
			apart := r.isGap(step, median) || step > r.Stands
			if moved := before.Humidity != now.Humidity || apart; moved || before.Temperature != now.Temperature {
				end(i, moved)
			}
			if before.Temperature != NoTemperature && now.Temperature != NoTemperature && step <= r.JumpWithin && abs(int(now.Temperature)-int(before.Temperature)) > r.JumpBy {
				f.Jumps = append(f.Jumps, now.At)
			}
		}
		if now.Temperature != NoTemperature {
			low, high = min(low, int(now.Temperature)), max(high, int(now.Temperature))
		}
	}
	end(len(all), true)
	return f
}

func abs(n int) int { return max(n, -n) }

// Clock tells the minute of the local day of a second.
type Clock func(at int64) int

// Share is how long a zone was in each band, in seconds.
type Share [bands]int64

// Total is all the time that was judged.
func (s Share) Total() (all int64) {
	for _, t := range s {
		all += t
	}
	return all
}

// Percents are the shares of the bands in whole percent, which come to 100 together: what
// rounding down leaves goes to those with the largest remainders, of equal ones to the
// lower band. Nothing was judged: all 0.
func (s Share) Percents() (percent [bands]int) {
	all := s.Total()
	if all == 0 {
		return percent
	}
	left := 100
	for b := range s {
		percent[b] = int(s[b] * 100 / all)
		left -= percent[b]
	}
	for given := [bands]bool{}; left > 0; left-- {
		most := -1
		for b := range s {
			if !given[b] && (most < 0 || s[b]*100%all > s[most]*100%all) {
				most = b
			}
		}
		given[most] = true
		percent[most]++
	}
	return percent
}

// Percent is the share of one band among them.
func (s Share) Percent(b Band) int { return s.Percents()[b] }

// Spans visits sorted readings with the seconds that each stands for: to the next one,
// but over a gap, and at the end, for one median step, and never for longer than the
// rules say. A reading alone stands for none. Of the time in taken, which others stand
// for already, none is counted; its spans are in order and apart.
func (r Rules) Spans(all []Reading, taken []Span, visit func(Reading, int64)) {
	median := MedianStep(all)
	for i, reading := range all {
		seconds := median
		if i+1 < len(all) && !r.isGap(all[i+1].At-reading.At, median) {
			seconds = all[i+1].At - reading.At
		}
		s := Span{reading.At, reading.At + min(seconds, r.Stands)}
		visit(reading, s.Seconds()-s.within(taken))
	}
}

// within is how many of its seconds lie in spans that are in order and apart.
func (s Span) within(all []Span) (seconds int64) {
	i, _ := slices.BinarySearchFunc(all, s.From, func(o Span, at int64) int { return cmp.Compare(o.Until, at+1) })
	for ; i < len(all) && all[i].From < s.Until; i++ {
		seconds += min(s.Until, all[i].Until) - max(s.From, all[i].From)
	}
	return seconds
}

// Cover adds to spans, which are in order and apart, the time for which sorted readings
// that have a measure stand.
func (r Rules) Cover(taken []Span, all []Reading, m Measure) []Span {
	covered := slices.Clone(taken)
	r.Spans(all, nil, func(reading Reading, seconds int64) {
		if _, ok := reading.Value(m); ok && seconds > 0 {
			covered = append(covered, Span{reading.At, reading.At + seconds})
		}
	})
	slices.SortFunc(covered, func(a, b Span) int { return cmp.Compare(a.From, b.From) })
	apart := covered[:0]
	for _, s := range covered {
		if n := len(apart); n > 0 && s.From <= apart[n-1].Until {
			apart[n-1].Until = max(apart[n-1].Until, s.Until)
		} else {
			apart = append(apart, s)
		}
	}
	return apart
}

// Taken is, for each of some series, the time for which others of its zone stand that read
// more often, so that no time is counted twice: a reading by hand beside a sensor adds
// nothing.
func (r Rules) Taken(series []Series, m Measure) [][]Span {
	order := make([]int, len(series))
	for i := range order {
		order[i] = i
	}
	step := func(i int) int64 { // one alone is the least often
		if step := MedianStep(series[i].Readings); step > 0 {
			return step
		}
		return math.MaxInt64
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(step(a), step(b)) })
	taken := make([][]Span, len(series))
	for place, i := range order {
		for _, other := range order[:place] {
			if series[other].Zone == series[i].Zone && series[other].Place == series[i].Place {
				taken[i] = r.Cover(taken[i], series[other].Readings, m)
			}
		}
	}
	return taken
}

// Aim gives the target of a second, by day or by night; ok is false where there is none.
type Aim func(at int64, day bool) (target Target, ok bool)

// Shares is how long the values of sorted readings were in each band, by day and by
// night, without the time in taken; a reading counts where it begins. left are seconds
// without a target.
func (r Rules) Shares(all []Reading, m Measure, taken []Span, light Light, clock Clock, aim Aim) (day, night Share, left int64) {
	r.Spans(all, taken, func(reading Reading, seconds int64) {
		value, ok := reading.Value(m)
		if !ok {
			return
		}
		bright, to := light.Day(clock(reading.At)), &night
		if bright {
			to = &day
		}
		target, known := aim(reading.At, bright)
		if !known {
			left += seconds
			return
		}
		to[target.Band(value)] += seconds
	})
	return day, night, left
}

// Bucket is what the values of a span of time were, in hundredths.
type Bucket struct {
	From           int64 // its first second
	N              int
	Min, Max, Mean int // Mean is of the readings, rounded
}

// Buckets are the values of sorted readings in buckets of so many seconds, counted from
// a second; empty ones are left out.
func Buckets(all []Reading, m Measure, from, seconds int64) (buckets []Bucket) {
	sum := 0
	end := func() {
		if n := len(buckets); n > 0 {
			b := &buckets[n-1]
			b.Mean = rounded(sum, b.N)
		}
		sum = 0
	}
	for _, r := range all {
		value, ok := r.Value(m)
		if !ok {
			continue
		}
		at := from + floorDiv(r.At-from, seconds)*seconds
		if n := len(buckets); n == 0 || buckets[n-1].From != at {
			end()
			buckets = append(buckets, Bucket{From: at, Min: value, Max: value})
		}
		b := &buckets[len(buckets)-1]
		b.N++
		b.Min, b.Max = min(b.Min, value), max(b.Max, value)
		sum += value
	}
	end()
	return buckets
}

// rounded is a share rounded half away from zero.
func rounded(sum, n int) int {
	if sum < 0 {
		return -((-sum + n/2) / n)
	}
	return (sum + n/2) / n
}

// Mean is the mean of the values of readings in hundredths; n is of how many.
func Mean(all []Reading, m Measure) (mean, n int) {
	sum := 0
	for _, r := range all {
		if value, ok := r.Value(m); ok {
			sum += value
			n++
		}
	}
	if n == 0 {
		return 0, 0
	}
	return rounded(sum, n), n
}

// Within are the sorted readings of a span; they share their memory with all.
func Within(all []Reading, s Span) []Reading {
	at := func(second int64) int {
		i, _ := slices.BinarySearchFunc(all, second, func(r Reading, s int64) int { return int(max(-1, min(1, r.At-s))) })
		return i
	}
	if s.Until <= s.From {
		return nil
	}
	return all[at(s.From):at(s.Until)]
}
