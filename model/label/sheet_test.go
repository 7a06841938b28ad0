package label

import (
	"strings"
	"testing"
	"testing/fstest"

	"coilward/assets"
)

const sheetHead = "sheet | paper | left | top | width | height | right | down | columns | rows | cut | source\n"

func sheetsOf(rows string) ([]Sheet, error) {
	return Sheets(fstest.MapFS{sheetFile: {Data: []byte(sheetHead + rows)}})
}

// No label of the program's sheets covers another, and all lie on the paper.
func TestTheSheetsOfTheProgram(t *testing.T) {
	all, err := Sheets(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	papers := map[Paper]int{}
	for _, s := range all {
		papers[s.Paper]++
		wide, high := s.Paper.Size()
		for n := range s.Count() {
			x, y := s.At(n)
			if x < 0 || y < 0 || x+s.Width > wide || y+s.Height > high {
				t.Errorf("%s: label %d lies at %d, %d", s.ID, n, x, y)
			}
			for m := range n {
				if p, q := s.At(m); p < x+s.Width && x < p+s.Width && q < y+s.Height && y < q+s.Height {
					t.Errorf("%s: labels %d and %d cover each other", s.ID, m, n)
				}
			}
		}
		if !strings.Contains(s.Source, "memory") && !strings.Contains(s.Source, "common practice, no source") {
			t.Errorf("%s: source %q", s.ID, s.Source)
		}
	}
	if papers[A4] < 3 || papers[Letter] < 3 {
		t.Errorf("sheets by paper: %v", papers)
	}
}

func TestWhereALabelLies(t *testing.T) {
	all, err := sheetsOf("x | A4 | 47 | 107 | 381 | 212 | 25 | 3 | 5 | 12 | no | memory")
	if err != nil {
		t.Fatal(err)
	}
	for n, want := range map[int][2]int{0: {47, 107}, 1: {453, 107}, 4: {1671, 107}, 5: {47, 322}, 59: {1671, 2472}} {
		if x, y := all[0].At(n); x != want[0] || y != want[1] {
			t.Errorf("label %d lies at %d, %d", n, x, y)
		}
	}
}

func TestABadSheetIsRefused(t *testing.T) {
	const good = "x | A4 | 0 | 5 | 700 | 370 | 0 | 0 | 3 | 8 | no | memory"
	if _, err := sheetsOf(good); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ row, column string }{
		"no paper":      {"x | A5 | 0 | 5 | 700 | 370 | 0 | 0 | 3 | 8 | no | memory", "paper"},
		"too narrow":    {"x | A4 | 0 | 5 | 299 | 370 | 0 | 0 | 3 | 8 | no | memory", "width"},
		"too low":       {"x | A4 | 0 | 5 | 700 | 124 | 0 | 0 | 3 | 8 | no | memory", "height"},
		"no number":     {"x | A4 | 0 | five | 700 | 370 | 0 | 0 | 3 | 8 | no | memory", "top"},
		"over the side": {"x | A4 | 1 | 5 | 700 | 370 | 0 | 0 | 3 | 8 | no | memory", "columns"},
		"over the end":  {"x | A4 | 0 | 11 | 700 | 370 | 0 | 0 | 3 | 8 | no | memory", "rows"},
		"neither":       {"x | A4 | 0 | 5 | 700 | 370 | 0 | 0 | 3 | 8 | maybe | memory", "cut"},
		"no source":     {"x | A4 | 0 | 5 | 700 | 370 | 0 | 0 | 3 | 8 | no | ", "source"},
		"twice":         {good + "\n" + good, "sheet"},
		"none":          {"", ""},
	} {
		_, err := sheetsOf(c.row)
		if err == nil || !strings.Contains(err.Error(), c.column) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
