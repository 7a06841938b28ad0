package shedding_test

import (
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/shedding"
)

func shipped(t *testing.T) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

// on are entries of these days, newest first.
func on(bodies map[model.Day]care.Body) (all []care.Entry) {
	for day := model.Day(400); day > 0; day-- {
		if b, there := bodies[day]; there {
			all = append(all, care.Entry{ID: model.EntryID{ID: model.ID{byte(day), byte(day >> 8)}}, At: model.Moment{UTC: int64(day)*86400 + 43200, Precision: model.ToMinute}, Body: b})
		}
	}
	return all
}

// A cycle lasts 10 to 14 days from dulling to the shed; the longer is taken. Source:
// keeper pages on shedding, of low quality (facts, section 6).
func TestInBlue(t *testing.T) {
	tables := shipped(t)
	for name, c := range map[string]struct {
		entries map[model.Day]care.Body
		from    model.Day // 0: not in blue
	}{
		"nothing":              {nil, 0},
		"in blue":              {map[model.Day]care.Body{100: care.Blue{}}, 115},
		"said again later":     {map[model.Day]care.Body{100: care.Blue{}, 106: care.Blue{}}, 115},
		"shed since":           {map[model.Day]care.Body{100: care.Blue{}, 112: care.Shed{}}, 0},
		"in blue after a shed": {map[model.Day]care.Body{60: care.Blue{}, 70: care.Shed{}, 110: care.Blue{}}, 125},
	} {
		w, blue := shedding.InBlue(tables, on(c.entries))
		if blue != (c.from != 0) || w.From != c.from {
			t.Errorf("%s: %+v %v", name, w, blue)
		}
	}
}

// More than 90 days without a shed in a growing animal, and two sheds less than 21 days
// apart. Source: common practice, no source.
func TestOverdueAndClose(t *testing.T) {
	tables := shipped(t)
	shed := on(map[model.Day]care.Body{100: care.Shed{}})
	if w, overdue := shedding.Overdue(tables, true, shed); !overdue || w.From != 191 {
		t.Errorf("growing: %+v %v", w, overdue)
	}
	if _, overdue := shedding.Overdue(tables, false, shed); overdue {
		t.Error("an adult is overdue")
	}
	if _, overdue := shedding.Overdue(tables, true, nil); overdue {
		t.Error("overdue without a shed that is known")
	}
	for days, want := range map[model.Day]bool{20: true, 21: false} {
		w, close := shedding.Close(tables, on(map[model.Day]care.Body{100: care.Shed{}, 100 + days: care.Shed{}}))
		if close != want || w.Days != int(days) {
			t.Errorf("%d days apart: %+v %v", days, w, close)
		}
	}
}
