package animals_test

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
)

func dayOf(year int, month time.Month, day int) model.Day {
	return model.DayOf(time.Date(year, month, day, 0, 0, 0, 0, time.UTC))
}

func TestInStock(t *testing.T) {
	asked := dayOf(2026, time.June, 15)
	added := dayOf(2026, time.January, 10)
	for name, c := range map[string]struct {
		animal animals.Animal
		want   string
	}{
		"came before":                      {animals.Animal{Since: dated(model.ToDay, dayOf(2026, time.June, 14))}, "here"},
		"came that day":                    {animals.Animal{Since: dated(model.ToDay, dayOf(2026, time.June, 15))}, "here"},
		"came the day after":               {animals.Animal{Since: dated(model.ToDay, dayOf(2026, time.June, 16))}, "gone"},
		"came in that month":               {animals.Animal{Since: dated(model.ToMonth, dayOf(2026, time.June, 1))}, "unsure"},
		"came in the month before":         {animals.Animal{Since: dated(model.ToMonth, dayOf(2026, time.May, 1))}, "here"},
		"came in that year":                {animals.Animal{Since: dated(model.ToYear, dayOf(2026, time.January, 1))}, "unsure"},
		"came in the year before":          {animals.Animal{Since: dated(model.ToYear, dayOf(2025, time.January, 1))}, "here"},
		"arrival not noted, in records":    {animals.Animal{}, "here"},
		"left that day":                    {animals.Animal{Status: animals.Sold, StatusDay: dated(model.ToDay, dayOf(2026, time.June, 15))}, "gone"},
		"left the day after":               {animals.Animal{Status: animals.Died, StatusDay: dated(model.ToDay, dayOf(2026, time.June, 16))}, "here"},
		"left in that month":               {animals.Animal{Status: animals.Given, StatusDay: dated(model.ToMonth, dayOf(2026, time.June, 1))}, "unsure"},
		"left, nobody knows when":          {animals.Animal{Status: animals.Escaped}, "unsure"},
		"on loan":                          {animals.Animal{Status: animals.OnLoan, StatusDay: dated(model.ToDay, dayOf(2026, time.March, 1))}, "here"},
		"hatched later, arrival not noted": {animals.Animal{Hatched: dated(model.ToDay, dayOf(2026, time.January, 5))}, "here"},
	} {
		here, unsure := animals.InStock([]animals.Stored{{Added: added, Animal: c.animal}}, asked)
		got := "gone"
		if len(here) == 1 {
			got = "here"
		}
		if len(unsure) == 1 {
			got = "unsure"
		}
		if got != c.want {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
	}
	before := dayOf(2026, time.January, 7)
	for name, c := range map[string]struct {
		animal animals.Animal
		want   int
	}{
		"not in the records yet, arrival not noted": {animals.Animal{}, 1},
		"hatched before, not in the records yet":    {animals.Animal{Hatched: dated(model.ToDay, dayOf(2026, time.January, 6))}, 1},
		"not hatched yet":                           {animals.Animal{Hatched: dated(model.ToDay, dayOf(2026, time.January, 8))}, 0},
	} {
		if here, unsure := animals.InStock([]animals.Stored{{Added: added, Animal: c.animal}}, before); len(here) > 0 || len(unsure) != c.want {
			t.Errorf("%s: %d here, %d unsure; want none here and %d unsure", name, len(here), len(unsure), c.want)
		}
	}
}

// Whatever a date is known to, one known to the day within it is never contradicted.
func TestInStock_WhatIsSaidHoldsForEveryDayTheDatesMayMean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(label string) model.Day { return dayOf(2026, time.January, rapid.IntRange(1, 400).Draw(t, label)) }
		came, left, asked := at("came"), at("left"), at("asked")
		if left < came {
			came, left = left, came
		}
		coarse := func(d model.Day, label string) model.Date {
			year, month, _ := d.Date()
			switch rapid.IntRange(0, 2).Draw(t, label) {
			case 0:
				return dated(model.ToMonth, dayOf(year, month, 1))
			case 1:
				return dated(model.ToYear, dayOf(year, time.January, 1))
			}
			return model.Date{Day: d, Precision: model.ToDay}
		}
		a := animals.Stored{Added: came, Animal: animals.Animal{Status: animals.Sold, Since: coarse(came, "since"), StatusDay: coarse(left, "until")}}
		here, unsure := animals.InStock([]animals.Stored{a}, asked)
		was := came <= asked && asked < left
		if len(here) == 1 && !was || len(here)+len(unsure) == 0 && was {
			t.Fatalf("came %s, left %s, asked for %s: here %d, unsure %d", came, left, asked, len(here), len(unsure))
		}
		if slices.ContainsFunc(here, func(h animals.Stored) bool { return len(unsure) > 0 && h.ID == unsure[0].ID }) {
			t.Fatal("said twice")
		}
	})
}
