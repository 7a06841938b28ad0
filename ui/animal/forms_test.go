package animal_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// keepPicture keeps a picture of the window where pictures are asked for.
func (h *hand) keepPicture(name string) {
	if dir := os.Getenv("COILWARD_PICTURES"); dir != "" {
		uitest.Keep(h.T, h.Window(), filepath.Join(dir, name+".png"))
	}
}

// entries are the everyday entries of the only animal, newest first.
func (h *hand) entries() (all []care.Entry) {
	h.T.Helper()
	err := h.Collection().View(func(v model.View) error {
		known, err := animals.All(v)
		if err != nil {
			return err
		}
		return v.Timeline(known[0].ID.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
			if e, ours, err := care.Decode(d); err == nil && ours {
				all = append(all, e)
			}
			return true
		})
	})
	if err != nil {
		h.T.Fatal(err)
	}
	return all
}

// What became of a meal is said each time, by one key; the prey is the usual one.
func TestMeal_OutcomeIsChosenEachTime(t *testing.T) {
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		one(t)(c)
		feed(t, c, care.Meal{Prey: care.Rat, Outcome: care.Took})
	})
	before := len(h.entries())
	h.show("Wren", care.KindMeal)
	h.key(fyne.KeyReturn)
	if n := len(h.entries()); n != before || !h.Shows("Choose what became of the meal") {
		t.Fatalf("%d entries, %d before; shown %q", n, before, uitest.Texts(h.Content()))
	}
	h.typed("2")
	h.key(fyne.KeyReturn)
	kept := h.entries()
	if meal, is := kept[0].Body.(care.Meal); !is || meal.Outcome != care.Refused || meal.Prey != care.Rat {
		t.Errorf("kept %+v", kept[0])
	}
}

// feed notes a meal a week ago.
func feed(t *testing.T, c *collection.Collection, m care.Meal) {
	t.Helper()
	err := c.View(func(v model.View) error {
		all, err := animals.All(v)
		if err != nil {
			return err
		}
		at := v.Now()
		at.UTC -= 7 * 86400
		_, err = c.Do(care.Feed{About: care.About{Animal: all[0].ID, At: at}, Meal: m})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Two weighings of one day are held against each other by their times.
func TestWeights_OfOneDaySaySo(t *testing.T) {
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		one(t)(c)
		weigh(t, c, model.Grams(142), 0)
	})
	h.Clock.Pass(2 * time.Hour)
	h.show("Wren", care.KindWeight)
	h.typed("144")
	h.key(fyne.KeyReturn)
	if !h.Shows("2\u00a0g more since 09:00 that day") || h.Shows("more since 9 Jun") {
		t.Errorf("shown %q", uitest.Texts(h.Content()))
	}
}

// A correction that was undone is none; one that stands is said with its day.
func TestDays_SayWhatWasCorrected(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	entry := h.entries()[0]
	change := care.Change{Entry: entry.ID, Base: 1, About: care.About{Animal: h.Animal("Wren").ID, At: entry.At}, Body: care.Weight{Mass: model.Grams(141)}}
	if _, err := h.Collection().Do(change); err != nil {
		t.Fatal(err)
	}
	h.show("Wren", "days")
	if !h.Shows("corrected on") {
		t.Errorf("a correction is not said: %q", uitest.Texts(h.Content()))
	}
	h.Undo()
	if h.Shows("corrected on") {
		t.Errorf("an undone correction is said: %q", uitest.Texts(h.Content()))
	}
}

// spoilt is a meal whose body nobody can read.
type spoilt struct{ id model.AnimalID }

func (spoilt) Name() string { return "test.spoilt" }

func (s spoilt) Plan(v model.View) (model.Writes, error) {
	d := model.Document{Type: model.TypeEntry, Kind: care.KindMeal, ID: v.NewID(), Version: 1, At: v.Now(), Subjects: []model.Subject{s.id.Subject()}, Body: json.RawMessage(`{"outcome":7}`)}
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: "care.done.note"}}, nil
}

// What cannot be read is missing in how the animal stands, and that is said.
func TestPage_SaysWhatCannotBeRead(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "days")
	if h.Shows("cannot be read") {
		t.Fatalf("said of a sound animal: %q", uitest.Texts(h.Content()))
	}
	if _, err := h.Collection().Do(spoilt{h.Animal("Wren").ID}); err != nil {
		t.Fatal(err)
	}
	h.show("Wren", "days")
	if !h.Shows("cannot be read by this version") {
		t.Errorf("not said: %q", uitest.Texts(h.Content()))
	}
	h.keepPicture("unread")
}

