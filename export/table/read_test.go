package table_test

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"coilward/export/table"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/wording"
)

// Whatever a file holds, it is read within the limits or refused in words, and of
// what is read only what can stand is taken.
func FuzzReadTable(f *testing.F) {
	d := newDesk(f)
	english := d.languages.In("en", wording.Units{})
	laid := d.laid(f, room(f), "de").Book
	for _, s := range laid.Sheets { // short ones: what is new of a long one is looked for too long
		s.Rows = s.Rows[:2]
		var file bytes.Buffer
		if err := table.WriteCSV(&file, s, english); err != nil {
			f.Fatal(err)
		}
		f.Add(file.Bytes())
	}
	for _, text := range []string{
		"", "Name;Note\nJuno;x", "sep=,\nName,Weight,Date\nJuno,\"1,432\",3/4/2027\n", "\ufeffTier;Datum;Gewicht (g)\nJuno;3.4.2027;1.432,5\n", "\xff\xfeN\x00a\x00m\x00e\x00\n\x00J\x00",
		"Name\tDay\tTime\tTime zone\tNote\nJuno\t2027-03-04\t14:07\tEurope/Berlin UTC+01:00\t'=1\n", "Name,Chip,Chip standard\nJuno,2.7E+14,other chip\n",
		"name;day;prey;outcome;faeces\nJuno;46000.5;rat;took;soft, blood\n", "\"\n\";\"\n\";", "Name;Note\nJuno;5\" tub\n", xlsx(f, []any{"Name", "Day", "Weight (g)"}, []any{"Juno", 46000.25, 1432.001}),
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		b, err := table.Read("file", raw)
		if err != nil {
			var r *model.Refusal
			if !errors.As(err, &r) || !english.Has("refusal."+r.Reason) {
				t.Fatalf("no words for %v", err)
			}
			return
		}
		var takings []table.Taking
		for i, s := range b.Sheets {
			taking, _ := table.Settle(b, i, d.words.Guess(s), d.now.Day())
			takings = append(takings, taking)
			for _, r := range s.Rows {
				if len(r.Cells) > table.MaxColumns || len(s.Rows) > table.MaxRows || r.Line < 1 {
					t.Fatalf("beyond the limits: line %d, %d cells", r.Line, len(r.Cells))
				}
			}
		}
		taken, err := table.Take(b, takings, d.given())
		if err != nil {
			t.Fatal(err)
		}
		for _, bad := range taken.Bad {
			if !english.Has("refusal."+bad.Refusal.Reason) || bad.Line < 1 {
				t.Fatalf("no words for %+v of line %d", bad.Refusal, bad.Line)
			}
		}
		for _, a := range taken.Rows.Animals {
			if r := a.Animal.Check(d.now.Day()); r != nil {
				t.Fatalf("taken although refused: %v", r)
			}
		}
		for _, e := range taken.Rows.Entries {
			if e.Body == nil || e.At.IsZero() || e.Of.IsZero() && e.New >= len(taken.Rows.Animals) {
				t.Fatalf("an entry of nobody or never: %+v", e)
			}
			if w, ok := e.Body.(care.Weight); ok && (w.Mass.Milligrams <= 0 || w.Mass.Milligrams > care.HeaviestMass) {
				t.Fatalf("a mass of %d mg", w.Mass.Milligrams)
			}
		}
	})
}

// manyRows are 50,000 weights of 200 animals as CSV.
func manyRows() []byte {
	var text strings.Builder
	text.WriteString("Name;Code;Day;Time;Time zone;Weight (g);Gut;Note\n")
	for i := range 50_000 {
		fmt.Fprintf(&text, "Animal %d;A-%d;20%02d-%02d-%02d;%02d:%02d;Europe/Berlin UTC+01:00;%d.%d;empty;\"row %d; as noted\"\n",
			i%200, i%200, 10+i/4000, 1+i/300%12, 1+i/12%28, i%24, i/24%60, 100+i%1300, i%10, i)
	}
	return []byte(text.String())
}

// A spreadsheet of 50,000 rows is read, its columns are matched and every cell is
// understood.
func BenchmarkReadTable50000(b *testing.B) {
	d, raw := newDesk(b), manyRows()
	b.SetBytes(int64(len(raw)))
	for b.Loop() {
		book, err := table.Read("weights.csv", raw)
		if err != nil {
			b.Fatal(err)
		}
		takings, open := d.settled(book)
		taken, err := table.Take(book, takings, d.given())
		if err != nil || len(open) > 0 || len(taken.Bad) > 0 || len(taken.Rows.Entries) != 50_000 || taken.Named != 200 {
			b.Fatalf("%v, asks %v, %d bad, %d entries of %d", err, open, len(taken.Bad), len(taken.Rows.Entries), taken.Named)
		}
	}
}

// The same bytes taken apart into cells by the bare library, none understood.
func BenchmarkReadTable50000Raw(b *testing.B) {
	raw := manyRows()
	b.SetBytes(int64(len(raw)))
	for b.Loop() {
		r := csv.NewReader(strings.NewReader(string(raw)))
		r.Comma = ';'
		rows := 0
		for {
			if _, err := r.Read(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				b.Fatal(err)
			}
			rows++
		}
		if rows != 50_001 {
			b.Fatal(rows)
		}
	}
}
