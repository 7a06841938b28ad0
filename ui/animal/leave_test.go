package animal_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// corrects opens what can be put right, by its name.
var corrects = map[string]func(h *hand){
	"an entry": func(h *hand) {
		h.key(fyne.KeyDown)
		h.key(fyne.KeyReturn)
	},
	"who it is": func(h *hand) { uitest.Tap(h.T, h.Content(), "Change particulars") },
}

// stands is what stands in the first field that is shown.
func (h *hand) stands() string {
	h.T.Helper()
	if len(uitest.Entries(h.Content())) == 0 {
		return ""
	}
	return h.entered(-1)
}

// One key throws away nothing that was typed over what is known: Escape says first that it is
// not kept, and nothing is asked where nothing was typed.
func TestForm_EscapeSaysWhatIsNotKept(t *testing.T) {
	for name, opens := range corrects {
		h := open(t, "en", small, look.ByDay, one(t))
		h.show("Wren", "days")
		opens(h)
		before := h.stands()
		h.key(fyne.KeyEscape)
		if h.Shows("is not kept yet") || h.stands() != "" {
			t.Errorf("%s: one that nobody touched is not left", name)
		}
		opens(h)
		h.key(fyne.KeyEnd)
		h.typed("5")
		h.key(fyne.KeyEscape)
		if !h.Shows("is not kept yet") || h.stands() != before+"5" {
			t.Errorf("%s: thrown away unsaid, there stands %q", name, h.stands())
		}
		h.typed("5")
		h.key(fyne.KeyEscape)
		if h.stands() != before+"55" {
			t.Errorf("%s: what was typed since is thrown away unsaid, there stands %q", name, h.stands())
		}
		h.key(fyne.KeyEscape)
		if h.stands() != "" {
			t.Errorf("%s: it cannot be left", name)
		}
		opens(h)
		if h.stands() != before {
			t.Errorf("%s: opened anew there stands %q", name, h.stands())
		}
	}
}

// What is typed over what is known stays when something else is opened, and while another
// animal is looked at.
func TestForm_NothingElseTakesThePlaceOfWhatIsTyped(t *testing.T) {
	for name, opens := range corrects {
		h := open(t, "en", small, look.ByDay, withTwo(t))
		h.show("Wren", "days")
		opens(h)
		h.key(fyne.KeyEnd)
		h.typed("5")
		typed := h.stands()
		for act, do := range map[string]func(){
			"a new entry":    func() { h.show("Wren", care.KindMeal) },
			"who it is":      func() { uitest.Tap(t, h.Content(), "Change particulars") },
			"another animal": func() { h.show("Linnet", "days"); h.show("Wren", "days") },
			"the vet's page": func() {
				h.show("Wren", "vet")
				uitest.Tap(t, h.Content(), "Plan a visit")
				h.show("Wren", "days")
			},
		} {
			if do(); h.stands() != typed {
				t.Errorf("%s, then %s: there stands %q", name, act, h.stands())
			}
			if act != "another animal" && !h.Shows("before you go on to something else") {
				t.Errorf("%s, then %s: that it is held is not said", name, act)
			}
		}
		h.show("Linnet", "days")
		if h.stands() != "" {
			t.Errorf("%s: it stands beside another animal", name)
		}
	}
}

// withTwo are two animals, the first of 140 g.
func withTwo(t *testing.T) func(*collection.Collection) {
	return func(c *collection.Collection) {
		one(t)(c)
		if _, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Linnet"}}); err != nil {
			t.Fatal(err)
		}
	}
}

// A new entry that was begun is there again after something that is known was opened.
func TestForm_ANewEntryOutlivesACorrection(t *testing.T) {
	for name, opens := range corrects {
		h := open(t, "en", small, look.ByDay, one(t))
		h.show("Wren", care.KindNote)
		h.typed("she wheezed twice")
		h.Window().Canvas().Unfocus()
		opens(h)
		h.key(fyne.KeyEscape)
		h.show("Wren", care.KindNote)
		uitest.Tap(t, h.Content(), "Keep")
		if !h.Shows("she wheezed twice") {
			t.Errorf("%s: the note is gone: %q", name, uitest.Texts(h.Content()))
		}
	}
}

// A choice counts as typed: the grade of a look for mites, that was put right.
func TestForm_AChoiceCountsAsTyped(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.do(care.LookForMites{About: care.About{Animal: h.Animal("Wren").ID, At: model.MomentOf(h.Clock.Now())}, MiteLook: care.MiteLook{Grade: care.NoMites, Where: []care.MiteWhere{care.WhitePaper}}})
	h.show("Wren", "days")
	uitest.Tap(t, h.Content(), "Mites: none seen")
	uitest.Tap(t, h.Content(), "2 A single one, confirmed")
	h.key(fyne.KeyEscape)
	if !h.Shows("is not kept yet") {
		t.Error("thrown away unsaid")
	}
	uitest.Tap(t, h.Content(), "Keep")
	if !h.Shows("Mites: a single one, confirmed") {
		t.Errorf("not kept: %q", uitest.Texts(h.Content()))
	}
}