// A mass far from the last one is asked about: over 1.3 times, whether it is so;
// over 3 times, typed once more. The times are common practice, no source.
func TestWeight_FarFromTheLastIsAsked(t *testing.T) {
	for _, c := range []struct {
		typed string
		again bool
		want  int64
	}{{"183", false, 183}, {"421", true, 421}} {
		h := open(t, "en", small, look.ByDay, one(t))
		h.show("Wren", care.KindWeight)
		h.typed(c.typed)
		h.key(fyne.KeyReturn)
		top := h.Canvas().Overlays().Top()
		if got := h.weights(); len(got) != 1 || top == nil {
			t.Fatalf("%s g: kept without a question: %v", c.typed, got)
		}
		h.keepPicture("weight-" + c.typed)
		if asked := len(uitest.Entries(top)) > 0; asked != c.again {
			t.Errorf("%s g: asked to type it again: %t", c.typed, asked)
		}
		if c.again {
			h.typed(c.typed)
		}
		h.Clock.Pass(time.Second) // the question was read
		h.key(fyne.KeyReturn)
		if got := h.weights(); len(got) != 2 || got[0] != c.want {
			t.Errorf("%s g: weights %v; shown %q", c.typed, got, uitest.Texts(uitest.Top(h.Canvas())))
		}
	}
}

// A weight that a vet should hear of warns while it is typed, and only then.
func TestWeight_WarnsOfALoss(t *testing.T) {
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		one(t)(c)
		for _, days := range []int64{60, 90, 120} {
			weigh(t, c, model.Grams(160), days)
		}
	})
	h.show("Wren", care.KindWeight)
	warned := func() bool { return h.Shows("A reason to see the vet") }
	h.typed("149")
	if warned() {
		t.Errorf("149 g warns: %q", uitest.Texts(h.Content()))
	}
	h.key(fyne.KeyBackspace)
	h.typed("8")
	if !warned() {
		t.Errorf("148 g, with the 140 g of a week ago 10 %% below the middle, does not warn: %q", uitest.Texts(h.Content()))
	}
	day := uitest.Entries(h.Content())[1].(interface{ SetText(string) })
	day.SetText((h.Now().Day() - 100).String())
	if warned() {
		t.Errorf("of a day with one weight before it, it warns: %q", uitest.Texts(h.Content()))
	}
	day.SetText(h.Now().Day().String())
	if !warned() {
		t.Errorf("today again, it does not warn: %q", uitest.Texts(h.Content()))
	}
}

// The forms show the cautions that belong to what is chosen, and no others.
func TestForms_Cautions(t *testing.T) {
	for _, c := range []struct{ kind, choose, caution string }{
		{care.KindMeal, "3 Regurgitated", "stop.waste.caution"},
		{care.KindMeal, "Live", "care.meal.live.caution"},
		{care.KindWaste, "", "stop.waste.caution"},
	} {
		h := open(t, "en", small, look.ByDay, one(t))
		h.show("Wren", "days")
		h.show("Wren", c.kind)
		caution := h.Text().Say(c.caution)
		if c.choose != "" {
			if h.Shows(caution) {
				t.Errorf("%s warns before anything is chosen", c.kind)
			}
			uitest.Tap(t, h.Content(), c.choose)
		}
		if !h.Shows(caution) {
			t.Errorf("%s, %s: %q is not shown: %q", c.kind, c.choose, caution, uitest.Texts(h.Content()))
		}
	}
}

// A refused field comes into sight with its reason, takes the keys, and keeps
// what was typed.
func TestForm_RevealsTheRefusedField(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "days")
	uitest.Tap(t, h.Content(), "Change particulars")
	entries := uitest.Entries(h.Content())
	measured := entries[7] // after name, code, hatched, morph, chip, when it was read and length
	h.Canvas().Focus(entries[6])
	h.typed("118 cm")
	h.Canvas().Focus(measured)
	h.typed("never ever")
	h.Canvas().Unfocus()
	uitest.Tap(t, h.Content(), "Keep")
	if h.Canvas().Focused() != measured {
		t.Errorf("the keys went to %v", h.Canvas().Focused())
	}
	in := false
	uitest.Walk(h.Content(), func(s uitest.Seen) bool {
		if s.Object == measured.(fyne.CanvasObject) {
			in = s.At.Y > 150 && s.At.Y+s.Object.Size().Height < small.Height-100
		}
		return !in
	})
	if !in || !h.Shows("never ever") {
		t.Errorf("in sight: %t; shown %q", in, uitest.Texts(h.Content()))
	}
	h.keepPicture("refused-field")
}

// What is odd about a chip is said in a place of its own: no field moves.
func TestParticulars_ChipCautionMovesNothing(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "days")
	uitest.Tap(t, h.Content(), "Change particulars")
	entries := uitest.Entries(h.Content())
	where := func() (y float32) {
		uitest.Walk(h.Content(), func(s uitest.Seen) bool {
			if s.Object == entries[6].(fyne.CanvasObject) {
				y = s.At.Y
			}
			return true
		})
		return y
	}
	before := where()
	h.Canvas().Focus(entries[4])
	h.typed("276777777777777")
	h.Canvas().Focus(entries[5])
	if !h.Shows("All digits of the number are alike") {
		t.Fatalf("no caution: %q", uitest.Texts(h.Content()))
	}
	if after := where(); before == 0 || after != before {
		t.Errorf("the length stood at %.0f and stands at %.0f", before, after)
	}
}
