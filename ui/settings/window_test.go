package settings_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/people"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/settings"
	"coilward/ui/uitest"
)

func open(t testing.TB, l uitest.Look, language string, fill func(*collection.Collection)) *uitest.Opened {
	t.Helper()
	w := uitest.Open(t, uitest.Setting{Look: l, Language: language, Fill: fill, Place: place.Settings, Make: func(w place.Window) place.Place { return settings.New(w) }})
	w.Go(place.Route{To: place.Settings})
	return w
}

func plain() uitest.Look {
	return uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1}
}

// Each choice is kept, and stands so when the page is shown again.
func TestEachChoiceIsKept(t *testing.T) {
	w := open(t, plain(), "en", func(*collection.Collection) {})
	for _, c := range []struct {
		press string
		kept  func(place.Preferences) bool
	}{
		{"Deutsch", func(p place.Preferences) bool { return p.Language == "de" }},
		{w.Text().Say("window.settings.ounces"), func(p place.Preferences) bool { return p.Units.Imperial }},
		{"°F", func(p place.Preferences) bool { return p.Units.Fahrenheit }},
		{w.Text().Say("window.settings.sound.off"), func(p place.Preferences) bool { return p.Silent }},
		{w.Text().Say("window.shine.dark"), func(p place.Preferences) bool { return p.Shine == look.ByNight }},
		{"125 %", func(p place.Preferences) bool { return p.Scale == 125 }},
		{"Letter", func(p place.Preferences) bool { return p.Paper == place.Letter }},
	} {
		if c.kept(w.Settings()) {
			t.Fatalf("%s is chosen before it is pressed", c.press)
		}
		uitest.Tap(t, w.Content(), c.press)
		if !c.kept(w.Settings()) {
			t.Errorf("%s is not kept: %+v", c.press, w.Settings())
		}
		w.Go(place.Route{To: place.Settings})
		if !c.kept(w.Settings()) {
			t.Errorf("%s does not stay: %+v", c.press, w.Settings())
		}
	}
}

// Who writes is chosen from those who work here, by the keys, and nobody again.
func TestWhoWritesIsChosen(t *testing.T) {
	w := open(t, plain(), "en", func(c *collection.Collection) {
		for _, p := range []people.Person{{Name: "Robin Ash", Roles: []people.Role{people.Sitter}}, {Name: "Bench lab", Roles: []people.Role{people.Lab}}} {
			if _, err := c.Do(people.Add{Person: p}); err != nil {
				t.Fatal(err)
			}
		}
	})
	choose := func(typed string) {
		t.Helper()
		uitest.Tap(t, w.Content(), w.Text().Say("window.settings.writes"))
		if uitest.Shows(uitest.Top(w.Canvas()), "Bench lab") {
			t.Error("a lab writes nothing down here")
		}
		uitest.Type(w.Canvas(), typed)
		uitest.Key(w.Canvas(), fyne.KeyReturn)
	}
	choose("Robin")
	if w.By().IsZero() || !w.Shows("Robin Ash") {
		t.Fatalf("nobody writes: %q", uitest.Texts(w.Content()))
	}
	choose(w.Text().Say("window.settings.nobody"))
	if w.By() != (model.PersonID{}) {
		t.Error("somebody writes still")
	}
}

// A person is added here; without a name it is said at the field.
func TestAPersonIsAdded(t *testing.T) {
	w := open(t, plain(), "en", func(*collection.Collection) {})
	uitest.Tap(t, w.Content(), w.Text().Say("window.settings.addperson"))
	before := len(uitest.Texts(uitest.Top(w.Canvas())))
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	top := uitest.Top(w.Canvas())
	if w.Canvas().Overlays().Top() == nil || len(uitest.Texts(top)) == before {
		t.Fatalf("without a name: %q", uitest.Texts(top))
	}
	uitest.Type(w.Canvas(), "Robin Ash")
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	var all []people.Stored
	if err := w.Collection().View(func(v model.View) (err error) { all, err = people.All(v); return err }); err != nil {
		t.Fatal(err)
	}
	if len(all) != 1 || all[0].Name != "Robin Ash" || w.Canvas().Overlays().Top() != nil {
		t.Errorf("%+v", all)
	}
}

// The page is whole in the smallest usual window, in both languages.
func TestThePageFits(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		w := open(t, plain(), language, nil)
		for _, said := range uitest.Clipped(w.Content(), fyne.NewSize(1280, 800)) {
			t.Errorf("%s: %s", language, said)
		}
	}
}
