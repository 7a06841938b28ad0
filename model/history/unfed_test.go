package history

import (
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// Days and mass are those of the tables: common practice, no source.
func TestUnfed_YoungAnimalsAlone(t *testing.T) {
	tb := tables(t)
	wait, light := model.Day(tb.Value(knowledge.ValueYoungUnfed)), int64(tb.Value(knowledge.ValueYoungMass))
	meal := func(on model.Day, o care.Outcome) care.Entry {
		return care.Entry{ID: model.EntryID{ID: model.ID{byte(on)}}, At: day(int(on)), Body: care.Meal{Outcome: o}}
	}
	for name, c := range map[string]struct {
		age     exam.Age
		grams   int64
		entries []care.Entry
		on      model.Day
		since   model.Day // 0: not unfed
	}{
		"a day too soon":             {exam.Hatchling, light - 1, []care.Entry{meal(100, care.Took)}, 100 + wait - 1, 0},
		"on the day":                 {exam.Hatchling, light - 1, []care.Entry{meal(100, care.Took)}, 100 + wait, 100},
		"a juvenile":                 {exam.Juvenile, light - 1, []care.Entry{meal(100, care.Took)}, 100 + wait, 100},
		"a subadult":                 {exam.Subadult, light - 1, []care.Entry{meal(100, care.Took)}, 100 + wait, 0},
		"as heavy as no young one":   {exam.Juvenile, light, []care.Entry{meal(100, care.Took)}, 100 + wait, 0},
		"refusals keep nothing":      {exam.Hatchling, light - 1, []care.Entry{meal(120, care.Refused), meal(100, care.Took)}, 100 + wait, 100},
		"nor does prey brought up":   {exam.Hatchling, light - 1, []care.Entry{meal(120, care.Regurgitated), meal(100, care.Took)}, 100 + wait, 100},
		"never fed in the records":   {exam.Hatchling, light - 1, nil, 50 + wait, 50},
		"never fed, a day too soon":  {exam.Hatchling, light - 1, nil, 50 + wait - 1, 0},
		"light, of unknown age":      {exam.AgeUnknown, light - 1, nil, 50 + wait, 50},
		"of unknown age and mass":    {exam.AgeUnknown, 0, nil, 50 + wait, 0},
		"young, never weighed":       {exam.Hatchling, 0, nil, 50 + wait, 50},
		"heavy, of unknown age":      {exam.AgeUnknown, light, nil, 50 + wait, 0},
		"grown, and fasting a year":  {exam.Adult, 1500, []care.Entry{meal(100, care.Took)}, 465, 0},
		"the newest meal kept speak": {exam.Hatchling, light - 1, []care.Entry{meal(130, care.Took), meal(100, care.Took)}, 100 + wait, 0},
	} {
		r := Records{Begun: 50, byMass: true, Context: exam.Context{Age: c.age, Mass: model.Grams(c.grams)}, Entries: c.entries}
		u := r.Stand(tb, nil, model.Moment{UTC: int64(c.on) * 86400}).Unfed
		if u.IsZero() != (c.since == 0) || !u.IsZero() && (u.Since != c.since || u.From != c.since+wait || u.Meal.IsZero() != (c.entries == nil)) {
			t.Errorf("%s: %+v; want since day %d", name, u, c.since)
		}
		r.byMass = false // of a species of other masses: its age alone tells
		grown := c.age == exam.AgeUnknown || c.age == exam.Subadult || c.age == exam.Adult
		if u := r.Stand(tb, nil, model.Moment{UTC: int64(c.on) * 86400}).Unfed; u.IsZero() != (grown || c.since == 0 && name != "as heavy as no young one") {
			t.Errorf("%s, of another species: %+v", name, u)
		}
		r.Begun = 0
		if u := r.Stand(tb, nil, model.Moment{UTC: int64(c.on) * 86400}).Unfed; !u.IsZero() {
			t.Errorf("%s, and not here any more: %+v", name, u)
		}
	}
}
