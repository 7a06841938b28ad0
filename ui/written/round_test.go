package written_test

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/round"
	rules "coilward/model/written"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// Without a scanner the number below the code leads to the same sheet; its day is asked for,
// and it is not typed in twice, by its number or its code.
func TestARoundByTheNumberOfItsSheet(t *testing.T) {
	h := open(t, "en")
	var sheet paper.RoundSheet
	if err := h.Collection().View(func(v model.View) (err error) {
		sheet, err = paper.GatherRoundSheet(v, h.Tables(), "newcomers-apart")
		return err
	}); err != nil {
		t.Fatal(err)
	}
	if len(sheet.Parts) != 2 {
		t.Fatalf("%d parts", len(sheet.Parts))
	}
	apart := sheet.Parts[1]
	h.Go(place.Route{To: place.Written})
	typed(h, strings.ToLower(apart.Code.Number()))
	if !h.Shows("Round from a sheet") || h.Shows("may be others") {
		t.Fatalf("shown: %q", uitest.Texts(h.Content()))
	}
	for _, stop := range apart.Stops {
		if name := sheet.House.Names[stop.Animals[0]]; !h.Shows(name) {
			t.Errorf("%s is not on it", name)
		}
	}
	uitest.Key(h.Canvas(), fyne.KeyReturn)
	if !h.Shows("A day is needed") {
		t.Fatalf("no day: %q", uitest.Texts(h.Content()))
	}
	yesterday := h.Now().Day() - 1
	uitest.Type(h.Canvas(), yesterday.String())
	entries := uitest.Entries(h.Content())
	h.Canvas().Focus(entries[len(entries)-1])
	uitest.Key(h.Canvas(), fyne.KeyReturn)
	if top := uitest.Top(h.Canvas()); uitest.Shows(top, "Has that been done?") {
		uitest.Tap(t, top, h.Text().Say("window.ask.yes"))
	}
	var kept []round.Stored
	if err := h.Collection().View(func(v model.View) (err error) { kept, err = round.Last(v, 99); return err }); err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(kept, func(s round.Stored) bool {
		return s.At.Day() == yesterday && s.Apart && len(s.Looks) == len(apart.Stops)
	})
	if i < 0 {
		t.Fatalf("not kept; shown: %q", uitest.Texts(h.Content()))
	}
	for _, again := range []string{apart.Code.Number(), apart.Code.Text()} {
		h.Go(place.Route{To: place.Written, Page: again})
		if !h.Shows("This sheet was typed in already") {
			t.Errorf("%s a second time: %q", again, uitest.Texts(h.Content()))
		}
	}
}

// unweighed are the lines that nothing is noted on.
func unweighed(all []rules.Row) (n int) {
	for _, r := range all {
		if r.Noted.Mass.IsZero() {
			n++
		}
	}
	return n
}

// The number of a sheet for weighing leads to its place; that of a check tells nobody whose it
// is, and that is said.
func TestNumbersOfOtherSheets(t *testing.T) {
	h := open(t, "en")
	var room model.PlaceID
	var sheet paper.WeighSheet
	if err := h.Collection().View(func(v model.View) error {
		house, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		for _, p := range house.Places() {
			if p.Kind == husbandry.Room {
				room = p.ID
			}
		}
		sheet, err = paper.GatherWeighSheet(v, room, v.Now().Day())
		return err
	}); err != nil {
		t.Fatal(err)
	}
	h.Go(place.Route{To: place.Written})
	typed(h, strings.ReplaceAll(sheet.Code.Number(), "-", " "))
	if !h.Shows("Weights from a sheet") || h.Shows("may be others") {
		t.Fatalf("shown: %q", uitest.Texts(h.Content()))
	}
	if entries := uitest.Entries(h.Content()); len(entries) < len(sheet.Rows) || len(entries) > len(sheet.Rows)+5 {
		t.Errorf("%d fields for %d lines", len(entries), len(sheet.Rows))
	}
	weights := func() int { return len(rows(h, h.Now())) - unweighed(rows(h, h.Now())) }
	before := weights()
	typed(h, "1432") // the keys are in the first line without a weight
	if !h.Shows("A day is needed") || weights() != before {
		t.Fatalf("noted without its day: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Another sheet")
	typed(h, "B54B05")
	if !h.Shows("does not tell whose it is") {
		t.Errorf("shown: %q", uitest.Texts(h.Content()))
	}
}

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

// What was written at a box stands beside that it was looked at; an end before it is refused
// by the numbers of both, and what was typed stays.
func TestRoundSheet_NoteAndEnd(t *testing.T) {
	h := open(t, "en")
	var sheet paper.RoundSheet
	if err := h.Collection().View(func(v model.View) (err error) {
		sheet, err = paper.GatherRoundSheet(v, h.Tables(), "newcomers-apart")
		return err
	}); err != nil {
		t.Fatal(err)
	}
	h.Go(place.Route{To: place.Written})
	typed(h, sheet.Parts[0].Code.Text())
	typed(h, "3 shed lies there")
	if !h.Shows("looked at · shed lies there") {
		t.Errorf("the note: %q", uitest.Texts(h.Content()))
	}
	typed(h, "2-")
	if !h.Shows("before box 2, and box 3 comes behind") || !h.Shows("2-") {
		t.Errorf("the end: %q", uitest.Texts(h.Content()))
	}
}
