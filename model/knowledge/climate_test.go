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
		{ID: "warm-day", Species: "python-regius", Zone: "warm", Measure: "temperature", Day: true, HardLow: 2000, SoftLow: 2700, SoftHigh: 2900, HardHigh: 3500, Source: "assumed"},
		{ID: "hide-night", Species: "python-regius", Shed: true, Zone: "hide", Measure: "humidity", HardLow: 5000, SoftLow: 6000, SoftHigh: 8000, HardHigh: 9500, Source: "assumed"},
	}
	got := tables.Climate()
	if len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("got %+v", got)
	}
}

func TestClimate_Refused(t *testing.T) {
	const head = "target | species | zone | of | by | when | hard low | soft low | soft high | hard high | source\n"
	for name, c := range map[string]struct{ rows, want string }{
		"a zone that no row may be of": {"a | python-regius | garden | temperature | day | always | 1 | 2 | 3 | 4 | assumed\n", "want basking"},
		"a measure that is none":       {"a | python-regius | warm | wind | day | always | 1 | 2 | 3 | 4 | assumed\n", "want temperature or humidity"},
		"neither day nor night":        {"a | python-regius | warm | humidity | dusk | always | 1 | 2 | 3 | 4 | assumed\n", "want day or night"},
		"neither always nor shed":      {"a | python-regius | warm | humidity | day | never | 1 | 2 | 3 | 4 | assumed\n", "want always or shed"},
		"a species that is none":       {"a | dragon | warm | humidity | day | always | 1 | 2 | 3 | 4 | assumed\n", "not in the table of species"},
		"numbers out of order":         {"a | python-regius | warm | humidity | day | always | 1 | 5 | 3 | 6 | assumed\n", "want a whole number from 5"},
		"the last below":               {"a | python-regius | warm | humidity | day | always | 1 | 2 | 5 | 4 | assumed\n", "want a whole number from 5"},
		"hotter than any":              {"a | python-regius | warm | temperature | day | always | 1 | 2 | 5 | 6001 | assumed\n", "to 6000"},
		"more than all":                {"a | python-regius | warm | humidity | day | always | 1 | 2 | 5 | 10001 | assumed\n", "to 10000"},
		"no source":                    {"a | python-regius | warm | humidity | day | always | 1 | 2 | 3 | 4 | \n", "source"},
		"twice":                        {"a | python-regius | warm | humidity | day | always | 1 | 2 | 3 | 4 | assumed\nb | python-regius | warm | humidity | day | always | 1 | 2 | 3 | 4 | assumed\n", "earlier row"},
		"an id twice":                  {"a | python-regius | warm | humidity | day | always | 1 | 2 | 3 | 4 | assumed\na | python-regius | cool | humidity | day | always | 1 | 2 | 3 | 4 | assumed\n", "earlier row"},
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
