package wording

import (
	"regexp"
	"strconv"
	"strings"
	"time"

	"coilward/model"
)

// The years that are read.
const (
	firstYear = 1900
	lastYear  = 2199
)

// calendarWords are the names of months and days in all languages, as typed.
type calendarWords struct {
	months   map[string]time.Month
	relative map[string]int // days from today
}

func (l *Languages) calendarWords() calendarWords {
	w := calendarWords{months: map[string]time.Month{}, relative: map[string]int{}}
	for _, code := range l.codes {
		t := l.In(code, Units{})
		for month := time.January; month <= time.December; month++ {
			for _, name := range t.monthNames(month) {
				w.months[strings.Trim(strings.ToLower(name), ".")] = month
			}
		}
		for key, days := range map[string]int{"calendar.today": 0, "calendar.yesterday": -1, "calendar.before-yesterday": -2, "calendar.tomorrow": 1} {
			w.relative[strings.ToLower(t.Say(key))] = days
		}
	}
	return w
}

var (
	isoForm      = regexp.MustCompile(`^([0-9]{4,})-([0-9]{1,2})-([0-9]{1,2})$`)
	dotForm      = regexp.MustCompile(`^([0-9]{1,2})\. ?([0-9]{1,2})\.?(?: ?([0-9]+))?$`)
	slashForm    = regexp.MustCompile(`^([0-9]{1,2})/([0-9]{1,2})(?:/([0-9]+))?$`)
	dayNameForm  = regexp.MustCompile(`^([0-9]{1,2})(?:st|nd|rd|th)?\.? ?(\pL+)\.?(?:,? ?([0-9]+))?$`)
	nameDayForm  = regexp.MustCompile(`^(\pL+)\.? ([0-9]{1,2})(?:st|nd|rd|th)?(?:,? ([0-9]{3,}))?$`)
	agoForm      = regexp.MustCompile(`^(?:([0-9]{1,5}) days? ago|vor ([0-9]{1,5}) tag(?:en)?)$`)
	monthForm    = regexp.MustCompile(`^(?:([0-9]{1,2})[/.]|(\pL+)\.?,? )([0-9]{3,})$`)
	isoMonthForm = regexp.MustCompile(`^([0-9]{4,})-([0-9]{1,2})$`)
	yearForm     = regexp.MustCompile(`^[0-9]{4,}$`)
)

// ParseDay reads a day as people type it, in any of the languages: "3.3.2027",
// "3 Mar 2027", "2027-03-03", "3 March", "today", "gestern", "3 days ago".
// Without a year it is the last such day up to today. A day like 3/4/2027, which
// may be two days, is refused with that question. The error is a *model.Refusal
// of the field "day".
func (t *Text) ParseDay(typed string, today model.Day) (model.Day, error) {
	return t.parseDay(typed, today, yearBehind)
}

// ParseDayAhead reads a day as ParseDay does, but without a year it is the next such day
// from today on: for what lies ahead.
func (t *Text) ParseDayAhead(typed string, today model.Day) (model.Day, error) {
	return t.parseDay(typed, today, yearAhead)
}

func (t *Text) parseDay(typed string, today model.Day, missing year) (model.Day, error) {
	r, refusal := read("day", typed)
	r.year = missing
	if refusal != nil {
		return 0, refusal
	}
	day, refusal := t.day(r, today)
	if refusal != nil {
		return 0, refusal
	}
	return day, nil
}

// ParseDate reads a day as ParseDay does, or a month ("June 2023", "6/2023",
// "2023-06") or a year. The error is a *model.Refusal of the field "day".
func (t *Text) ParseDate(typed string, today model.Day) (model.Date, error) {
	return t.parseDate(typed, today, yearBehind)
}

// ParseDateInFull reads a date as ParseDate does, but a day without a year, unless it is
// today's, is refused with the question which is meant: for what may lie behind or ahead.
func (t *Text) ParseDateInFull(typed string, today model.Day) (model.Date, error) {
	return t.parseDate(typed, today, yearAsked)
}

// year is which one is meant of a day that is typed without.
type year uint8

const (
	yearBehind year = iota // that of the last such day up to today
	yearAhead              // that of the next such day from today on
	yearAsked              // it is asked
)

func (t *Text) parseDate(typed string, today model.Day, missing year) (model.Date, error) {
	r, refusal := read("day", typed)
	r.year = missing
	if refusal != nil {
		return model.Date{}, refusal
	}
	date, refusal := t.date(r, today)
	if refusal != nil && refusal.Reason == "day.unreadable" {
		refusal.Reason = "date.unreadable" // a month or a year alone would do
	}
	if refusal != nil {
		return model.Date{}, refusal
	}
	return date, nil
}

func (t *Text) date(r reading, today model.Day) (model.Date, *model.Refusal) {
	year, month, precision := "", time.January, model.ToYear
	if yearForm.MatchString(r.clean) {
		year = r.clean
	} else if f := isoMonthForm.FindStringSubmatch(r.clean); f != nil {
		year, month, precision = f[1], monthOf(f[2]), model.ToMonth
	} else if f := monthForm.FindStringSubmatch(r.clean); f != nil {
		year, month, precision = f[3], monthOf(f[1]), model.ToMonth
		if f[2] != "" {
			month = t.words.months[f[2]]
		}
	}
	if year == "" {
		day, refusal := t.day(r, today)
		return model.Date{Day: day, Precision: model.ToDay}, refusal
	}
	number, refusal := yearTyped(r, year, today)
	if refusal != nil {
		return model.Date{}, refusal
	}
	if month < time.January || month > time.December {
		return model.Date{}, r.refuse("day.unreadable", nil)
	}
	return model.Date{Day: model.NewDay(number, month, 1), Precision: precision}, nil
}

