// Package chart lays out the program's charts on a pen: a line of values over
// the days, problems over body and time, and entries over the years. It knows no
// words: whoever draws gives them.
package chart

import (
	"math"
	"sort"
	"strconv"
	"strings"
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

// Calendar words days in somebody's language, without the year.
type Calendar interface {
	DayOfYear(model.Day) string
	MonthShort(model.Day) string
}

// Words are what a chart needs to set its texts.
type Words struct {
	Calendar Calendar // nil: days in the form of ISO 8601
	// Measure is the width of a text; nil reckons with half its size for each letter.
	Measure drawing.Measure
}

// date words the day of a mark that lies at such a step, such as "3 Mar",
// "Mar" or "2026"; the first of an axis and each January tell the year.
func (w Words) date(d model.Day, s Step, first bool) string {
	year, month, _ := d.Date()
	switch {
	case w.Calendar == nil:
		return d.String()
	case s == ByYear:
		return strconv.Itoa(year)
	case s == ByDay && first:
		return w.Calendar.DayOfYear(d) + " " + strconv.Itoa(year)
	case s == ByDay:
		return w.Calendar.DayOfYear(d)
	case first || month == time.January:
		return w.Calendar.MonthShort(d) + " " + strconv.Itoa(year)
	}
	return w.Calendar.MonthShort(d)
}

func (w Words) width(text string, size float64, strong bool) float64 {
	if w.Measure == nil {
		return float64(len([]rune(text))) * size / 2
	}
	return w.Measure(text, size, strong)
}

// widest is the width of the widest of the texts.
func (w Words) widest(size float64, texts ...string) (most float64) {
	for _, t := range texts {
		most = max(most, w.width(t, size, false))
	}
	return most
}

// cut is the text, or its beginning with … where it is wider than there is room.
func (w Words) cut(text string, size float64, strong bool, room float64) string {
	if w.width(text, size, strong) <= room {
		return text
	}
	letters := []rune(text)
	fits := sort.Search(len(letters), func(n int) bool {
		return w.width(strings.TrimRight(string(letters[:n]), " ")+"…", size, strong) > room
	})
	return strings.TrimRight(string(letters[:max(fits-1, 0)]), " ") + "…"
}

// Tick is a mark of an axis.
type Tick struct {
	At   float64 // in the drawing's units
	Day  model.Day
	Text string // empty where there is no room for one
}

// timeAxis are the marks of the days from one to another, drawn from x0 to x1.
// Texts stand in the middle of their marks, but within left and right.
type timeAxis struct {
	from, to    model.Day
	x0, x1      float64
	left, right float64
}

func (a timeAxis) x(d model.Day) float64 {
	return a.x0 + (a.x1-a.x0)*float64(d-a.from)/float64(a.to-a.from)
}

// day is the day at x, within those shown.
func (a timeAxis) day(x float64) model.Day {
	d := a.from + model.Day(math.Round((x-a.x0)/(a.x1-a.x0)*float64(a.to-a.from)))
	return max(a.from, min(a.to, d))
}

func (a timeAxis) ticks(words Words, size float64) []Tick {
	room := words.widest(size, words.date(a.from, ByMonth, false), words.date(a.from, ByDay, false)) + size*1.5
	days, step := CalendarDays(a.from, a.to, max(2, int((a.x1-a.x0)/room)))
	var ticks []Tick
	end := math.Inf(-1)
	for i, d := range days {
		t := Tick{At: a.x(d), Day: d, Text: words.date(d, step, i == 0)}
		half := words.width(t.Text, size, false) / 2
		if middle := a.middle(t.At, half); middle-half < end {
			t.Text = ""
		} else {
			end = middle + half + size*.6
		}
		ticks = append(ticks, t)
	}
	return ticks
}

func (a timeAxis) middle(at, half float64) float64 {
	return max(a.left+half, min(a.right-half, at))
}

// draw draws the marks as hairlines from top to bottom, as far as the day until,
// and their texts in a line whose middle is at y.
func (a timeAxis) draw(pen drawing.Pen, ticks []Tick, words Words, size, top, bottom, y float64, until model.Day) {
	for _, t := range ticks {
		if t.Day <= until {
			pen.Stroke(drawing.Polyline(drawing.Point{X: t.At, Y: top}, drawing.Point{X: t.At, Y: bottom}), size/12, drawing.Hair, 1)
		}
		if t.Text != "" {
			at := a.middle(t.At, words.width(t.Text, size, false)/2)
			pen.Text(drawing.Text{String: t.Text, At: drawing.Point{X: at, Y: y}, Align: drawing.Middle, Size: size, Role: drawing.Faint})
		}
	}
}

// RoundValues are about n round values from at most lo to at least hi, and the
// step between them: 1, 2 or 5 times a power of ten, or 25, 250 and so on. A step of 2.5
// would be rounded beside the axis, and what stands there would be false.
func RoundValues(lo, hi float64, n int) (values []float64, step float64) {
	if !(hi > lo) {
		hi = lo + 1
	}
	raw := (hi - lo) / float64(max(n, 1))
	power := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 2.5, 5, 10} {
		if m == 2.5 && power < 10 {
			continue
		}
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
