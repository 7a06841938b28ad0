package climate

import (
	"math"
	"slices"
)

// Fall is a time in which a room, or an enclosure, was seen to cool down.
type Fall struct {
	Span
	First, Last int // hundredths of a degree Celsius
	// Outside is the mean out of doors meanwhile; Known says whether it was measured.
	Outside int
	Known   bool
	// PerHour is by how much it fell in its steepest hour, in hundredths of a degree; a fall
	// that is shorter than an hour counts as a whole.
	PerHour float64
	// Rate is Newton's in the hour in which it was highest: the share of the distance to the
	// outside that is lost in an hour, as an exponent. 0 where the outside is not known.
	Rate float64
}

// The shortest fall that tells something, in seconds, and by how much it fell at the
// least, in hundredths of a degree (assumed).
const (
	ShortestFall = 30 * 60
	LeastFall    = 50
)

// FallWithin is the fall that sorted readings show within a time without heat; ok is
// false where it was too short, or the temperature did not fall.
func FallWithin(all []Reading, s Span, outside []Reading) (f Fall, ok bool) {
	fell := slices.DeleteFunc(slices.Clone(Within(all, s)), func(r Reading) bool { return r.Temperature == NoTemperature })
	if len(fell) == 0 {
		return f, false
	}
	first, last := fell[0], fell[len(fell)-1]
	f = Fall{Span: Span{first.At, last.At}, First: int(first.Temperature), Last: int(last.Temperature)}
	if f.Seconds() < ShortestFall || f.First-f.Last < LeastFall {
		return f, false
	}
	mean, n := Mean(Within(outside, s), Temperature)
	f.Outside, f.Known = mean, n > 0 && mean < f.Last
	steep := func(from, until Reading) { // an hour, or the whole fall
		high, low, seconds := float64(from.Temperature), float64(until.Temperature), float64(until.At-from.At)
		f.PerHour = max(f.PerHour, (high-low)*3600/seconds)
		if out := float64(f.Outside); f.Known && low > out && high > out {
			f.Rate = max(f.Rate, math.Log((high-out)/(low-out))*3600/seconds)
		}
	}
	steep(first, last)
	until := 0
	for _, from := range fell {
		for until < len(fell) && fell[until].At-from.At < 3600 {
			until++
		}
		if until == len(fell) {
			break
		}
		steep(from, fell[until])
	}
	return f, true
}

// Cooling is how long a place stays above a temperature without heat.
type Cooling struct {
	Hours float64 // the fewest that its falls tell, each by its steepest hour
	Falls int     // that it rests on
	// Curve says that the outside was measured in each fall and is known now: it is
	// Newton's curve. Else it falls all the time as in the steepest hour of all falls.
	Curve bool
	// Already says that it began as cold as that, so that there are no hours to tell.
	Already bool
	// Never says that the outside is so warm that it does not come down to it.
	Never bool
}

// HoursUntil is how many hours without heat it takes from one temperature to another,
// in hundredths, by the falls that were logged; ok is false without any. outside is what
// it is out of doors. The fall that ends soonest counts: an animal is better brought away too early.
func HoursUntil(falls []Fall, from, to int, outside int, known bool) (c Cooling, ok bool) {
	if len(falls) == 0 {
		return c, false
	}
	if from <= to {
		return Cooling{Falls: len(falls), Already: true}, true
	}
	c = Cooling{Hours: math.Inf(1), Falls: len(falls), Curve: known}
	for _, f := range falls {
		c.Curve = c.Curve && f.Known
	}
	if c.Curve && outside >= to {
		c.Never, c.Hours = true, 0
		return c, true
	}
	for _, f := range falls {
		hours := float64(from-to) / f.PerHour
		if c.Curve {
			hours = math.Log(float64(from-outside)/float64(to-outside)) / f.Rate
		}
		c.Hours = min(c.Hours, hours)
	}
	return c, true
}
