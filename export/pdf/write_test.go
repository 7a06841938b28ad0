package pdf

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/jung-kurt/gofpdf"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model/drawing"
)

var made = time.Date(2027, 3, 3, 18, 20, 0, 0, time.UTC)

func document(blocks ...paper.Block) paper.Document {
	return paper.Document{Title: "Health record: Bramble", Subject: "test", Size: paper.A4,
		FootLeft: "Bramble", FootMiddle: "health record",
		PageOf:   func(n, total int) string { return fmt.Sprintf("page %d of %d", n, total) },
		Sections: []paper.Section{{Name: "One", Blocks: blocks}}}
}

func mustWrite(t testing.TB, d paper.Document) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, d, made); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestWriteIsReadBack(t *testing.T) {
	long := paper.Table{Columns: []paper.Column{{Title: "Day", Share: 1}, {Title: "What", Share: 3}}}
	for i := range 90 {
		long.Rows = append(long.Rows, []paper.Cell{{Text: fmt.Sprintf("day %d", i)}, {Text: "Zażółć gęślą jaźń (\\) Größe ♀ ♂ 31,5 °C", Sign: paper.Felt}})
	}
	file := mustWrite(t, document(paper.Heading{Level: 1, Text: "Łabędź ♀"}, long))
	pages := papertest.PagesOf(t, file)
	if len(pages) < 2 {
		t.Fatalf("%d pages, want at least 2", len(pages))
	}
	for i, page := range pages {
		if want := fmt.Sprintf("page %d of %d", i+1, len(pages)); !strings.Contains(page, want) {
			t.Errorf("page %d does not say %q", i+1, want)
		}
		joined := strings.ReplaceAll(page, "\n", "")
		for _, want := range []string{"Zażółć gęślą jaźń (\\) Größe", "♀ ♂", "31,5 °C"} {
			if !strings.Contains(joined, want) {
				t.Errorf("page %d does not say %q", i+1, want)
			}
		}
	}
	papertest.Checked(t, file)
}

func TestWriteGivesTheSameBytes(t *testing.T) {
	jpegs := [][]byte{photo(t, 80, 60), photo(t, 81, 60), photo(t, 82, 40)}
	build := func() []byte {
		var blocks []paper.Block
		for i, jpeg := range jpegs {
			blocks = append(blocks, paper.Figure{H: 20, Draw: func(c paper.Canvas, b paper.Box) { c.Picture(fmt.Sprint("photo", i), jpeg, b) }})
		}
		return mustWrite(t, document(append(blocks, paper.Paragraph{Text: paper.Strong("a") + paper.Species("b") + " ♀"})...))
	}
	first := build()
	for range 8 {
		if !bytes.Equal(first, build()) {
			t.Fatal("two files of the same document differ")
		}
	}
}

func TestNothingTypedStopsAPaper(t *testing.T) {
	for name, typed := range map[string]string{
		"emoji": "🐍🐍 ok 👩‍👩‍👧", "cut UTF-8": "name\xf0\x9f", "zero": "a\x00b", "right to left": "שלום \u202eabc",
		"long word": strings.Repeat("ñ", 10000), "nothing": "", "control": "\x01\x02\x03\x1b[31m", "line breaks": "\n\n\r\n",
	} {
		t.Run(name, func(t *testing.T) {
			clean := paper.Clean(typed)
			d := document(
				paper.Heading{Level: 1, Text: clean, Aside: clean}, paper.Paragraph{Text: clean}, paper.List{Mark: paper.Dot, Items: []string{clean}},
				paper.Grid{Pairs: [][2]string{{clean, clean}}}, paper.Chips{{Text: clean}}, paper.Signatures{clean, clean},
				paper.Table{Columns: []paper.Column{{Title: clean, Share: 1}, {Title: "b", Share: 1}}, Rows: [][]paper.Cell{{{Text: clean}, {Text: clean}}}, Note: clean},
				paper.Figure{H: 10, Caption: clean, Draw: func(paper.Canvas, paper.Box) {}})
			d.Title, d.Subject, d.FootLeft = typed, typed, clean
			file := mustWrite(t, d)
			papertest.PagesOf(t, file)
			papertest.Checked(t, file)
		})
	}
}

func TestAPanicInsideComesBackAsAnError(t *testing.T) {
	d := document(paper.Figure{H: 10, Draw: func(paper.Canvas, paper.Box) { panic("no such thing") }})
	err := Write(&bytes.Buffer{}, d, made)
	if err == nil || !strings.Contains(err.Error(), d.Title) || !strings.Contains(err.Error(), "no such thing") {
		t.Errorf("error %v, want one that names the paper and what went wrong", err)
	}
}

func TestAFullDiskComesBackAsAnError(t *testing.T) {
	if err := Write(fullDisk{}, document(paper.Paragraph{Text: "x"}), made); err == nil || !strings.Contains(err.Error(), "no space left") {
		t.Errorf("error %v, want that no space was left", err)
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, fmt.Errorf("no space left on device") }

// The lines are broken by paper.Width; the file must set them as wide.
func TestPaperMeasuresAsTheFileSets(t *testing.T) {
	file := gofpdf.New("P", "mm", "A4", "")
	for f := paper.Serif; f <= paper.SignsBold; f++ {
		file.AddUTF8FontFromBytes(f.Name(), "", f.TrueType())
		file.SetFont(f.Name(), "", 10)
		text := "The quick brown fox, 1,416 g; ABCXYZ (0–9)"
		got, want := paper.Width(f, 10, text), file.GetStringWidth(text)
		if diff := got - want; diff > .05 || diff < -.05 {
			t.Errorf("%s: paper says %.3f mm, the file sets %.3f mm", f.Name(), got, want)
		}
	}
}

// Whatever a pen may be asked for comes through the file's canvas.
func TestEverythingAPenDraws(t *testing.T) {
	file := mustWrite(t, document(paper.Figure{H: 30, Draw: paper.Drawn(func(pen drawing.Pen, width, height float64) {
		middle := drawing.Point{X: width / 2, Y: height / 2}
		pen.Clip(drawing.Circle(middle, 10))
		pen.Fill(drawing.Circle(middle, 15), drawing.Skin, .5)
		pen.Unclip()
		pen.Clip(nil)
		pen.Stroke(drawing.Polyline(drawing.Point{}, drawing.Point{X: width, Y: height}), .5, drawing.Ink, 1)
		pen.Unclip()
		pen.Text(drawing.Text{String: "neck ♀", At: middle, Size: 3, Strong: true})
	})}))
	if got := strings.Join(papertest.PagesOf(t, file), ""); !strings.Contains(strings.ReplaceAll(got, "\n", ""), "neck ♀") {
		t.Errorf("the drawing says %q", got)
	}
	papertest.Checked(t, file)
}

func TestAFileIsWrittenWholeOrNotAtAll(t *testing.T) {
	path := filepath.Join(t.TempDir(), "paper.pdf")
	if err := WriteFile(path, document(paper.Paragraph{Text: "first"}), made); err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := WriteFile(path, document(paper.Figure{H: 10, Draw: func(paper.Canvas, paper.Box) { panic("stop") }}), made); err == nil {
		t.Error("no error")
	}
	if after, err := os.ReadFile(path); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the file that was there has changed (%v)", err)
	}
	if err := WriteFile(filepath.Join(path, "below.pdf"), document(paper.Paragraph{Text: "x"}), made); err == nil || !strings.Contains(err.Error(), "below.pdf") {
		t.Errorf("error %v, want one that names the file", err)
	}
}
