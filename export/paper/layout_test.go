package paper

import (
	"fmt"
	"image/color"
	"math"
	"strings"
	"testing"

	"coilward/model/drawing"
)

// sheet is a canvas that keeps what was written, line by line of the page.
type sheet struct {
	t     testing.TB
	texts []string
	low   float64 // baseline of the lowest text
	clips int
	marks []string
}

func (s *sheet) Text(_, y float64, f Face, _ float64, _ color.NRGBA, text string) {
	for _, r := range text {
		if !faces[f]().has(r) {
			s.t.Errorf("%q was set in %s, which has no %U", text, f.Name(), r)
		}
	}
	s.texts = append(s.texts, text)
	s.low = max(s.low, y)
}
func (s *sheet) Path(drawing.Path, Paint) {}
func (s *sheet) Clip(drawing.Path)        { s.clips++ }
func (s *sheet) Unclip()                  { s.clips-- }
func (s *sheet) Picture(string, []byte, Box) {
}
func (s *sheet) Mark(_ int, title string, _ float64) { s.marks = append(s.marks, title) }

func (s *sheet) has(text string) bool { return strings.Contains(strings.Join(s.texts, "\n"), text) }

// drawn lays the document out and draws every page on a sheet of its own.
func drawn(t testing.TB, d Document) []*sheet {
	t.Helper()
	pages := Layout(d)
	var out []*sheet
	for i, p := range pages {
		s := &sheet{t: t}
		DrawPage(s, d, p, i+1, len(pages))
		if p.Left < -.02 {
			t.Errorf("page %d runs over by %.1f mm", i+1, -p.Left)
		}
		if s.clips != 0 {
			t.Errorf("page %d leaves %d clips open", i+1, s.clips)
		}
		out = append(out, s)
	}
	return out
}

func document(size Size, blocks ...Block) Document {
	return Document{Title: "Test", Size: size, FootLeft: "left", FootMiddle: "middle",
		PageOf:   func(n, total int) string { return fmt.Sprintf("%d of %d", n, total) },
		Sections: []Section{{Name: "One", Blocks: blocks}}}
}

func rows(n int, text func(i int) string) [][]Cell {
	var out [][]Cell
	for i := range n {
		out = append(out, []Cell{{Text: text(i)}, {Text: "value"}})
	}
	return out
}

func TestATableRepeatsItsHeaderAndLosesNoRow(t *testing.T) {
	d := document(A4, Heading{Level: 2, Text: "Rows"}, Table{
		Columns: []Column{{Title: "Number of the row", Share: 1}, {Title: "What", Share: 1}},
		Rows:    rows(120, func(i int) string { return fmt.Sprintf("row-%03d", i) })})
	pages := drawn(t, d)
	if len(pages) < 3 {
		t.Fatalf("120 rows take %d pages, want at least 3", len(pages))
	}
	var all strings.Builder
	for i, p := range pages {
		if !p.has("Number of the row") {
			t.Errorf("page %d has no header", i+1)
		}
		if want := fmt.Sprintf("%d of %d", i+1, len(pages)); !p.has(want) {
			t.Errorf("page %d does not say %q", i+1, want)
		}
		all.WriteString(strings.Join(p.texts, "\n"))
	}
	for i := range 120 {
		if n := strings.Count(all.String(), fmt.Sprintf("row-%03d", i)); n != 1 {
			t.Errorf("row %d is printed %d times", i, n)
		}
	}
}

func TestALongCellBreaksOverPages(t *testing.T) {
	long := strings.TrimSpace(strings.Repeat("ten letters ", 900))
	d := document(Letter, Table{Columns: []Column{{Title: "Note", Share: 1}, {Title: "What", Share: 3}},
		Rows: [][]Cell{{{Text: long}, {Text: "value"}}, {{Text: "end-of-table"}, {}}}})
	pages := drawn(t, d)
	if len(pages) < 2 || !pages[len(pages)-1].has("end-of-table") {
		t.Errorf("%d pages, the last without the end of the table", len(pages))
	}
	for i, p := range pages {
		if p.low > Letter.H-Letter.Bottom && p.low > Letter.H-8 {
			t.Errorf("page %d is written down to %.1f mm", i+1, p.low)
		}
	}
}

