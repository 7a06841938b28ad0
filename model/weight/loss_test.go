package weight_test

import (
	"math"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/weight"
)

func tables(t testing.TB) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

const today = model.Day(20_000)

// weekly are weighings of every seventh day, in grams, the oldest first; the last is
// of today.
func weekly(grams ...float64) (list []weight.Weighing) {
	for i, g := range grams {
		list = append([]weight.Weighing{{Day: today - model.Day(7*(len(grams)-1-i)), Mass: model.Mass{Milligrams: int64(math.Round(g * 1000))}}}, list...)
	}
	return list
}

// then are so many weeks of one mass, followed by others.
func then(weeks int, grams float64, others ...float64) []weight.Weighing {
	all := make([]float64, weeks)
	for i := range all {
		all[i] = grams
	}
	return weekly(append(all, others...)...)
}

// eats is an adult that ate last week.
func eats(list []weight.Weighing) weight.Facts {
	return weight.Facts{On: today, Weighings: list, Meal: today - 7, Usual: 14}
}

// fasts is an adult in good condition that kept no meal for so many days.
func fasts(days int, list []weight.Weighing) weight.Facts {
	return weight.Facts{On: today, Weighings: list, Meal: today - model.Day(days), Usual: 14, GoodBefore: true}
}

// The bounds: common practice, no source.
func TestJudge(t *testing.T) {
	tb := tables(t)
	for name, c := range map[string]struct {
		facts  weight.Facts
		level  knowledge.Level
		reason weight.Reason
		share  int
	}{
		"nothing":                         {eats(nil), knowledge.Nothing, weight.FewWeights, 0},
		"two weights, 20 % apart":         {eats(weekly(1500, 1200)), knowledge.VetWithinDays, weight.FarOfFew, 2000},
		"two weights, less apart":         {eats(weekly(1500, 1201)), knowledge.LookAgain, weight.OfFew, 1993},
		"two weights, 10 % apart":         {eats(weekly(1500, 1350)), knowledge.LookAgain, weight.OfFew, 1000},
		"two weights, hardly less":        {eats(weekly(1500, 1351)), knowledge.Nothing, weight.FewWeights, 0},
		"young, two weights 10 % apart":   {eats(weekly(100, 90)), knowledge.VetWithinDays, weight.FarOfFew, 1000},
		"of few, the heaviest counts":     {eats(weekly(1400, 1500, 1400, 1290)), knowledge.LookAgain, weight.OfFew, 1400},
		"a fast, none weighed before it":  {fasts(110, then(9, 1500, 1350, 1350)), knowledge.LookAgain, weight.LongFast, 1000},
		"a fast, one weighed before it":   {fasts(70, then(9, 1500, 1350, 1350)), knowledge.VetWithinDays, weight.Far, 1000},
		"the same for months":             {eats(then(12, 1500)), knowledge.Nothing, weight.NoLoss, 0},
		"two of three light ones":         {eats(then(12, 1500, 1400, 1400)), knowledge.Nothing, weight.NoLoss, 666},
		"three of three":                  {eats(then(12, 1500, 1400, 1400, 1400)), knowledge.LookAgain, weight.Twice, 666},
		"just 5 %, for weeks":             {eats(then(12, 1500, 1425, 1425, 1425, 1425)), knowledge.Nothing, weight.NoLoss, 500},
		"over 5 %, for weeks":             {eats(then(12, 1500, 1424, 1424, 1424, 1424)), knowledge.LookAgain, weight.Twice, 506},
		"10 %":                            {eats(then(12, 1500, 1350, 1350)), knowledge.VetWithinDays, weight.Far, 1000},
		"hardly less than 10 %":           {eats(then(12, 1500, 1351, 1351)), knowledge.Nothing, weight.NoLoss, 993},
		"a single one 20 % below":         {eats(then(12, 1500, 1200)), knowledge.LookAgain, weight.Sudden, 2000},
		"a single one hardly less":        {eats(then(12, 1500, 1201)), knowledge.Nothing, weight.NoLoss, 0},
		"gains":                           {eats(then(12, 1500, 1650, 1650)), knowledge.Nothing, weight.NoLoss, -1000},
		"300 g is judged as others are":   {eats(then(12, 330, 300, 300)), knowledge.Nothing, weight.NoLoss, 909},
		"a fast, 9 %":                     {fasts(80, then(30, 1500, 1365, 1365)), knowledge.Nothing, weight.NoLoss, 900},
		"a fast, 10 %":                    {fasts(120, then(30, 1500, 1350, 1350)), knowledge.LookAgain, weight.LongFast, 1000},
		"a fast, 15 %":                    {fasts(160, then(40, 1500, 1275, 1275)), knowledge.VetWithinDays, weight.FarFast, 1500},
		"a fast, hardly less than 15 %":   {fasts(160, then(40, 1500, 1276, 1276)), knowledge.LookAgain, weight.LongFast, 1493},
		"a short fast, above the line":    {fasts(40, then(12, 1500, 1410, 1410, 1410)), knowledge.LookAgain, weight.AboveLine, 600},
		"above it at one weighing":        {fasts(40, then(12, 1500, 1410, 1410)), knowledge.Nothing, weight.NoLoss, 600},
		"a fast begun thin":               {thin(fasts(120, then(30, 1500, 1350, 1350))), knowledge.VetWithinDays, weight.Far, 1000},
		"one of 1,000 g is no adult yet":  {fasts(120, then(30, 1000, 900, 900)), knowledge.VetWithinDays, weight.Far, 1000},
		"no fast yet: twice the usual":    {usual(fasts(60, then(30, 1500, 1350, 1350)), 30), knowledge.VetWithinDays, weight.Far, 1000},
		"no fast yet: 27 days":            {usual(fasts(27, then(30, 1500, 1350, 1350)), 7), knowledge.VetWithinDays, weight.Far, 1000},
		"a day more without a meal":       {usual(fasts(28, then(30, 1500, 1350, 1350)), 7), knowledge.VetWithinDays, weight.Far, 1000},
		"a fast, 15 % and above the line": {fasts(110, then(30, 1500, 1275, 1275)), knowledge.VetWithinDays, weight.Far, 1500},
		"young, falling twice by 3 %":     {eats(weekly(100, 98, 97)), knowledge.VetWithinDays, weight.YoungFalls, 300},
		"young, falling by less":          {eats(weekly(100, 98, 97.1)), knowledge.Nothing, weight.FewWeights, 0},
		"young, up between":               {eats(weekly(100, 101, 97)), knowledge.Nothing, weight.FewWeights, 0},
		"young, 10 % at once":             {eats(then(12, 160, 144, 144)), knowledge.VetWithinDays, weight.Far, 1000},
		"young, down and level":           {eats(weekly(100, 97, 97)), knowledge.Nothing, weight.FewWeights, 0},
		"young, unfed and lighter":        {usual(fasts(15, weekly(100, 101, 100, 99)), 7), knowledge.VetWithinDays, weight.YoungUnfed, 50},
		"young, unfed and as heavy":       {usual(fasts(15, weekly(100, 101, 99, 101)), 7), knowledge.Nothing, weight.FewWeights, 0},
		"young, lighter but fed":          {usual(fasts(14, weekly(100, 101, 100, 99)), 7), knowledge.Nothing, weight.FewWeights, 0},
		"young, one weight since":         {usual(fasts(15, weekly(100, 101, 102, 103)[1:]), 7), knowledge.Nothing, weight.FewWeights, 0},
	} {
		got := weight.Judge(tb, c.facts)
		if got.Level != c.level || got.Reason != c.reason || got.Share != c.share {
			t.Errorf("%s: %v, %v, %d; want %v, %v, %d", name, got.Level, got.Reason, got.Share, c.level, c.reason, c.share)
		}
	}
}

