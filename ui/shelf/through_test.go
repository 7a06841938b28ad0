package shelf_test

import (
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/round"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// rounds are the rounds of a collection, newest first.
func (h *hand) rounds(t testing.TB) (all []round.Stored) {
	t.Helper()
	if err := h.Collection().View(func(v model.View) (err error) { all, err = round.Last(v, 9); return err }); err != nil {
		t.Fatal(err)
	}
	return all
}

// house fills a room with six, of which one is for the vet and one is to be looked at
// again.
func house(t testing.TB) func(*collection.Collection) {
	return func(c *collection.Collection) {
		room(t, c, "Loft", 2, 3, "Ash", "Brook", "Fern", "Heron", "Juniper", "Wren")
	}
}

// A whole round with one key for each box: residents first, the one for the vet last,
// with what lies between said before it.
func TestRoundWithOneKeyForEachBox(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", house(t))
	do(t, h.Collection(), care.RecordWaste{About: care.About{Animal: h.Animal("Ash").ID, At: model.MomentOf(h.Clock.Now())}, Waste: care.Waste{Faeces: []care.Trait{care.Blood}}})
	h.Clock.Pass(time.Minute)
	h.press("7")
	for _, want := range []string{"Newcomers on a round of their own", "The ill, then the newcomers", "The newcomers, then the ill", "common practice, no source", "zoo-association quarantine page"} {
		if !h.Shows(want) {
			t.Errorf("%q is not offered: %q", want, uitest.Texts(h.Content()))
		}
	}
	h.press("\n")
	if !h.Shows("Brook") || h.Shows("wash hands") {
		t.Fatalf("at first: %q", uitest.Texts(h.Content()))
	}
	h.keys = 0
	h.press("\n\n\n\n\n")
	for _, want := range []string{"Wren: looked at", "Ash", "For the vet", "Blood, noted 9 June 2027", "Before this box: wash hands, new gloves, its own or disinfected tools."} {
		if !h.Shows(want) {
			t.Errorf("%q is not said at the last box: %q", want, uitest.Texts(h.Content()))
		}
	}
	for _, cut := range uitest.Clipped(h.top(), h.Canvas().Size()) {
		t.Errorf("at the last box: %.200s", cut)
	}
	h.press("\n")
	if h.keys != 6 {
		t.Errorf("%d keys for 6 boxes", h.keys)
	}
	if !h.Shows("6 of 6 looked at, 0 left out.") {
		t.Fatalf("at the end: %q", uitest.Texts(h.Content()))
	}
	h.press("\n")
	s := h.rounds(t)[0]
	if looked, _, _ := s.Count(); s.Open() || looked != 6 || s.Looks[5].Class != "ill" || s.Looks[0].Class != "resident" {
		t.Errorf("kept: %+v", s)
	}
	h.press("7\n") // another one on the same day
	top := h.top()
	for _, want := range []string{"wash hands; new gloves", "other clothes and shoes", "Bleach, about 0.5 % hypochlorite first, 10 minutes wet"} {
		if top == nil || !uitest.Shows(top, want) {
			t.Fatalf("%q is not asked: %q", want, uitest.Texts(h.Content()))
		}
	}
	for _, want := range []string{"Before another round: wash hands", "10 minutes wet, against enveloped viruses"} {
		if !h.Shows(want) {
			t.Errorf("%q does not stand beside the shelf", want)
		}
	}
	uitest.Tap(t, top, h.Text().Say("window.ask.yes"))
	if s := h.rounds(t)[0]; !s.Open() || !s.Again {
		t.Errorf("the second: %+v", s)
	}
}

// It is left in the middle, gone on with on the next day, something is left out, and the
// last look is undone.
func TestRoundIsGoneOnWith(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", house(t))
	h.press("7\n\n\n/")
	h.key(fyne.KeyEscape)
	if s := h.rounds(t)[0]; !s.Open() || len(s.Looks) != 3 || !s.Looks[2].Passed {
		t.Fatalf("left: %+v", s)
	}
	h.Clock.Pass(20 * time.Hour)
	h.press("7")
	if !h.Shows("2 looked at, 1 left out, 3 not reached") {
		t.Fatalf("%q", uitest.Texts(h.Content()))
	}
	h.press("\n\n")
	if s := h.rounds(t)[0]; len(s.Looks) != 4 {
		t.Fatalf("gone on with: %+v", s)
	}
	if _, err := h.Collection().Undo(); err != nil {
		t.Fatal(err)
	}
	if s := h.rounds(t)[0]; len(s.Looks) != 3 || !h.Shows("Looked at") {
		t.Errorf("undone: %+v", s)
	}
	h.press("\n\n\n")
	if texts := strings.Join(uitest.Texts(h.Content()), " "); !strings.Contains(texts, "5 of 6 looked at, 1 left out.") {
		t.Errorf("at the end: %s", texts)
	}
}

// What lies between stands whole in the small window, with all the means of the newcomers.
func TestWhatLiesBetweenStandsWhole(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		h := open(t, uitest.Looks()[0], language, nil)
		h.press("7")
		if end := h.Text().Say("round.end-it"); h.Shows(end) {
			uitest.Tap(t, h.Content(), end)
		}
		uitest.Tap(t, h.Content(), h.Text().Say("round.part.apart"))
		h.press("\n")
		if top := h.top(); top != nil && uitest.Shows(top, h.Text().Say("window.ask.yes")) {
			uitest.Tap(t, top, h.Text().Say("window.ask.yes"))
		}
		mixed, boxes, lines := h.Text().Say("round.never-mixed"), 0, 0
		for range 3 {
			var inner *container.Scroll // in which the words themselves lie
			uitest.Walk(h.Content(), func(s uitest.Seen) bool {
				scroll, is := s.Object.(*container.Scroll)
				if !is || !uitest.Shows(scroll.Content, mixed) {
					return true
				}
				boxes++
				if wants := scroll.Content.MinSize().Height; wants > scroll.Size().Height+.5 {
					t.Errorf("%s: %g high in %g", language, wants, scroll.Size().Height)
				}
				inner = scroll
				return true
			})
			if inner != nil {
				uitest.Walk(inner.Content, func(s uitest.Seen) bool { return large(t, s.Object, &lines) })
			}
			h.press("\n")
		}
		if boxes == 0 || lines == 0 {
			t.Errorf("%s: nowhere are several means said: %q", language, uitest.Texts(h.Content()))
		}
	}
}

// large asks that words can be read from where the animals are, and counts their lines.
func large(t testing.TB, object fyne.CanvasObject, lines *int) bool {
	t.Helper()
	if text, is := object.(*canvas.Text); is && text.Text != "" {
		*lines++
		if text.TextSize < look.Body.Size {
			t.Errorf("%q is %g high", text.Text, text.TextSize)
		}
	}
	return true
}
