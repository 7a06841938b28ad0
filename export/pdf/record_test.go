package pdf

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/jung-kurt/gofpdf"

	"coilward/export/paper"
	"coilward/export/papertest"
)

func sizes() map[string]paper.Size {
	return map[string]paper.Size{"A4": paper.A4, "Letter": paper.Letter}
}

// What the tree says must be found in the file by another reader.
func TestTheRecordIsReadBack(t *testing.T) {
	for name, size := range sizes() {
		for _, language := range []string{"en", "de"} {
			t.Run(name+" "+language, func(t *testing.T) {
				text := papertest.Text(t, language)
				d := paper.HealthRecord(papertest.Bramble(t), text, size)
				file := mustWrite(t, d)
				papertest.Checked(t, file)
				pages := papertest.PagesOf(t, file)
				all := squeezed(strings.Join(pages, ""))
				for _, want := range []string{"Bramble", "M-09", "♀", "276 098 102 204 417", "Python regius", text.Say("paper.unknown"), text.Say("paper.caution.text"),
					text.Say("finding.nose-rub"), text.Say("paper.page-of", map[string]any{"Page": 1, "Total": len(pages)}), text.Say("stop.mouth"),
					text.Say("paper.chances"), text.Say("chance.range", map[string]any{"Low": 5, "High": 40, "In": 100}), text.Say("chance.under", map[string]any{"High": 22, "In": 100}), text.Say("chance.assumes"), text.Say("paper.chances.cannot")} {
					if !strings.Contains(all, squeezed(want)) {
						t.Errorf("the file does not say %q", want)
					}
				}
				if len(pages) < 3 || len(pages) > 7 {
					t.Errorf("%d pages", len(pages))
				}
			})
		}
	}
}

// squeezed is a text without spaces, which the lines of a page part.
func squeezed(s string) string {
	return strings.Map(func(r rune) rune {
		if r == ' ' || r == '\n' || r == '\u00a0' {
			return -1
		}
		return r
	}, s)
}

func TestTheRecordHoldsWhateverWasTyped(t *testing.T) {
	for name, typed := range papertest.Hostile() {
		t.Run(name, func(t *testing.T) {
			d := paper.HealthRecord(papertest.Typed(t, typed), papertest.Text(t, "de"), paper.Letter)
			file := mustWrite(t, d)
			papertest.PagesOf(t, file)
			papertest.Checked(t, file)
		})
	}
}

func TestTheRecordIsTheSameEachTime(t *testing.T) {
	build := func() []byte {
		return mustWrite(t, paper.HealthRecord(papertest.TenYears(t), papertest.Text(t, "en"), paper.A4))
	}
	first := build()
	for range 4 {
		if !bytes.Equal(first, build()) {
			t.Fatal("two files of the same record differ")
		}
	}
}

// largest is how large a record of ten years may be, in bytes.
const largest = 2 << 20

func TestTenYearsStaySmall(t *testing.T) {
	if n := len(mustWrite(t, paper.HealthRecord(papertest.TenYears(t), papertest.Text(t, "en"), paper.A4))); n > largest {
		t.Errorf("the record takes %d bytes, want at most %d", n, largest)
	}
}

func BenchmarkRecordOfTenYears(b *testing.B) {
	f, text := papertest.TenYears(b), papertest.Text(b, "en")
	var size, pages int
	for b.Loop() {
		d := paper.HealthRecord(f, text, paper.A4)
		pages = len(paper.Layout(d))
		size = len(mustWrite(b, d))
	}
	b.ReportMetric(float64(size)/1024, "KB")
	b.ReportMetric(float64(pages), "pages")
}

// BenchmarkBareLibrary is the peer: six pages of text and the same four photos,
// with the library alone.
func BenchmarkBareLibrary(b *testing.B) {
	f := papertest.TenYears(b)
	var size int
	for b.Loop() {
		file := gofpdf.New("P", "mm", "A4", "")
		for face := paper.Serif; face <= paper.Italic; face++ {
			file.AddUTF8FontFromBytes(face.Name(), "", face.TrueType())
		}
		for page := range 6 {
			file.AddPage()
			for line := range 60 {
				file.SetFont(paper.Face(line%5).Name(), "", 8)
				file.Text(18, 15+4*float64(line), fmt.Sprintf("page %d, line %d: what was seen, by whom and when, from snout to tail tip", page, line))
			}
		}
		for i, p := range f.Photos {
			options := gofpdf.ImageOptions{ImageType: "JPEG"}
			file.RegisterImageOptionsReader(string(p.ID), options, bytes.NewReader(p.JPEG))
			file.ImageOptions(string(p.ID), 18, float64(60*i), 80, 53, false, options, 0, "")
		}
		var out bytes.Buffer
		if err := file.Output(&out); err != nil {
			b.Fatal(err)
		}
		size = out.Len()
	}
	b.ReportMetric(float64(size)/1024, "KB")
}
