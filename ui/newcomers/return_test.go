package newcomers_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/positives"
	"coilward/ui/animal"
	ui "coilward/ui/newcomers"
	"coilward/ui/place"
	"coilward/ui/shelf"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// beside is the window at the newcomers, with the pages of an animal and of the shelf.
func beside(t *testing.T, fill func(*collection.Collection)) *uitest.Opened {
	w := uitest.Open(t, uitest.Setting{Look: plain(), Language: "en", Fill: fill, Place: place.Newcomers, Make: func(w place.Window) place.Place { return ui.New(w) },
		Beside: map[place.Name]func(place.Window) place.Place{
			place.Animal: func(w place.Window) place.Place { return animal.New(w) },
			place.Shelf:  func(w place.Window) place.Place { return shelf.New(w) },
		}})
	w.Go(place.Route{To: place.Newcomers})
	return w
}

// Once the weight of an arrival is kept, one is back at the newcomer; where its form is left,
// one stays at the animal.
func TestAfterWeighingOneIsBackAtTheNewcomer(t *testing.T) {
	w := beside(t, one(t, 0))
	w.Go(place.Route{To: place.Newcomers, Page: "new"}) // the way back asks for nobody new
	uitest.Key(w.Canvas(), fyne.KeyEscape)
	uitest.Tap(t, w.Content(), "Weigh")
	if w.Shows("The protocols") {
		t.Fatal("the weight is not asked for elsewhere")
	}
	uitest.Type(w.Canvas(), "267")
	uitest.Tap(t, w.Content(), "Gut")
	uitest.Type(w.Canvas(), "empty")
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, w.Content(), "Keep")
	if !w.Shows("The protocols") || w.Shows("Begin quarantine") {
		t.Errorf("shown after the weight was kept: %q", uitest.Texts(w.Content()))
	}
	w.Go(place.Route{To: place.Animal, Subject: w.Animal("Dunnock").ID.ID, Page: care.KindWeight})
	uitest.Key(w.Canvas(), fyne.KeyEscape)
	if !w.Shows("Papers of this animal") {
		t.Errorf("a form that is left leads to %q", uitest.Texts(w.Content()))
	}
}

// Where there is no enclosure at all, giving a place makes a room first, and goes on.
func TestWithoutAnyBoxARoomIsMadeFirst(t *testing.T) {
	w := beside(t, one(t, 5))
	uitest.Tap(t, w.Content(), "Give it a place")
	uitest.Type(w.Canvas(), "Net store")
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	if !w.Shows("A place for Dunnock") {
		t.Fatalf("after the room was made: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Not chosen yet")
	uitest.Type(w.Canvas(), "A1")
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, w.Content(), "Keep")
	var house *husbandry.House
	if err := w.Collection().View(func(v model.View) (err error) { house, err = husbandry.ReadHouse(v); return err }); err != nil {
		t.Fatal(err)
	}
	if s, housed := house.Where(w.Animal("Dunnock").ID, w.Now()); !housed || house.Title(s.Place) == "" {
		t.Errorf("lives nowhere: %q", uitest.Texts(w.Content()))
	}
}

