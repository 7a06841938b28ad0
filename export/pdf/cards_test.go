package pdf

import (
	"bytes"
	"image"
	_ "image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/multi/qrcode"

	"coilward/assets"
	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/label"
)

// sheetful is a card for each label of a sheet.
func sheetful(s label.Sheet) []paper.Card {
	cards := make([]paper.Card, s.Count())
	for i := range cards {
		cards[i] = paper.Card{Names: label.OfPlace(model.PlaceID{ID: model.ID{0: 1, 6: 0x70, 8: 0x80, 15: byte(i + 1)}}), Title: "Box", Code: "B-01", Lives: []paper.Living{{Name: "Bramble", Code: "L-01", Species: "python-regius"}}}
	}
	return cards
}

// Every code of every sheet is read from a picture of the printed page at 150 dots
// to the inch.
func TestTheCodesAreReadFromThePrintedPage(t *testing.T) {
	renderer, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Skip("pdftoppm, which draws a PDF as a picture, is not on this computer")
	}
	sheets, err := label.Sheets(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	all := label.Cards(sheets)
	tables, text := papertest.Tables(t), papertest.Text(t, "en")
	for _, s := range all {
		cards := sheetful(s)
		d, err := paper.CardsPaper(cards, paper.Laying{Sheet: s, First: 1}, tables, text, model.Moment{})
		if err != nil {
			t.Fatal(err)
		}
		file := mustWrite(t, d)
		papertest.Checked(t, file)
		folder := t.TempDir()
		command := exec.CommandContext(t.Context(), renderer, "-r", "150", "-png", "-", filepath.Join(folder, "page"))
		command.Stdin = bytes.NewReader(file)
		if said, err := command.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v: %s", s.ID, err, said)
		}
		pages, err := filepath.Glob(filepath.Join(folder, "*.png"))
		if err != nil || len(pages) != 1 {
			t.Fatalf("%s: pages %v, %v", s.ID, pages, err)
		}
		read := codesOf(t, pages[0])
		for _, c := range cards {
			if !read[c.Names.Text()] {
				t.Errorf("%s: %s is not read; %d of %d are", s.ID, c.Names.Text(), len(read), len(cards))
				break
			}
		}
	}
}

// codesOf are the texts of all QR codes of a picture.
func codesOf(t *testing.T, path string) map[string]bool {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	picture, _, err := image.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	bitmap, err := gozxing.NewBinaryBitmapFromImage(picture)
	if err != nil {
		t.Fatal(err)
	}
	found, err := qrcode.NewQRCodeMultiReader().DecodeMultiple(bitmap, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true})
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]bool{}
	for _, f := range found {
		texts[f.GetText()] = true
	}
	return texts
}
