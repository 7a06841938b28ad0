package holidays_test

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/holidays"
)

// Holidays by law, each with the day that it is on. Easter Sunday is 28 March 2027. Sources: the
// unification treaty of 1990 for 3 October in Germany; 5 U.S.C. 6103 for the United States,
// where Independence Day of 2027, a Sunday, is kept on the Monday; the others by custom.
func TestHoliday(t *testing.T) {
	for _, c := range []struct {
		country holidays.Country
		y       int
		m       time.Month
		d       int
		want    bool
	}{
		{"de", 2027, 10, 3, true}, {"de", 2027, 10, 2, false}, {"de", 2027, 3, 26, true}, {"de", 2027, 3, 29, true}, {"de", 2027, 5, 6, true}, {"de", 2027, 12, 26, true}, {"de", 2027, 11, 1, false},
		{"at", 2027, 10, 26, true}, {"at", 2027, 12, 8, true}, {"ch", 2027, 8, 1, true}, {"fr", 2027, 7, 14, true}, {"gb", 2027, 12, 25, true}, {"us", 2027, 7, 5, true}, {"us", 2027, 11, 25, true}, {"us", 2027, 11, 24, false},
		{"nl", 2027, 4, 27, true}, {"pl", 2027, 11, 11, true}, {"", 2027, 12, 25, false}, {"xx", 2027, 12, 25, false},
	} {
		if got := c.country.Holiday(model.NewDay(c.y, c.m, c.d)); got != c.want {
			t.Errorf("%s, %d-%02d-%02d: %t", c.country, c.y, c.m, c.d, got)
		}
	}
}

// Every country that is offered has holidays in every year, New Year's Day among them.
func TestEveryCountryHasHolidays(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := rapid.SampledFrom(holidays.Countries()).Draw(r, "country")
		year, n := rapid.IntRange(2000, 2080).Draw(r, "year"), 0
		for day := model.NewDay(year, 1, 1); day <= model.NewDay(year, 12, 31); day++ {
			if c.Holiday(day) {
				n++
			}
		}
		if n < 5 || n > 30 {
			r.Errorf("%s has %d holidays in %d", c, n, year)
		}
	})
}
