package care_test

import (
	"maps"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// seen are looks that saw none, from a day of the watch to another, so far apart.
func seen(from, to, apart int) care.MiteDays {
	m := care.MiteDays{}
	for day := from; day <= to; day += apart {
		m[model.Day(20_000+day)] = care.NoMites
	}
	return m
}

// A watch of 42 days, and of 77 where it is cool, from a day on: met by looks at most
// ten days apart, the last on its end or after. Days computed from Wozniak and DeNardo
// 2000 (memory); the gap: common practice, no source.
func TestTheCourseOfAWatch(t *testing.T) {
	tables := shipped(t)
	const day model.Day = 20_000
	for name, c := range map[string]struct {
		looks            care.MiteDays
		days, today      int
		from, ends, over int // over -1: not yet
	}{
		"looked at each week":           {seen(7, 42, 7), 42, 42, 0, 42, 42},
		"the last a day before its end": {seen(1, 41, 10), 42, 50, 0, 42, -1},
		"ten days apart":                {seen(10, 50, 10), 42, 60, 0, 42, 50},
		"eleven days apart":             {seen(11, 44, 11), 42, 44, 44, 86, -1},
		"nobody looked":                 {care.MiteDays{}, 42, 11, 11, 53, -1},
		"nobody looked yet":             {care.MiteDays{}, 42, 10, 0, 42, -1},
		"where it is cool":              {seen(7, 77, 7), 77, 80, 0, 77, 77},
		"where it is cool, 42 days on":  {seen(7, 42, 7), 77, 42, 0, 77, -1},
		"looks to come count nothing":   {seen(7, 42, 7), 42, 41, 0, 42, -1},
		"over, and nobody looked since": {seen(7, 49, 7), 42, 400, 0, 42, 42},
		"a gap, and begun again":        {care.MiteDays{day + 5: 0, day + 20: 0, day + 30: 0, day + 40: 0, day + 50: 0, day + 60: 0, day + 62: 0}, 42, 62, 20, 62, 62},
	} {
		got := c.looks.Course(tables, day, c.days, day+model.Day(c.today))
		want := care.Course{From: day + model.Day(c.from), Ends: day + model.Day(c.ends)}
		if c.over >= 0 {
			want.Over = day + model.Day(c.over)
		}
		if got != want {
			t.Errorf("%s: %+v, want %+v", name, got, want)
		}
	}
}

// One more look that sees none never makes a watch end later; one that sees mites never
// makes it end earlier than the same look without them.
func TestLooksNeverMakeAWatchEndLater(t *testing.T) {
	tables := shipped(t)
	earliest := func(m care.MiteDays, days int, today model.Day) model.Day {
		from := model.Day(20_000)
		for day, g := range m {
			if day <= today && g.Positive() {
				from = max(from, day)
			}
		}
		c := m.Course(tables, from, days, today)
		if c.Over > 0 {
			return c.Over
		}
		return max(today, c.Ends)
	}
	rapid.Check(t, func(t *rapid.T) {
		today := model.Day(20_000 + rapid.IntRange(0, 150).Draw(t, "today"))
		days := rapid.SampledFrom([]int{tables.Value(knowledge.ValueMiteWatch), tables.Value(knowledge.ValueMiteWatchCool)}).Draw(t, "days")
		m := care.MiteDays{}
		for range rapid.IntRange(0, 25).Draw(t, "looks") {
			day := model.Day(20_000 + rapid.IntRange(0, 150).Draw(t, "day"))
			m[day] = max(m[day], rapid.SampledFrom([]care.MiteGrade{care.NoMites, care.NoMites, care.NoMites, care.MiteSpeck, care.OneMite}).Draw(t, "grade"))
		}
		day := model.Day(rapid.IntRange(20_001, int(max(today, 20_001))).Draw(t, "one more"))
		delete(m, day) // nobody looked on it
		before := earliest(m, days, today)
		more, mites := maps.Clone(m), maps.Clone(m)
		more[day] = max(more[day], care.NoMites)
		mites[day] = max(mites[day], care.OneMite)
		none := earliest(more, days, today)
		if none > max(today, before) {
			t.Fatalf("none seen on day %d: from day %d to %d", day-20_000, before-20_000, none-20_000)
		}
		if after := earliest(mites, days, today); after < none {
			t.Fatalf("mites on day %d: from day %d to %d", day-20_000, none-20_000, after-20_000)
		}
	})
}