func monthOf(digits string) time.Month {
	n, err := strconv.Atoi(digits)
	if err != nil {
		return 0
	}
	return time.Month(n)
}

func (t *Text) day(r reading, today model.Day) (model.Day, *model.Refusal) {
	if days, ok := t.words.relative[r.clean]; ok {
		return today + model.Day(days), nil
	}
	if f := agoForm.FindStringSubmatch(r.clean); f != nil {
		n, err := strconv.Atoi(f[1] + f[2])
		if err != nil {
			return 0, r.refuse("day.unreadable", nil)
		}
		return today - model.Day(n), nil
	}
	if f := isoForm.FindStringSubmatch(r.clean); f != nil {
		return dayTyped(r, f[1], monthOf(f[2]), f[3], today)
	}
	if f := dotForm.FindStringSubmatch(r.clean); f != nil {
		return dayTyped(r, f[3], monthOf(f[2]), f[1], today)
	}
	if f := slashForm.FindStringSubmatch(r.clean); f != nil {
		return t.slashed(r, f, today)
	}
	if f := dayNameForm.FindStringSubmatch(r.clean); f != nil && t.words.months[f[2]] != 0 {
		return dayTyped(r, f[3], t.words.months[f[2]], f[1], today)
	}
	if f := nameDayForm.FindStringSubmatch(r.clean); f != nil && t.words.months[f[1]] != 0 {
		return dayTyped(r, f[3], t.words.months[f[1]], f[2], today)
	}
	return 0, r.refuse("day.unreadable", nil)
}

func (t *Text) slashed(r reading, f []string, today model.Day) (model.Day, *model.Refusal) {
	first, second := monthOf(f[1]), monthOf(f[2])
	switch {
	case first > time.December || first == second:
		return dayTyped(r, f[3], second, f[1], today)
	case second > time.December:
		return dayTyped(r, f[3], first, f[2], today)
	}
	one, refusal := dayTyped(r, f[3], second, f[1], today)
	if refusal != nil {
		return 0, refusal
	}
	other, refusal := dayTyped(r, f[3], first, f[2], today)
	if refusal != nil {
		return 0, refusal
	}
	return 0, r.refuse("day.open", map[string]model.Gap{"One": model.DayGap(one), "Other": model.DayGap(other)})
}

func dayTyped(r reading, year string, month time.Month, day string, today model.Day) (model.Day, *model.Refusal) {
	d, err := strconv.Atoi(day)
	if err != nil {
		return 0, r.refuse("day.unreadable", nil)
	}
	if year == "" {
		last, next, ok := around(month, d, today)
		switch {
		case !ok:
			return 0, r.refuse("day.none", nil)
		case r.year == yearAhead:
			return next, nil
		case r.year == yearAsked && last != next:
			return 0, r.refuse("day.which-year", map[string]model.Gap{"One": model.DayGap(last), "Other": model.DayGap(next)})
		}
		return last, nil
	}
	y, refusal := yearTyped(r, year, today)
	if refusal != nil {
		return 0, refusal
	}
	is, ok := existing(y, month, d)
	if !ok {
		return 0, r.refuse("day.none", nil)
	}
	return is, nil
}

// around are the last such day of any year up to today and the next from today on.
func around(month time.Month, day int, today model.Day) (last, next model.Day, ok bool) {
	y, _, _ := today.Date()
	for away := 8; away >= 0; away-- { // 29 February is at most 8 years away
		if is, there := existing(y-away, month, day); there && is <= today {
			last, ok = is, true
		}
		if is, there := existing(y-away, month, day); there && is == today {
			return is, is, true
		}
		if is, there := existing(y+away, month, day); there && is > today {
			next = is
		}
	}
	return last, next, ok
}

func existing(year int, month time.Month, day int) (model.Day, bool) {
	if month < time.January || month > time.December || day < 1 || day > 31 {
		return 0, false
	}
	is := model.NewDay(year, month, day)
	_, _, same := is.Date()
	return is, same == day
}

// yearTyped reads a year of four digits, or of two in this century, or in the
// last where this one's would lie ahead.
func yearTyped(r reading, year string, today model.Day) (int, *model.Refusal) {
	n, err := strconv.Atoi(year)
	if err == nil && len(year) == 2 {
		n += 2000
		if now, _, _ := today.Date(); n > now {
			n -= 100
		}
	}
	if err != nil || n < firstYear || n > lastYear || len(year) != 2 && len(year) != 4 {
		return 0, r.refuse("day.year", map[string]model.Gap{
			"First": model.TextGap(strconv.Itoa(firstYear)), "Last": model.TextGap(strconv.Itoa(lastYear))})
	}
	return n, nil
}

var timeForm = regexp.MustCompile(`^([0-9]{1,2})(?:[:.]([0-9]{2}))? ?(am|pm|uhr|h)?$`)

// ParseTime reads a time of day, such as "14:07", "14.07 Uhr", "2:07 pm", as the
// minutes since midnight. The error is a *model.Refusal of the field "time".
func (t *Text) ParseTime(typed string) (int, error) {
	r, refusal := read("time", typed)
	if refusal != nil {
		return 0, refusal
	}
	f := timeForm.FindStringSubmatch(r.clean)
	if f == nil || f[2] == "" && f[3] == "" {
		return 0, r.refuse("time.unreadable", nil)
	}
	hour, minute := int(monthOf(f[1])), int(monthOf(f[2]))
	half := f[3] == "am" || f[3] == "pm"
	if hour > 23 || minute > 59 || half && (hour < 1 || hour > 12) {
		return 0, r.refuse("time.none", nil)
	}
	if half {
		hour %= 12
		if f[3] == "pm" {
			hour += 12
		}
	}
	return hour*60 + minute, nil
}
