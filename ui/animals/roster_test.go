package animals_test

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/welfare"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

func none(*collection.Collection) {}

// names are the animals of the collection.
func (h *hand) names() string {
	var names []string
	err := h.Collection().View(func(v model.View) error {
		all, err := animals.All(v)
		for _, a := range all {
			names = append(names, a.Name)
		}
		return err
	})
	if err != nil {
		h.T.Fatal(err)
	}
	return strings.Join(names, " ")
}

func TestRoster_AddsAnAnimalByTyping(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, none)
	if !h.Shows("No animal yet") {
		t.Fatal("the empty page does not say so")
	}
	uitest.Tap(t, h.Content(), "Add an animal")
	uitest.Type(h.Window().Canvas(), "Juniper")
	uitest.Key(h.Window().Canvas(), fyne.KeyReturn)
	if got := h.names(); got != "Juniper" {
		t.Fatalf("animals: %q", got)
	}
	if !h.Shows("Juniper") || !h.Shows("1 animal here") || h.Shows("A new animal") {
		t.Errorf("after adding the window shows %q", uitest.Texts(h.Content()))
	}
}

func TestRoster_ANameTwiceStaysAsTyped(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, none)
	for range 2 {
		h.Go(place.Route{To: place.Animals, Page: "new"})
		uitest.Type(h.Window().Canvas(), "Juniper")
		uitest.Key(h.Window().Canvas(), fyne.KeyReturn)
	}
	if got := h.names(); got != "Juniper" {
		t.Fatalf("animals: %q", got)
	}
	if !h.Shows("has this name already") || !h.Shows("A new animal") {
		t.Errorf("no refusal in %q", uitest.Texts(h.Content()))
	}
	uitest.Type(h.Window().Canvas(), " II")
	uitest.Key(h.Window().Canvas(), fyne.KeyReturn)
	if got := h.names(); got != "Juniper Juniper II" {
		t.Errorf("what was typed did not stay: animals %q", got)
	}
}

// Escape says of a new animal first that it is not kept; once more, it leaves.
func TestRoster_EscapeThrowsAwayNothingThatWasTyped(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, none)
	h.Go(place.Route{To: place.Animals, Page: "new"})
	uitest.Type(h.Window().Canvas(), "Juniper")
	uitest.Key(h.Window().Canvas(), fyne.KeyEscape)
	if !h.Shows("is not kept yet") || !h.Shows("A new animal") {
		t.Errorf("thrown away unsaid: %q", uitest.Texts(h.Content()))
	}
	uitest.Key(h.Window().Canvas(), fyne.KeyEscape)
	if h.Shows("A new animal") {
		t.Error("the form cannot be left")
	}
	h.Go(place.Route{To: place.Animals, Page: "new"})
	uitest.Key(h.Window().Canvas(), fyne.KeyEscape)
	if h.Shows("A new animal") || h.names() != "" {
		t.Errorf("one that nobody touched is not left: %q", h.names())
	}
}

func TestRoster_SearchesAsOneTypes(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, nil)
	uitest.Type(h.Window().Canvas(), "sor")
	if !h.Shows("Sorrel") || h.Shows("Bramble") {
		t.Errorf("searching shows %q", uitest.Texts(h.Content()))
	}
	uitest.Key(h.Window().Canvas(), fyne.KeyReturn)
	if len(h.Went) != 1 || h.Went[0].To != place.Animal {
		t.Errorf("Enter went to %v", h.Went)
	}
}

