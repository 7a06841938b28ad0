// Package chart lays out the program's charts on a pen: a line of values over
// the days, problems over body and time, and entries over the years. It knows no
// words: whoever draws gives them.
package chart

import (
	"math"
	"time"

	"coilward/model"
	"coilward/model/drawing"
)

// Step is the distance of two marks of a time axis.
type Step uint8

// The steps of a time axis.
const (
	ByDay Step = iota
	ByMonth
	ByYear
)

// Words are the texts of a chart.
type Words struct {
	// Date words the day of a mark that lies at such a step, such as "3 Mar",
	// "Mar 2026" or "2026".
	Date func(day model.Day, step Step) string
	// Measure is the width of a text; nil reckons with half its size for each letter.
	Measure drawing.Measure
}

func (w Words) date(d model.Day, s Step) string {
	if w.Date == nil {
		return d.String()
	}
	return w.Date(d, s)
}

func (w Words) width(text string, size float64, strong bool) float64 {
	if w.Measure == nil {
		return float64(len([]rune(text))) * size / 2
	}
	return w.Measure(text, size, strong)
}

// Tick is a mark of an axis.
type Tick struct {
	At   float64 // in the drawing's units
	Day  model.Day
	Text string
}

// RoundValues are about n round values from at most lo to at least hi, and the
// step between them: 1, 2, 2.5 or 5 times a power of ten.
func RoundValues(lo, hi float64, n int) (values []float64, step float64) {
	if !(hi > lo) {
		hi = lo + 1
	}
	raw := (hi - lo) / float64(max(n, 1))
	power := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 2.5, 5, 10} {
		if step = m * power; step >= raw*(1-1e-9) {
			break
		}
	}
	first := math.Floor(lo/step + 1e-9)
	for i := first; i*step < hi+step*(1-1e-9); i++ {
		values = append(values, i*step)
	}
	return values, step
}

type calendarStep struct {
	years, months, days int
	step                Step
}

func calendarSteps() []calendarStep {
	return []calendarStep{
		{0, 0, 1, ByDay}, {0, 0, 2, ByDay}, {0, 0, 7, ByDay}, {0, 0, 14, ByDay},
		{0, 1, 0, ByMonth}, {0, 2, 0, ByMonth}, {0, 3, 0, ByMonth}, {0, 6, 0, ByMonth},
		{1, 0, 0, ByYear}, {2, 0, 0, ByYear}, {5, 0, 0, ByYear}, {10, 0, 0, ByYear}, {20, 0, 0, ByYear}, {50, 0, 0, ByYear},
	}
}

// CalendarDays are at most n days from a to b that lie on true calendar steps:
// Mondays, firsts of months, firsts of years.
func CalendarDays(a, b model.Day, n int) (days []model.Day, step Step) {
	for _, c := range calendarSteps() {
		if days, step = c.between(a, b, n), c.step; len(days) <= n {
			return days, step
		}
	}
	return days[:min(len(days), max(n, 0))], step
}

// between are the step's days from a to b, or n+1 of them where there are more.
func (c calendarStep) between(a, b model.Day, n int) []model.Day {
	var out []model.Day
	for d := c.first(a); d <= b && len(out) <= n; d = c.next(d) {
		if d >= a {
			out = append(out, d)
		}
	}
	return out
}

func (c calendarStep) first(a model.Day) model.Day {
	y, m, _ := a.Date()
	switch {
	case c.days%7 == 0 && c.days > 0: // the Monday on or before a, in whole fortnights
		return a - ((a-monday)%model.Day(c.days)+model.Day(c.days))%model.Day(c.days)
	case c.days > 0:
		return a
	case c.months > 0:
		return model.NewDay(y, time.Month((int(m)-1)/c.months*c.months+1), 1)
	}
	return model.NewDay(y/c.years*c.years, time.January, 1)
}

// monday is a Monday: 5 January 1970.
const monday model.Day = 4

func (c calendarStep) next(d model.Day) model.Day {
	y, m, day := d.Date()
	return model.NewDay(y+c.years, m+time.Month(c.months), day+c.days)
}
