package table

import (
	"regexp"
	"strings"

	"coilward/model"
)

// Numbers is which sign stands before the decimals in a column.
type Numbers string

// The styles of numbers. A column that does not tell is asked about.
const (
	NumbersOpen Numbers = ""
	Point       Numbers = "point"
	Comma       Numbers = "comma"
)

// Days is what comes first in days such as 3/4/2027.
type Days string

// The styles of days. A column that does not tell is asked about.
const (
	DaysOpen   Days = ""
	DayFirst   Days = "day"
	MonthFirst Days = "month"
)

// Serials is the day from which a column of plain numbers counts.
type Serials string

// The counts of days: of most spreadsheets, and of older ones of a Mac.
const (
	SerialsOpen Serials = ""
	From1900    Serials = "1900"
	From1904    Serials = "1904"
)

var (
	numberPart = regexp.MustCompile(`[0-9][0-9 .,'’\x{00a0}\x{202f}]*`)
	groupForm  = regexp.MustCompile(`^[1-9][0-9]{0,2}(?:[.,][0-9]{3})$`)
)

// votes is what one number says of the style of its column.
func votes(number string) (style Numbers, says bool) {
	point, comma := strings.Count(number, "."), strings.Count(number, ",")
	switch {
	case point == 0 && comma == 0:
		return NumbersOpen, false
	case point > 0 && comma > 0: // the last one parts the decimals
		if strings.LastIndexByte(number, '.') > strings.LastIndexByte(number, ',') {
			return Point, true
		}
		return Comma, true
	case point > 1: // twice the same parts thousands
		return Comma, true
	case comma > 1:
		return Point, true
	case groupForm.MatchString(number):
		return NumbersOpen, true
	case point == 1:
		return Point, true
	}
	return Comma, true
}

// decideNumbers is the style that all numbers of a column show. It stays open
// where none shows it but one may be two things, or where they differ; example
// is one that shows the question.
func decideNumbers(rows []Row, column int) (style Numbers, example string) {
	found := map[Numbers]string{}
	for _, r := range rows {
		if r.number(column) {
			continue
		}
		for _, part := range numberPart.FindAllString(r.cell(column), -1) {
			part = strings.TrimRight(part, " .,'’\u00a0\u202f")
			if style, says := votes(part); says && found[style] == "" {
				found[style] = part
			}
		}
	}
	switch {
	case found[Point] != "" && found[Comma] != "":
		return NumbersOpen, cmpOr(found[NumbersOpen], found[Comma])
	case found[Point] != "":
		return Point, ""
	case found[Comma] != "":
		return Comma, ""
	case found[NumbersOpen] != "":
		return NumbersOpen, found[NumbersOpen]
	}
	return Point, "" // whole numbers alone
}