func TestRoster_FiltersAndShowsAllAgain(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, nil)
	uitest.Tap(t, h.Content(), "For the vet")
	if !h.Shows("Juniper") || h.Shows("Bramble") {
		t.Errorf("for the vet: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Males")
	if h.Shows("Juniper") || !h.Shows("Sorrel") {
		t.Errorf("males for the vet: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "No longer here")
	if !h.Shows("No animal fits") {
		t.Errorf("nothing fits, but the page shows %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Show all")
	if !h.Shows("Bramble") || !h.Shows("Juniper") {
		t.Errorf("after showing all: %q", uitest.Texts(h.Content()))
	}
}

func TestRoster_KeysOpenWhatTheyStandAt(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, nil)
	c := h.Window().Canvas()
	uitest.Tap(t, h.Content(), "Males")
	uitest.Type(c, "nobody")
	uitest.Tap(t, h.Content(), "Show all") // the keys are the list's again
	uitest.Key(c, fyne.KeyDown)
	uitest.Key(c, fyne.KeyReturn)
	if len(h.Went) != 1 || h.Went[0].To != place.Animal {
		t.Fatalf("went to %v", h.Went)
	}
	err := h.Collection().View(func(v model.View) error {
		a, err := animals.Find(v, model.AnimalID{ID: h.Went[0].Subject})
		if a.Name != "Heron" {
			t.Errorf("opened %q, want the second by name, Heron", a.Name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A young animal that keeps no meal stands among those for the vet, and the list
// says why.
func TestRoster_YoungAnimalUnfedIsForTheVet(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, func(c *collection.Collection) {
		var now model.Moment
		do := func(command model.Command) {
			if _, err := c.Do(command); err != nil {
				t.Fatal(err)
			}
		}
		for _, name := range []string{"Wren", "Siskin"} {
			if err := c.View(func(v model.View) error { now = v.Now(); return nil }); err != nil {
				t.Fatal(err)
			}
			do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Hatched: model.Date{Day: now.Day() - 60, Precision: model.ToDay}}})
		}
		err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			for _, a := range all {
				fed := map[string]model.Day{"Wren": 40, "Siskin": 5}[a.Name]
				do(care.Feed{About: care.About{Animal: a.ID, At: model.Moment{UTC: now.UTC - int64(fed)*86400}}, Meal: care.Meal{Outcome: care.Took, Prey: care.Mouse}})
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	})
	uitest.Tap(t, h.Content(), "For the vet")
	if texts := uitest.Texts(h.Content()); !slices.Contains(texts, "Wren") || slices.Contains(texts, "Siskin") || !h.Shows("no meal for 40 days") {
		t.Errorf("for the vet: %q", uitest.Texts(h.Content()))
	}
}

// An animal whose breathing on a visit is for the vet stands among those for the vet, and the list
// says why.
func TestRoster_BreathingIsForTheVet(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, none)
	for _, name := range []string{"Wren", "Siskin"} {
		done, err := h.Collection().Do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius"}})
		if err != nil {
			t.Fatal(err)
		}
		seen := welfare.Observation{Setting: knowledge.Untouched, None: true}
		if name == "Wren" {
			seen = welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{knowledge.OpenMouth}}
		}
		var now model.Moment
		if err := h.Collection().View(func(v model.View) error { now = v.Now(); return nil }); err != nil {
			t.Fatal(err)
		}
		if _, err := h.Collection().Do(welfare.Observe{Tables: h.Tables(), About: care.About{Animal: model.AnimalID{ID: done.Documents[0]}, At: now}, Observation: seen}); err != nil {
			t.Fatal(err)
		}
	}
	uitest.Tap(t, h.Content(), "For the vet")
	if texts := uitest.Texts(h.Content()); !slices.Contains(texts, "Wren") || slices.Contains(texts, "Siskin") || !h.Shows("its breathing") || !h.Shows("Emergency today") {
		t.Errorf("for the vet: %q", texts)
	}
}

// A change of another place is seen at once.
func TestRoster_SeesChanges(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, nil)
	if _, err := h.Collection().Do(animals.Add{Animal: animals.Animal{Name: "Wren"}}); err != nil {
		t.Fatal(err)
	}
	if !h.Shows("Wren") {
		t.Errorf("the new animal is not shown: %q", uitest.Texts(h.Content()))
	}
	h.Undo()
	if slices.Contains(uitest.Texts(h.Content()), "Wren") { // the bar names what was undone
		t.Error("the undone animal is still shown")
	}
}

func TestRoster_NothingIsClipped(t *testing.T) {
	for _, language := range uitest.Languages() {
		for _, l := range uitest.LooksIn(language) {
			size := fyne.NewSize(l.Width, l.Height)
			h := open(t, language, size, l.Shine, nil)
			uitest.Dress(h.Window(), l)
			check := func(what string) {
				for _, fault := range uitest.Clipped(h.Content(), size) {
					t.Errorf("%s, %v, %s: %s", language, l, what, fault)
				}
			}
			check("table")
			uitest.Tap(t, h.Content(), h.Text().Say("roster.pictures"))
			check("pictures")
			h.Go(place.Route{To: place.Animals, Page: "new"})
			check("pictures with the form")
			uitest.Tap(t, h.Content(), h.Text().Say("particulars.more"))
			check("pictures with the form unfolded")
			uitest.Tap(t, h.Content(), h.Text().Say("roster.table"))
			check("table with the form unfolded")
		}
	}
}

func TestTable_AllColumnsStandAtTheSmallSize(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		h := open(t, language, fyne.NewSize(1280, 800), look.ByDay, nil)
		h.Go(place.Route{To: place.Animals})
		for _, by := range []string{"name", "code", "sex", "age", "weight", "meal", "check", "open"} {
			heading := h.Text().Say("roster.column." + by)
			if !h.Shows(heading) {
				t.Errorf("%s: no column %q", language, heading)
			}
		}
		var all []animals.Stored
		if err := h.Collection().View(func(v model.View) (err error) { all, err = animals.All(v); return err }); err != nil {
			t.Fatal(err)
		}
		lines := 0
		for _, a := range all[:5] { // those in sight
			age, months := h.Text().AgeInTwo(a.Hatched, h.Now().Day())
			if months == "" {
				continue
			}
			lines++
			uitest.Walk(h.Content(), func(s uitest.Seen) bool {
				if text, is := s.Object.(*widgets.Text); is && text.Text() == age && text.Size().Width < look.Body.Width(age) {
					t.Errorf("%s: %q has %.0f of %.0f", language, age, text.Size().Width, look.Body.Width(age))
				}
				return true
			})
			if said := uitest.Texts(h.Content()); !slices.Contains(said, age) || !slices.Contains(said, months) {
				t.Errorf("%s: of %s %q and %q do not stand on two lines: %q", language, a.Name, age, months, said)
			}
		}
		if lines == 0 {
			t.Errorf("%s: no age takes two lines", language)
		}
	}
}
