package animal_test

import (
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/due"
	"coilward/model/exam"
	"coilward/model/medicine"
	"coilward/ui/look"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// place is where a text stands among those of the page; -1: it does not.
func (h *hand) place(text string) int {
	for i, one := range uitest.Texts(h.Content()) {
		if strings.Contains(one, text) {
			return i
		}
	}
	return -1
}

// inSight reports whether a text stands within the window.
func (h *hand) inSight(text string) (seen bool) {
	uitest.Walk(h.Content(), func(s uitest.Seen) bool {
		if t, is := s.Object.(*widgets.Text); is && strings.Contains(t.Text(), text) {
			seen = seen || s.At.Y > 0 && s.At.Y+s.Object.Size().Height <= h.Canvas().Size().Height
		}
		return true
	})
	return seen
}

// The doses of today stand above the questions and stay there once they are given; on a
// day without one they stand below.
func TestVet_TheDosesOfTodayComeFirst(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	h.show("Wren", "vet")
	h.prescribe("2", "48 h")
	first := func() bool { return h.place("Brown solution") < h.place("Questions to the vet") }
	if !first() {
		t.Errorf("not given: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Given")
	uitest.Tap(t, h.Content(), "Keep")
	if !first() {
		t.Error("once it is given the course moves away")
	}
	h.Clock.Pass(24 * time.Hour)
	h.show("Wren", "vet")
	if first() {
		t.Error("without a dose of today the course stands above the questions")
	}
}

// What a form is about stays in sight when it opens.
func TestVet_AFormLeavesInSightWhatItIsAbout(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	for n := range 8 {
		ask := medicine.AskQuestion{Animal: h.Animal("Wren").ID, At: model.MomentOf(h.Clock.Now()), Words: strings.Repeat("Is it so? ", n+1)}
		if _, err := h.Collection().Do(ask); err != nil {
			t.Fatal(err)
		}
	}
	hold := due.HoldVisit{HoldVisit: medicine.HoldVisit{Animal: h.Animal("Wren").ID, At: model.MomentOf(h.Clock.Now()), Visit: medicine.Visit{Practice: "By the mill", Held: &medicine.Held{Said: "All quiet."}}}}
	if _, err := h.Collection().Do(hold); err != nil {
		t.Fatal(err)
	}
	h.show("Wren", "vet")
	uitest.Tap(t, h.Content(), "Prescribed there")
	if !h.inSight("All quiet.") {
		t.Error("the visit is out of sight")
	}
}

// What is due on the animal's own page leads to where it is done, as the list of what is due
// does.
func TestPage_WhatIsDueLeadsToWhereItIsDone(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	h.show("Wren", "vet")
	h.prescribe("2", "24 h")
	h.show("Wren", "days")
	uitest.Tap(t, h.Content(), "Give medicine")
	if !h.Shows("Questions to the vet") {
		t.Errorf("the dose leads to %q", uitest.Texts(h.Content()))
	}
	h = open(t, "en", small, look.ByDay, nil)
	h.show("Juniper", "days")
	uitest.Tap(t, h.Content(), h.Text().Say("due."+string(exam.SeeVet)))
	if !h.Shows("Questions to the vet") {
		t.Errorf("the vet leads to %q", uitest.Texts(h.Content()))
	}
}
