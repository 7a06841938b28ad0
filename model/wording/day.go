package wording

import (
	"fmt"
	"strconv"
	"time"

	"coilward/model"
)

// Day is a day in full, such as "3 March 2027" or "3. März 2027".
func (t *Text) Day(d model.Day) string {
	_, _, day := d.Date()
	return t.Say("calendar.day", Gaps{"Day": strconv.Itoa(day), "Month": t.month(d), "Year": yearOf(d)})
}

// DayShort is a day in short, such as "3 Mar 2027" or "3. März 2027".
func (t *Text) DayShort(d model.Day) string {
	_, _, day := d.Date()
	return t.Say("calendar.day", Gaps{"Day": strconv.Itoa(day), "Month": t.monthShort(d), "Year": yearOf(d)})
}

// DayOfYear is a day without its year, such as "3 Mar" or "3. März".
func (t *Text) DayOfYear(d model.Day) string {
	_, _, day := d.Date()
	return t.Say("calendar.day-of-year", Gaps{"Day": strconv.Itoa(day), "Month": t.monthShort(d)})
}

// Weekday is the day's day of the week.
func (t *Text) Weekday(d model.Day) string {
	return t.Say("calendar.weekday." + strconv.Itoa(int(d.Weekday())))
}

// MonthYear is the day's month with its year, such as "March 2027".
func (t *Text) MonthYear(d model.Day) string {
	return t.Say("calendar.month-year", Gaps{"Month": t.month(d), "Year": yearOf(d)})
}

// MonthShort is the day's month alone, in short.
func (t *Text) MonthShort(d model.Day) string { return t.monthShort(d) }

func (t *Text) month(d model.Day) string      { return t.monthName("calendar.month.", d) }
func (t *Text) monthShort(d model.Day) string { return t.monthName("calendar.month-short.", d) }

func (t *Text) monthName(prefix string, d model.Day) string {
	_, month, _ := d.Date()
	return t.Say(prefix + strconv.Itoa(int(month)))
}

func yearOf(d model.Day) string {
	year, _, _ := d.Date()
	return strconv.Itoa(year)
}

// Date is a date as far as it is known: a day, a month, a year, or not known.
func (t *Text) Date(d model.Date) string {
	switch d.Precision {
	case "":
		return t.Say("calendar.unknown")
	case model.ToYear:
		return yearOf(d.Day)
	case model.ToMonth:
		return t.MonthYear(d.Day)
	}
	return t.Day(d.Day)
}

// Time is the time of day of a moment on its own clock, such as "14:07".
func (t *Text) Time(m model.Moment) string {
	at := m.Time()
	return fmt.Sprintf("%02d:%02d", at.Hour(), at.Minute())
}

// Moment is a moment as far as it is known, with its time if known to the minute.
func (t *Text) Moment(m model.Moment) string {
	switch {
	case m.IsZero():
		return t.Say("calendar.unknown")
	case m.Precision == model.ToMinute || m.Precision == "":
		return t.Say("calendar.moment", Gaps{"Day": t.Day(m.Day()), "Time": t.Time(m)})
	}
	return t.Date(model.Date{Day: m.Day(), Precision: m.Precision})
}

// Ago is how far a day lies from today: "today", "27 days ago", "in 3 days".
// From 60 days on it counts months, from two years on years.
func (t *Text) Ago(d, today model.Day) string {
	switch days := int(today - d); {
	case days == 0:
		return t.Say("calendar.today")
	case days == 1:
		return t.Say("calendar.yesterday")
	case days == -1:
		return t.Say("calendar.tomorrow")
	case days > 0:
		return t.distance("calendar.ago.", d, today)
	}
	return t.distance("calendar.in.", today, d)
}

func (t *Text) distance(prefix string, from, to model.Day) string {
	months := monthsBetween(from, to)
	switch {
	case to-from < 60:
		return t.Count(prefix+"days", int(to-from))
	case months < 24:
		return t.Count(prefix+"months", max(months, 2))
	}
	return t.Count(prefix+"years", months/12)
}

// Age is the time from a date to a day: "4 years 10 months", "3 weeks",
// "5 days"; "about …" where the date is known to the month or year only; empty
// where it is not known or lies ahead.
func (t *Text) Age(since model.Date, on model.Day) string {
	if since.IsZero() || since.Day > on {
		return ""
	}
	switch since.Precision {
	case model.ToYear:
		from, _, _ := since.Day.Date()
		to, _, _ := on.Date()
		return t.Say("calendar.about", Gaps{"Age": t.Count("calendar.span.years", to-from)})
	case model.ToMonth:
		return t.Say("calendar.about", Gaps{"Age": t.span(since.Day, on)})
	}
	return t.span(since.Day, on)
}

// AgeInTwo is Age on two lines: where it has years and months, the months are below.
func (t *Text) AgeInTwo(since model.Date, on model.Day) (above, below string) {
	months := monthsBetween(since.Day, on)
	if since.IsZero() || since.Day > on || since.Precision == model.ToYear || months < 12 || months%12 == 0 {
		return t.Age(since, on), ""
	}
	above, below = t.Count("calendar.span.years", months/12), t.Count("calendar.span.months", months%12)
	if since.Precision == model.ToMonth {
		above = t.Say("calendar.about", Gaps{"Age": above})
	}
	return above, below
}

func (t *Text) span(from, to model.Day) string {
	months, days := monthsBetween(from, to), int(to-from)
	switch {
	case days < 14:
		return t.Count("calendar.span.days", days)
	case months < 3:
		return t.Count("calendar.span.weeks", days/7)
	case months < 12:
		return t.Count("calendar.span.months", months)
	case months%12 == 0:
		return t.Count("calendar.span.years", months/12)
	}
	return t.Say("calendar.span.both", Gaps{"Years": t.Count("calendar.span.years", months/12), "Months": t.Count("calendar.span.months", months%12)})
}

// monthsBetween is how many whole months lie between two days.
func monthsBetween(from, to model.Day) int {
	y0, m0, d0 := from.Date()
	y1, m1, d1 := to.Date()
	months := (y1-y0)*12 + int(m1-m0)
	if d1 < d0 && !lastOfMonth(to) {
		months--
	}
	return months
}

func lastOfMonth(d model.Day) bool {
	_, _, next := (d + 1).Date()
	return next == 1
}

// monthNames are the names of a month in the language, long and short.
func (t *Text) monthNames(month time.Month) []string {
	n := strconv.Itoa(int(month))
	return []string{t.Say("calendar.month." + n), t.Say("calendar.month-short." + n)}
}
