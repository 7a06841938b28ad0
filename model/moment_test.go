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
