// Package holidays knows on which days parcels may lie still: the public holidays of
// a country. Those that only a part of it keeps are told of Switzerland, and of no other.
package holidays

import (
	"slices"
	"time"

	"github.com/rickar/cal/v2"
	"github.com/rickar/cal/v2/at"
	"github.com/rickar/cal/v2/be"
	"github.com/rickar/cal/v2/ca"
	"github.com/rickar/cal/v2/ch"
	"github.com/rickar/cal/v2/cz"
	"github.com/rickar/cal/v2/de"
	"github.com/rickar/cal/v2/dk"
	"github.com/rickar/cal/v2/es"
	"github.com/rickar/cal/v2/fr"
	"github.com/rickar/cal/v2/gb"
	"github.com/rickar/cal/v2/ie"
	"github.com/rickar/cal/v2/it"
	"github.com/rickar/cal/v2/nl"
	"github.com/rickar/cal/v2/pl"
	"github.com/rickar/cal/v2/se"
	"github.com/rickar/cal/v2/us"

	"coilward/model"
)

// Country is a country by its two letters of ISO 3166-1; empty: not known. The text
// is "country." + value.
type Country string

// calendars are the holidays of each country.
var calendars = map[Country]*cal.Calendar{
	"at": of(at.Holidays), "be": of(be.Holidays), "ca": of(ca.Holidays), "ch": of(ch.Holidays), "cz": of(cz.Holidays), "de": of(de.Holidays), "dk": of(dk.Holidays), "es": of(es.Holidays),
	"fr": of(fr.Holidays), "gb": of(gb.Holidays), "ie": of(ie.Holidays), "it": of(it.Holidays), "nl": of(nl.Holidays), "pl": of(pl.Holidays), "se": of(se.Holidays), "us": of(us.Holidays),
}

func of(all []*cal.Holiday) *cal.Calendar {
	c := &cal.Calendar{}
	c.AddHoliday(all...)
	return c
}

// Countries are those whose holidays are known, by their letters.
func Countries() []Country {
	return []Country{"at", "be", "ca", "ch", "cz", "de", "dk", "es", "fr", "gb", "ie", "it", "nl", "pl", "se", "us"}
}

// Known reports whether the country's holidays are known.
func (c Country) Known() bool { return slices.Contains(Countries(), c) }

// Holiday reports whether that day is a public holiday of the country, or stands
// in for one. It is false for a country that is not known.
func (c Country) Holiday(day model.Day) bool {
	calendar, known := calendars[c]
	if !known {
		return false
	}
	y, m, d := day.Date()
	actual, observed, _ := calendar.IsHoliday(time.Date(y, m, d, 12, 0, 0, 0, time.UTC))
	return actual || observed
}
