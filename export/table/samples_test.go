package table_test

import (
	"fmt"
	"strings"
	"testing"

	"coilward/export/table"
	"coilward/model"
	"coilward/model/importing"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/model/storetest"
)

const herd = "Name;Sex\nJuno;f\nBrook;m\n\"A; B\";f\n"

// tested takes a list of samples beside a list of animals.
func (d desk) tested(t testing.TB, name, text string) table.Taken {
	t.Helper()
	stock, err := table.Read("stock.csv", []byte(herd))
	if err != nil {
		t.Fatal(err)
	}
	list, err := table.Read(name, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	b := table.Beside("both", stock, list)
	takings, open := d.settled(b)
	if len(open) > 0 || takings[1].Lists != table.Samples {
		t.Fatalf("asks %+v, lists %q", open, takings[1].Lists)
	}
	taken, err := table.Take(b, takings, d.given())
	if err != nil {
		t.Fatal(err)
	}
	return taken
}

// Lists of samples in both languages, by the words of the trade; a sample comes in
// whole or not at all.
func TestListsOfSamples(t *testing.T) {
	d := newDesk(t)
	const head = "Animal,Sample,Material,Looked for,Result,Reported,Taken\n"
	for name, c := range map[string]struct {
		file, text             string
		samples, pool, results int // of the first sample
		bad                    string
	}{
		"English": {"samples.csv", head + "Juno,1,choanal swab,Serpentovirus,negative,2027-03-09,2027-03-01\nJuno,1,choanal swab,Ferlavirus,,,2027-03-01\nBrook,2,faeces,flotation,positive,2027-03-09,2027-03-02\n", 2, 1, 1, ""},
		"German":  {"Proben.csv", "Tier;Probenart;untersucht auf;Befund;Befunddatum;Entnahmedatum;Labor\nJuno;Kotprobe;Kryptosporidien;nicht eindeutig;09.03.2027;01.03.2027;Labor am Fluss\n", 1, 1, 1, ""},
		"a pool":  {"samples.csv", head + "Juno; Brook,1,faeces,worms-and-protozoa,pos,2027-03-09,2027-03-01\n", 1, 2, 1, ""},
		"a pool of one whose name holds the mark": {"samples.csv", head + "\"A; B\",1,faeces,worms-and-protozoa,pos,2027-03-09,2027-03-01\n", 1, 1, 1, ""},
		"a stranger":                 {"samples.csv", head + "Rowan,1,faeces,parasites,pos,2027-03-09,2027-03-01\n", 0, 0, 0, "table.sampled-stranger"},
		"nobody":                     {"samples.csv", head + ",1,faeces,parasites,pos,2027-03-09,2027-03-01\n", 0, 0, 0, "sample.nobody"},
		"a word not known":           {"samples.csv", head + "Juno,1,faeces,dragon pox,pos,2027-03-09,2027-03-01\n", 0, 0, 0, "table.word"},
		"no material":                {"samples.csv", head + "Juno,1,,parasites,pos,2027-03-09,2027-03-01\n", 0, 0, 0, "text.empty"},
		"29 February":                {"samples.csv", head + "Juno,1,faeces,parasites,pos,2027-02-29,2027-03-01\n", 0, 0, 0, "day.none"},
		"a 12-hour clock":            {"samples.csv", head + "Juno,1,faeces,parasites,pos,2027-03-09 11:30 PM,2027-03-01 9:15 am\n", 1, 1, 1, ""},
		"the second row is bad":      {"samples.csv", head + "Juno,1,faeces,parasites,pos,2027-03-09,2027-03-01\nJuno,1,faeces,crypto,maybe,2027-03-09,2027-03-01\nJuno,1,faeces,Ferlavirus,,,2027-03-01\n", 0, 0, 0, "table.sample-row table.word table.sample-row"},
		"rows that say otherwise":    {"samples.csv", head + "Juno,1,faeces,parasites,pos,2027-03-09,2027-03-01\nJuno,1,blood,crypto,neg,2027-03-09,2027-03-01\n", 0, 0, 0, "table.sample-row table.sample-unlike"},
		"one thing twice, no result": {"samples.csv", head + "Juno,1,faeces,parasites,,,2027-03-01\nJuno,1,faeces,parasites,,,2027-03-01\n", 0, 0, 0, "table.sample-row table.sample-thing"},
	} {
		t.Run(name, func(t *testing.T) {
			taken := d.tested(t, c.file, c.text)
			got := reasons(taken.Bad)
			if len(taken.Rows.Samples) != c.samples || got != c.bad {
				t.Fatalf("%d samples, bad %q", len(taken.Rows.Samples), got)
			}
			if c.samples == 0 {
				return
			}
			if s := taken.Rows.Samples[0]; len(s.Animals) != c.pool || len(s.Results) != c.results || s.Results[0].Report != "" {
				t.Errorf("%+v", s)
			}
		})
	}
}

// What a lab called the thing is no more than it said: "crypto" tells no species,
// "IBD" is a disease and no virus. A word that is not the thing's own name is kept
// beside the result.
func TestALabsWordIsKept(t *testing.T) {
	d := newDesk(t)
	const head = "Animal,Sample,Material,Looked for,Result,Reported,Taken,Note on the result\n"
	row := func(word, note string) string {
		return head + "Juno,1,faeces," + word + ",positive,2027-03-09,2027-03-01," + note + "\n"
	}
	for word, c := range map[string]struct {
		of   knowledge.AgentID
		note string
	}{
		"crypto": {"cryptosporidium", "crypto\nby PCR"}, "Kryptosporidien": {"cryptosporidium", "Kryptosporidien\nby PCR"},
		"Cryptosporidium serpentis": {"cryptosporidium-serpentis", "by PCR"}, "Kryptosporidien, Art nicht genannt": {"cryptosporidium", "by PCR"},
		"nidovirus": {"serpentovirus", "nidovirus\nby PCR"}, "serpentovirus": {"serpentovirus", "by PCR"},
	} {
		taken := d.tested(t, "samples.csv", strings.Replace(row(word, "by PCR"), ","+word+",", ",\""+word+"\",", 1))
		if len(taken.Rows.Samples) != 1 || taken.Rows.Samples[0].Results[0].Of != c.of || taken.Rows.Samples[0].Results[0].Note != c.note {
			t.Errorf("%s: %+v, bad %q", word, taken.Rows.Samples, reasons(taken.Bad))
		}
	}
	if taken := d.tested(t, "samples.csv", row("IBD", "")); len(taken.Rows.Samples) > 0 || reasons(taken.Bad) != "table.word" {
		t.Errorf("IBD: %+v, bad %q", taken.Rows.Samples, reasons(taken.Bad))
	}
}

// What came in by a list is judged by the rules of samples, beside those that are
// there, made with its people by one command and taken back by one undo.
func TestSamplesAreJudged(t *testing.T) {
	d := newDesk(t)
	c, _ := storetest.New(t)
	const head = "Animal;Kit number;Material;Looked for;Result;Reported;Taken;Lab\n"
	taken := d.tested(t, "samples.csv", head+
		"Juno;K1;Faeces;parasites;negative;2027-03-09;2027-03-01;By the river\n"+
		"Brook;K2;Faeces;parasites;negative;2027-02-09;2027-03-01;By the river\n"+ // the result before the sampling
		"Brook;K3;Faeces;parasites;negative;2027-03-09;2099-03-01;By the river\n"+ // in the future
		"Brook;k1;Faeces;crypto;positive;2027-03-09;2027-03-02;By the sea\n") // a kit used twice
	if len(taken.Bad) > 0 || len(taken.Rows.People) != 2 {
		t.Fatalf("bad %s, people %+v", reasons(taken.Bad), taken.Rows.People)
	}
	var j importing.Judgement
	if err := c.View(func(v model.View) (err error) { j, err = taken.Rows.Judge(v, nil); return err }); err != nil {
		t.Fatal(err)
	}
	var why []string
	for _, r := range j.Refused {
		why = append(why, r.Refusal.Reason)
	}
	if j.Samples != 1 || j.People != 1 || strings.Join(why, " ") != "sample.result-first sample.kit-used day.future" {
		t.Errorf("%d samples, %d people, refused %v", j.Samples, j.People, why)
	}
	if _, err := c.Do(j.Good()); err != nil {
		t.Fatal(err)
	}
	var all []samples.Stored
	read := func() {
		if err := c.View(func(v model.View) (err error) { all, err = samples.All(v); return err }); err != nil {
			t.Fatal(err)
		}
	}
	if read(); len(all) != 1 || all[0].Lab.IsZero() || all[0].Outcome("worms-and-protozoa") != samples.NotDetected {
		t.Errorf("%+v", all)
	}
	if _, err := c.Undo(); err != nil {
		t.Fatal(err)
	}
	if read(); len(all) != 0 || len(persons(t, c)) != 0 {
		t.Error("one undo does not take all back")
	}
}

// A row whose days lie the wrong way round in several places is told all of them.
func TestEveryDayOfASampleIsTold(t *testing.T) {
	d := newDesk(t)
	c, _ := storetest.New(t)
	taken := d.tested(t, "samples.csv", "Animal;Material;Looked for;Taken;Sent;Arrived at the lab\nJuno;Faeces;parasites;2027-03-05;2027-03-04;2027-03-03\n")
	if err := c.View(func(v model.View) error {
		j, err := taken.Rows.Judge(v, nil)
		if err != nil {
			return err
		}
		if len(j.Refused) != 1 {
			t.Fatalf("refused %+v, bad %s", j.Refused, reasons(taken.Bad))
		}
		bad := table.BadOf(j.Refused[0], func(r *model.Refusal) string { return r.Field })
		var said []string
		for _, f := range bad.Faults() {
			said = append(said, f.Column+" "+f.Refusal.Value+" "+f.Refusal.Reason)
		}
		if got, want := strings.Join(said, ", "), "posted 2027-03-04 sample.order, arrived 2027-03-03 sample.order"; got != want {
			t.Errorf("says %s, want %s", got, want)
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
}

// A sample may be planned for a day, and for a round of several; a round without a day, and
// one that no plan has, are refused at their cell.
func TestAPlannedSample(t *testing.T) {
	d := newDesk(t)
	for row, want := range map[string]string{
		"2027-03-05;;":   "2027-03-05 1 1",
		"2027-03-05;2;3": "2027-03-05 2 3",
		";;":             "",
		";2;3":           "Planned for  text.empty",
		"soon;;":         "Planned for soon table.day-year",
		"2027-03-05;x;3": "Round x count.whole",
	} {
		taken := d.tested(t, "samples.csv", "Animal;Material;Looked for;Planned for;Round;Rounds\nJuno;Faeces;parasites;"+row+"\n")
		got := ""
		for _, s := range taken.Rows.Samples {
			if p := s.Planned; p != nil {
				got = fmt.Sprint(p.Day, p.Round, p.Of)
			}
		}
		for _, bad := range taken.Bad {
			r := bad.Faults()[0]
			got = r.Column + " " + r.Refusal.Value + " " + r.Refusal.Reason
		}
		if got != want {
			t.Errorf("%q: %s, want %s", row, got, want)
		}
	}
}

// A sample that cannot be read stops neither the way out nor the way in, and is counted
// at both.
func TestASampleThatCannotBeReadStopsNothing(t *testing.T) {
	d := newDesk(t)
	c := room(t)
	if _, err := c.Do(storetest.Put{Documents: []model.Document{{Type: model.TypeSample, ID: model.ID{0xee}, Version: 1, At: model.Moment{UTC: 1}, Body: []byte("7")}}}); err != nil {
		t.Fatal(err)
	}
	if laid := d.laid(t, c, "en"); laid.Unread != 1 || len(laid.Book.Sheets) == 0 {
		t.Errorf("%d cannot be read, %d tables", laid.Unread, len(laid.Book.Sheets))
	}
	taken := d.tested(t, "samples.csv", "Animal;Material;Looked for;Taken\nJuno;Faeces;parasites;2027-03-05\n")
	if err := c.View(func(v model.View) error {
		j, err := taken.Rows.Judge(v, nil)
		if err != nil || j.Unread != 1 || j.Samples != 1 {
			t.Errorf("%+v, %v", j, err)
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
}
