package weight_test

import (
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/weight"
)

// records draws the weights of an animal that stays on one side of 300 g, and how it
// eats.
func records(t *rapid.T) weight.Facts {
	least := int64(rapid.SampledFrom([]int{40, 310, 900, 1400}).Draw(t, "from"))
	f := weight.Facts{On: today, Usual: rapid.IntRange(5, 30).Draw(t, "usual"), GoodBefore: rapid.Bool().Draw(t, "good")}
	if rapid.Bool().Draw(t, "meal known") {
		f.Meal = today - model.Day(rapid.IntRange(0, 200).Draw(t, "meal"))
	}
	if rapid.IntRange(0, 4).Draw(t, "break") == 0 {
		f.Break = today - model.Day(rapid.IntRange(0, 250).Draw(t, "since"))
	}
	day := today - model.Day(rapid.IntRange(0, 40).Draw(t, "newest"))
	for range rapid.IntRange(0, 25).Draw(t, "weighings") {
		mass := model.Mass{Milligrams: least*1000 + int64(rapid.IntRange(0, 200_000).Draw(t, "over"))}
		f.Weighings = append(f.Weighings, weight.Weighing{Day: day, Mass: mass})
		day -= model.Day(rapid.IntRange(0, 30).Draw(t, "gap"))
	}
	return f
}

func TestTheFutureTellsNothing(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		f := records(t)
		was := weight.Judge(tb, f)
		f.Weighings = slices.Insert(slices.Clone(f.Weighings), 0, weight.Weighing{Day: today + 1, Mass: model.Grams(1)})
		if is := weight.Judge(tb, f); !reflect.DeepEqual(was, is) {
			t.Fatalf("%+v, with a weight of tomorrow %+v", was, is)
		}
	})
}

func TestAHeavierLastWeightRaisesNoAlarm(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		f := records(t)
		if len(f.Weighings) == 0 {
			return
		}
		was := weight.Judge(tb, f)
		f.Weighings = slices.Clone(f.Weighings)
		heavier := &f.Weighings[0].Mass.Milligrams
		*heavier += int64(rapid.IntRange(0, 40_000).Draw(t, "more"))
		if is := weight.Judge(tb, f); is.Level > was.Level && *heavier < 300_000 == (*heavier-40_000 < 300_000) {
			t.Fatalf("%+v became %+v", was, is)
		}
	})
}

func TestALongerFastMayCostMore(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		days := rapid.IntRange(0, 1000).Draw(t, "days")
		if weight.Line(tb, days) > weight.Line(tb, days+1) || weight.Line(tb, days) >= 10_000 {
			t.Fatalf("the line falls after %d days", days)
		}
	})
}

// A verdict names the weighings that it rests on, and an alarm a loss.
func TestWhatIsSaidIsOfItsWeighings(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		f := records(t)
		got := weight.Judge(tb, f)
		for _, w := range slices.Concat(got.Last.Of, got.Held.Of) {
			if !slices.Contains(f.Weighings, w) || w.Day > f.On || w.Day < f.Break {
				t.Fatalf("%+v rests on %+v", got, w)
			}
		}
		if got.Level > 0 && (len(got.Last.Of) == 0 || len(got.Held.Of) == 0 || got.Share <= 0 || got.Last.Mass.Milligrams >= got.Held.Mass.Milligrams) {
			t.Fatalf("an alarm without a loss: %+v", got)
		}
	})
}
