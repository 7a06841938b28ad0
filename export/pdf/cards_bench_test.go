package pdf

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/jung-kurt/gofpdf"

	"coilward/assets"
	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/label"
)

// BenchmarkHundredCards makes a hundred cards with their codes as a file.
func BenchmarkHundredCards(b *testing.B) {
	sheets, err := label.Sheets(assets.Knowledge())
	if err != nil {
		b.Fatal(err)
	}
	sheet := label.Cards(sheets)[0]
	var cards []paper.Card
	for len(cards) < 100 {
		cards = append(cards, sheetful(sheet)...)
	}
	tables, text := papertest.Tables(b), papertest.Text(b, "en")
	for b.Loop() {
		d, err := paper.CardsPaper(cards[:100], paper.Laying{Sheet: sheet, First: 1}, tables, text, model.Moment{})
		if err != nil {
			b.Fatal(err)
		}
		mustWrite(b, d)
	}
}

// BenchmarkHundredCardsBare is the peer: as many frames with four lines of text and a square
// of as many modules, with the library alone.
func BenchmarkHundredCardsBare(b *testing.B) {
	const modules, onPage = 29, 10
	for b.Loop() {
		file := gofpdf.New("P", "mm", "A4", "")
		for face := paper.Serif; face <= paper.Italic; face++ {
			file.AddUTF8FontFromBytes(face.Name(), "", face.TrueType())
		}
		for card := range 100 {
			if card%onPage == 0 {
				file.AddPage()
			}
			x, y := 10+95*float64(card%2), 10+55*float64(card%onPage/2)
			file.Rect(x, y, 90, 50, "D")
			for line := range 4 {
				file.SetFont(paper.Face(line).Name(), "", 10)
				file.Text(x+30, y+10+6*float64(line), fmt.Sprintf("card %d, line %d", card, line))
			}
			for module := range modules * modules {
				if module%2 == 0 {
					file.Rect(x+2+.8*float64(module%modules), y+2+.8*float64(module/modules), .8, .8, "F")
				}
			}
		}
		if err := file.Output(&bytes.Buffer{}); err != nil {
			b.Fatal(err)
		}
	}
}
