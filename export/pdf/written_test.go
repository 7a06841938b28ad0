package pdf

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/body"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/label"
	"coilward/model/storetest"
	"coilward/model/written"
)

// sheetsToWrite are a sheet of one with two open findings and one without an animal.
func sheetsToWrite() []paper.CheckSheet {
	day := model.NewDay(2030, 3, 17)
	open := func(id byte, stop knowledge.StopID, what knowledge.FindingID, along, angle int) exam.StoredProblem {
		return exam.StoredProblem{ID: model.ProblemID{ID: model.ID{id}}, Problem: exam.Problem{Stop: stop, What: what, Glimpses: []exam.Glimpse{
			{At: model.Moment{UTC: 1_899_000_000}, Standing: exam.New, Grade: exam.Marked, Place: body.OnTrunk(along, angle)}}}}
	}
	return []paper.CheckSheet{
		{Code: label.Written{Kind: label.CheckSheet, ID: model.ID{1, 0x91, 0xa1, 7: 0x7e, 15: 0xab}, Of: model.ID{1, 0x91, 0xa1, 7: 0x7e, 15: 2}, Day: day},
			Animal: animals.Animal{Name: "Juno", Code: "M-09"}, Where: "Snake room, Rack A, Box 3", Last: care.Weighed{At: model.Moment{UTC: 1_899_000_000}, Weight: care.Weight{Mass: model.Grams(1432)}},
			Open:    []exam.StoredProblem{open(3, "skin", "sore", 6200, 90), open(4, "belly", "scar", 4000, 180)},
			Numbers: map[model.ProblemID]int{{ID: model.ID{3}}: 1, {ID: model.ID{4}}: 2}},
		{Code: label.Written{Kind: label.CheckSheet, ID: model.ID{1, 0x91, 0xa1, 7: 0x7e, 15: 0xac}, Day: day}},
	}
}

// codesAt draws the first pages of a file at so many dots to the inch and reads the codes
// on each.
func codesAt(t *testing.T, file []byte, dots string, first int) (pages []map[string]bool) {
	t.Helper()
	renderer, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Skip("pdftoppm, which draws a PDF as a picture, is not on this computer")
	}
	folder := t.TempDir()
	command := exec.CommandContext(t.Context(), renderer, "-r", dots, "-l", strconv.Itoa(first), "-gray", "-png", "-", filepath.Join(folder, "page"))
	command.Stdin = bytes.NewReader(file)
	if said, err := command.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	drawn, err := filepath.Glob(filepath.Join(folder, "*.png"))
	if err != nil {
		t.Fatal(err)
	}
	for _, page := range drawn {
		pages = append(pages, codesOf(t, page))
	}
	return pages
}

// A sheet is one page, its code is read from a picture at 150 dots to the inch in greys, and
// what is to be ticked and minded stands on it, in both languages and on both papers.
func TestCheckSheetsAreReadFromThePrintedPage(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		for name, size := range map[string]paper.Size{"A4": paper.A4, "Letter": paper.Letter} {
			text := papertest.Text(t, language)
			sheets := sheetsToWrite()
			d, err := paper.CheckSheetsPaper(sheets, papertest.Tables(t), text, size, true)
			if err != nil {
				t.Fatal(err)
			}
			file := mustWrite(t, d)
			papertest.Checked(t, file)
			if folder := os.Getenv("COILWARD_PICTURES"); folder != "" {
				if err := os.WriteFile(filepath.Join(folder, "check-sheet-"+language+"-"+name+".pdf"), file, 0o600); err != nil {
					t.Fatal(err)
				}
			}
			said := papertest.PagesOf(t, file)
			if len(said) != 3 {
				t.Fatalf("%s %s: %d pages, want a page for each and the list", language, name, len(said))
			}
			for i, page := range codesAt(t, file, "150", len(sheets)) {
				if !page[sheets[i].Code.Text()] || len(page) != 1 {
					t.Errorf("%s %s: the codes of page %d are %v", language, name, i+1, page)
				}
			}
			joined := strings.Join(strings.Fields(said[0]), " ")
			for _, want := range []string{"Juno", "M-09", text.Say("stop.tail-tip"), text.Say("paper.check-sheet.fine"), strings.ToLower(text.Say("standing.worse")), sheets[0].Code.Number(), text.Day(sheets[0].Code.Day)} {
				if !strings.Contains(joined, strings.Join(strings.Fields(want), " ")) {
					t.Errorf("%s %s: %q does not stand on the sheet: %s", language, name, want, joined)
				}
			}
		}
	}
}