func thin(f weight.Facts) weight.Facts { f.GoodBefore = false; return f }

func usual(f weight.Facts, days int) weight.Facts { f.Usual = days; return f }

// What is too old, too new, or of before a break tells nothing.
func TestJudge_WhatIsCompared(t *testing.T) {
	tb := tables(t)
	lost := then(12, 1500, 1350, 1350)
	later := eats(lost)
	if later.On += 23; weight.Judge(tb, later).Reason != weight.Far {
		t.Error("the newest two weights are of the last 30 days")
	}
	if later.On = today + 210; weight.Judge(tb, later).Reason != weight.Far {
		t.Error("an alarm ends by time alone")
	}
	if later.On++; weight.Judge(tb, later).Reason != weight.FewWeights {
		t.Error("a weight of 211 days ago tells of today")
	}
	broken := eats(lost)
	if broken.Break = today - 7; weight.Judge(tb, broken).Reason != weight.FewWeights {
		t.Error("weights of before a break are compared with")
	}
	if broken.Break = today - 100; weight.Judge(tb, broken).Reason != weight.Far {
		t.Error("an old break hides a loss")
	}
	early := eats(lost)
	if early.On -= 7; weight.Judge(tb, early).Share != 0 || len(weight.Judge(tb, early).Last.Of) != 3 {
		t.Error("a weight of tomorrow counts today")
	}
	far := eats([]weight.Weighing{{Day: today, Mass: model.Grams(1350)}, {Day: today - 180, Mass: model.Grams(1500)}, {Day: today - 100, Mass: model.Grams(1500)}, {Day: today - 30, Mass: model.Grams(1500)}})
	far.Weighings[1], far.Weighings[3] = far.Weighings[3], far.Weighings[1]
	if got := weight.Judge(tb, far); len(got.Held.Of) != 3 || got.Reason != weight.NoLoss {
		t.Errorf("30 and 180 days ago are compared with, and the one of 30 days ago is among the newest: %+v", got)
	}
	far.Weighings[3].Day--
	if got := weight.Judge(tb, far); got.Reason != weight.OfFew || len(got.Held.Of) != 1 {
		t.Errorf("181 days ago is compared with: %+v", got)
	}
}

