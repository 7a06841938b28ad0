package climate

import (
	"slices"

	"coilward/model/knowledge"
)

// Rules are the numbers that the readings of a sensor are judged by; the table has
// them with their sources.
type Rules struct {
	GapHundredths int   // a gap is more than so many hundredths of the sensor's own median step
	FlatSeconds   int64 // a sensor that shows the same for so long is stuck
	JumpBy        int   // hundredths of a degree; by more than this ...
	JumpWithin    int64 // ... within so many seconds a sensor does not move
}

// RulesOf are the table's.
func RulesOf(t *knowledge.Tables) Rules {
	return Rules{GapHundredths: t.Value(knowledge.ValueClimateGap), FlatSeconds: int64(t.Value(knowledge.ValueSensorFlat)) * 3600,
		JumpBy: t.Value(knowledge.ValueSensorJump), JumpWithin: int64(t.Value(knowledge.ValueSensorJumpIn))}
}

// Span is a time from one second to before another.
type Span struct{ From, Until int64 }

// Seconds is how long it is.
func (s Span) Seconds() int64 { return s.Until - s.From }

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

// Gaps are the times in which sorted readings are missing.
func (r Rules) Gaps(all []Reading) (gaps []Span) {
	median := MedianStep(all)
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
	Jumps []int64 // the seconds to which it moved farther than air does
}

// None reports whether there is nothing of it.
func (f Faults) None() bool { return len(f.Stuck) == 0 && len(f.Jumps) == 0 }

// Faults looks for a sensor that is stuck, or that jumps. One that measures both is
// stuck where neither moves. Readings over a gap are not compared.
func (r Rules) Faults(all []Reading) (f Faults) {
	median := MedianStep(all)
	from := 0
	end := func(i int) { // the readings from from to before i show the same
		if i > from && all[i-1].At-all[from].At >= r.FlatSeconds {
			f.Stuck = append(f.Stuck, Span{all[from].At, all[i-1].At})
		}
		from = i
	}
	for i := 1; i < len(all); i++ {
		before, now := all[i-1], all[i]
		step := now.At - before.At
		if before.Temperature != now.Temperature || before.Humidity != now.Humidity || r.isGap(step, median) {
			end(i)
		}
		if before.Temperature != NoTemperature && now.Temperature != NoTemperature && step <= r.JumpWithin && abs(int(now.Temperature)-int(before.Temperature)) > r.JumpBy {
			f.Jumps = append(f.Jumps, now.At)
		}
	}
	end(len(all))
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

// Percent is the share of a band, rounded; 0 where nothing was judged.
func (s Share) Percent(b Band) int {
	if all := s.Total(); all > 0 {
		return int((s[b]*100 + all/2) / all)
	}
	return 0
}

// Spans visits sorted readings with the seconds that each stands for: to the next one,
// but over a gap, and at the end, for one median step. A reading alone stands for none.
func (r Rules) Spans(all []Reading, visit func(Reading, int64)) {
	median := MedianStep(all)
	for i, reading := range all {
		seconds := median
		if i+1 < len(all) && !r.isGap(all[i+1].At-reading.At, median) {
			seconds = all[i+1].At - reading.At
		}
		visit(reading, seconds)
	}
}

// Shares is how long the values of sorted readings were in each band, by day and by
// night; a reading counts where it begins. target gives the target by day or night; ok
// is false where there is none. left are seconds without a target.
func (r Rules) Shares(all []Reading, m Measure, light Light, clock Clock, target func(day bool) (Target, bool)) (day, night Share, left int64) {
	var targets [2]Target
	var known [2]bool
	for i := range targets {
		targets[i], known[i] = target(i == 1)
	}
	r.Spans(all, func(reading Reading, seconds int64) {
		value, ok := reading.Value(m)
		if !ok {
			return
		}
		i, to := 0, &night
		if light.Day(clock(reading.At)) {
			i, to = 1, &day
		}
		if !known[i] {
			left += seconds
			return
		}
		to[targets[i].Band(value)] += seconds
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