// The code of a sheet for weighing is read at 150 dots to the inch, and every animal stands
// on it in its order, over more than one page.
func TestWeighSheetsAreReadFromThePrintedPage(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		text := papertest.Text(t, language)
		s := paper.WeighSheet{Code: label.Written{Kind: label.WeighSheet, ID: model.ID{1, 0x91, 15: 0xab}, Day: model.NewDay(2030, 3, 17), Order: 0xbeef}}
		for n := range 40 {
			r := written.Row{Animal: animals.Stored{Animal: animals.Animal{Name: "Wren " + strconv.Itoa(n), Code: "M-" + strconv.Itoa(n)}}, Box: "Snake room, Rack A, Box " + strconv.Itoa(n)}
			if n%2 == 0 {
				r.Last = care.Weighed{At: model.Moment{UTC: 1_899_000_000}, Weight: care.Weight{Mass: model.Grams(1000 + int64(n))}}
			}
			s.Rows = append(s.Rows, r)
		}
		d, err := paper.WeighSheetPaper(s, text, paper.A4)
		if err != nil {
			t.Fatal(err)
		}
		file := mustWrite(t, d)
		papertest.Checked(t, file)
		if folder := os.Getenv("COILWARD_PICTURES"); folder != "" {
			if err := os.WriteFile(filepath.Join(folder, "weigh-sheet-"+language+".pdf"), file, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if page := codesAt(t, file, "150", 1)[0]; !page[s.Code.Text()] || len(page) != 1 {
			t.Errorf("%s: the codes are %v", language, page)
		}
		said := strings.Join(papertest.PagesOf(t, file), " ")
		at := 0
		for _, r := range s.Rows {
			i := strings.Index(said[at:], r.Animal.Name)
			if i < 0 {
				t.Fatalf("%s: %s does not stand behind those before it", language, r.Animal.Name)
			}
			at += i
		}
	}
}

// The code of a sheet for a round is read at 150 dots to the inch from each of its pages, in
// English on A4 and in German on Letter.
func TestRoundSheetsAreReadFromThePrintedPage(t *testing.T) {
	c, _ := storetest.New(t)
	for _, name := range []string{"Juno", "Brook"} {
		if _, err := c.Do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept}}); err != nil {
			t.Fatal(err)
		}
	}
	tables := papertest.Tables(t)
	var s paper.RoundSheet
	if err := c.View(func(v model.View) (err error) { s, err = paper.GatherRoundSheet(v, tables, ""); return err }); err != nil {
		t.Fatal(err)
	}
	for language, size := range map[string]paper.Size{"en": paper.A4, "de": paper.Letter} {
		d, err := paper.RoundSheetPaper(s, papertest.Text(t, language), size)
		if err != nil {
			t.Fatal(err)
		}
		file := mustWrite(t, d)
		papertest.Checked(t, file)
		pages := codesAt(t, file, "150", len(s.Parts))
		if len(pages) == 0 || len(pages) != len(s.Parts) {
			t.Fatalf("%s: codes of %d pages, want %d", language, len(pages), len(s.Parts))
		}
		for i, page := range pages {
			if !page[s.Parts[i].Code.Text()] || len(page) != 1 {
				t.Errorf("%s: the codes of page %d are %v", language, i+1, page)
			}
		}
	}
}
