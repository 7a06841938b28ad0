package logger

import (
	"slices"
	"time"

	"coilward/model"
	"coilward/model/climate"
)

// Unit is what temperatures are in. Values are frozen for "logger.unit." + value.
type Unit string

// The units; empty is open.
const (
	Celsius    Unit = "c"
	Fahrenheit Unit = "f"
)

// Order is what comes first in days such as 3/4/2027.
type Order string

// The orders; empty is open.
const (
	DayFirst   Order = "day"
	MonthFirst Order = "month"
)

// Clock is what the logger's clock did where the clocks of its zone were changed.
type Clock string

// The clocks; empty is open.
const (
	Follows  Clock = "follows"  // it was changed with them
	Standard Clock = "standard" // it stayed on winter time
	Summer   Clock = "summer"   // it stayed on summer time
	UTC      Clock = "utc"      // it goes by universal time
)

// Answers settle what a file leaves open; empty ones are taken from the file, where it
// tells.
type Answers struct {
	Unit  Unit
	Order Order
	Clock Clock
}

// Open tells what a file leaves open after the answers: what cannot be told from it.
type Open struct{ Unit, Order, Clock bool }

// Any reports whether something is open.
func (o Open) Any() bool { return o.Unit || o.Order || o.Clock }

// Settled are the readings of a file, as far as it is known what they mean.
type Settled struct {
	Answers       // as they are taken: given, or told by the file
	Open     Open // with anything open, nothing may be taken in
	Readings []climate.Reading
	Faults   []Fault // lines that cannot be taken and what is said of others, at most MostListed
	Bad      int     // lines that cannot be taken, all of them
	Back     int     // how often the time goes back
	Twice    int     // readings of a second that an earlier line has already
}

// Settle makes readings of what the lines say. now, in seconds, is what no reading
// may lie after; loc is the zone that clocks without an offset are of. hottest, in
// hundredths of a degree Celsius, is what nothing is kept at: a file that is never below
// it is in Fahrenheit.
func (rec *Recording) Settle(given Answers, loc *time.Location, now int64, hottest int) Settled {
	s := Settled{Answers: given, Faults: slices.Clone(rec.faults), Bad: rec.bad}
	rec.settleOrder(&s)
	rec.settleUnit(&s, hottest)
	c := rec.local(s.Order)
	rec.settleClock(&s, c, loc)
	s.Readings = make([]climate.Reading, 0, len(rec.rows))
	at := c.seconds(s.Clock, loc)
	last := int64(0)
	for i, r := range rec.rows {
		reading := climate.Reading{At: at[i].utc, Temperature: climate.NoTemperature, Humidity: r.humidity}
		refusal := at[i].refusal
		if refusal == nil && r.temperature != absent {
			degrees := celsius(int(r.temperature), r.fahr || !r.celsius && s.Unit == Fahrenheit)
			if degrees < climate.Coldest || degrees > climate.Hottest {
				refusal = mend("logger-temperature", hundredths(int(r.temperature)), "climate.temperature", map[string]model.Gap{"Least": model.TemperatureGap(climate.Coldest), "Most": model.TemperatureGap(climate.Hottest)})
			} else {
				reading.Temperature = int16(degrees)
			}
		}
		if refusal == nil && reading.At > now+60 {
			refusal = mend("logger-when", time.Unix(reading.At, 0).In(loc).Format("2006-01-02 15:04"), "day.future", map[string]model.Gap{"Today": model.DayGap(model.MomentOf(time.Unix(now, 0).In(loc)).Day())})
		}
		if refusal != nil {
			s.Bad++
			s.fault(int(r.line), refusal)
			continue
		}
		if len(s.Readings) > 0 && !c.descending && reading.At < last {
			s.Back++
			s.fault(int(r.line), mend("logger-when", time.Unix(reading.At, 0).In(loc).Format("2006-01-02 15:04:05"), "logger.back", nil))
		}
		last = reading.At
		s.Readings = append(s.Readings, reading)
	}
	slices.SortStableFunc(s.Faults, func(a, b Fault) int { return a.Line - b.Line })
	climate.Sort(s.Readings)
	merged, same, differing := climate.Merge(nil, s.Readings)
	s.Readings, s.Twice = merged, same+differing
	return s
}

func (s *Settled) fault(line int, refusal *model.Refusal) {
	if len(s.Faults) < MostListed {
		s.Faults = append(s.Faults, Fault{line, refusal})
	}
}

// hundredths writes hundredths with a point.
func hundredths(n int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	return sign + decimal(n/100) + "." + decimal(n%100/10) + decimal(n%10)
}

func decimal(n int) string {
	if n >= 10 {
		return decimal(n/10) + string(rune('0'+n%10))
	}
	return string(rune('0' + n))
}

