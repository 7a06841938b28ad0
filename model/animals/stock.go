package animals

import (
	"time"

	"coilward/model"
)

// InStock tells which of the animals were in the stock at the end of a day, and of which it
// cannot be told: the day on which it came or left is not known, or only to its month or
// year. One on loan elsewhere is in the stock. Of an animal that was away for a while and
// came back only its present state is known.
func InStock(all []Stored, day model.Day) (here, unsure []Stored) {
	for _, a := range all {
		firstIn, lastIn := a.came()
		firstOut, lastOut := a.left()
		switch {
		case firstIn > day || lastOut <= day:
		case lastIn <= day && firstOut > day:
			here = append(here, a)
		default:
			unsure = append(unsure, a)
		}
	}
	return here, unsure
}

// never is later than every day.
const never = model.Day(1 << 30)

// came are the first and the last day on which it may have come: as noted; else not before
// it hatched, and not after it was put into the records.
func (s Stored) came() (first, last model.Day) {
	switch {
	case !s.Since.IsZero():
		return s.Since.Day, lastDay(s.Since)
	case !s.Hatched.IsZero():
		return min(s.Hatched.Day, s.Added), s.Added
	}
	return -never, s.Added
}

// left are the first and the last day on which it may have left.
func (s Stored) left() (first, last model.Day) {
	switch {
	case s.Status.Here():
		return never, never
	case s.StatusDay.IsZero():
		first, _ = s.came() // it may have been gone when it was put into the records
		return first, never
	}
	return s.StatusDay.Day, lastDay(s.StatusDay)
}

// lastDay is the last day that a date may mean.
func lastDay(d model.Date) model.Day {
	year, month, _ := d.Day.Date()
	switch d.Precision {
	case model.ToMonth:
		return model.DayOf(time.Date(year, month+1, 0, 0, 0, 0, 0, time.UTC))
	case model.ToYear:
		return model.DayOf(time.Date(year, time.December, 31, 0, 0, 0, 0, time.UTC))
	}
	return d.Day
}
