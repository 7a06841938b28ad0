package wording_test

import (
	"errors"
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
	}
	for typed, reason := range map[string]string{"1 Mar": "day.which-year", "28.11.": "day.which-year", "29 Feb": "day.which-year", "31.11.": "day.none", "29.11.": "", "today": "", "1 Mar 2026": "", "March 2027": "", "2027": ""} {
		_, err := text.ParseDateInFull(typed, today)
		var r *model.Refusal
		if is := errors.As(err, &r); is != (reason != "") || is && r.Reason != reason {
			t.Errorf("%s in full: %v, want %q", typed, err, reason)
		}
	}
	var r *model.Refusal
	if _, err := text.ParseDateInFull("29 Feb", today); !errors.As(err, &r) || r.Gaps["One"] != model.DayGap(model.NewDay(2024, 2, 29)) || r.Gaps["Other"] != model.DayGap(model.NewDay(2028, 2, 29)) {
		t.Errorf("asked %+v", r)
	}
	if _, err := text.ParseDayAhead("31.11.", today); err == nil {
		t.Error("a day that is none is taken")
	}
}
