package droppings_test

import (
	"testing"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/droppings"
	"coilward/model/knowledge"
)

func shipped(t *testing.T) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

func entry(day model.Day, b care.Body) care.Entry {
	return care.Entry{ID: model.EntryID{ID: model.ID{byte(day)}}, At: model.Moment{UTC: int64(day)*86400 + 43200, Precision: model.ToMinute}, Body: b}
}

var (
	took  = care.Meal{Prey: care.Rat, Outcome: care.Took}
	up    = care.Meal{Prey: care.Rat, Outcome: care.Regurgitated}
	stool = care.Waste{Faeces: []care.Trait{care.Formed}}
	urate = care.Waste{Urates: []care.Trait{care.White}}
	none  = care.Waste{Faeces: []care.Trait{care.NoneSeen}}
)

// Thirty days without faeces in an animal that feeds, counted from the first meal kept
// since. Source: common practice, no source; that it takes two meals is assumed.
func TestMissed(t *testing.T) {
	tables := shipped(t)
	for name, c := range map[string]struct {
		entries []care.Entry
		from    model.Day // 0: none are missed
	}{
		"two meals since":     {[]care.Entry{entry(30, took), entry(16, took), entry(10, stool)}, 46},
		"one meal since":      {[]care.Entry{entry(16, took), entry(10, stool)}, 0},
		"one kept, one not":   {[]care.Entry{entry(30, up), entry(16, took), entry(10, stool)}, 0},
		"urates alone since":  {[]care.Entry{entry(40, urate), entry(30, took), entry(16, took), entry(10, stool)}, 46},
		"looked, and none":    {[]care.Entry{entry(40, none), entry(30, took), entry(16, took), entry(10, stool)}, 46},
		"faeces since":        {[]care.Entry{entry(40, stool), entry(30, took), entry(16, took), entry(10, stool)}, 0},
		"none were ever seen": {[]care.Entry{entry(30, took), entry(16, took)}, 0},
	} {
		from, missed := droppings.Of(tables, c.entries).Missed(tables)
		if from != c.from || missed != (c.from != 0) {
			t.Errorf("%s: from %d, %v", name, from, missed)
		}
	}
}

// The newest of each counts, whatever else was seen; a meal of the same day as the faeces
// is one of before them.
func TestOf(t *testing.T) {
	got := droppings.Of(shipped(t), []care.Entry{entry(50, stool), entry(45, urate), entry(40, urate), entry(30, stool), entry(20, none)})
	if got.Faeces != 50 || got.Urates != 45 || got.Entry != (model.EntryID{ID: model.ID{50}}) || got.Kept != 0 {
		t.Errorf("%+v", got)
	}
	got = droppings.Of(shipped(t), []care.Entry{entry(40, took), entry(30, took), entry(30, stool)})
	if got.Kept != 1 || got.First != 40 || got.Urates != 0 {
		t.Errorf("a meal of the same day: %+v", got)
	}
}

// Faeces seen on the newest day are never missed, whatever lies before.
func TestMissed_NeverAfterFaeces(t *testing.T) {
	tables := shipped(t)
	rapid.Check(t, func(t *rapid.T) {
		entries := []care.Entry{entry(120, stool)}
		for day := model.Day(119); day > 0; day -= model.Day(rapid.IntRange(1, 30).Draw(t, "apart")) {
			entries = append(entries, entry(day, rapid.SampledFrom([]care.Body{took, up, stool, urate, none}).Draw(t, "body")))
		}
		if _, missed := droppings.Of(tables, entries).Missed(tables); missed {
			t.Fatalf("missed after %+v", entries)
		}
	})
}
