package check_test

import (
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/body"
	"coilward/model/care"
	"coilward/model/draft"
	"coilward/model/exam"
	"coilward/model/label"
	"coilward/ui/place"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// sheetOf is the code of a sheet for an animal, of so many days ago.
func (h *hand) sheetOf(name string, ago model.Day) label.Written {
	h.T.Helper()
	sheet := label.Written{Kind: label.CheckSheet, Of: h.Animal(name).ID.ID, Day: h.Now().Day() - ago}
	err := h.Collection().View(func(v model.View) error {
		sheet.ID = v.NewID()
		return nil
	})
	if err != nil {
		h.T.Fatal(err)
	}
	return sheet
}

func (h *hand) typeIn(sheet label.Written) {
	h.T.Helper()
	h.Go(place.Route{To: place.Check, Subject: sheet.Of, Page: sheet.Text()})
}

// A sheet with one finding is kept with at most 12 keys once its code was read: what was
// ticked, the finding with its place, and Enter for the line, the end and the keeping.
func TestASheetWithOneFindingByTwelveKeys(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	sheet := h.sheetOf("Kestrel", 2)
	h.typeIn(sheet)
	const keys = "*15 3 62l\n\n\n"
	if len(keys) > 12 {
		t.Fatalf("%d keys", len(keys))
	}
	h.keys(keys, time.Second)
	if n := len(h.Went); n == 0 || h.Went[n-1].To != place.Animal {
		t.Fatalf("went to %v; shown: %q", h.Went, uitest.Texts(h.Content()))
	}
	kept, found := h.latest("Kestrel")
	if !found || kept.ID.ID != sheet.ID {
		t.Fatalf("kept %v, found %v", kept.ID, found)
	}
	if kept.Begun.Day() != sheet.Day || kept.Begun.Precision != model.ToDay || kept.Finished != kept.Begun {
		t.Errorf("begun %+v, finished %+v", kept.Begun, kept.Finished)
	}
	if len(kept.Findings) != 1 || kept.Findings[0].What != "sore" || kept.Findings[0].Place != body.OnTrunk(6200, 90) || kept.Findings[0].Rough {
		t.Errorf("findings %+v", kept.Findings)
	}
	if kept.Extent(h.Tables()) != exam.PartCheck || kept.At("mouth").Look != exam.NotLooked || kept.At("tail").Look != exam.Seen {
		t.Errorf("extent %s, stops %+v", kept.Extent(h.Tables()), kept.Stops)
	}
	h.Undo()
	if again, found := h.latest("Kestrel"); found && again.ID.ID == sheet.ID {
		t.Error("one undo does not take the sheet back")
	}
}

// Nothing counts as looked at that was not said.
func TestNothingIsLookedAtUnsaid(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	sheet := h.sheetOf("Kestrel", 1)
	h.typeIn(sheet)
	h.keys("15 3 62l\n\n\n", time.Second)
	kept, found := h.latest("Kestrel")
	if !found || kept.ID.ID != sheet.ID {
		t.Fatalf("not kept; shown: %q", uitest.Texts(h.Content()))
	}
	for _, s := range kept.Stops {
		want := exam.NotYet
		if s.Stop == "skin" {
			want = exam.Seen
		}
		if s.Look != want {
			t.Errorf("%s: %q, want %q", s.Stop, s.Look, want)
		}
	}
}

// A line that cannot be read is said, and stays; the last line can be taken back.
func TestALineOfASheetIsSaidAndTakenBack(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.typeIn(h.sheetOf("Kestrel", 1))
	h.keys("15 wings\n", time.Second)
	if !uitest.Shows(h.Content(), "“wings” is nothing that is looked for") {
		t.Fatalf("shown: %q", uitest.Texts(h.Content()))
	}
	for range len("15 wings") {
		uitest.Key(h.Canvas(), fyne.KeyBackspace)
	}
	h.keys("15 3 40\n", time.Second)
	if !uitest.Shows(h.Content(), "1 of 20") {
		t.Fatalf("shown: %q", uitest.Texts(h.Content()))
	}
	h.tapText("check.paper.back")
	if !uitest.Shows(h.Content(), "0 of 20") {
		t.Errorf("not taken back; shown: %q", uitest.Texts(h.Content()))
	}
}

// The mass on a sheet is kept with the check, in one change; one unlike the others asks.
func TestTheMassOfASheet(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	animal := h.Animal("Kestrel")
	sheet := h.sheetOf("Kestrel", 3)
	h.typeIn(sheet)
	h.keys("*", time.Second)
	mass := uitest.Entries(h.Content())[1]
	h.Focus(mass)
	before := h.masses(animal)
	last := before[len(before)-1].Mass.Milligrams
	h.keys(h.Text().Decimal(last*2/1000, 0)+"\n\n\n", time.Second)
	if h.Canvas().Overlays().Top() == nil {
		t.Fatalf("twice the mass does not ask; shown: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, uitest.Top(h.Canvas()), "Yes, it is so")
	after := h.masses(animal)
	if len(after) != len(before)+1 {
		t.Fatalf("%d weights, before %d; shown: %q", len(after), len(before), uitest.Texts(uitest.Top(h.Canvas())))
	}
	if kept, found := h.latest("Kestrel"); !found || kept.ID.ID != sheet.ID {
		t.Error("the check was not kept with it")
	}
	h.Undo()
	if len(h.masses(animal)) != len(before) {
		t.Error("one undo does not take the mass back")
	}
}

func (h *hand) masses(a animals.Stored) (all []care.Weighed) {
	h.T.Helper()
	err := h.Collection().View(func(v model.View) (err error) {
		all, err = care.Series(v, a.ID)
		return err
	})
	if err != nil {
		h.T.Fatal(err)
	}
	return all
}

// A day ahead is refused at its field.
func TestADayAheadOnASheet(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.typeIn(h.sheetOf("Kestrel", -2))
	h.keys("*\n", time.Second)
	if !uitest.Shows(h.Content(), h.Text().Say("refusal.day.future", map[string]any{"Today": h.Now().Day()})) || len(h.Went) > 1 {
		t.Errorf("shown: %q", uitest.Texts(h.Content()))
	}
}

// What is looked for at the stop that is typed pushes down what stands below it.
func TestNothingOverlapsWhileALineIsTyped(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.typeIn(h.sheetOf("Kestrel", 1))
	h.keys("*15 3", time.Second)
	var choices, progress float32
	uitest.Walk(h.Content(), func(s uitest.Seen) bool {
		if text, ok := s.Object.(*widgets.Text); ok {
			switch bottom := s.At.Y + s.Object.Size().Height; {
			case uitest.Shows(text, "9 Something else"):
				choices = bottom
			case uitest.Shows(text, "of 20 answered"):
				progress = s.At.Y
			}
		}
		return true
	})
	if choices == 0 || progress < choices {
		t.Errorf("the choices end at %g, what follows begins at %g", choices, progress)
	}
}

// A sheet that was left goes on with all that was typed: lines, mass and who; its last line
// is taken back, and another day keeps the others. One without a code comes back likewise.
func TestASheetThatWasLeftGoesOn(t *testing.T) {
	for _, coded := range []bool{true, false} {
		h := open(t, uitest.Looks()[0], "en")
		sheet := h.sheetOf("Kestrel", 2)
		route := place.Route{To: place.Check, Subject: sheet.Of, Page: place.FromPaper}
		if coded {
			route.Page = sheet.Text()
		}
		h.Go(route)
		h.keys("15 3 62l\n8 .\n", time.Second)
		h.Focus(uitest.Entries(h.Content())[1])
		h.keys("1085", time.Second)
		uitest.Tap(t, h.Content(), "Person")
		h.keys("holiday\n", time.Second)
		h.check("Linnet") // the page holds it no more
		h.Go(route)
		if !uitest.Shows(h.Content(), "2 of 20") || !uitest.Shows(h.Content(), "1085") || !uitest.Shows(h.Content(), "Holiday stand-in") {
			t.Fatalf("coded %v: shown: %q", coded, uitest.Texts(h.Content()))
		}
		day := uitest.Entries(h.Content())[0]
		h.Focus(day)
		day.(interface{ SetText(string) }).SetText(h.Text().DayShort(h.Now().Day() - 3))
		uitest.Key(h.Canvas(), fyne.KeyReturn)
		if !uitest.Shows(h.Content(), "2 of 20") {
			t.Errorf("coded %v: another day loses what was typed; shown: %q", coded, uitest.Texts(h.Content()))
		}
		h.tapText("check.paper.back")
		if !uitest.Shows(h.Content(), "1 of 20") {
			t.Errorf("coded %v: not taken back; shown: %q", coded, uitest.Texts(h.Content()))
		}
		h.keys("\n\n", time.Second)
		kept, found := h.latest("Kestrel")
		if !found || kept.Begun.Day() != h.Now().Day()-3 || kept.Begun.Precision != model.ToDay || len(kept.Findings) != 1 || kept.At("mouth").Look != exam.NotYet {
			t.Errorf("coded %v: kept %+v; shown: %q", coded, kept, uitest.Texts(uitest.Top(h.Canvas())))
		}
		if masses := h.masses(h.Animal("Kestrel")); !slices.ContainsFunc(masses, func(w care.Weighed) bool { return w.Mass.Milligrams == 1_085_000 && w.At == kept.Begun }) {
			t.Errorf("coded %v: the mass was not kept", coded)
		}
		if left, err := draft.Open(h.Drafts).List(); err != nil || slices.Contains(left, kept.ID.ID) {
			t.Errorf("coded %v: the draft of the kept sheet is left: %v, %v", coded, left, err)
		}
	}
}