func cmpOr(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// inStyle writes the numbers of a text so that they can be read one way only:
// thousands together, and decimals behind a point and not three of them.
func inStyle(text string, style Numbers) string {
	return numberPart.ReplaceAllStringFunc(text, func(part string) string {
		number := strings.TrimRight(part, " .,'’\u00a0\u202f")
		rest := part[len(number):]
		mark, group := ".", ","
		if style == Comma {
			mark, group = ",", "."
		}
		whole, decimals, cut := strings.Cut(number, mark)
		if strings.Contains(decimals, mark) || strings.Contains(decimals, group) || !grouped(whole, group) {
			return part // not a number of this style: refused as it stands
		}
		whole = strings.NewReplacer(group, "", " ", "", "'", "", "’", "", "\u00a0", "", "\u202f", "").Replace(whole)
		if !cut {
			return whole + rest
		}
		return whole + "." + decimals + "0000" + rest
	})
}

var groupsForm = regexp.MustCompile(`^[0-9]{1,3}(?:[ .,'’\x{00a0}\x{202f}][0-9]{3})+$`)

// grouped reports whether a whole number stands in threes, if it is parted.
func grouped(whole, group string) bool {
	if strings.Trim(whole, "0123456789") == "" {
		return true
	}
	other := "."
	if group == "." {
		other = ","
	}
	return groupsForm.MatchString(whole) && !strings.Contains(whole, other)
}

var (
	slashForm  = regexp.MustCompile(`^([0-9]{1,2})([/-])([0-9]{1,2})[/-]([0-9]{2}|[0-9]{4})$`)
	serialForm = regexp.MustCompile(`^[0-9]{5,6}(?:\.[0-9]+)?$`)
)

// decideDays is the style that all days of a column show, as decideNumbers does.
func decideDays(rows []Row, column int) (style Days, example string) {
	found := map[Days]string{}
	for _, r := range rows {
		day, _ := partTime(r.cell(column))
		f := slashForm.FindStringSubmatch(day)
		if f == nil {
			continue
		}
		switch first, second := number(f[1]), number(f[3]); {
		case first > 12 && second <= 12:
			keep(found, DayFirst, day)
		case second > 12 && first <= 12:
			keep(found, MonthFirst, day)
		case first != second:
			keep(found, DaysOpen, day)
		}
	}
	switch {
	case found[DayFirst] != "" && found[MonthFirst] != "":
		return DaysOpen, cmpOr(found[DaysOpen], found[DayFirst])
	case found[DayFirst] != "":
		return DayFirst, ""
	case found[MonthFirst] != "":
		return MonthFirst, ""
	case found[DaysOpen] != "":
		return DaysOpen, found[DaysOpen]
	}
	return DayFirst, "" // nothing that could be two days
}

func keep(found map[Days]string, style Days, day string) {
	if found[style] == "" {
		found[style] = day
	}
}

// number is the value of a few digits.
func number(digits string) (n int) {
	for _, r := range digits {
		n = n*10 + int(r-'0')
	}
	return n
}

// decideSerials is from when a column of plain numbers counts its days: as the
// book says, or from 1904 only where none of those days would lie ahead.
func decideSerials(b Book, rows []Row, column int, today model.Day) (from Serials, example string) {
	if b.Comma == 0 {
		if b.From1904 {
			return From1904, ""
		}
		return From1900, ""
	}
	for _, r := range rows {
		text := r.cell(column)
		if !serialForm.MatchString(text) {
			continue
		}
		if day, _, ok := serialDay(text, From1904); !ok || day > today {
			return From1900, ""
		}
		example = text
	}
	if example == "" {
		return From1900, ""
	}
	return SerialsOpen, example
}

// The serial of 1 January 1970 by both counts. The count from 1900 knows a
// 29 February 1900 that never was, as its number 60. Source: ECMA-376 part 1,
// 18.17.4.1 (from memory).
const (
	epoch1900 = 25569
	epoch1904 = 24107
)

// serialDay is the day, and the minutes after its midnight, of a plain number of
// days; ok is false where there is no such day.
func serialDay(text string, from Serials) (day model.Day, minutes int, ok bool) {
	digits, fraction, _ := strings.Cut(text, ".")
	if len(digits) > 6 {
		return 0, 0, false
	}
	n := number(digits)
	minutes = fractionMinutes(fraction)
	if minutes == 24*60 {
		n, minutes = n+1, 0
	}
	switch {
	case from == From1904:
		return model.Day(n - epoch1904), minutes, true
	case n == 60 || n < 1:
		return 0, 0, false
	case n < 60:
		n++
	}
	return model.Day(n - epoch1900), minutes, true
}

// fractionMinutes is the part of a day as minutes, rounded to the nearest.
func fractionMinutes(fraction string) int {
	n, of := 0, 1
	for _, r := range fraction[:min(len(fraction), 9)] {
		n, of = n*10+int(r-'0'), of*10
	}
	return int((int64(n)*24*60*2 + int64(of)) / (int64(of) * 2))
}

var timeTail = regexp.MustCompile(`(?i)^(.*?[^\s,T])(?:T|[\s,]+)((?:[0-9]{1,2}:[0-9]{2}(?::[0-9]{2}(?:[.,][0-9]+)?)?(?: ?[ap]\.?m\.?)?(?: uhr)?)|[0-9]{1,2}(?:[.][0-9]{2})? ?(?:uhr|[ap]\.?m\.?))(Z|[-+][0-9]{2}:?[0-9]{2})?$`)

// partTime parts a day from the time behind it.
func partTime(text string) (day, clock string) {
	if f := timeTail.FindStringSubmatch(text); f != nil {
		return f[1], f[2] + f[3]
	}
	return text, ""
}

var secondsForm = regexp.MustCompile(`^([0-9]{1,2}:[0-9]{2}):[0-9]{2}(?:[.,][0-9]+)?`)

// halves are the halves of the day as they are typed elsewhere.
var halves = strings.NewReplacer("a.m.", "am", "p.m.", "pm", "A.M.", "am", "P.M.", "pm")

// withoutSeconds is a time to the minute, written as it is typed.
func withoutSeconds(clock string) string {
	clock = secondsForm.ReplaceAllString(clock, "$1")
	return halves.Replace(clock)
}
