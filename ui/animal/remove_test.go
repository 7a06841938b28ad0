package animal_test

import (
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// act does what the page offers in a menu under that name.
func (h *hand) act(name string) {
	h.T.Helper()
	for _, a := range h.page.Actions() {
		if a.Label == name {
			a.Do()
			return
		}
	}
	h.T.Fatalf("no act %q", name)
}

func (h *hand) names() (names []string) {
	h.T.Helper()
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
	return names
}

func TestRemove_TakesAnAnimalWithoutEntriesAndComesBack(t *testing.T) {
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		if _, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Wren"}}); err != nil {
			t.Fatal(err)
		}
	})
	h.show("Wren", "days")
	h.act("Remove this animal …")
	if len(h.names()) != 1 {
		t.Error("gone before it was asked")
	}
	uitest.Tap(t, uitest.Top(h.Canvas()), "Remove")
	if got := h.names(); len(got) != 0 {
		t.Errorf("left are %v", got)
	}
	h.Undo()
	if got := h.names(); len(got) != 1 {
		t.Errorf("after undo: %v", got)
	}
}

func TestRemove_OneWithEntriesStaysAndItsStatusIsOffered(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "days")
	h.act("Remove this animal …")
	uitest.Tap(t, uitest.Top(h.Canvas()), "Remove")
	if got := h.names(); len(got) != 1 {
		t.Fatalf("left are %v", got)
	}
	if !uitest.Shows(uitest.Top(h.Canvas()), "entries (1)") {
		t.Errorf("the sheet says %q", uitest.Texts(uitest.Top(h.Canvas())))
	}
	uitest.Tap(t, uitest.Top(h.Canvas()), "Change particulars")
	if !h.Shows("Status") {
		t.Errorf("the form is not open: %q", uitest.Texts(h.Content()))
	}
}
