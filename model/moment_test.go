package model_test

import (
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
)

// The day of a moment is that of its own clock, as the standard library has it.
func TestDayOfMoment(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		m := model.Moment{UTC: rapid.Int64Range(-9_000_000_000, 9_000_000_000).Draw(r, "utc"), Offset: rapid.Int32Range(-64_800, 64_800).Draw(r, "offset")}
		if got, want := m.Day(), model.DayOf(m.Time()); got != want {
			r.Fatalf("%d%+d: %s, want %s", m.UTC, m.Offset, got, want)
		}
	})
}

// A day of winter told in summer has the hours of winter, where the zone is known;
// else the clock stays as it is now. What is asked twice is answered alike.
func TestMomentOnHasTheHoursOfItsSeason(t *testing.T) {
	january := model.NewDay(2027, 1, 15)
	for name, c := range map[string]struct {
		now  model.Moment
		want int32
	}{
		"a known zone":     {model.Moment{UTC: 1_816_000_000, Offset: 7200, Zone: "Europe/Vienna"}, 3600},
		"an unknown zone":  {model.Moment{UTC: 1_816_000_000, Offset: 7200, Zone: "Nowhere/At All"}, 7200},
		"no zone":          {model.Moment{UTC: 1_816_000_000, Offset: -12_600}, -12_600},
		"a zone of no DST": {model.Moment{UTC: 1_816_000_000, Zone: "UTC"}, 0},
	} {
		for range 2 {
			m := model.MomentOn(c.now, january, model.Noon, model.ToDay)
			if m.Offset != c.want || m.Day() != january || m.Zone != c.now.Zone || (m.UTC+int64(m.Offset))%86400 != model.Noon*60 {
				t.Errorf("%s: %+v, want an offset of %d", name, m, c.want)
			}
		}
	}
}