// A form about a newcomer that is taken back goes with it.
func TestAFormGoesWithItsNewcomer(t *testing.T) {
	w := open(t, plain(), "en", one(t, 5))
	uitest.Tap(t, w.Content(), "Change")
	w.Undo()
	if w.Shows("Keep") || len(quarantines(w)) != 0 {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
}

// While something that was detected stands, what is to be done about it is the main act,
// and a release says that it is one all the same, with what holds it in words and a cross.
func TestWhatWasDetectedGoesFirst(t *testing.T) {
	w := open(t, plain(), "en", nil)
	uitest.Tap(t, w.Content(), "Yarrow")
	w.Went = nil
	next := ""
	if err := w.Collection().View(func(v model.View) error {
		all, err := positives.Unsettled(v, w.Tables())
		for _, act := range all[0].Acts {
			if !act.Done && next == "" {
				next = w.Text().Say("positive.act." + string(act.ID))
			}
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	uitest.Tap(t, w.Content(), next)
	if len(w.Went) != 1 || w.Went[0].To != place.Positive {
		t.Fatalf("went %+v", w.Went)
	}
	w.Go(place.Route{To: place.Newcomers})
	uitest.Tap(t, w.Content(), "Release")
	if !w.Shows("Release although detected") || !w.Shows("Something was detected, and it stands") {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
}

// What a page is too small for is reached by its keys, and who begins is in sight.
func TestThePageTurnsByItsKeys(t *testing.T) {
	w := open(t, plain(), "en", nil)
	at := func() float32 { return top(w, "Plover") }
	before := at()
	uitest.Key(w.Canvas(), fyne.KeyPageDown)
	if at() >= before {
		t.Error("the page does not turn")
	}
	uitest.Key(w.Canvas(), fyne.KeyPageUp)
	if at() != before {
		t.Errorf("it turns back to %v, not %v", at(), before)
	}
}

// top is how far down a text lies in the window.
func top(w *uitest.Opened, name string) (y float32) {
	uitest.Walk(w.Content(), func(s uitest.Seen) bool {
		if text, is := s.Object.(*widgets.Text); is && text.Text() == name {
			y = s.At.Y
			return false
		}
		return true
	})
	return y
}

// Of a new room both names are asked for at once, and a place that is missing at its choice.
func TestWhatIsMissingIsSaidWhereItIs(t *testing.T) {
	w := open(t, plain(), "en", one(t, 5))
	uitest.Tap(t, w.Content(), "New arrival")
	uitest.Type(w.Canvas(), "Puffin")
	uitest.Tap(t, w.Content(), "Not chosen yet")
	uitest.Type(w.Canvas(), "A new room")
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, w.Content(), "Begin quarantine")
	refused := 0
	uitest.Walk(w.Content(), func(s uitest.Seen) bool {
		if text, is := s.Object.(*widgets.Text); is && text.Text() == "Nothing is entered. Enter something." {
			refused++
		}
		return true
	})
	if refused != 2 {
		t.Errorf("%d of the two names are asked for: %q", refused, uitest.Texts(w.Content()))
	}
}

// An arrival's weight of which it is not said what the gut held is not simply done: its
// card leads to it.
func TestAnArrivalsWeightWithoutItsGutIsNotSimplyDone(t *testing.T) {
	for _, c := range []struct {
		gut     care.Gut
		gutless bool
	}{{care.GutUnknown, true}, {care.GutEmpty, false}} {
		w := open(t, plain(), "en", one(t, 0))
		do(t, w.Collection(), care.Weigh{About: care.About{Animal: w.Animal("Dunnock").ID, At: w.Now()}, Weight: care.Weight{Mass: model.Mass{Milligrams: 267000}, Gut: c.gut}, Heaviest: w.Tables().Heaviest(w.Animal("Dunnock").Species)})
		said := w.Shows("what the gut held is not said")
		if said != c.gutless {
			t.Fatalf("%q: said %t: %q", c.gut, said, uitest.Texts(w.Content()))
		}
		if !said {
			continue
		}
		w.Went = nil
		uitest.Tap(t, w.Content(), "done; what the gut held is not said")
		if id, err := model.ParseID(w.Went[0].Page); err != nil || id.IsZero() || w.Went[0].To != place.Animal {
			t.Errorf("the card leads to %+v", w.Went)
		}
	}
}

// Whose quarantine was just begun is in sight with its next act, below all the others too.
func TestWhoBeganIsInSight(t *testing.T) {
	l := plain()
	l.Height = 520
	w := open(t, l, "en", nil)
	uitest.Tap(t, w.Content(), "New arrival")
	uitest.Type(w.Canvas(), "Puffin")
	uitest.Tap(t, w.Content(), "Not chosen yet")
	uitest.Type(w.Canvas(), "Box 3")
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, w.Content(), "Begin quarantine")
	found, head := 0, float32(0)
	uitest.Walk(w.Content(), func(s uitest.Seen) bool {
		if text, is := s.Object.(*widgets.Text); is && text.Text() == "Puffin" {
			found, head = found+1, s.At.Y+text.Size().Height
		}
		return true
	})
	if high := w.Canvas().Size().Height; found < 2 || head > high {
		t.Errorf("%d names, the last down to %v of %v: %q", found, head, high, uitest.Texts(w.Content()))
	}
}
