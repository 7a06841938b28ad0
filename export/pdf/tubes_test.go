package pdf

import (
	"bytes"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"coilward/assets"
	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/label"
	"coilward/model/samples"
)

// rack is so many tubes as a sheet has labels, the last of a pool with a long name.
func rack(s label.Sheet) []paper.Tube {
	var tubes []paper.Tube
	for n := range s.Count() {
		t := paper.Tube{ID: model.SampleID{ID: model.ID{1, 0x91, 0xa1, byte(n), 7: 0x7e, 15: byte(n)}}, Names: []string{"Juno"}, Code: "M-09", Number: "K-0012",
			Sample: samples.Sample{Material: "choanal-swab", Taken: model.Moment{UTC: 1_900_000_000, Precision: model.ToDay}}}
		if n == s.Count()-1 {
			t.Names, t.Code, t.Number, t.Short, t.Sample = []string{"Bartholomea of the long name", "Brook"}, "", "", "00beef", samples.Sample{Material: "stomach-lavage"}
		}
		tubes = append(tubes, t)
	}
	return tubes
}

// Every code of every sheet of tube labels is read from a picture of the printed page at
// 300 dots to the inch, as a tube's and not as a card's, and the text stands in the file.
func TestTheCodesOfTubesAreReadFromThePrintedPage(t *testing.T) {
	renderer, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Skip("pdftoppm, which draws a PDF as a picture, is not on this computer")
	}
	sheets, err := label.Sheets(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range label.Tubes(sheets) {
		tubes := rack(s)
		d, err := paper.TubesPaper(tubes, paper.Laying{Sheet: s, First: 1}, papertest.Text(t, "en"), model.Moment{})
		if err != nil {
			t.Fatal(err)
		}
		file := mustWrite(t, d)
		papertest.Checked(t, file)
		folder := t.TempDir()
		command := exec.CommandContext(t.Context(), renderer, "-r", "300", "-gray", "-png", "-", filepath.Join(folder, "page"))
		command.Stdin = bytes.NewReader(file)
		if said, err := command.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v: %s", s.ID, err, said)
		}
		pages, err := filepath.Glob(filepath.Join(folder, "*.png"))
		if err != nil || len(pages) != 1 {
			t.Fatalf("%s: pages %v, %v", s.ID, pages, err)
		}
		read := codesOf(t, pages[0])
		missed := 0
		for _, tube := range tubes {
			if !read[label.TubeText(tube.ID)] {
				missed++
			}
		}
		if missed > 0 {
			t.Errorf("%s: %d of %d codes are not read", s.ID, missed, len(tubes))
		}
		for said := range read {
			if _, card := label.Parse(said); card {
				t.Errorf("%s: %q is taken for a card", s.ID, said)
			}
		}
	}
}

// The text of form and labels is read back from the file, in both languages.
func TestTheTextOfTubesAndFormIsReadBack(t *testing.T) {
	reader, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext, which reads the text of a PDF, is not on this computer")
	}
	sheets, err := label.Sheets(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	form := paper.Lab{Samples: []paper.LabSample{{Stored: samples.Stored{Sample: samples.Sample{Kit: samples.Kit{Number: "K-0012"}, Material: "choanal-swab"}}}}}
	for language, want := range map[string][]string{"en": {"K-0012", "taken 2030-03-17", "UN3373", "packing instruction 650"}, "de": {"K-0012", "genommen 2030-03-17", "UN3373", "Verpackungsanweisung 650"}} {
		text := papertest.Text(t, language)
		labels, err := paper.TubesPaper(rack(label.Tubes(sheets)[0])[:1], paper.Laying{Sheet: label.Tubes(sheets)[0], First: 1}, text, model.Moment{})
		if err != nil {
			t.Fatal(err)
		}
		said := ""
		for _, d := range []paper.Document{labels, paper.LabForm(form, papertest.Tables(t), text, paper.A4), paper.LabForm(form, papertest.Tables(t), text, paper.Letter)} {
			command := exec.CommandContext(t.Context(), reader, "-layout", "-", "-")
			command.Stdin = bytes.NewReader(mustWrite(t, d))
			out, err := command.Output()
			if err != nil {
				t.Fatal(err)
			}
			said += strings.Join(strings.Fields(string(out)), " ") + "\n"
		}
		for _, w := range want {
			if !strings.Contains(said, w) {
				t.Errorf("%s: %q is not read back from %s", language, w, said)
			}
		}
	}
}
