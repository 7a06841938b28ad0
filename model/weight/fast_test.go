package weight_test

import (
	"math"
	"testing"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/weight"
)

// The uptake of oxygen. Source: Andrews and Pough 1985, 0.013 M^0.80 10^(0.038 T), as read
// in two biophysical models; the values computed of it.
func TestOxygen(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct{ grams, degrees, want float64 }{
		{100, 30, 7.14}, {500, 30, 25.89}, {1500, 30, 62.35}, {1500, 25, 40.26}, {1500, 32, 74.27},
	} {
		if got := weight.Oxygen(tb, c.grams, c.degrees); math.Abs(got-c.want) > 0.006 {
			t.Errorf("%v g at %v degrees: %.4f mL an hour, want %v", c.grams, c.degrees, got, c.want)
		}
	}
	if got := weight.Energy(tb, 1500, 30); math.Abs(got-30.1) > 0.05 {
		t.Errorf("1,500 g at 30 degrees: %.3f kJ a day, want 30.1, by 20.1 J a millilitre", got)
	}
	if got := weight.Oxygen(tb, 1500, 35) / weight.Oxygen(tb, 1500, 25); math.Abs(got-2.40) > 0.005 {
		t.Errorf("ten degrees more: %.3f times as much, want 2.40", got)
	}
}

// Source: McCue 2007, 18.3 % in 168 days, counted from two weeks after the meal.
func TestFastOf(t *testing.T) {
	tb := tables(t)
	fast, fasting := weight.FastOf(tb, fasts(182, then(40, 1500)))
	last := fast.Days[len(fast.Days)-1]
	if !fasting || fast.Meal != today-182 || fast.From != model.Grams(1500) || last.Day != today || last.Measured.Milligrams != 1_225_500 {
		t.Errorf("%v from %v, at last %+v; want 1,225.5 g of 1,500", fasting, fast.From, last)
	}
	for i, e := range fast.Days {
		if int(e.Day-fast.Meal) <= 14 && (e.Measured != fast.From || e.Least != fast.From || e.Most != fast.From) {
			t.Errorf("starving begins within two weeks: %+v", e)
		}
		if e.Least.Milligrams > e.Most.Milligrams || i > 0 && (e.Measured.Milligrams > fast.Days[i-1].Measured.Milligrams || e.Day-fast.Days[i-1].Day > 7 || e.Day <= fast.Days[i-1].Day) {
			t.Errorf("%+v after %+v", e, fast.Days[max(0, i-1)])
		}
	}
	// 30 days of starving at 10 kJ a gram and a rate that stays: 3.01 g on the first day,
	// and a little less with the mass; computed.
	month, _ := weight.FastOf(tb, fasts(44, then(40, 1500)))
	if lost := 1500 - float64(month.Days[len(month.Days)-1].Least.Milligrams)/1000; lost < 84 || lost > 90.3 {
		t.Errorf("%.1f g at the most in 30 days, want 84 to 90.3", lost)
	}
	if _, fasting := weight.FastOf(tb, eats(then(40, 1500))); fasting {
		t.Error("one that eats fasts")
	}
	if fast, fasting := weight.FastOf(tb, fasts(60, then(40, 250))); !fasting || len(fast.Days) != 0 {
		t.Errorf("a young one: %v, %d days; what was measured is of others", fasting, len(fast.Days))
	}
	if fast, fasting := weight.FastOf(tb, fasts(60, nil)); !fasting || len(fast.Days) != 0 || fast.From != (model.Mass{}) {
		t.Errorf("without a weight: %v, %+v", fasting, fast)
	}
	grown := fasts(60, then(40, 1200, 1400, 1400, 1400, 1390, 1380, 1370, 1360, 1350, 1340, 1330, 1320, 1310))
	if fast, _ := weight.FastOf(tb, grown); fast.From != model.Grams(1400) {
		t.Errorf("one that grew before: the fast begins with %v, want the middle of the newest three up to the meal", fast.From)
	}
	if fast, _ := weight.FastOf(tb, fasts(29, back(then(5, 1500), 35))); fast.From != model.Grams(1500) || len(fast.Days) == 0 {
		t.Errorf("weighed only before the meal: %+v", fast)
	}
}

// One that laid in a fast is judged by what it weighed since, as everybody: neither the
// condition before the clutch nor what so long a fast costs excuses a loss after it, and no
// line is drawn from the meal.
func TestAFastInWhichItLaid(t *testing.T) {
	tb := tables(t)
	lost := fasts(162, []weight.Weighing{{Day: today, Mass: model.Grams(1095)}, {Day: today - 7, Mass: model.Grams(1110)}, {Day: today - 14, Mass: model.Grams(1120)},
		{Day: today - 48, Mass: model.Grams(1240)}, {Day: today - 52, Mass: model.Grams(1250)}, {Day: today - 57, Mass: model.Grams(1250)},
		{Day: today - 100, Mass: model.Grams(1800)}, {Day: today - 150, Mass: model.Grams(1800)}, {Day: today - 160, Mass: model.Grams(1800)}})
	lost.Break = today - 59
	if l := weight.Judge(tb, lost); l.Fast || l.Reason != weight.Far || l.Level != knowledge.VetWithinDays || l.Held.Mass != model.Grams(1250) {
		t.Errorf("11 %% lost since it laid: %+v", l)
	}
	slower := lost
	slower.Weighings = append([]weight.Weighing{{Day: today, Mass: model.Grams(1150)}, {Day: today - 7, Mass: model.Grams(1160)}, {Day: today - 14, Mass: model.Grams(1165)}}, lost.Weighings[3:]...)
	if l := weight.Judge(tb, slower); l.Fast || l.Reason != weight.Twice || l.Level != knowledge.LookAgain {
		t.Errorf("7 %% lost since it laid: %+v", l)
	}
	if fast, fasting := weight.FastOf(tb, lost); !fasting || len(fast.Days) != 0 {
		t.Errorf("a line from the meal: %v, %d days", fasting, len(fast.Days))
	}
	before := lost
	before.Break = before.Meal
	if fast, fasting := weight.FastOf(tb, before); !fasting || len(fast.Days) == 0 {
		t.Errorf("laid before the meal: %v, %d days", fasting, len(fast.Days))
	}
	fed := lost
	fed.Break, fed.Weighings = before.Meal-200, lost.Weighings[6:]
	if l := weight.Judge(tb, fed); !l.Fast {
		t.Errorf("laid long before the meal: %+v", l)
	}
}