// celsius is a temperature in hundredths of a degree Celsius, rounded half away from
// zero.
func celsius(n int, fahrenheit bool) int {
	if !fahrenheit {
		return n
	}
	n = (n - 3200) * 10 // in eighteenths
	if n < 0 {
		return -((-n + 9) / 18)
	}
	return (n + 9) / 18
}

// settleOrder tells days from months by the numbers above twelve, and else by the order
// in which the time runs on.
func (rec *Recording) settleOrder(s *Settled) {
	if s.Order != "" {
		return
	}
	day, month, open := false, false, false
	for _, r := range rec.rows {
		if r.at.yearFirst {
			continue
		}
		open = true
		day = day || r.at.a > 12
		month = month || r.at.b > 12
	}
	switch {
	case !open:
		s.Order = DayFirst // nothing to tell
	case day != month:
		if s.Order = DayFirst; month {
			s.Order = MonthFirst
		}
	case day && month: // some are one, some the other
		s.Open.Order, s.Order = true, DayFirst
	default:
		first, second := rec.back(DayFirst), rec.back(MonthFirst)
		s.Order = DayFirst
		switch {
		case second == 0 && first > 0:
			s.Order = MonthFirst
		case first == 0 && second > 0:
		default:
			s.Open.Order = true
		}
	}
}

// back counts how often the day goes back, or leaps ahead by more than a fortnight, by an
// order: a logger does neither.
func (rec *Recording) back(o Order) (n int) {
	last := int64(-1)
	for _, r := range rec.rows {
		day, ok := r.at.day(o)
		if ok && last >= 0 && (day < last || day > last+14) {
			n++
		}
		if ok {
			last = day
		}
	}
	return n
}

func (c clockShort) day(o Order) (int64, bool) {
	switch {
	case c.yearFirst:
		return localDay(int(c.a), int(c.b), int(c.c))
	case o == MonthFirst:
		return localDay(int(c.c), int(c.a), int(c.b))
	}
	return localDay(int(c.c), int(c.b), int(c.a))
}

// settleUnit takes what the heading or every cell says. Where neither does, it is asked, but
// for temperatures that all are too hot for degrees Celsius: those below can be of a warm
// place in the one unit and of a frost out of doors in the other.
func (rec *Recording) settleUnit(s *Settled, hottest int) {
	if s.Unit != "" {
		return
	}
	if s.Unit = rec.Layout.unit(); s.Unit != "" {
		return
	}
	told, any := true, false
	low := int32(1 << 30)
	for _, r := range rec.rows {
		if r.temperature != absent {
			any = true
			told = told && (r.celsius || r.fahr)
			low = min(low, r.temperature)
		}
	}
	s.Unit = Celsius
	if !any || told {
		return
	}
	if s.Open.Unit = int(low) < hottest; !s.Open.Unit {
		s.Unit = Fahrenheit
	}
}

// locals are the clocks of all rows, in order of the file.
type locals struct {
	rows       []row
	order      Order
	local      []int64 // seconds of the clock since 1970, as if it were UTC
	exists     []bool
	descending bool
}

func (rec *Recording) local(o Order) *locals {
	l := &locals{rows: rec.rows, order: o, local: make([]int64, len(rec.rows)), exists: make([]bool, len(rec.rows))}
	up, down := 0, 0
	for i, r := range rec.rows {
		day, ok := r.at.day(o)
		l.local[i], l.exists[i] = day*86400+int64(r.at.second), ok
		if i > 0 && ok && l.exists[i-1] {
			switch {
			case l.local[i] > l.local[i-1]:
				up++
			case l.local[i] < l.local[i-1]:
				down++
			}
		}
	}
	l.descending = down > up
	return l
}

// each visits the rows without an offset as time runs.
func (l *locals) each(visit func(i int)) {
	for n := range l.rows {
		i := n
		if l.descending {
			i = len(l.rows) - 1 - n
		}
		if l.exists[i] && !l.rows[i].at.hasOffset {
			visit(i)
		}
	}
}

// settleClock tells from the hour that is twice, and the one that is left out, whether
// the clock was changed with those of its zone.
func (rec *Recording) settleClock(s *Settled, l *locals, loc *time.Location) {
	if s.Clock != "" {
		return
	}
	s.Clock = Follows
	var seen []int64
	l.each(func(i int) { seen = append(seen, l.local[i]) })
	if len(seen) == 0 {
		return
	}
	first, last := slices.Min(seen), slices.Max(seen)
	follows, stays := false, false
	told := true
	for _, c := range changes(loc, first, last) {
		switch f, st := c.evidence(seen); {
		case f && !st:
			follows = true
		case st && !f:
			stays = true
		default:
			told = false
		}
	}
	switch {
	case stays && !follows:
		s.Clock = "" // winter time or summer time is asked
		s.Open.Clock = true
	case follows && stays, !told && !follows:
		s.Open.Clock = true
	}
}

