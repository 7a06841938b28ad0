package animals_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

func none(*collection.Collection) {}

func (h *hand) content() fyne.CanvasObject { return h.Window().Content() }

// names are the animals of the collection.
func (h *hand) names() string {
	var names []string
	err := h.collection.View(func(v model.View) error {
		all, err := animals.All(v)
		for _, a := range all {
			names = append(names, a.Name)
		}
		return err
	})
	if err != nil {
		h.t.Fatal(err)
	}
	return strings.Join(names, " ")
}

func (h *hand) shows(part string) bool { return uitest.Shows(h.content(), part) }

func TestRoster_AddsAnAnimalByTyping(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, none)
	if !h.shows("No animal yet") {
		t.Fatal("the empty page does not say so")
	}
	uitest.Tap(t, h.content(), "Add an animal")
	uitest.Type(h.Window().Canvas(), "Juniper")
	uitest.Key(h.Window().Canvas(), fyne.KeyReturn)
	if got := h.names(); got != "Juniper" {
		t.Fatalf("animals: %q", got)
	}
	if !h.shows("Juniper") || !h.shows("1 animal here") || h.shows("A new animal") {
		t.Errorf("after adding the window shows %q", uitest.Texts(h.content()))
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
	if !h.shows("has this name already") || !h.shows("A new animal") {
		t.Errorf("no refusal in %q", uitest.Texts(h.content()))
	}
	uitest.Type(h.Window().Canvas(), " II")
	uitest.Key(h.Window().Canvas(), fyne.KeyReturn)
	if got := h.names(); got != "Juniper Juniper II" {
		t.Errorf("what was typed did not stay: animals %q", got)
	}
}

func TestRoster_SearchesAsOneTypes(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, nil)
	uitest.Type(h.Window().Canvas(), "sor")
	if !h.shows("Sorrel") || h.shows("Bramble") {
		t.Errorf("searching shows %q", uitest.Texts(h.content()))
	}
	uitest.Key(h.Window().Canvas(), fyne.KeyReturn)
	if len(h.went) != 1 || h.went[0].To != place.Animal {
		t.Errorf("Enter went to %v", h.went)
	}
}

func TestRoster_FiltersAndShowsAllAgain(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, nil)
	uitest.Tap(t, h.content(), "For the vet")
	if !h.shows("Juniper") || h.shows("Bramble") {
		t.Errorf("for the vet: %q", uitest.Texts(h.content()))
	}
	uitest.Tap(t, h.content(), "Males")
	if h.shows("Juniper") || !h.shows("Sorrel") {
		t.Errorf("males for the vet: %q", uitest.Texts(h.content()))
	}
	uitest.Tap(t, h.content(), "No longer here")
	if !h.shows("No animal fits") {
		t.Errorf("nothing fits, but the page shows %q", uitest.Texts(h.content()))
	}
	uitest.Tap(t, h.content(), "Show all")
	if !h.shows("Bramble") || !h.shows("Juniper") {
		t.Errorf("after showing all: %q", uitest.Texts(h.content()))
	}
}

func TestRoster_KeysOpenWhatTheyStandAt(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, nil)
	c := h.Window().Canvas()
	uitest.Tap(t, h.content(), "Males")
	uitest.Type(c, "nobody")
	uitest.Tap(t, h.content(), "Show all") // the keys are the list's again
	uitest.Key(c, fyne.KeyDown)
	uitest.Key(c, fyne.KeyReturn)
	if len(h.went) != 1 || h.went[0].To != place.Animal {
		t.Fatalf("went to %v", h.went)
	}
	err := h.collection.View(func(v model.View) error {
		a, err := animals.Find(v, model.AnimalID{ID: h.went[0].Subject})
		if a.Name != "Heron" {
			t.Errorf("opened %q, want the second by name, Heron", a.Name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A change of another place is seen at once.
func TestRoster_SeesChanges(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, nil)
	if _, err := h.collection.Do(animals.Add{Animal: animals.Animal{Name: "Wren"}}); err != nil {
		t.Fatal(err)
	}
	if !h.shows("Wren") {
		t.Errorf("the new animal is not shown: %q", uitest.Texts(h.content()))
	}
	h.Undo()
	if h.shows("Wren") {
		t.Error("the undone animal is still shown")
	}
}

func TestRoster_NothingIsClipped(t *testing.T) {
	for _, language := range uitest.Languages() {
		for _, size := range []fyne.Size{fyne.NewSize(1280, 800), fyne.NewSize(1600, 900)} {
			h := open(t, language, size, look.ByNight, nil)
			check := func(what string) {
				for _, fault := range uitest.Clipped(h.content(), size) {
					t.Errorf("%s, %v, %s: %s", language, size, what, fault)
				}
			}
			check("table")
			h.Go(place.Route{To: place.Animals, Page: "new"})
			check("with the form")
		}
	}
}
