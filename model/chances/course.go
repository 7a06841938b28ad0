package chances

import (
	"slices"

	"coilward/model"
	"coilward/model/evidence"
)

// Point is the chance as of a day.
type Point struct {
	Day    model.Day
	Chance evidence.Range
}

// Course is how the chance came to be what it is, for a drawing: from the day on which it
// begins, with two points on each day of a sample, before and after it, and one wherever a
// time begins or ends in which it may have been caught.
func (c Chance) Course() (all []Point) {
	if !c.Known() {
		return nil
	}
	days := []model.Day{c.Begun.Day, c.today}
	for _, e := range c.Exposed {
		days = append(days, max(e.From-1, c.Begun.Day), e.Until)
	}
	days = slices.DeleteFunc(days, func(d model.Day) bool {
		return d < c.Begun.Day || d > c.today || slices.ContainsFunc(c.Steps, func(s Step) bool { return s.Mute == "" && s.Sample.Taken.Day() == d })
	})
	slices.Sort(days)
	days = slices.Compact(days)
	for i, r := range c.joined.course(days) {
		all = append(all, Point{days[i], r})
	}
	for _, s := range c.Steps {
		if s.Mute == "" {
			all = append(all, Point{s.Sample.Taken.Day(), s.Before}, Point{s.Sample.Taken.Day(), s.After})
		}
	}
	slices.SortStableFunc(all, func(a, b Point) int { return int(a.Day) - int(b.Day) })
	return all
}
