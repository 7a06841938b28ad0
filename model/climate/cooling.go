package climate

import "math"

// Fall is a time in which a room, or an enclosure, was seen to cool down.
type Fall struct {
	Span
	First, Last int // hundredths of a degree Celsius
	// Outside is the mean out of doors meanwhile; Known says whether it was measured.
	Outside int
	Known   bool
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
	first, last, found := Reading{}, Reading{}, false
	for _, r := range Within(all, s) {
		if r.Temperature == NoTemperature {
			continue
		}
		if !found {
			first, found = r, true
		}
		last = r
	}
	f = Fall{Span: Span{first.At, last.At}, First: int(first.Temperature), Last: int(last.Temperature)}
	mean, n := Mean(Within(outside, s), Temperature)
	f.Outside, f.Known = mean, n > 0 && mean < f.Last
	return f, found && f.Seconds() >= ShortestFall && f.First-f.Last >= LeastFall
}

// perHour is by how much it fell in an hour, in hundredths of a degree.
func (f Fall) perHour() float64 {
	return float64(f.First-f.Last) * 3600 / float64(f.Seconds())
}

// rate is Newton's: the share of the distance to the outside that is lost in an hour,
// as an exponent.
func (f Fall) rate() float64 {
	return math.Log(float64(f.First-f.Outside)/float64(f.Last-f.Outside)) * 3600 / float64(f.Seconds())
}

// Cooling is how long a place stays above a temperature without heat.
type Cooling struct {
	Hours float64 // the fewest that its falls tell
	Falls int     // that it rests on
	// Curve says that the outside was measured in each fall and is known now: it is
	// Newton's curve. Else it falls as fast all the time as the fastest fall, which
	// is sooner than it will be.
	Curve bool
	// Never says that the outside is so warm that it does not come down to it.
	Never bool
}

// HoursUntil is how many hours without heat it takes from one temperature to another,
// in hundredths, by the falls that were logged; ok is false without any, or where it is
// as cold already. outside is what it is out of doors now. The fall that ends soonest
// counts: an animal is better brought away too early.
func HoursUntil(falls []Fall, from, to int, outside int, known bool) (c Cooling, ok bool) {
	if len(falls) == 0 || from <= to {
		return c, false
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
		hours := float64(from-to) / f.perHour()
		if c.Curve {
			hours = math.Log(float64(from-outside)/float64(to-outside)) / f.rate()
		}
		c.Hours = min(c.Hours, hours)
	}
	return c, true
}
