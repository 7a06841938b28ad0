package animals_test

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// Who is in quarantine stands so in the list, where nothing is open too; once taken back,
// no longer.
func TestRoster_SaysWhoIsInQuarantine(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, func(c *collection.Collection) {
		if _, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Wren"}}); err != nil {
			t.Fatal(err)
		}
	})
	says := func() bool { return slices.Contains(uitest.Texts(h.Content()), "in quarantine") }
	if says() {
		t.Fatal("one that is in none is said to be")
	}
	if _, err := h.Collection().Do(quarantine.Begin{Tables: tables, Animal: h.Animal("Wren").ID, Arrived: h.Now(), Protocol: "python", Confirmed: model.Confirmed{"day.before-arrival"}}); err != nil {
		t.Fatal(err)
	}
	if !says() {
		t.Errorf("it is not said: %q", uitest.Texts(h.Content()))
	}
	h.Undo()
	if says() {
		t.Error("it is said still")
	}
}
