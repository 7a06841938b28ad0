package knowledge_test

import (
	"strings"
	"testing"

	"coilward/model/knowledge"
)

func TestLoad_RefusesABadTableOfPowerCuts(t *testing.T) {
	for _, c := range []struct {
		name, file, old, new string
		line                 int
		row, column, reason  string
	}{
		{"a criterion that nobody knows", "rescue.txt", "fed |", "fat |", 9, "fat", "criterion", "want one of"},
		{"a criterion left out", "rescue.txt", "fed | assumed\n", "", 0, "fed", "criterion", "has no row"},
		{"a criterion twice", "rescue.txt", "small |", "vet |", 6, "vet", "criterion", "earlier row"},
		{"one after the rest", "rescue.txt", "emergency | assumed\nrest | assumed", "rest | assumed\nemergency | assumed", 12, "emergency", "criterion", "last one"},
		{"a criterion without a source", "rescue.txt", "fed | assumed", "fed |", 9, "fed", "source", "names its source"},
		{"a look on no day", "coldlooks.txt", "| 1 |", "| 0 |", 2, "first", "day", "whole number"},
		{"looks out of order", "coldlooks.txt", "| 9 |", "| 1 |", 3, "last", "day", "above"},
		{"a look twice", "coldlooks.txt", "last |", "first |", 3, "first", "look", "earlier row"},
		{"no look", "coldlooks.txt", "first | 1 | assumed\nlast | 9 | assumed\n", "", 0, "", "", "at least one"},
		{"an act that is neither", "coldacts.txt", "| never |", "| ever |", 3, "flame", "kind", "do or never"},
		{"an act that may be a caution", "coldacts.txt", "| yes |", "| perhaps |", 3, "flame", "first", "yes or no"},
		{"an act twice", "coldacts.txt", "flame |", "box |", 3, "box", "act", "earlier row"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := small()
			if bad[c.file] = strings.Replace(bad[c.file], c.old, c.new, 1); bad[c.file] == small()[c.file] {
				t.Fatalf("%q is not in %s", c.old, c.file)
			}
			_, err := knowledge.Load(files(bad))
			for _, f := range faults(err) {
				if f.File == c.file && f.Line == c.line && f.Row == c.row && f.Column == c.column && strings.Contains(f.Reason, c.reason) {
					return
				}
			}
			t.Errorf("got %v", err)
		})
	}
}

func TestLoad_ReadsTheTablesOfPowerCuts(t *testing.T) {
	tables, err := knowledge.Load(files(small()))
	if err != nil {
		t.Fatal(err)
	}
	if all := tables.Rescue(); len(all) != 11 || all[0] != (knowledge.Criterion{ID: knowledge.RescueVet, Source: "assumed"}) || all[10].ID != knowledge.RescueRest {
		t.Errorf("criteria %+v", all)
	}
	if all := tables.ColdLooks(); len(all) != 2 || all[0].Day != 1 || all[1].Day != 9 {
		t.Errorf("looks %+v", all)
	}
	if all := tables.ColdActs(); len(all) != 2 || all[0].Never || all[0].First || !all[1].Never || !all[1].First {
		t.Errorf("acts %+v", all)
	}
}
