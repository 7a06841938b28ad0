package climate

import "coilward/model/knowledge"

// Limits are what no spot that an animal can reach may be like, whatever its species; the
// table has them with their sources.
type Limits struct {
	Surface     int   // hundredths of a degree; a hotter surface burns
	Air         int   // hundredths of a degree; the air is no hotter
	Cold        int   // hundredths of a degree; it is not colder ...
	LongestCold int64 // ... for more than so many seconds
}

// LimitsOf are the table's.
func LimitsOf(t *knowledge.Tables) Limits {
	return Limits{Surface: t.Value(knowledge.ValueSurfaceHottest), Air: t.Value(knowledge.ValueAirHottest), Cold: t.Value(knowledge.ValueCoolingTo), LongestCold: int64(t.Value(knowledge.ValueColdLongest)) * 3600}
}

// Hottest is the limit of a zone.
func (l Limits) Hottest(z Zone) int {
	if z == Basking {
		return l.Surface
	}
	return l.Air
}

// Harm is what may hurt an animal.
type Harm struct {
	Hot     bool
	HotAt   int64 // the second of the hottest reading above the limit, and what it was
	Hottest int
	Cold    Span // the longest time below the limit; empty: none that was too long
	Coldest int  // in it
	// Unclear says that it was below the limit, and it is not known for how long: at a single
	// reading, beside a gap, or at an end of the readings. The coldest of such readings was
	// UnclearLeast, at UnclearAt.
	Unclear      bool
	UnclearAt    int64
	UnclearLeast int
}

// None reports whether there is nothing of it.
func (h Harm) None() bool { return !h.Hot && h.Cold.Seconds() == 0 && !h.Unclear }

// Harm looks for what may hurt in the sorted readings of a zone; where no animal can be
// there is none. Over a gap, and over single readings, it is not known how cold it was.
func (r Rules) Harm(l Limits, z Zone, all []Reading) (h Harm) {
	if !z.Inside() {
		return h
	}
	median := MedianStep(all)
	var cold Span
	var least, leastAt = 0, int64(0)
	open := true               // it is not known what was before cold
	end := func(closed bool) { // closed: what came after cold is known
		switch long := cold.Seconds() > l.LongestCold; {
		case cold == (Span{}):
		case long && cold.Seconds() > h.Cold.Seconds():
			h.Cold, h.Coldest = cold, least
		case !long && (open || !closed) && (!h.Unclear || least < h.UnclearLeast):
			h.Unclear, h.UnclearAt, h.UnclearLeast = true, leastAt, least
		}
		cold, open = Span{}, !closed
	}
	var before Reading
	for i, now := range all {
		if i > 0 && (r.isGap(now.At-before.At, median) || now.At-before.At > r.Stands) {
			end(false)
		}
		before = now
		value, ok := now.Value(Temperature)
		if !ok {
			continue
		}
		if value > l.Hottest(z) && (!h.Hot || value > h.Hottest) {
			h.Hot, h.HotAt, h.Hottest = true, now.At, value
		}
		if value >= l.Cold {
			if cold != (Span{}) {
				cold.Until = now.At
			}
			end(true)
			continue
		}
		if cold == (Span{}) {
			cold, least, leastAt = Span{now.At, now.At + 1}, value, now.At
		}
		cold.Until = max(cold.Until, now.At)
		if value < least {
			least, leastAt = value, now.At
		}
	}
	end(false)
	return h
}
