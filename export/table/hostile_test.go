package table_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"coilward/export/table"
	"coilward/model"
)

func refusedBecause(err error) string {
	var r *model.Refusal
	switch {
	case err == nil:
		return ""
	case errors.As(err, &r):
		return r.Reason
	}
	return err.Error()
}

// zipped is a zip file of parts.
func zipped(t testing.TB, parts map[string]string) string {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, text := range parts {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// xlsx is a workbook of one sheet with these rows.
func xlsx(t testing.TB, rows ...[]any) string {
	t.Helper()
	f := excelize.NewFile()
	for i, row := range rows {
		if err := f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &row); err != nil {
			t.Fatal(err)
		}
	}
	b, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// mended is a workbook with one of its parts changed.
func mended(t *testing.T, book, part string, change func(string) string) string {
	t.Helper()
	parts := unzipped(t, book)
	before := parts[part]
	if parts[part] = change(before); parts[part] == before {
		t.Fatalf("%s stays as it is: %q", part, before)
	}
	return zipped(t, parts)
}

// stored is a workbook whose parts are not compressed, so that one sign can be changed.
func stored(t *testing.T, book string) string {
	t.Helper()
	var b strings.Builder
	z := zip.NewWriter(&b)
	for name, text := range unzipped(t, book) {
		w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
		if err == nil {
			_, err = io.WriteString(w, text)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func unzipped(t *testing.T, book string) map[string]string {
	t.Helper()
	z, err := zip.NewReader(strings.NewReader(book), int64(len(book)))
	if err != nil {
		t.Fatal(err)
	}
	parts := map[string]string{}
	for _, part := range z.File {
		r, err := part.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		parts[part.Name] = string(text)
	}
	return parts
}

func utf16Text(text string, high bool) string {
	var b strings.Builder
	for _, u := range utf16.Encode([]rune(text)) {
		if high {
			b.Write([]byte{byte(u >> 8), byte(u)})
		} else {
			b.Write([]byte{byte(u), byte(u >> 8)})
		}
	}
	return b.String()
}

func TestHostileFiles(t *testing.T) {
	good := xlsx(t, []any{"Name", "Sex"}, []any{"Juno", "f"})
	bomb := zipped(t, map[string]string{
		"[Content_Types].xml": "<Types/>", "xl/workbook.xml": strings.Repeat(" ", table.MaxUnzip/2), "xl/worksheets/sheet1.xml": strings.Repeat(" ", table.MaxUnzip/2+1),
	})
	for name, c := range map[string]struct{ text, want string }{
		"nothing":              {"", "table.empty"},
		"spaces":               {" \n \n", "table.empty"},
		"a picture":            {"\x89PNG\r\n\x1a\n", "table.other"},
		"an old workbook":      {"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1xxxx", "table.old"},
		"bytes":                {strings.Repeat("\x00\x01\x02\x03\x04\x05\x06\x07", 99), "table.other"},
		"an open quote":        {"Name;Sex\nJuno;\"f\nBrook;m\n", "table.quote"},
		"a cut sign":           {"Name\nJörð Müller Bäcker\nJ\xc3", "table.encoding"},
		"two encodings":        {"Name\nJörð Müller Bäcker\nJ\xf6rg\n", "table.encoding"},
		"half a sign of UTF16": {"\xff\xfeN\x00a", "table.damaged"},
		"a wide line":          {strings.Repeat("a;", table.MaxColumns+1) + "\n", "table.columns"},
		"a line of separators": {strings.Repeat(";", 30<<20) + "\nJuno", "table.columns"},
		"separators in quotes": {"\"" + strings.Repeat(";\n", 1<<20) + "\"", "table.cell"},
		"one of many lines":    {"Name;Note\nJuno;x\n" + strings.Repeat("\"\n\";", 10<<20), "table.columns"},
		"many after a mark":    {"Name;Note\nJuno;5\" tub\n" + strings.Repeat("a;b\n", 50_000) + strings.Repeat(";", 1<<20), "table.columns"},
		"a long cell":          {"Name;Note\nJuno;" + strings.Repeat("x", table.MaxCell+1), "table.cell"},
		"many rows":            {strings.Repeat("a;b\n", table.MaxRows+2), "table.rows"},
		"half a workbook":      {good[:len(good)/2], "table.damaged"},
		"the end of one alone": {"PK\x03\x04" + good[len(good)/2:], "table.damaged"},
		"a zip of letters":     {zipped(t, map[string]string{"letter.txt": "Dear vet"}), "table.damaged"},
		"a zip bomb":           {bomb, "table.unpacked"},
		"a sheet cut within":   {mended(t, good, "xl/worksheets/sheet1.xml", func(s string) string { return s[:strings.LastIndex(s, "<row")+9] }), "table.damaged"},
		"a sheet of bad XML":   {mended(t, good, "xl/worksheets/sheet1.xml", func(s string) string { return strings.Replace(s, "</row>", "</rwo>", 1) }), "table.damaged"},
		"texts of bad XML":     {mended(t, good, "xl/sharedStrings.xml", func(s string) string { return strings.Replace(s, "</si>", "</is>", 1) }), "table.damaged"},
		"a changed letter":     {strings.Replace(stored(t, good), "Juno", "Jumo", 1), "table.damaged"},
	} {
		if _, err := table.Read("file", []byte(c.text)); refusedBecause(err) != c.want {
			t.Errorf("%s: %q, want %s", name, refusedBecause(err), c.want)
		}
	}
}

// Lines that end in CR alone are lines.
func TestLinesOfTheOldMac(t *testing.T) {
	b, err := table.Read("mac.csv", []byte("Name;Sex\rJuno;f\rBrook;m\r"))
	if err != nil || len(b.Sheets) != 1 || len(b.Sheets[0].Rows) != 3 || b.Sheets[0].Rows[2].Cells[0] != "Brook" {
		t.Errorf("%+v, %v", b, err)
	}
}

// A record that would take many times the memory of its file is refused before it
// is taken apart: beside the file and its text almost nothing is asked for.
func TestAWideRecordTakesNoMemory(t *testing.T) {
	for name, text := range map[string]string{
		"one line":   strings.Repeat(";", 40<<20),
		"many lines": strings.Repeat("\"\n\";", 10<<20),
	} {
		raw := []byte(text)
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := table.Read("wide.csv", raw)
		runtime.ReadMemStats(&after)
		var r *model.Refusal
		if !errors.As(err, &r) || r.Reason != "table.columns" || r.Gaps["Line"] != model.CountGap(1) {
			t.Errorf("%s: %v", name, err)
		}
		if asked := int(after.TotalAlloc - before.TotalAlloc); asked > len(raw)+len(raw)/8 {
			t.Errorf("%s: %d MB asked for a file of %d MB", name, asked>>20, len(raw)>>20)
		}
	}
}

// A mark in a plain cell does not hide where its line ends.
func TestAMarkInAPlainCellIsNoQuote(t *testing.T) {
	text := "Name;Note\nJuno;5\" tub\n" + strings.Repeat("Juno;x;;;;;;;;;\n", 50_000)
	b, err := table.Read("notes.csv", []byte(text))
	if err != nil || len(b.Sheets[0].Rows) != 50_002 {
		t.Errorf("%v, %d sheets", err, len(b.Sheets))
	}
}

// A file of 1 GB is refused by its size, before a byte of it is read.
func TestALargeFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "large.csv")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(f.Truncate(1<<30), f.Close()); err != nil {
		t.Skip("no file of that size can be made here")
	}
	if _, err := table.Open(path); refusedBecause(err) != "table.large" {
		t.Error(err)
	}
	if _, err := table.Open(t.TempDir()); refusedBecause(err) != "table.no-file" {
		t.Error(err)
	}
	if _, err := table.Open(filepath.Join(t.TempDir(), "none.csv")); refusedBecause(err) != "table.unreadable" {
		t.Error(err)
	}
}

func TestEncodingsAndSeparators(t *testing.T) {
	d := newDesk(t)
	text := "Name;Geschlecht;Notiz\r\nJörð;w;\"a;b \"\"c\"\"\nd\"\r\n"
	comma, tab := strings.ReplaceAll(text, "Geschlecht;", "Geschlecht,"), strings.NewReplacer("Name;", "Name\t", "Geschlecht;", "Geschlecht\t", "Jörð;w;", "Jörð\tw\t").Replace(text)
	comma = strings.NewReplacer("Name;", "Name,", "Jörð;w;", "Jörð,w,").Replace(comma)
	for name, c := range map[string]struct{ text, encoding string }{
		"UTF-8":            {text, "UTF-8"},
		"with a mark":      {"\ufeff" + text, "UTF-8"},
		"UTF-16, low":      {"\xff\xfe" + utf16Text(text, false), "UTF-16"},
		"UTF-16, high":     {"\xfe\xff" + utf16Text(text, true), "UTF-16"},
		"UTF-16, unmarked": {utf16Text(text, false), "UTF-16"},
		"Windows-1252":     {strings.NewReplacer("ö", "\xf6", "ð", "\xf0").Replace(text), "Windows-1252"},
		"commas":           {comma, "UTF-8"},
		"tabs":             {tab, "UTF-8"},
		"named":            {"sep=;\r\n" + text, "UTF-8"},
		"carriage returns": {strings.ReplaceAll(text, "\r\n", "\n"), "UTF-8"},
	} {
		b, err := table.Read("animals.csv", []byte(c.text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		takings, _ := d.settled(b)
		taken, err := table.Take(b, takings, d.given())
		if err != nil || b.Encoding != c.encoding || len(taken.Rows.Animals) != 1 {
			t.Errorf("%s: %v, %s, %+v", name, err, b.Encoding, taken)
			continue
		}
		if a := taken.Rows.Animals[0]; a.Name != "Jörð" || a.Note != "a;b \"c\"\nd" {
			t.Errorf("%s: %q %q", name, a.Name, a.Note)
		}
	}
	taken, _ := d.take(t, "animals.csv", "Name;Note\nJuno;a 5\" hide\nBr\x00ook;b\n")
	if len(taken.Rows.Animals) != 1 || taken.Rows.Animals[0].Note != `a 5" hide` || reasons(taken.Bad) != "text.control" {
		t.Errorf("bare quotes and NUL: %+v, bad %s", taken.Rows.Animals, reasons(taken.Bad))
	}
}

// Numbers and days of a workbook are read as they are stored, whatever the texts
// beside them look like.
func TestWorkbooks(t *testing.T) {
	d := newDesk(t)
	raw := xlsx(t, []any{"Tier", "Datum", "Gewicht (g)"},
		[]any{"Juno", 46000, 1.432}, []any{"Juno", 46001.5, 12.25}, []any{"Brook", "3.4.2026", "1.432,5"}, []any{"Brook", 46002, 0.1 + 0.2}, []any{}, []any{"Kestrel", "x", 5})
	b, err := table.Read("Gewichte.xlsx", []byte(raw))
	if err != nil {
		t.Fatal(err)
	}
	takings, open := d.settled(b)
	taken, err := table.Take(b, takings, d.given())
	if err != nil || len(open) > 0 {
		t.Fatal(err, open)
	}
	if got := masses(taken.Rows); !equal(got, []int64{1432, 12_250, 1_432_500, 300}) {
		t.Errorf("masses %v", got)
	}
	if len(taken.Bad) != 1 || taken.Bad[0].Line != 7 || taken.Bad[0].Column != "Datum" {
		t.Errorf("bad: %+v", taken.Bad)
	}
	first := taken.Rows.Entries[0].At
	if first.Day() != model.NewDay(2025, 12, 9) || first.Precision != model.ToDay || taken.Rows.Entries[1].At.Precision != model.ToMinute {
		t.Errorf("days: %+v %+v", first, taken.Rows.Entries[1].At)
	}

	f := excelize.NewFile()
	from1904 := true
	if err := errors.Join(f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &from1904}),
		f.SetSheetRow("Sheet1", "A1", &[]any{"Name", "Date", "Note"}), f.SetSheetRow("Sheet1", "A2", &[]any{"Juno", 44538, "x"})); err != nil {
		t.Fatal(err)
	}
	buffer, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	if b, err = table.Read("notes.xlsx", buffer.Bytes()); err != nil {
		t.Fatal(err)
	}
	takings, _ = d.settled(b)
	if taken, err = table.Take(b, takings, d.given()); err != nil || len(taken.Rows.Entries) != 1 || taken.Rows.Entries[0].At.Day() != model.NewDay(2025, 12, 9) {
		t.Errorf("from 1904: %v, %+v", err, taken)
	}
}

// A workbook says what wrote it, and names no person and no library.
func TestAWorkbookNamesNobody(t *testing.T) {
	var file bytes.Buffer
	if err := table.WriteXLSX(&file, table.Book{Sheets: []table.Sheet{{Name: "Animals", Rows: []table.Row{{Cells: []string{"Name"}}}}}}); err != nil {
		t.Fatal(err)
	}
	parts := unzipped(t, file.String())
	about := parts["docProps/core.xml"] + parts["docProps/app.xml"]
	if !strings.Contains(about, "<dc:creator>Coilward</dc:creator>") || !strings.Contains(about, ">Coilward</Application>") || strings.Contains(strings.ToLower(about), "xuri") || strings.Contains(about, "Excelize") {
		t.Errorf("it says %s", about)
	}
}