// change is a moment at which the clocks of a zone were changed.
type change struct {
	at            int64 // UTC
	before, after int   // seconds east of UTC
}

// changes are those of a zone whose hours lie between two local seconds.
func changes(loc *time.Location, first, last int64) (all []change) {
	const day = 86400
	at := time.Unix(first-day, 0).In(loc)
	for range 400 {
		_, end := at.ZoneBounds()
		if end.IsZero() || end.Unix() > last+day {
			break
		}
		_, before := at.Zone()
		_, after := end.In(loc).Zone()
		c := change{end.Unix(), before, after}
		if low, high := c.hour(); before != after && first < high && last >= low {
			all = append(all, c)
		}
		at = end.In(loc)
	}
	return all
}

// hour is the span of local seconds that is left out, or that is twice.
func (c change) hour() (from, until int64) {
	return c.at + int64(min(c.before, c.after)), c.at + int64(max(c.before, c.after))
}

// evidence looks at the local seconds as time runs.
func (c change) evidence(seen []int64) (follows, stays bool) {
	low, high := c.hour()
	within, back := 0, false
	before, after := false, false
	step := int64(0)
	for i, s := range seen {
		if s >= low && s < high {
			within++
		}
		if i > 0 && seen[i-1] >= low && seen[i-1] < high+600 && s < seen[i-1] && s >= low-600 {
			back = true
		}
		before, after = before || s >= low-7200 && s < low, after || s >= high && s < high+7200
		if i > 0 && s > low-7200 && s < low && s > seen[i-1] {
			step = s - seen[i-1]
		}
	}
	if c.after > c.before { // the hour is left out
		dense := before && after && step > 0 && step <= 1800
		return within == 0 && dense, within > 0
	}
	return back, false
}

// second is a moment in UTC, or why there is none.
type second struct {
	utc     int64
	refusal *model.Refusal
}

// seconds are the moments of all rows by a clock.
func (l *locals) seconds(c Clock, loc *time.Location) []second {
	all := make([]second, len(l.rows))
	for i, r := range l.rows {
		switch {
		case !l.exists[i]:
			all[i].refusal = mend("logger-when", "", "logger.no-day", nil)
		case r.at.hasOffset:
			all[i].utc = l.local[i] - int64(r.at.offset)
		}
	}
	span := segment{loc: loc}
	last := int64(-1 << 62)
	l.each(func(i int) {
		local := l.local[i]
		if c != Follows && c != "" {
			all[i].utc = local - span.fixed(c, local)
			return
		}
		ways, n := span.ways(local)
		switch {
		case n == 0:
			all[i].refusal = mend("logger-when", time.Unix(local, 0).UTC().Format("2006-01-02 15:04"), "logger.left-out", nil)
			return
		case n == 1, ways[0] > last:
			all[i].utc = ways[0]
		default: // an hour that is twice, for the second time
			all[i].utc = ways[1]
		}
		last = all[i].utc
	})
	return all
}

// segment is a time without changes of the clocks, kept from row to row.
type segment struct {
	loc         *time.Location
	from, until int64 // UTC
	offset      int64
}

// ways are the moments at which the clocks of the zone showed a local second.
func (s *segment) ways(local int64) (ways [2]int64, n int) {
	const margin = 86400
	if utc := local - s.offset; s.until > s.from && utc >= s.from+margin && utc < s.until-margin {
		return [2]int64{utc}, 1
	}
	for _, near := range []int64{local - margin, local + margin} {
		t := time.Unix(near, 0).In(s.loc)
		_, offset := t.Zone()
		utc := local - int64(offset)
		if _, there := time.Unix(utc, 0).In(s.loc).Zone(); there == offset && (n == 0 || ways[0] != utc) {
			ways[n] = utc
			n++
		}
	}
	if n == 2 && ways[0] > ways[1] {
		ways[0], ways[1] = ways[1], ways[0]
	}
	if n == 1 {
		t := time.Unix(ways[0], 0).In(s.loc)
		start, end := t.ZoneBounds()
		_, offset := t.Zone()
		s.offset, s.from, s.until = int64(offset), -1<<60, 1<<60
		if !start.IsZero() {
			s.from = start.Unix()
		}
		if !end.IsZero() {
			s.until = end.Unix()
		}
	}
	return ways, n
}

// fixed is how far a clock that is not changed is from UTC, in the year of a moment.
func (s *segment) fixed(c Clock, local int64) int64 {
	if c == UTC {
		return 0
	}
	year := time.Unix(local, 0).UTC().Year()
	_, january := time.Date(year, time.January, 15, 0, 0, 0, 0, s.loc).Zone()
	_, july := time.Date(year, time.July, 15, 0, 0, 0, 0, s.loc).Zone()
	if c == Summer {
		return int64(max(january, july))
	}
	return int64(min(january, july))
}
