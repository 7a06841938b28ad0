package knowledge_test

import (
	"strings"
	"testing"

	"coilward/model/knowledge"
)

func TestClimate_EveryCell(t *testing.T) {
	tables, err := knowledge.Load(files(small()))
	if err != nil {
		t.Fatal(err)
	}
	want := []knowledge.ClimateTarget{
		{ID: "warm-day", Zone: "warm", Measure: "temperature", Day: true, HardLow: 2000, SoftLow: 2700, SoftHigh: 2900, HardHigh: 3500, Source: "assumed"},
		{ID: "hide-night", Zone: "hide", Measure: "humidity", HardLow: 5000, SoftLow: 6000, SoftHigh: 8000, HardHigh: 9500, Source: "assumed"},
	}
	got := tables.Climate()
	if len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("got %+v", got)
	}
}

func TestClimate_Refused(t *testing.T) {
	const head = "target | zone | of | by | hard low | soft low | soft high | hard high | source\n"
	for name, c := range map[string]struct{ rows, want string }{
		"a zone that no row may be of": {"a | garden | temperature | day | 1 | 2 | 3 | 4 | assumed\n", "want basking"},
		"a measure that is none":       {"a | warm | wind | day | 1 | 2 | 3 | 4 | assumed\n", "want temperature or humidity"},
		"neither day nor night":        {"a | warm | humidity | dusk | 1 | 2 | 3 | 4 | assumed\n", "want day or night"},
		"numbers out of order":         {"a | warm | humidity | day | 1 | 5 | 3 | 6 | assumed\n", "want a whole number from 5"},
		"the last below":               {"a | warm | humidity | day | 1 | 2 | 5 | 4 | assumed\n", "want a whole number from 5"},
		"hotter than any":              {"a | warm | temperature | day | 1 | 2 | 5 | 6001 | assumed\n", "to 6000"},
		"more than all":                {"a | warm | humidity | day | 1 | 2 | 5 | 10001 | assumed\n", "to 10000"},
		"no source":                    {"a | warm | humidity | day | 1 | 2 | 3 | 4 | \n", "source"},
		"twice":                        {"a | warm | humidity | day | 1 | 2 | 3 | 4 | assumed\nb | warm | humidity | day | 1 | 2 | 3 | 4 | assumed\n", "earlier row"},
		"an id twice":                  {"a | warm | humidity | day | 1 | 2 | 3 | 4 | assumed\na | cool | humidity | day | 1 | 2 | 3 | 4 | assumed\n", "earlier row"},
	} {
		t.Run(name, func(t *testing.T) {
			set := small()
			set["climate.txt"] = head + c.rows
			if _, err := knowledge.Load(files(set)); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
	for _, value := range []string{"light-from | 480", "light-until | 1200"} {
		set := small()
		set["values.txt"] = strings.Replace(set["values.txt"], value, strings.Split(value, " |")[0]+" | 1441", 1)
		if _, err := knowledge.Load(files(set)); err == nil || !strings.Contains(err.Error(), "1440") {
			t.Errorf("%s: got %v", value, err)
		}
	}
	if _, err := knowledge.Load(files(small())); err != nil {
		t.Error(err)
	}
}
