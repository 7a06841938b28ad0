package animals

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/knowledge"
)

func row(name, code, chip, morph string) Row {
	r := Row{Name: name, Code: code, Chip: chip, Morph: morph, Kept: true}
	r.Fold()
	return r
}

func names(rows []Row, shown []int) string {
	var out []string
	for _, i := range shown {
		out = append(out, rows[i].Name)
	}
	return strings.Join(out, " ")
}

func TestChoose_FindsByWhatIsTyped(t *testing.T) {
	rows := []Row{
		row("Juniper", "M-07", "276098106341234", "pastel"),
		row("Élodie", "M-12", "", "axanthic"),
		row("Brook", "F-3", "276098106345678", "pastel pied"),
		row("Straße", "X", "", ""),
	}
	for search, want := range map[string]string{
		"":            "Brook Élodie Juniper Straße",
		"jun":         "Juniper",
		"elo":         "Élodie",
		"ÉLO":         "Élodie",
		"m-":          "Élodie Juniper",
		"5678":        "Brook",
		"pastel":      "Brook Juniper",
		"pied pastel": "Brook",
		"strasse":     "Straße",
		"nobody":      "",
	} {
		if got := names(rows, Choose(rows, Choice{Search: search})); got != want {
			t.Errorf("search %q shows %q, want %q", search, got, want)
		}
	}
}

func TestChoose_Filters(t *testing.T) {
	rows := []Row{row("Ash", "", "", ""), row("Birch", "", "", ""), row("Cedar", "", "", ""), row("Dogwood", "", "", "")}
	rows[0].Sex, rows[1].Sex, rows[2].Sex = "female", "male", "female"
	rows[1].Open, rows[1].Level = 1, knowledge.LookAgain
	rows[2].Open, rows[2].Level = 2, knowledge.VetWithinDays
	rows[2].Looked = true
	rows[3].Kept = false
	for want, c := range map[string]Choice{
		"Ash Birch Cedar": {},
		"Dogwood":         {Gone: true},
		"Ash Cedar":       {Sex: "female"},
		"Birch Cedar":     {Level: knowledge.LookAgain},
		"Cedar":           {Level: knowledge.VetWithinDays},
		"":                {Level: knowledge.EmergencyToday},
		"Ash Birch":       {Unlooked: true},
		"Ash":             {Unlooked: true, Sex: "female"},
	} {
		if got := names(rows, Choose(rows, c)); got != want {
			t.Errorf("%+v shows %q, want %q", c, got, want)
		}
	}
}

func TestChoose_Sorts(t *testing.T) {
	a, b, c := row("Ash", "M-12", "", ""), row("Birch", "M-7", "", ""), row("Cedar", "", "", "")
	a.Weight, b.Weight = model.Grams(90), model.Grams(1400)
	a.Hatched = model.Date{Day: 100, Precision: model.ToDay}
	b.Hatched = model.Date{Day: 200, Precision: model.ToDay}
	c.Open, c.Level = 1, knowledge.EmergencyToday
	b.Checked, c.Checked = model.Moment{UTC: 5}, model.Moment{UTC: 3}
	rows := []Row{c, b, a}
	for _, x := range []struct {
		by   Column
		back bool
		want string
	}{
		{ByName, false, "Ash Birch Cedar"}, {ByName, true, "Cedar Birch Ash"},
		{ByCode, false, "Birch Ash Cedar"}, {ByCode, true, "Ash Birch Cedar"},
		{ByWeight, false, "Ash Birch Cedar"}, {ByWeight, true, "Birch Ash Cedar"},
		{ByAge, false, "Birch Ash Cedar"}, {ByAge, true, "Ash Birch Cedar"},
		{ByCheck, false, "Cedar Birch Ash"}, {ByCheck, true, "Birch Cedar Ash"},
		{ByOpen, true, "Cedar Ash Birch"},
	} {
		if got := names(rows, Choose(rows, Choice{Sort: x.by, Back: x.back})); got != x.want {
			t.Errorf("by %s, back %t: %q, want %q", x.by, x.back, got, x.want)
		}
	}
}

// What is shown is exactly what each filter alone lets through, whatever the order.
func TestChoose_ShowsEachOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Row {
			r := row(rapid.StringMatching(`[A-Za-zÄéß 0-9]{1,8}`).Draw(t, "name"), rapid.StringMatching(`[A-Z]?-?[0-9]{0,2}`).Draw(t, "code"), "", "")
			r.Kept = rapid.Bool().Draw(t, "kept")
			r.Open = rapid.IntRange(0, 2).Draw(t, "open")
			r.Level = knowledge.Level(rapid.IntRange(0, 4).Draw(t, "level"))
			r.Weight = model.Grams(int64(rapid.IntRange(0, 3).Draw(t, "weight")))
			return r
		}), 0, 30).Draw(t, "rows")
		columns := []Column{ByName, ByCode, BySex, ByAge, ByWeight, ByMeal, ByCheck, ByOpen}
		c := Choice{Gone: rapid.Bool().Draw(t, "gone"), Sort: rapid.SampledFrom(columns).Draw(t, "by"), Back: rapid.Bool().Draw(t, "back"),
			Level: knowledge.Level(rapid.IntRange(0, 4).Draw(t, "least"))}
		shown := Choose(rows, c)
		for i := range rows {
			want := rows[i].Kept != c.Gone && rows[i].Level >= c.Level
			if got := slices.Contains(shown, i); got != want {
				t.Fatalf("row %d shown: %t, want %t", i, got, want)
			}
		}
		seen := slices.Compact(slices.Sorted(slices.Values(shown)))
		if len(seen) != len(shown) {
			t.Fatalf("a row is shown twice: %v", shown)
		}
	})
}

func BenchmarkChoose2000(b *testing.B) {
	rows := make([]Row, 2000)
	for i := range rows {
		rows[i] = row(fmt.Sprintf("Animal %d", i), fmt.Sprintf("M-%d", i), fmt.Sprintf("27609810634%04d", i), "pastel")
	}
	for b.Loop() {
		Choose(rows, Choice{Search: "ani"})
	}
}
