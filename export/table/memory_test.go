package table_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"coilward/export/table"
)

// guessed is the first sheet of a file as its headings say.
func (d desk) guessed(t testing.TB, text string) table.Taking {
	t.Helper()
	b, err := table.Read("a.csv", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return d.words.Guess(b.Sheets[0])
}

// What was matched by hand is proposed for the same headings, and for no others.
func TestMemory(t *testing.T) {
	d := newDesk(t)
	first := d.guessed(t, "Name;Wt g;Seen;Date\nJuno;140;x;2027-01-02\n")
	taken := first.Choose(2, table.Remark)
	taken.Columns[1].Field, taken.Columns[1].Unit, taken.Columns[1].Numbers = table.MassOf, "g", table.Comma
	m := table.ReadMemory(table.Memory(nil).Keep(d.words, first, taken).String())
	for text, want := range map[string]bool{
		"Name;Wt g;Seen;Date\nBrook;9;y;1\n":    true,
		" NAME ;wt-g;Seen!;Date\nBrook;9;y;1\n": true, // as headings are compared
		"Name;Wt g;Date;Seen\nBrook;9;1;y\n":    false,
		"Name;Wt g;Seen\nBrook;9;y\n":           false,
		"Name;Wt g;Seen;Date;More\nBrook;9;y\n": false,
	} {
		guessed := d.guessed(t, text)
		got, ok := m.Recall(d.words, guessed)
		if ok != want {
			t.Errorf("%q: recalled %t", text, ok)
		}
		if ok && (got.Columns[2].Field != table.Remark || got.Columns[1].Field != table.MassOf || got.Columns[1].Unit != "g" || got.Columns[1].Heading != guessed.Columns[1].Heading) {
			t.Errorf("%q: %+v", text, got)
		}
		if ok && got.Columns[1].Numbers != table.NumbersOpen {
			t.Errorf("%q: what a value means was kept: %+v", text, got.Columns[1])
		}
	}
	if again := m.Keep(d.words, first, taken); len(again) != 1 {
		t.Errorf("kept twice: %d", len(again))
	}
	if none := m.Keep(d.words, first, first); len(none) != 0 || none.String() != "" {
		t.Errorf("one that was taken as guessed is kept: %v", none)
	}
}

// Of two columns that may hold the same it is asked which is taken; the answer is
// remembered, also where it is the one that was guessed. One without a value is no
// question.
func TestOfTwoColumnsWithOneHeadingItIsAskedWhichIsTaken(t *testing.T) {
	d := newDesk(t)
	read := func(text string) (table.Book, table.Taking, []table.Question) {
		b, err := table.Read("a.csv", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		guessed := d.words.Guess(b.Sheets[0])
		_, open := table.Settle(b, 0, guessed, 20000)
		return b, guessed, open
	}
	const twice = "Name;Weight g;Weight g;Date\nJuno;140;150;2027-01-02\n"
	b, guessed, open := read(twice)
	if len(open) != 1 || open[0].Asks != table.AsksTwin || open[0].Column != 2 || open[0].Example != "150" || guessed.TwinOf(2) != 1 {
		t.Fatalf("asks %+v", open)
	}
	for answer, want := range map[string]int{table.TakeFirst: 1, table.TakeThis: 2} {
		taken := guessed.Answer(open[0], answer)
		if taken.Columns[want].Field != table.MassOf || taken.Columns[3-want].Field != table.NotTaken {
			t.Errorf("%s: %+v", answer, taken.Columns)
		}
		if _, again := table.Settle(b, 0, taken, 20000); len(again) != 0 {
			t.Errorf("%s: asks again %+v", answer, again)
		}
		m := table.ReadMemory(table.Memory(nil).Keep(d.words, guessed, taken).String())
		recalled, ok := m.Recall(d.words, guessed)
		if _, again := table.Settle(b, 0, recalled, 20000); !ok || len(again) != 0 || recalled.Columns[want].Field != table.MassOf {
			t.Errorf("%s: recalled %t %+v, asks %+v", answer, ok, recalled.Columns, again)
		}
	}
	if _, open := table.Settle(b, 0, guessed.Choose(1, table.NotTaken), 20000); len(open) != 0 {
		t.Errorf("where the first is left out it asks %+v", open)
	}
	if _, _, open := read("Name;Weight g;Weight g;Date\nJuno;140;;2027-01-02\n"); len(open) != 0 {
		t.Errorf("of an empty column it asks %+v", open)
	}
}

// The oldest is forgotten, and what cannot be read or does not fit is no memory.
func TestMemoryIsBoundedAndChecked(t *testing.T) {
	d := newDesk(t)
	var m table.Memory
	for i := range 80 {
		guessed := d.guessed(t, fmt.Sprintf("Name;Column %d\nJuno;1\n", i))
		m = m.Keep(d.words, guessed, guessed.Choose(1, table.Morph))
	}
	if len(m) != 50 || !strings.Contains(m[49].Headings, "column 79") || slices.ContainsFunc(m, func(r table.Remembered) bool { return strings.HasSuffix(r.Headings, "column 29") }) {
		t.Errorf("%d kept, the last is %q", len(m), m[len(m)-1].Headings)
	}
	for _, text := range []string{"", "{", "null", `{"a":1}`, "\x00"} {
		if got := table.ReadMemory(text); len(got) != 0 {
			t.Errorf("%q: %v", text, got)
		}
	}
	guessed := d.guessed(t, "Name;Column 79\nJuno;1\n")
	for name, spoil := range map[string]func(*table.Taking){
		"unknown field":      func(t *table.Taking) { t.Columns[1].Field = "wingspan" },
		"of another list":    func(t *table.Taking) { t.Columns[1].Field = table.Skin },
		"one field twice":    func(t *table.Taking) { t.Columns[1].Field = table.Name },
		"unknown listing":    func(t *table.Taking) { t.Lists = "birds" },
		"other many columns": func(t *table.Taking) { t.Columns = t.Columns[:1] },
	} {
		spoilt := table.ReadMemory(m.String())
		spoil(&spoilt[49].Taking)
		if got, ok := spoilt.Recall(d.words, guessed); ok {
			t.Errorf("%s: recalled %+v", name, got)
		}
	}
}
