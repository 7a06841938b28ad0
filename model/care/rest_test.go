package care_test

import (
	"os"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

func shipped(t interface{ Fatal(...any) }) *knowledge.Tables {
	tables, err := knowledge.Load(os.DirFS("../../assets/knowledge"))
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

func took(ago time.Duration, grams int64) care.Entry {
	return care.Entry{At: model.MomentOf(storetest.Start().Add(-ago)), Body: care.Meal{Prey: care.Rat, Each: model.Grams(grams), Outcome: care.Took}}
}

func TestResting(t *testing.T) {
	tables, now := shipped(t), model.MomentOf(storetest.Start())
	refused := took(time.Hour, 100)
	refused.Body = care.Meal{Outcome: care.Refused}
	dayOnly := took(60*time.Hour, 50)
	dayOnly.At.Precision = model.ToDay
	today := took(-time.Hour, 50)
	today.At.Precision = model.ToDay
	for _, c := range []struct {
		name    string
		entries []care.Entry
		mass    int64
		rests   bool
		large   bool
	}{
		{"no meal", nil, 1000, false, false},
		{"47 hours", []care.Entry{took(47*time.Hour, 100)}, 1000, true, false},
		{"48 hours", []care.Entry{took(48*time.Hour, 100)}, 1000, false, false},
		{"48 hours after a large one", []care.Entry{took(48*time.Hour, 101)}, 1000, true, true},
		{"72 hours after a large one", []care.Entry{took(72*time.Hour, 101)}, 1000, false, true},
		{"mass not known", []care.Entry{took(48*time.Hour, 500)}, 0, false, false},
		{"refused since", []care.Entry{refused, took(40*time.Hour, 100)}, 1000, true, false},
		{"refused alone", []care.Entry{refused}, 1000, false, false},
		{"the day alone is known", []care.Entry{dayOnly}, 1000, true, false},
		{"today, the hour not known", []care.Entry{today}, 1000, true, false},
		{"yet to come", []care.Entry{took(-time.Hour, 100)}, 1000, false, false},
	} {
		meal, rests := care.Resting(tables, c.entries, model.Grams(c.mass), now)
		if rests != c.rests || meal.Large != c.large {
			t.Errorf("%s: %+v %v", c.name, meal, rests)
		}
	}
}

// A heavier prey or a later meal never makes the rest shorter.
func TestResting_MoreNeverShortens(t *testing.T) {
	tables, now := shipped(t), model.MomentOf(storetest.Start())
	rapid.Check(t, func(rt *rapid.T) {
		ago := time.Duration(rapid.IntRange(0, 100).Draw(rt, "hours")) * time.Hour
		prey, mass := rapid.Int64Range(1, 500).Draw(rt, "prey"), model.Grams(rapid.Int64Range(0, 4000).Draw(rt, "mass"))
		_, before := care.Resting(tables, []care.Entry{took(ago, prey)}, mass, now)
		_, after := care.Resting(tables, []care.Entry{took(ago*3/4, prey+rapid.Int64Range(0, 500).Draw(rt, "more"))}, mass, now)
		if before && !after {
			rt.Fatal("a heavier, later meal asks for less rest")
		}
	})
}

// Fourteen days without food after prey was brought up. Source: common practice,
// no source.
func TestOfferAfterBroughtUp(t *testing.T) {
	tables, now := shipped(t), model.MomentOf(storetest.Start())
	up := took(72*time.Hour, 50)
	up.Body = care.Meal{Outcome: care.Regurgitated}
	late := up
	late.Body = care.Meal{Outcome: care.Regurgitated, BroughtUp: model.Date{Day: up.At.Day() + 2, Precision: model.ToDay}}
	note := care.Entry{At: now, Body: care.Note{Text: "calm"}}
	for _, c := range []struct {
		name      string
		entries   []care.Entry
		broughtUp bool
		on        model.Day
	}{
		{"nothing", nil, false, 0},
		{"a meal taken", []care.Entry{took(time.Hour, 50)}, false, 0},
		{"brought up, on a day that nobody named", []care.Entry{up}, true, up.At.Day()},
		{"brought up two days after the meal", []care.Entry{late}, true, up.At.Day() + 2},
		{"a note since", []care.Entry{note, up}, true, up.At.Day()},
		{"a meal taken since", []care.Entry{took(time.Hour, 50), up}, false, 0},
		{"an offer refused since", []care.Entry{{At: now, Body: care.Meal{Outcome: care.Refused}}, up}, true, up.At.Day()},
	} {
		from, on, broughtUp := care.OfferAfterBroughtUp(tables, c.entries)
		if broughtUp != c.broughtUp || broughtUp && (on != c.on || from != c.on+14) {
			t.Errorf("%s: from %v, on %v, %v", c.name, from, on, broughtUp)
		}
	}
}
