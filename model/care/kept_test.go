package care_test

import (
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// A meal that came up again was not kept: where that was noted by an entry of its
// own, the meal before it is meant. The days are those of the tables, by Ott and
// Secor 2007 J Exp Biol 210:340 (abstract): digestion of a large meal takes 6 to 8.
func TestKept_MealsThatStayedDown(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	far := tables.Value(knowledge.ValueFed)
	meal := func(on int, o care.Outcome, broughtUp int) care.Entry {
		m := care.Meal{Outcome: o}
		if broughtUp > 0 {
			m.BroughtUp = model.Date{Day: model.Day(broughtUp), Precision: model.ToDay}
		}
		return care.Entry{At: model.Moment{UTC: int64(on) * 86400}, Body: m}
	}
	for name, c := range map[string]struct {
		newestFirst []care.Entry
		want        []model.Day
	}{
		"none":                            {nil, nil},
		"taken":                           {[]care.Entry{meal(20, care.Took, 0), meal(10, care.Took, 0)}, []model.Day{20, 10}},
		"refused":                         {[]care.Entry{meal(20, care.Refused, 0), meal(10, care.Took, 0)}, []model.Day{10}},
		"brought up two days later":       {[]care.Entry{meal(22, care.Regurgitated, 0), meal(20, care.Took, 0), meal(10, care.Took, 0)}, []model.Day{10}},
		"brought up at the last":          {[]care.Entry{meal(20+far, care.Regurgitated, 0), meal(20, care.Took, 0)}, nil},
		"too late to be that meal":        {[]care.Entry{meal(21+far, care.Regurgitated, 0), meal(20, care.Took, 0)}, []model.Day{20}},
		"that very meal was put right":    {[]care.Entry{meal(22, care.Regurgitated, 24), meal(20, care.Took, 0)}, []model.Day{20}},
		"refused between":                 {[]care.Entry{meal(22, care.Regurgitated, 0), meal(21, care.Refused, 0), meal(20, care.Took, 0)}, nil},
		"a note between, and one meal up": {[]care.Entry{meal(22, care.Regurgitated, 0), {Body: care.Note{}}, meal(20, care.Took, 0), meal(18, care.Took, 0)}, []model.Day{18}},
	} {
		var got []model.Day
		for _, e := range care.Kept(tables, c.newestFirst) {
			got = append(got, e.At.Day())
		}
		if len(got) != len(c.want) || len(got) > 0 && got[0] != c.want[0] {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}
