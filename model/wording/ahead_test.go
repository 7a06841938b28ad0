package wording_test

import (
	"testing"

	"coilward/model"
	"coilward/model/wording"
)

// A day of what lies ahead is, without a year, the next such day from today on; with one,
// and said as days from today, it is what was typed.
func TestDaysAhead(t *testing.T) {
	text := languages(t).In("en", wording.Units{})
	today := model.NewDay(2026, 11, 29)
	for typed, want := range map[string]model.Day{
		"1 Mar":            model.NewDay(2027, 3, 1),
		"29.11.":           today,
		"30.11.":           today + 1,
		"28.11.":           model.NewDay(2027, 11, 28),
		"29 Feb":           model.NewDay(2028, 2, 29),
		"1 Mar 2026":       model.NewDay(2026, 3, 1),
		"today":            today,
		"3 days ago":       today - 3,
		"2027-01-05":       model.NewDay(2027, 1, 5),
		"31 December":      model.NewDay(2026, 12, 31),
		"25 December 2025": model.NewDay(2025, 12, 25),
	} {
		if got, err := text.ParseDayAhead(typed, today); err != nil || got != want {
			t.Errorf("%s: %v, %v, want %v", typed, got, err, want)
		}
		if got, err := text.ParseDateAhead(typed, today); err != nil || got.Day != want || got.Precision != model.ToDay {
			t.Errorf("%s as a date: %+v, %v, want %v", typed, got, err, want)
		}
	}
	if got, err := text.ParseDateAhead("March 2027", today); err != nil || got.Precision != model.ToMonth || got.Day != model.NewDay(2027, 3, 1) {
		t.Errorf("a month: %+v, %v", got, err)
	}
	if _, err := text.ParseDayAhead("31.11.", today); err == nil {
		t.Error("a day that is none is taken")
	}
}
