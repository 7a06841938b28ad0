package weight_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/weight"
)

// falling are weighings of every so many days that lose a percentage in 30 days, the last
// of today, newest first.
func falling(count, every int, grams, percent float64) []weight.Weighing {
	list := make([]weight.Weighing, count)
	for i := range list {
		days := float64((count - 1 - i) * every)
		list[i] = weight.Weighing{Day: today - model.Day(i*every), Mass: model.Mass{Milligrams: int64(math.Round(grams * 1000 * math.Exp(math.Log1p(-percent/100)*days/30)))}}
	}
	return list
}

// How many weights and days a trend takes: common practice, no source.
func TestTrendOf(t *testing.T) {
	tb := tables(t)
	for name, c := range map[string]struct {
		facts weight.Facts
		known bool
		share int
		of    int
		from  weight.Break
	}{
		"none":                              {eats(nil), false, 0, 0, weight.NoBreak},
		"six over 60 days":                  {eats(falling(6, 12, 1500, 1)), true, -100, 6, weight.NoBreak},
		"five over 60 days":                 {eats(falling(5, 15, 1500, 1)), false, 0, 5, weight.NoBreak},
		"nine over 56 days":                 {eats(falling(9, 7, 1500, 1)), false, 0, 9, weight.NoBreak},
		"a rise":                            {eats(falling(20, 7, 1500, -3)), true, 300, 20, weight.NoBreak},
		"the same":                          {eats(falling(20, 7, 1500, 0)), true, 0, 20, weight.NoBreak},
		"of 210 days and not more":          {eats(falling(40, 7, 1500, 2)), true, -200, 31, weight.NoBreak},
		"since she was no longer gravid":    {broken(eats(falling(20, 7, 1500, 2)), today-70), true, -200, 11, weight.Clutch},
		"since it came to another place":    {moved(eats(falling(20, 7, 1500, 2)), today-63, today-126), true, -200, 10, weight.Moved},
		"a move of 59 days ago":             {moved(eats(falling(20, 7, 1500, 2)), today-59), false, 0, 9, weight.Moved},
		"a move that is planned":            {moved(eats(falling(20, 7, 1500, 2)), today+1), true, -200, 20, weight.NoBreak},
		"since it ate again":                {fed(eats(falling(20, 7, 1500, 2)), today-91), true, -200, 14, weight.FedAgain},
		"of a fast, since the meal":         {fasts(84, falling(20, 7, 1500, 2)), true, -200, 13, weight.Fasting},
		"an old break is of no matter":      {moved(eats(falling(40, 7, 1500, 2)), today-211), true, -200, 31, weight.NoBreak},
		"doubtful ones do not count":        {doubtful(eats(falling(7, 12, 1500, 1)), 0, 1), false, 0, 5, weight.NoBreak},
		"five days, one of them many times": {eats(slices.Concat(falling(1, 1, 1500, 1), falling(5, 15, 1500, 1))), false, 0, 6, weight.NoBreak},
	} {
		got := weight.TrendOf(tb, c.facts)
		if got.Known != c.known || got.Share != c.share || len(got.Of) != c.of || got.From != c.from {
			t.Errorf("%s: %v, %d, %d weights, from %v; want %v, %d, %d, %v", name, got.Known, got.Share, len(got.Of), got.From, c.known, c.share, c.of, c.from)
		}
		if c.known && c.share != 0 && (got.Falls() != (c.share < 0) || got.Rises() != (c.share > 0) || got.Low > got.Share || got.High < got.Share) {
			t.Errorf("%s: %+v", name, got)
		}
		if at := got.At(today); c.known && math.Abs(float64(at.Milligrams-1_500_000*int64(1)))/1_500_000 > 0.5 {
			t.Errorf("%s: the trend is at %d mg today", name, at.Milligrams)
		}
	}
}

func broken(f weight.Facts, day model.Day) weight.Facts { f.Break = day; return f }

func moved(f weight.Facts, days ...model.Day) weight.Facts { f.Moves = days; return f }

func fed(f weight.Facts, day model.Day) weight.Facts { f.Fed = day; return f }

func doubtful(f weight.Facts, at ...int) weight.Facts {
	f.Weighings = slices.Clone(f.Weighings)
	for _, i := range at {
		f.Weighings[i].Doubtful = true
	}
	return f
}

// The mass that the trend has on a day of its own.
func TestTrend_At(t *testing.T) {
	trend := weight.TrendOf(tables(t), eats(falling(20, 7, 1500, 2)))
	for ago, want := range map[int]float64{0: 1500 * math.Pow(.98, 133.0/30), 133: 1500, 70: 1500 * math.Pow(.98, 63.0/30)} {
		if got := trend.At(today - model.Day(ago)); math.Abs(float64(got.Milligrams)/1000-want) > 0.01 {
			t.Errorf("%d days ago: %d mg, want %.3f g", ago, got.Milligrams, want)
		}
	}
	if (weight.Trend{}).At(today) != (model.Mass{}) {
		t.Error("no trend has a mass")
	}
}

// One wild value turns no trend, as in Sen 1968; a mean would go to -1.9 %.
func TestAWildValueTurnsNoTrend(t *testing.T) {
	tb, list := tables(t), falling(20, 7, 1500, 1)
	list[0].Mass.Milligrams /= 2
	if got := weight.TrendOf(tb, eats(list)); got.Share != -100 {
		t.Errorf("%d, want -100", got.Share)
	}
}

