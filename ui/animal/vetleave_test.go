package animal_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/due"
	"coilward/model/medicine"
	"coilward/model/people"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// do does a command.
func (h *hand) do(c model.Command) {
	h.T.Helper()
	if _, err := h.Collection().Do(c); err != nil {
		h.T.Fatal(err)
	}
}

// papered notes a course with a paper of the vet's.
func (h *hand) papered() {
	h.T.Helper()
	var vet model.PersonID
	if err := h.Collection().View(func(v model.View) error {
		all, err := people.All(v)
		vet = all[0].ID
		return err
	}); err != nil {
		h.T.Fatal(err)
	}
	now := model.MomentOf(h.Clock.Now())
	h.do(medicine.Prescribe{Tables: h.Tables(), Animal: h.Animal("Wren").ID, At: now, Prescription: medicine.Prescription{Medicine: "Ointment", Vet: vet, Form: medicine.InWords, Route: medicine.OnSkin,
		Begins: now, Photos: []model.PhotoID{"0a"}, Steps: []medicine.Step{{Day: 1, Times: 3, Every: 24, Words: "a thin layer"}}}})
}

// visited notes a visit with a paper of the vet's.
func (h *hand) visited() {
	h.T.Helper()
	h.do(due.HoldVisit{HoldVisit: medicine.HoldVisit{Animal: h.Animal("Wren").ID, At: model.MomentOf(h.Clock.Now()), Visit: medicine.Visit{Practice: "By the mill", Held: &medicine.Held{Said: "All quiet.", Photos: []model.PhotoID{"0b"}}}}})
}

// Whatever is chosen in a form of the vet's page counts as typed: one key does not throw it
// away, nor does another form take its place.
func TestVet_WhatIsChosenIsNotThrownAwayByOneKey(t *testing.T) {
	for _, c := range []struct {
		name         string
		before       func(*hand)
		open, choose string
	}{
		{"not to be lifted", nil, "Note a prescription", "Not to be lifted for weighing"},
		{"a fluid", nil, "Note a prescription", "It is a fluid"},
		{"a paper of a prescription", (*hand).papered, "Change", "Take off"},
		{"a paper of a visit", (*hand).visited, "Change", "Take off"},
	} {
		h := open(t, "en", small, look.ByDay, withVet(t))
		if c.before != nil {
			c.before(h)
		}
		h.show("Wren", "vet")
		uitest.Tap(t, h.Content(), c.open)
		uitest.Tap(t, h.Content(), c.choose)
		fields := len(uitest.Entries(h.Content()))
		h.key(fyne.KeyEscape)
		if !h.Shows("is not kept yet") {
			t.Errorf("%s: thrown away unsaid", c.name)
		}
		uitest.Tap(t, h.Content(), "Plan a visit")
		if got := len(uitest.Entries(h.Content())); got != fields {
			t.Errorf("%s: another form took its place", c.name)
		}
		h.key(fyne.KeyEscape)
		if got := len(uitest.Entries(h.Content())); got == fields {
			t.Errorf("%s: the form cannot be left", c.name)
		}
	}
}

// A form of the vet's page in which something was typed, and the line for a question, are there
// again after another animal was looked at; what nobody touched is not.
func TestVet_WhatWasTypedOutlivesAnotherAnimal(t *testing.T) {
	h := open(t, "en", small, look.ByDay, nil)
	h.show("Juniper", "vet")
	h.entry(-1, "Is it old skin?")
	uitest.Tap(t, h.Content(), "Note a visit")
	h.entry(2, "By the mill")
	h.show("Linnet", "vet")
	if h.entered(-1) != "" || h.Shows("A visit to the vet") {
		t.Errorf("another animal's page shows it: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Plan a visit")
	h.show("Juniper", "vet")
	if h.entered(-1) != "Is it old skin?" || h.entered(2) != "By the mill" {
		t.Errorf("there stand %q and %q", h.entered(-1), h.entered(2))
	}
	uitest.Tap(t, h.Content(), "Keep")
	if visits, _ := h.visits("Juniper"); len(visits) == 0 || visits[0].Held == nil || visits[0].Practice != "By the mill" {
		t.Errorf("noted: %+v", visits)
	}
	h.show("Linnet", "vet")
	if n := len(uitest.Entries(h.Content())); n != 1 {
		t.Errorf("a form that nobody touched came back: %d entries", n)
	}
}
