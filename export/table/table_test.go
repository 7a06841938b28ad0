package table_test

import (
	"strings"
	"testing"
	"time"

	"coilward/assets"
	"coilward/export/table"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/importing"
	"coilward/model/knowledge"
	"coilward/model/storetest"
	"coilward/model/wording"
)

// desk is what the tests read with.
type desk struct {
	words     *table.Words
	tables    *knowledge.Tables
	languages *wording.Languages
	now       model.Moment
}

func newDesk(t testing.TB) desk {
	t.Helper()
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return desk{table.NewWords(languages, tables), tables, languages, model.MomentOf(storetest.Start())}
}

func (d desk) given() table.Given {
	return table.Given{Words: d.words, Tables: d.tables, Now: d.now, Strangers: true}
}

// settled are the takings as the sheets say them, and the questions left.
func (d desk) settled(b table.Book) (takings []table.Taking, open []table.Question) {
	for i, s := range b.Sheets {
		t, questions := table.Settle(b, i, d.words.Guess(s), d.now.Day())
		takings, open = append(takings, t), append(open, questions...)
	}
	return takings, open
}

func (d desk) take(t testing.TB, name, text string) (table.Taken, []table.Question) {
	t.Helper()
	b, err := table.Read(name, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	takings, open := d.settled(b)
	taken, err := table.Take(b, takings, d.given())
	if err != nil {
		t.Fatal(err)
	}
	return taken, open
}

func reasons(bad []table.Bad) string {
	var all []string
	for _, b := range bad {
		all = append(all, b.Refusal.Reason)
	}
	return strings.Join(all, " ")
}

func TestAGermanListOfAnimals(t *testing.T) {
	d := newDesk(t)
	taken, open := d.take(t, "Bestand.csv", "Meine Tiere 2027;;;;;;\n;;;;;;\n"+
		"Tier;Geschlecht (m/w);Geschlüpft am;Morph;Art;Gewicht (g);Datum\n"+
		"Juno;w;03.06.2023;Wildfarben;Königspython;1.432,5;12.04.2027\n"+
		"Brook;1.0;Juni 2024;;Python regius;645,25;13.04.2027\n"+
		"Kestrel;?;2022;;;;\n"+
		"Sorrel;weiblich;31.02.2024;;;;\n"+
		";w;;;;;\n"+
		"Rowan;w;;;Drache;;\n")
	if len(open) > 0 {
		t.Errorf("asks %+v", open)
	}
	if got := reasons(taken.Bad); got != "day.none name.empty table.word" {
		t.Errorf("bad: %s", got)
	}
	if len(taken.Bad) > 0 && (taken.Bad[0].Line != 7 || taken.Bad[0].Column != "Geschlüpft am" || taken.Bad[0].Refusal.Value != "31.02.2024") {
		t.Errorf("first bad: %+v %+v", taken.Bad[0], taken.Bad[0].Refusal)
	}
	if len(taken.Rows.Animals) != 3 || len(taken.Rows.Entries) != 2 {
		t.Fatalf("%d animals, %d entries", len(taken.Rows.Animals), len(taken.Rows.Entries))
	}
	juno, brook, kestrel := taken.Rows.Animals[0], taken.Rows.Animals[1], taken.Rows.Animals[2]
	if juno.Name != "Juno" || juno.Sex != animals.Female || juno.Hatched != (model.Date{Day: model.NewDay(2023, 6, 3), Precision: model.ToDay}) || juno.Species != "python-regius" || juno.Line != 4 {
		t.Errorf("Juno: %+v", juno)
	}
	if brook.Sex != animals.Male || brook.Hatched != (model.Date{Day: model.NewDay(2024, 6, 1), Precision: model.ToMonth}) || brook.Species != "python-regius" {
		t.Errorf("Brook: %+v", brook)
	}
	if kestrel.Sex != animals.SexUnknown || kestrel.Hatched.Precision != model.ToYear {
		t.Errorf("Kestrel: %+v", kestrel)
	}
	masses := masses(taken.Rows)
	if masses[0] != 1_432_500 || masses[1] != 645_250 {
		t.Errorf("masses %v", masses)
	}
}

func masses(r importing.Rows) (all []int64) {
	for _, e := range r.Entries {
		all = append(all, massOf(e))
	}
	return all
}

// One value of a column tells the style of all; where none does, it is asked.
func TestStylesOfNumbers(t *testing.T) {
	d := newDesk(t)
	for name, c := range map[string]struct {
		heading string
		values  string
		want    []int64 // milligrams
		asks    bool
	}{
		"whole":              {"Weight (g)", "1432 645", []int64{1_432_000, 645_000}, false},
		"point":              {"Weight (g)", "1.432 645.5", []int64{1432, 645_500}, false},
		"comma":              {"Gewicht in g", "1.432 645,5", []int64{1_432_000, 645_500}, false},
		"a leading nought":   {"Gewicht kg", "0,432 1,432", []int64{432_000, 1_432_000}, false},
		"both in one":        {"Weight", "1,432.5 2,001", []int64{1_432_500, 2_001_000}, false},
		"open":               {"Weight", "1,432 2,001", nil, true},
		"two that differ":    {"Weight", "12.5 12,5", nil, true},
		"in the cell":        {"Weight", "1.4kg 3lb", []int64{1_400_000, 1_360_777}, false},
		"ounces":             {"Weight (oz)", "50 50.5", []int64{1_417_476, 1_431_651}, false},
		"unit beats heading": {"Weight (oz)", "50g 16", []int64{50_000, 453_592}, false},
		"apostrophes":        {"Weight", "1'432 1’432", []int64{1_432_000, 1_432_000}, false},
	} {
		text := "Name;" + c.heading + ";Date\n"
		for i, v := range strings.Fields(c.values) {
			text += "Juno;" + v + ";2027-01-0" + string(rune('1'+i)) + "\n"
		}
		taken, open := d.take(t, "weights.csv", text)
		if (len(open) > 0) != c.asks {
			t.Errorf("%s: asks %+v", name, open)
		}
		if got := masses(taken.Rows); !equal(got, c.want) {
			t.Errorf("%s: %v, want %v (bad: %s)", name, got, c.want, reasons(taken.Bad))
		}
		if c.asks && taken.Waiting == 0 {
			t.Errorf("%s: nothing waits", name)
		}
	}
}

func equal(a, b []int64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

func TestStylesOfDays(t *testing.T) {
	d := newDesk(t)
	for name, c := range map[string]struct {
		values string // parted by |
		want   string
		asks   bool
	}{
		"ISO":                  {"2027-03-04|2024-02-29", "2027-03-04 2024-02-29", false},
		"dots":                 {"4.3.2027|04.03.27", "2027-03-04 2027-03-04", false},
		"day first":            {"4/3/2027|23/3/2027", "2027-03-04 2027-03-23", false},
		"month first":          {"4/3/2027|3/23/2027", "2027-04-03 2027-03-23", false},
		"open":                 {"4/3/2027|5/3/2027", "", true},
		"both":                 {"23/3/2027|3/23/2027", "", true},
		"alike":                {"4/4/2027|5/5/2027", "2027-04-04 2027-05-05", false},
		"hyphens":              {"4-3-2027|23-3-2027", "2027-03-04 2027-03-23", false},
		"names":                {"4 Mar 2027|4. März 2027|March 4, 2027", "2027-03-04 2027-03-04 2027-03-04", false},
		"29 February":          {"29.02.2023|29.02.2024", "day.none 2024-02-29", false},
		"no year":              {"4.3.|yesterday|4 March", "table.day-year table.day-year table.day-year", false},
		"years out of reach":   {"4.3.1820|4.3.0027", "day.year day.year", false},
		"no day":               {"soon 2027|2027", "day.unreadable day.unreadable", false},
		"serials of 1900":      {"46000|46000.75", "2025-12-09 2025-12-09T18:00", false},
		"12 hours":             {"3/23/2027 2:07 PM|3/23/2027 12:00 am|3/23/2027, 12:30 p.m.", "2027-03-23T14:07 2027-03-23T00:00 2027-03-23T12:30", false},
		"time behind":          {"2027-03-04T14:07|2027-03-04 14:07:59|4.3.2027 14.07 Uhr", "2027-03-04T14:07 2027-03-04T14:07 2027-03-04T14:07", false},
		"no such time":         {"2027-03-04 25:07|3/23/2027 13:07 pm", "time.none time.none", false},
		"its own zone":         {"2027-03-04T14:07:00Z", "2027-03-04T14:07", false},
		"a mean number":        {"99999999999|0|-5", "day.unreadable table.day-year table.day-year", false},
		"an old serial may be": {"38000|39000", "", true},
	} {
		text := "Name;Datum;Notiz\n"
		for _, v := range strings.Split(c.values, "|") {
			text += "Juno;\"" + v + "\";x\n"
		}
		b, err := table.Read("notes.csv", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		takings, open := d.settled(b)
		if (len(open) > 0) != c.asks {
			t.Errorf("%s: asks %+v", name, open)
		}
		taken, err := table.Take(b, takings, d.given())
		if err != nil {
			t.Fatal(err)
		}
		byLine := map[int]string{}
		for _, e := range taken.Rows.Entries {
			byLine[e.Line] = e.At.Day().String()
			if e.At.Precision == model.ToMinute {
				byLine[e.Line] = e.At.Time().Format("2006-01-02T15:04")
			}
		}
		for _, bad := range taken.Bad {
			byLine[bad.Line] = bad.Refusal.Reason
		}
		var got []string
		for _, row := range b.Sheets[0].Rows {
			if said := byLine[row.Line]; said != "" {
				got = append(got, said)
			}
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s: %v, want %s", name, got, c.want)
		}
	}
}

// An answer settles what was open.
func TestAnswers(t *testing.T) {
	d := newDesk(t)
	b, err := table.Read("weights.csv", []byte("Name;Weight;Date\nJuno;1,432;4/3/2027\n"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		numbers table.Numbers
		days    table.Days
		mass    int64
		day     model.Day
	}{
		{table.Comma, table.DayFirst, 1432, model.NewDay(2027, time.March, 4)},
		{table.Point, table.MonthFirst, 1_432_000, model.NewDay(2027, time.April, 3)},
	} {
		taking, open := table.Settle(b, 0, d.words.Guess(b.Sheets[0]), d.now.Day())
		if len(open) != 2 {
			t.Fatalf("asks %+v", open)
		}
		for _, q := range open {
			switch q.Asks {
			case table.AsksNumbers:
				taking = taking.Answer(q, string(c.numbers))
			case table.AsksDays:
				taking = taking.Answer(q, string(c.days))
			}
		}
		taking, open = table.Settle(b, 0, taking, d.now.Day())
		taken, err := table.Take(b, []table.Taking{taking}, d.given())
		if err != nil || len(open) > 0 || len(taken.Rows.Entries) != 1 {
			t.Fatalf("%v, asks %+v, %+v", err, open, taken)
		}
		e := taken.Rows.Entries[0]
		if massOf(e) != c.mass || e.At.Day() != c.day {
			t.Errorf("%d on %s", massOf(e), e.At.Day())
		}
	}
}

// collect is a collection with what rows make, and its judgement.
func collect(t testing.TB, rows importing.Rows) (*collection.Collection, importing.Judgement) {
	t.Helper()
	c, _ := storetest.New(t)
	var j importing.Judgement
	if err := c.View(func(v model.View) (err error) { j, err = rows.Judge(v, nil); return err }); err != nil {
		t.Fatal(err)
	}
	if _, err := c.Do(j.Good()); err != nil {
		t.Fatal(err)
	}
	return c, j
}

// What is counted of a sheet are its rows below the headings, not what stands above
// them; a sheet without headings is all rows.
func TestRowsBelowTheHeadings(t *testing.T) {
	s := table.Sheet{Rows: make([]table.Row, 61)}
	for heading, want := range map[int]int{-1: 61, 0: 60, 2: 58, 60: 0, 99: 0} {
		if got := len((table.Taking{Heading: heading}).Below(s)); got != want {
			t.Errorf("headings in row %d: %d rows, want %d", heading, got, want)
		}
	}
}

// known are the animals of a collection.
func known(t testing.TB, c *collection.Collection) (all []animals.Stored) {
	t.Helper()
	if err := c.View(func(v model.View) (err error) { all, err = animals.All(v); return err }); err != nil {
		t.Fatal(err)
	}
	return all
}

// What is there is not made twice, and one undo takes all of it back.
func TestTwiceIsOnce(t *testing.T) {
	d := newDesk(t)
	text := "Tier;Datum;Futter;Ergebnis;Anzahl\nJuno;3.3.2027;Ratte;gefressen;1\nJuno;3.3.2027;Ratte;gefressen;1\nBrook;4.3.2027 18:30;Maus;verweigert;\n"
	taken, _ := d.take(t, "Fütterung.csv", text)
	c, j := collect(t, taken.Rows)
	if j.Animals != 2 || j.Entries != 3 || taken.Named != 2 {
		t.Fatalf("%+v, %d by name", j, taken.Named)
	}
	b, err := table.Read("Fütterung.csv", []byte(text+"Juno;9.3.2027;Ratte;gefressen;1\n"))
	if err != nil {
		t.Fatal(err)
	}
	takings, _ := d.settled(b)
	given := d.given()
	given.Known = known(t, c)
	again, err := table.Take(b, takings, given)
	if err != nil {
		t.Fatal(err)
	}
	if err := c.View(func(v model.View) (err error) { j, err = again.Rows.Judge(v, nil); return err }); err != nil {
		t.Fatal(err)
	}
	if j.Animals != 0 || j.Entries != 1 || j.There != 3 || len(j.Refused) > 0 {
		t.Errorf("again: %d animals, %d entries, %d there, refused %+v", j.Animals, j.Entries, j.There, j.Refused)
	}
	if _, err := c.Undo(); err != nil {
		t.Fatal(err)
	}
	if left := known(t, c); len(left) > 0 {
		t.Errorf("left after undo: %+v", left)
	}
}

// No rule is bypassed: a weight far from the one before asks, and what cannot
// stand is refused with its line.
func TestRulesHold(t *testing.T) {
	d := newDesk(t)
	taken, _ := d.take(t, "weights.csv", "name;date;weight (g);species\nJuno;2027-01-01;1000;\nJuno;2027-02-01;1400;\nJuno;2027-03-01;9000;\nJuno;2027-03-01;1500;\nJuno;2028-01-01;1500;\nJuno;2027-04-01;-3;\nJuno;2027-05-01;;\n")
	if got := reasons(taken.Bad); got != "number.negative text.empty" {
		t.Errorf("bad: %s", got)
	}
	c, _ := storetest.New(t)
	judge := func(confirmed ...string) (j importing.Judgement) {
		rows := taken.Rows
		rows.Confirmed = confirmed
		if err := c.View(func(v model.View) (err error) { j, err = rows.Judge(v, nil); return err }); err != nil {
			t.Fatal(err)
		}
		return j
	}
	said := func(j importing.Judgement) string {
		var all []string
		for _, r := range j.Refused {
			all = append(all, r.Refusal.Reason)
		}
		return strings.Join(all, " ")
	}
	if j := judge(); said(j) != "mass.unlike mass.far mass.unlike day.future" || j.Entries != 1 {
		t.Errorf("unconfirmed: %s, %d", said(j), j.Entries)
	}
	if j := judge("mass.unlike"); said(j) != "mass.far day.future" || j.Entries != 3 {
		t.Errorf("unlike confirmed: %s, %d", said(j), j.Entries)
	}
	if j := judge("mass.unlike", "mass.far"); said(j) != "mass.twice day.future" || j.Entries != 3 {
		t.Errorf("all confirmed: %s, %d", said(j), j.Entries)
	}
	if _, err := c.Do(taken.Rows); err == nil {
		t.Error("rows with refused ones were brought in")
	}
}

// What a spreadsheet program has made of a chip is not taken for its number.
func TestAChipTakenForAnAmount(t *testing.T) {
	d := newDesk(t)
	for typed, want := range map[string]string{
		"276098106000001": "276098106000001", "276098106000001.0": "276098106000001", "276098106000001,00": "276098106000001",
		"2.76098E+14": "", `"2,76098E+14"`: "", "2e14": "", "AB 012 345 678": "AB012345678",
	} {
		taken, _ := d.take(t, "animals.csv", "name;chip\nJuno;"+typed+"\n")
		switch {
		case want == "" && (reasons(taken.Bad) != "table.chip-rounded" || len(taken.Rows.Animals) != 0):
			t.Errorf("%s: bad %q, %d animals", typed, reasons(taken.Bad), len(taken.Rows.Animals))
		case want != "" && (len(taken.Rows.Animals) != 1 || taken.Rows.Animals[0].Chip.Digits != want):
			t.Errorf("%s: bad %q, animals %+v", typed, reasons(taken.Bad), taken.Rows.Animals)
		}
	}
}

// Weights beside animals of which no column says the day raise one question, not a
// fault of each row: the day of all, or none of them.
func TestWeightsWithoutADayAreAskedAboutOnce(t *testing.T) {
	d := newDesk(t)
	b, err := table.Read("a.csv", []byte("Name;Art;Geschlecht;Geboren;Gewicht;Raum;Box\nJuno;Königspython;w;2023;1200;Keller;B1\nBrook;Königspython;m;2022;900;Keller;B2\nKestrel;Königspython;m;;;Keller;B3\n"))
	if err != nil {
		t.Fatal(err)
	}
	takings, open := d.settled(b)
	if len(open) != 2 || open[0].Asks != table.AsksWeighed || open[0].Example != "1200" || open[1].Asks != table.AsksHoused || open[1].Example != "B1" {
		t.Fatalf("asks %+v", open)
	}
	takings[0] = takings[0].Answer(open[1], table.LeaveOut)
	for answer, want := range map[string]int{"": 0, "2026-05-04": 2, table.LeaveOut: 0} {
		asked := takings[0]
		if answer != "" {
			asked = asked.Answer(open[0], answer)
		}
		taken, err := table.Take(b, []table.Taking{asked}, d.given())
		if err != nil {
			t.Fatal(err)
		}
		animals, waiting := 3, 0
		if answer == "" {
			animals, waiting = 1, 2
		}
		if len(taken.Bad) > 0 || len(taken.Rows.Animals) != animals || taken.Waiting != waiting || len(taken.Rows.Entries) != want || len(taken.Rows.Stays) > 0 {
			t.Errorf("%q: bad %q, %d animals, %d wait, %d weights, %d stays", answer, reasons(taken.Bad), len(taken.Rows.Animals), taken.Waiting, len(taken.Rows.Entries), len(taken.Rows.Stays))
		}
		for _, e := range taken.Rows.Entries {
			if e.At.Day() != model.NewDay(2026, 5, 4) || e.At.Precision != model.ToDay {
				t.Errorf("weighed %v", e.At)
			}
		}
		if _, again := table.Settle(b, 0, asked, d.now.Day()); (len(again) > 0) != (answer == "") {
			t.Errorf("%q: asks %+v", answer, again)
		}
	}
}

// So do stays of which no column says since when.
func TestStaysWithoutADayAreAskedAboutOnce(t *testing.T) {
	d := newDesk(t)
	b, err := table.Read("a.csv", []byte("Name;Sex;Box\nJuno;f;B1\nBrook;m;B2\n"))
	if err != nil {
		t.Fatal(err)
	}
	taking, open := table.Settle(b, 0, d.words.At(b.Sheets[0], d.words.Guess(b.Sheets[0]), table.Stays), d.now.Day())
	if len(open) != 1 || open[0].Asks != table.AsksHoused {
		t.Fatalf("asks %+v", open)
	}
	given := d.given()
	given.NewPlaces = table.PlacesMade
	taken, err := table.Take(b, []table.Taking{taking.Answer(open[0], "2026-05-04")}, given)
	if err != nil {
		t.Fatal(err)
	}
	if len(taken.Rows.Stays) != 2 || len(taken.Bad) > 0 || taken.Rows.Stays[0].From.Day() != model.NewDay(2026, 5, 4) {
		t.Errorf("bad %q, stays %+v", reasons(taken.Bad), taken.Rows.Stays)
	}
}

// A row without a name is told what else is wrong with it.
func TestARowWithoutANameIsToldAllItsFaults(t *testing.T) {
	d := newDesk(t)
	for _, text := range []string{"Name;Sex;Species;Hatched\n;dragon;;31.02.2024\n", "Name;Date;Weight\n;31.02.2024;many\n", "Name;Place;From;Until\n;B1;31.02.2024;32.02.2024\n"} {
		taken, _ := d.take(t, "a.csv", text)
		if len(taken.Bad) != 1 || taken.Bad[0].Refusal.Reason != "name.empty" || len(taken.Bad[0].Also) != 2 {
			t.Errorf("%q: %+v", text, taken.Bad)
		}
	}
}

// A number that may be two things is told with its unit, and in the smaller one.
func TestNumbersThatMayBeTwoAreToldWithTheirUnit(t *testing.T) {
	d := newDesk(t)
	for _, c := range []struct{ text, point, comma string }{
		{"Name;Weight (kg);Date\nJuno;1,432;2026-01-02\n", "1432 kg (1,432,000 g)", "1.432 kg (1432 g)"},
		{"Name;Weight;Date\nJuno;1,432 kg;2026-01-02\n", "1432 kg (1,432,000 g)", "1.432 kg (1432 g)"},
		{"Name;Weight;Date\nJuno;1,432;2026-01-02\n", "1432 g", "1.432 g"},
	} {
		b, err := table.Read("a.csv", []byte(c.text))
		if err != nil {
			t.Fatal(err)
		}
		takings, open := d.settled(b)
		if len(open) != 1 || open[0].Asks != table.AsksNumbers {
			t.Fatalf("%q asks %+v", c.text, open)
		}
		english := d.languages.In("en", wording.Units{})
		plain := strings.NewReplacer("\u00a0", " ", "\u202f", " ")
		q := open[0]
		if point, comma := plain.Replace(table.Meant(q.Example, table.Point, q.Unit, english)), plain.Replace(table.Meant(q.Example, table.Comma, q.Unit, english)); point != c.point || comma != c.comma {
			t.Errorf("%q: %q or %q, want %q or %q", c.text, point, comma, c.point, c.comma)
		}
		if answered := takings[0].Answer(q, string(table.Comma)); answered.Answered(q) != string(table.Comma) || takings[0].Answered(q) != "" {
			t.Errorf("answered %q, before %q", answered.Answered(q), takings[0].Answered(q))
		}
	}
}
