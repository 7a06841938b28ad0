package logger

import (
	"strings"
	"time"
)

// clock is a day and a time of day as a cell says it.
type clock struct {
	a, b, c         int  // the day's numbers as they stand; year first: year, month, day
	yearFirst       bool // else the year is c
	hasDay, hasHour bool
	second          int // of the day
	offset          int // seconds east of UTC
	hasOffset       bool
}

// digits reads up to so many digits.
func digits(s string, most int) (n, length int) {
	for length < len(s) && length < most && s[length] >= '0' && s[length] <= '9' {
		n = n*10 + int(s[length]-'0')
		length++
	}
	return n, length
}

// readMoment reads a day, a time of day or both: 2027-03-01, 01.03.2027 or 3/1/2027;
// 14:05, 14:05:30, 2:05 pm; with Z or an offset behind.
func readMoment(cell string) (m clock, ok bool) {
	rest := strings.TrimSpace(cell)
	if left, ok := readDay(&m, rest); ok {
		m.hasDay, rest = true, left
		switch {
		case rest == "":
			return m, true
		case rest[0] == 'T' || rest[0] == 't':
			rest = rest[1:]
		case rest[0] == ' ' || rest[0] == ',' || rest[0] == '_':
			rest = strings.TrimLeft(rest, " ,_")
		default:
			return m, false
		}
	}
	if rest, ok = readHour(&m, rest); !ok {
		return m, false
	}
	m.hasHour = true
	if rest = strings.TrimSpace(rest); rest != "" {
		m.offset, ok = readOffset(rest)
		m.hasOffset = ok
		return m, ok
	}
	return m, true
}

// readDay reads three numbers with the same sign between them.
func readDay(m *clock, s string) (rest string, ok bool) {
	var n, length [3]int
	at := 0
	var sign byte
	for i := range n {
		n[i], length[i] = digits(s[at:], 4)
		if at += length[i]; length[i] == 0 || length[i] == 3 {
			return s, false
		}
		if i == 2 {
			break
		}
		if at >= len(s) || !strings.ContainsRune("-./", rune(s[at])) || i == 1 && s[at] != sign {
			return s, false
		}
		sign = s[at]
		at++
	}
	if at < len(s) && s[at] >= '0' && s[at] <= '9' {
		return s, false
	}
	switch {
	case length[0] == 4 && length[1] <= 2 && length[2] <= 2:
		m.yearFirst = true
	case length[0] <= 2 && length[1] <= 2 && (length[2] == 4 || length[2] == 2):
		if length[2] == 2 {
			n[2] += 2000
		}
	default:
		return s, false
	}
	m.a, m.b, m.c = n[0], n[1], n[2]
	if sign == '.' && !m.yearFirst { // with points between, the day comes first: common practice, no source
		m.yearFirst, m.a, m.c = true, n[2], n[0]
	}
	return s[at:], true
}

// readHour reads a time of day.
func readHour(m *clock, s string) (rest string, ok bool) {
	hour, l := digits(s, 2)
	if l == 0 || l >= len(s) || s[l] != ':' && s[l] != '.' {
		return s, false
	}
	sign := s[l]
	s = s[l+1:]
	minute, l := digits(s, 2)
	if l != 2 {
		return s, false
	}
	s = s[l:]
	second := 0
	if s != "" && s[0] == sign {
		if second, l = digits(s[1:], 2); l != 2 {
			return s, false
		}
		if s = s[1+l:]; s != "" && (s[0] == '.' || s[0] == ',') {
			_, l = digits(s[1:], 9)
			s = s[1+l:]
		}
	}
	if lower := strings.ToLower(strings.TrimSpace(s)); strings.HasPrefix(lower, "am") || strings.HasPrefix(lower, "pm") || strings.HasPrefix(lower, "a.m.") || strings.HasPrefix(lower, "p.m.") {
		if hour < 1 || hour > 12 {
			return s, false
		}
		if hour %= 12; lower[0] == 'p' {
			hour += 12
		}
		s = strings.TrimSpace(s)
		if s[1] == '.' {
			s = s[4:]
		} else {
			s = s[2:]
		}
	}
	if hour > 23 || minute > 59 || second > 59 {
		return s, false
	}
	m.second = hour*3600 + minute*60 + second
	return s, true
}

// readOffset reads how far a clock is from UTC: Z, UTC, GMT, +02:00, -0330, UTC+2.
func readOffset(s string) (seconds int, ok bool) {
	s = strings.ToUpper(strings.TrimSpace(s))
	for _, name := range []string{"UTC", "GMT", "Z"} {
		if strings.HasPrefix(s, name) {
			if s = strings.TrimSpace(s[len(name):]); s == "" {
				return 0, true
			}
			break
		}
	}
	sign := 1
	switch {
	case strings.HasPrefix(s, "+"):
	case strings.HasPrefix(s, "-"), strings.HasPrefix(s, "−"):
		sign = -1
	default:
		return 0, false
	}
	s = strings.TrimLeft(s, "+-−")
	hours, l := digits(s, 2)
	if s = s[l:]; l == 0 {
		return 0, false
	}
	s = strings.TrimPrefix(s, ":")
	minutes, l := digits(s, 2)
	if l == 1 || len(s) != l || hours > 14 || minutes > 59 {
		return 0, false
	}
	return sign * (hours*3600 + minutes*60), true
}

// readNumber reads a number with a point or a comma before its decimals, in hundredths,
// and what stands behind it. Both signs in one number cannot be told apart from
// thousands, which no reading has.
func readNumber(cell string) (hundredths int, unit string, ok bool) {
	s := strings.TrimSpace(cell)
	negative := false
	switch {
	case strings.HasPrefix(s, "-"):
		negative, s = true, s[1:]
	case strings.HasPrefix(s, "−"):
		negative, s = true, s[len("−"):]
	case strings.HasPrefix(s, "+"):
		s = s[1:]
	}
	whole, l := digits(s, 7)
	if l == 0 || l == 7 {
		return 0, "", false
	}
	s = s[l:]
	hundredths = whole * 100
	if s != "" && (s[0] == '.' || s[0] == ',') {
		decimals, l := digits(s[1:], 9)
		if l == 0 {
			return 0, "", false
		}
		more := s[1+l:]
		for ; l > 3; l-- {
			decimals /= 10
		}
		for ; l < 3; l++ {
			decimals *= 10
		}
		hundredths += (decimals + 5) / 10
		s = more
	}
	if s != "" && (s[0] >= '0' && s[0] <= '9' || s[0] == '.' || s[0] == ',') {
		return 0, "", false
	}
	if negative {
		hundredths = -hundredths
	}
	return hundredths, strings.TrimSpace(s), true
}

// localDay are the days since 1970 of a date; ok is false where it is none.
func localDay(year, month, day int) (days int64, ok bool) {
	if year < 1990 || year > 2200 || month < 1 || month > 12 || day < 1 || day > 31 {
		return 0, false
	}
	t := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	return t.Unix() / 86400, t.Day() == day
}
