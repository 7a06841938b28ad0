package written_test

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/round"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// A printed sheet of a round, scanned and typed in, is kept as the same round on the shelf
// would be; with one exception that takes three keys.
func TestARoundFromItsSheet(t *testing.T) {
	h := open(t, "en")
	var sheet paper.RoundSheet
	var before []round.Stored
	if err := h.Collection().View(func(v model.View) (err error) {
		if sheet, err = paper.GatherRoundSheet(v, h.Tables(), "newcomers-ill"); err == nil {
			before, err = round.Last(v, 99)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	part := sheet.Parts[0]
	h.Go(place.Route{To: place.Written})
	typed(h, part.Code.Text())
	if !h.Shows("Round from a sheet") || !h.Shows("The newcomers, then the ill") || h.Shows("may be others") {
		t.Fatalf("shown: %q", uitest.Texts(h.Content()))
	}
	for _, cut := range uitest.Clipped(h.Content(), h.Canvas().Size()) {
		t.Errorf("%.200s", cut)
	}
	keys := 0
	press := func(text string) {
		for _, r := range text {
			uitest.Type(h.Canvas(), string(r))
			keys++
		}
		uitest.Key(h.Canvas(), fyne.KeyReturn)
		keys++
	}
	press("99") // there is none, and it stays
	if !h.Shows("Begin with the number of a box on the sheet") {
		t.Errorf("shown: %q", uitest.Texts(h.Content()))
	}
	for range 2 {
		uitest.Key(h.Canvas(), fyne.KeyBackspace)
	}
	keys = 0
	press("2")
	press("")
	if keys != 3 {
		t.Errorf("%d keys", keys)
	}
	top := uitest.Top(h.Canvas())
	if uitest.Shows(top, "Has that been done?") { // the sample's own round was of that day
		uitest.Tap(t, top, h.Text().Say("window.ask.yes"))
	}
	var kept round.Stored
	if err := h.Collection().View(func(v model.View) (err error) {
		kept, err = round.Find(v, model.RoundID{ID: part.Code.ID})
		return err
	}); err != nil {
		t.Fatalf("%v; shown: %q", err, uitest.Texts(h.Content()))
	}
	if kept.Order != "newcomers-ill" || kept.Open() || len(kept.Looks) != len(part.Stops) || len(kept.Stops) != len(part.Stops) || kept.At.Day() != h.Now().Day() {
		t.Fatalf("kept: %+v", kept)
	}
	for i, stop := range part.Stops {
		want := round.Look{Place: stop.Place, Animals: stop.Animals, Class: round.Rules(sheet.Order, stop.Classes).String(), Passed: i == 1}
		got := kept.Looks[i].Look
		if got.Place != want.Place || !slices.Equal(got.Animals, want.Animals) || got.Class != want.Class || got.Passed != want.Passed || got.Note != "" {
			t.Errorf("box %d: %+v, on the shelf it would be %+v", i+1, got, want)
		}
	}
	h.Go(place.Route{To: place.Written, Page: part.Code.Text()})
	if !h.Shows("This sheet was typed in already") {
		t.Errorf("a second time: %q", uitest.Texts(h.Content()))
	}
	if _, err := h.Collection().Undo(); err != nil {
		t.Fatal(err)
	}
	var after []round.Stored
	if err := h.Collection().View(func(v model.View) (err error) { after, err = round.Last(v, 99); return err }); err != nil {
		t.Fatal(err)
	}
	if len(after) != len(before) {
		t.Errorf("%d rounds after it was taken back, %d before", len(after), len(before))
	}
}
