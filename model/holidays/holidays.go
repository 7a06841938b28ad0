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

// of are the holidays of each country.
func of(c Country) []*cal.Holiday {
	return map[Country][]*cal.Holiday{
		"at": at.Holidays, "be": be.Holidays, "ca": ca.Holidays, "ch": ch.Holidays, "cz": cz.Holidays, "de": de.Holidays, "dk": dk.Holidays, "es": es.Holidays,
		"fr": fr.Holidays, "gb": gb.Holidays, "ie": ie.Holidays, "it": it.Holidays, "nl": nl.Holidays, "pl": pl.Holidays, "se": se.Holidays, "us": us.Holidays,
	}[c]
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
	calendar := cal.NewBusinessCalendar()
	calendar.AddHoliday(of(c)...)
	y, m, d := day.Date()
	actual, observed, _ := calendar.IsHoliday(time.Date(y, m, d, 12, 0, 0, 0, time.UTC))
	return actual || observed
}
