package model

import (
	"fmt"
	"sync"
	"time"
)

// Precision is how exactly a moment or date is known. Values are frozen.
type Precision string

// The precisions, finest first.
const (
	ToMinute Precision = "minute"
	ToDay    Precision = "day"
	ToMonth  Precision = "month"
	ToYear   Precision = "year"
)

// Moment is a point in time as the keeper knew it: the instant in UTC, by which
// everything sorts, and the offset and zone of the clock it was read from, which
// give the local day. The zero Moment means "unknown".
type Moment struct {
	UTC       int64     `json:"utc"`              // seconds since 1970-01-01 00:00 UTC
	Offset    int32     `json:"offset,omitempty"` // seconds east of UTC, at that moment
	Zone      string    `json:"zone,omitempty"`   // IANA name, empty if unknown
	Precision Precision `json:"precision,omitempty"`
}

// MomentOf is t to the minute's precision, in t's own zone; seconds are kept.
func MomentOf(t time.Time) Moment {
	_, offset := t.Zone()
	zone := t.Location().String()
	if zone == "Local" {
		zone = ""
	}
	return Moment{UTC: t.Unix(), Offset: int32(offset), Zone: zone, Precision: ToMinute}
}

// IsZero reports whether the moment is unknown.
func (m Moment) IsZero() bool { return m == Moment{} }

// Time is the moment on its own clock.
func (m Moment) Time() time.Time {
	return time.Unix(m.UTC, 0).In(time.FixedZone(m.Zone, int(m.Offset)))
}

// zones are the zones that were looked up, by name: the system's tables of them are
// files, and days are turned into moments by the thousand.
var zones sync.Map

// Location is the zone of the clock that the moment was read from, with its summer
// time, where this system knows the zone; else the clock's offset at that moment.
func (m Moment) Location() *time.Location {
	if known, found := zones.Load(m.Zone); found {
		return known.(*time.Location)
	}
	if known, err := time.LoadLocation(m.Zone); err == nil && m.Zone != "" {
		zones.Store(m.Zone, known)
		return known
	}
	return m.Time().Location()
}

// Day is the local day of the moment, by the clock it was read from.
func (m Moment) Day() Day {
	local := m.UTC + int64(m.Offset)
	days := local / 86400
	if local%86400 < 0 {
		days-- // before 1970
	}
	return Day(days)
}

// Before reports whether m lies before o.
func (m Moment) Before(o Moment) bool { return m.UTC < o.UTC }

// Day is a civil day, counted from 1970-01-01 (day 0). It knows no zone.
type Day int32

// DayOf is the civil day of t in t's own zone.
func DayOf(t time.Time) Day {
	y, m, d := t.Date()
	return NewDay(y, m, d)
}

// NewDay is the day of that date; like time.Date it rolls over-large values on.
func NewDay(year int, month time.Month, day int) Day {
	return Day(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// Date is the day's year, month and day of the month.
func (d Day) Date() (year int, month time.Month, day int) {
	return time.Unix(int64(d)*86400, 0).UTC().Date()
}

// Weekday is the day's day of the week.
func (d Day) Weekday() time.Weekday { return time.Unix(int64(d)*86400, 0).UTC().Weekday() }

// String is the day in the form of ISO 8601, such as 2027-03-03.
func (d Day) String() string {
	y, m, day := d.Date()
	return fmt.Sprintf("%04d-%02d-%02d", y, m, day)
}

// MarshalText writes the ISO 8601 form.
func (d Day) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads the ISO 8601 form and refuses days that do not exist.
func (d *Day) UnmarshalText(text []byte) error {
	t, err := time.Parse("2006-01-02", string(text))
	if err != nil {
		return fmt.Errorf("read day: %w", err)
	}
	*d = DayOf(t)
	return nil
}

// Date is a day known to a precision: "hatched in June 2023" is the first of
// that month to the month. The zero Date means "unknown".
type Date struct {
	Day       Day       `json:"day"`
	Precision Precision `json:"precision,omitempty"`
}

// IsZero reports whether the date is unknown.
func (d Date) IsZero() bool { return d.Precision == "" }

// Noon is the minute at which an entry of a day stands whose time is not known.
const Noon = 12 * 60

// MomentOn is a moment on a day, minutes after its midnight, by the clock of the
// place where it is now: the zone's own summer time where the zone is known.
func MomentOn(now Moment, day Day, minutes int, p Precision) Moment {
	year, month, d := day.Date()
	m := MomentOf(time.Date(year, month, d, 0, minutes, 0, 0, now.Location()))
	m.Zone, m.Precision = now.Zone, p
	return m
}