// A fast that loses 7 % in 120 days stays as it is; one at the measured rate is looked
// at again at 10 % and is for the vet at 15 %; a juvenile that starves is for the vet
// by week 4. Source of the rate: McCue 2007, 18.3 % in 168 days.
func TestThreeStories(t *testing.T) {
	tb := tables(t)
	story := func(grams float64, lost func(days int) float64, f weight.Facts) (first map[knowledge.Level]int) {
		first = map[knowledge.Level]int{}
		for day := -140; day <= 168; day += 7 {
			at := grams
			if day > 0 {
				at *= 1 - lost(day)
			}
			f.On = today + model.Day(day)
			f.Weighings = append([]weight.Weighing{{Day: f.On, Mass: model.Mass{Milligrams: int64(at * 1000)}}}, f.Weighings...)
			if got := weight.Judge(tb, f); day >= 0 {
				if _, seen := first[got.Level]; !seen {
					first[got.Level] = day
				}
			}
		}
		return first
	}
	adult := weight.Facts{Meal: today, Usual: 14, GoodBefore: true}
	mild := story(1500, func(days int) float64 { return 0.07 * float64(min(days, 120)) / 120 }, adult)
	if len(mild) != 1 {
		t.Errorf("7 %% in 120 days: %v, want nothing", mild)
	}
	// By the median of three weeks, a week after the true mass has come so far: 10 % is
	// reached 87.6 days after the two weeks, 15 % after 135.1.
	measured := story(1500, func(days int) float64 {
		return -math.Expm1(math.Log1p(-0.183) / 168 * float64(max(0, days-14)))
	}, adult)
	if measured[knowledge.LookAgain] != 112 || measured[knowledge.VetWithinDays] != 161 {
		t.Errorf("the measured rate: %v, want look again on day 112, the vet on day 161", measured)
	}
	juvenile := story(150, func(days int) float64 { return 0.002 * float64(days) }, weight.Facts{Meal: today, Usual: 7})
	if day, found := juvenile[knowledge.VetWithinDays]; !found || day > 28 {
		t.Errorf("a juvenile that loses 0.2 %% a day: %v, want the vet by day 28", juvenile)
	}
}

// Source: facts of the measured fast: 0.12031 % a day, 10 % at day 87.6; computed of
// 18.3 % in 168 days.
func TestLine(t *testing.T) {
	tb := tables(t)
	if got := weight.Daily(tb); math.Abs(got-0.0012031) > 1e-7 {
		t.Errorf("the daily rate is %v, want .0012031", got)
	}
	if days := math.Log(0.9) / -weight.Daily(tb); math.Abs(days-87.6) > 0.05 {
		t.Errorf("10 %% is lost in %v days, want 87.6", days)
	}
	for _, c := range []struct{ days, line int }{{0, 0}, {14, 0}, {15, 15}, {14 + 168, 2233}, {14 + 84, 1187}} {
		if got := weight.Line(tb, c.days); got != c.line {
			t.Errorf("the line after %d days: %d, want %d", c.days, got, c.line)
		}
	}
}

// A young one that keeps no meal and is lighter by less than a scale can show has lost
// nothing.
func TestAMilligramIsNoLoss(t *testing.T) {
	tb := tables(t)
	for milligrams, want := range map[int64]weight.Reason{39_999: weight.FewWeights, 39_900: weight.YoungUnfed} {
		now := model.Mass{Milligrams: milligrams}
		f := weight.Facts{On: today, Usual: 5, Meal: today - 11, Weighings: []weight.Weighing{{Day: today, Mass: now}, {Day: today - 5, Mass: now}, {Day: today - 12, Mass: model.Grams(40)}}}
		if l := weight.Judge(tb, f); l.Reason != want {
			t.Errorf("%d mg of 40 g: %+v, want %v", milligrams, l, want)
		}
	}
}