// Several weighings of one day count as one, their middle.
func TestOneDayCountsOnce(t *testing.T) {
	tb := tables(t)
	once := falling(9, 10, 1500, 1)
	var often []weight.Weighing
	for _, w := range once {
		up, down := w, w
		up.Mass.Milligrams += 90_000
		down.Mass.Milligrams -= 90_000
		often = append(often, up, w, down)
	}
	a, b := weight.TrendOf(tb, eats(once)), weight.TrendOf(tb, eats(often))
	if a.Share != b.Share || a.Low != b.Low || a.High != b.High || a.Chance != b.Chance || b.On != 9 {
		t.Errorf("%+v, three times a day %+v", a, b)
	}
}

// A loss of 1 % a month is told as a look again and never louder; not in a fast, not of
// the time of one that is over, and not across a move.
func TestASlowLoss(t *testing.T) {
	tb := tables(t)
	for name, c := range map[string]struct {
		facts  weight.Facts
		level  knowledge.Level
		reason weight.Reason
	}{
		"1 % in 30 days, for 150 days":     {eats(falling(22, 7, 1500, 1)), knowledge.LookAgain, weight.Slow},
		"for 84 days":                      {eats(falling(13, 7, 1500, 1)), knowledge.Nothing, weight.NoLoss},
		"half of it":                       {eats(falling(22, 7, 1500, .5)), knowledge.Nothing, weight.NoLoss},
		"in a fast":                        {fasts(40, falling(22, 7, 1500, 1)), knowledge.Nothing, weight.NoLoss},
		"a fast that is over":              {fed(eats(slices.Concat(falling(6, 7, 1460, 0), back(falling(16, 7, 1500, 1), 42))), today-42), knowledge.Nothing, weight.NoLoss},
		"the same without the fast":        {eats(slices.Concat(falling(6, 7, 1460, 0), back(falling(16, 7, 1500, 1), 42))), knowledge.LookAgain, weight.Slow},
		"of a new place":                   {moved(eats(falling(22, 7, 1500, 1)), today-40), knowledge.Nothing, weight.NoLoss},
		"doubtful ones":                    {doubtful(eats(falling(22, 7, 1500, 1)), 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10), knowledge.Nothing, weight.NoLoss},
		"a rise":                           {eats(falling(22, 7, 1500, -1)), knowledge.Nothing, weight.NoLoss},
		"faster is told as before":         {eats(falling(22, 7, 1500, 3)), knowledge.LookAgain, weight.Twice},
		"a young animal that slowly falls": {eats(falling(22, 7, 150, .9)), knowledge.LookAgain, weight.Slow},
	} {
		got := weight.Judge(tb, c.facts)
		if got.Level != c.level || got.Reason != c.reason {
			t.Errorf("%s: %v by %v, want %v by %v", name, got.Level, got.Reason, c.level, c.reason)
		}
		if got.Reason == weight.Slow && (!got.Trend.Falls() || got.Share <= 0) {
			t.Errorf("%s: %v, %+v", name, got.Reason, got.Trend)
		}
	}
}

// back are the same weighings so many days before.
func back(list []weight.Weighing, days model.Day) []weight.Weighing {
	for i := range list {
		list[i].Day -= days
	}
	return list
}

// A weight of a scale that failed its check counts in nothing, and is told.
func TestADoubtfulWeightCountsInNothing(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		f := records(t)
		sure := f
		sure.Weighings = nil
		for i := range f.Weighings {
			if f.Weighings[i].Doubtful = rapid.Bool().Draw(t, "doubtful"); !f.Weighings[i].Doubtful {
				sure.Weighings = append(sure.Weighings, f.Weighings[i])
			}
		}
		with, without := weight.Judge(tb, f), weight.Judge(tb, sure)
		if with.Level != without.Level || with.Reason != without.Reason || with.Share != without.Share || without.Doubtful != 0 {
			t.Fatalf("%+v, without those %+v", with, without)
		}
	})
	if got := weight.Judge(tb, doubtful(eats(then(12, 1500, 1200)), 0, 3)); got.Doubtful != 2 || got.Level != knowledge.Nothing {
		t.Errorf("%+v, want two that do not count and no loss", got)
	}
}

func TestWhatATrendSays(t *testing.T) {
	tb := tables(t)
	keys := func(f weight.Facts) (all []string) {
		for _, label := range weight.TrendOf(tb, f).Words(tb) {
			all = append(all, label.Key)
		}
		return all
	}
	wild := falling(20, 7, 1500, 0)
	for i := range wild {
		wild[i].Mass.Milligrams += int64(i%3) * 20_000
	}
	for name, c := range map[string]struct {
		facts weight.Facts
		want  []string
	}{
		"too few":       {eats(falling(3, 7, 1500, 1)), []string{"trend.few"}},
		"a fall":        {eats(falling(20, 7, 1500, 1)), []string{"trend.falls", "trend.chance-seldom"}},
		"a rise":        {eats(falling(6, 12, 1500, -1)), []string{"trend.rises", "trend.chance"}},
		"neither":       {eats(wild), []string{"trend.level"}},
		"after a move":  {moved(eats(falling(20, 7, 1500, 1)), today-100), []string{"trend.falls", "trend.chance-seldom", "trend.from.moved"}},
		"after nothing": {eats(nil), []string{"trend.few"}},
	} {
		if got := keys(c.facts); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

func BenchmarkTrend_2000Animals(b *testing.B) {
	tb := tables(b)
	facts := eats(falling(31, 7, 1500, .3))
	for b.Loop() {
		for range 2000 {
			weight.TrendOf(tb, facts)
		}
	}
}