func TestAFigureGivesWayToStayOnThePage(t *testing.T) {
	var got []float64
	figure := Figure{H: 80, Min: 30, Draw: func(_ Canvas, b Box) { got = append(got, b.H()) }}
	room := A4.H - A4.Top - A4.Bottom
	pages := drawn(t, document(A4, Space(room-60), figure))
	if len(pages) != 1 || len(got) != 1 || got[0] < 30 || got[0] > 60 {
		t.Errorf("%d pages, figure heights %v; want one of 30 to 60 mm on one page", len(pages), got)
	}
}

func TestASectionThatMustFitShrinks(t *testing.T) {
	d := document(A4, Table{Columns: []Column{{Share: 1}, {Share: 1}}, Rows: rows(54, func(i int) string { return fmt.Sprint("row ", i) })})
	if n := len(Layout(d)); n != 2 {
		t.Fatalf("without Fit: %d pages, want 2", n)
	}
	d.Sections[0].Fit = true
	if n := len(drawn(t, d)); n != 1 {
		t.Errorf("with Fit: %d pages, want 1", n)
	}
	d.Sections[0].Blocks = append(d.Sections[0].Blocks, d.Sections[0].Blocks...)
	if n := len(drawn(t, d)); n < 2 {
		t.Errorf("what cannot fit was put on %d page", n)
	}
}

// A few lines do not stand alone on a last page, where the pages before can take them;
// what stands for itself there does.
func TestNoFewLinesAloneOnTheLastPage(t *testing.T) {
	room := A4.H - A4.Top - A4.Bottom
	figure := Figure{H: 80, Min: 30, Draw: func(Canvas, Box) {}}
	for more, want := range map[float64]int{10: 1, least + 5: 2} {
		pages := Layout(document(A4, figure, Space(room-85), Space(more)))
		if len(pages) != want {
			t.Errorf("with %.0f mm too many: %d pages, want %d", more, len(pages), want)
		}
	}
}

func TestAHeadingStaysWithWhatFollows(t *testing.T) {
	room := A4.H - A4.Top - A4.Bottom
	for left := 8.0; left < 30; left++ {
		pages := drawn(t, document(A4, Space(room-left), Heading{Level: 2, Text: "Lonely"}, Paragraph{Text: "Company"}))
		for _, p := range pages {
			if p.has("Lonely") != p.has("Company") {
				t.Errorf("with %.0f mm left the heading stands alone", left)
			}
		}
	}
}

// A heading with a sentence and the heading of a table under it stays with the table.
func TestHeadingsStayWithTheTableUnderThem(t *testing.T) {
	room := A4.H - A4.Top - A4.Bottom
	for left := 8.0; left < 60; left++ {
		head := Keep{Heading{Level: 2, Text: "Lonely"}, Paragraph{Text: "A sentence"}, Heading{Level: 2, Text: "Asked"}}
		pages := drawn(t, document(A4, Space(room-left), head, Table{Columns: []Column{{Title: "One", Share: 1}, {Title: "Two", Share: 1}}, Rows: rows(5, func(i int) string { return fmt.Sprint("row ", i) })}))
		for _, p := range pages {
			if p.has("Lonely") != p.has("row 0") || p.has("Lonely") != p.has("Asked") {
				t.Errorf("with %.0f mm left the headings stand alone", left)
			}
		}
	}
}

func TestNothingHangsInColumnsTooNarrow(t *testing.T) {
	drawn(t, document(A4, Table{Columns: []Column{{Title: "Überschrift", Fixed: .5}, {Title: "b", Fixed: 171}, {Title: "c", Share: 1}},
		Rows: [][]Cell{{{Text: "wide"}, {Text: "x"}, {Text: "narrow too", Sign: Dot}}}},
		Chips{{Text: strings.Repeat("long", 100)}, {Text: "short", Sign: Tick}},
		Grid{Pairs: [][2]string{{strings.Repeat("name", 60), strings.Repeat("value", 200)}}, Columns: 3}))
}

func TestEveryToneForTextCanBeRead(t *testing.T) {
	for name, tone := range map[string]color.NRGBA{"ink": Ink, "ink2": Ink2, "ink3": Ink3, "accent": Accent} {
		if c := contrast(tone); c < 4.5 {
			t.Errorf("%s has contrast %.2f against white, want 4.5 (source: WCAG 2.1, 1.4.3)", name, c)
		}
	}
}

// contrast is the contrast ratio against white (source: WCAG 2.1).
func contrast(c color.NRGBA) float64 {
	linear := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= .04045 {
			return x / 12.92
		}
		return math.Pow((x+.055)/1.055, 2.4)
	}
	return 1.05 / (.2126*linear(c.R) + .7152*linear(c.G) + .0722*linear(c.B) + .05)
}
