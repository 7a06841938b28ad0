package animal_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/due"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// visits are what was noted of visits of the animal.
func (h *hand) visits(name string) (visits []medicine.StoredVisit, questions []medicine.StoredQuestion) {
	h.T.Helper()
	if err := h.Collection().View(func(v model.View) (err error) {
		if visits, err = medicine.VisitsOf(v, h.Animal(name).ID); err == nil {
			questions, err = medicine.QuestionsOf(v, h.Animal(name).ID)
		}
		return err
	}); err != nil {
		h.T.Fatal(err)
	}
	return visits, questions
}

// owes are the visits that are due, by what the book says.
func (h *hand) owes() (all []due.Item) {
	h.T.Helper()
	list, err := due.NewBook(h.Tables()).Bring(h.T.Context(), h.Collection(), nil)
	if err != nil {
		h.T.Fatal(err)
	}
	for _, i := range list.Items {
		if i.Job == due.VetVisit {
			all = append(all, i)
		}
	}
	return all
}

// forVet is what the paper for the vet says.
func (h *hand) forVet(name string) string {
	h.T.Helper()
	var said string
	if err := h.Collection().View(func(v model.View) error {
		g, err := paper.Gather(v, paper.Gathering{Animal: h.Animal(name).ID, Tables: h.Tables()})
		said = paper.Plain(paper.VetPage(g.Facts(), h.Text(), paper.A4))
		return err
	}); err != nil {
		h.T.Fatal(err)
	}
	return said
}

// A question is noted by one line, a visit planned; on its day it is due, it is held, an
// answer closes one question, what was prescribed names the visit, and the paper for the
// vet tells it all.
func TestVisit_FromTheQuestionToThePaper(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	h.show("Wren", "vet")
	ask := func(words string) {
		field := uitest.Entries(h.Content())[0]
		h.Window().Canvas().Focus(field)
		h.typed(words)
		h.key(fyne.KeyReturn)
	}
	ask(" ")
	if _, questions := h.visits("Wren"); len(questions) != 0 || !h.Shows("Nothing is entered") {
		t.Errorf("an empty question: %q", uitest.Texts(h.Content()))
	}
	ask("Is the scab old skin?")
	ask("May she bathe?")
	if _, questions := h.visits("Wren"); len(questions) != 2 || !h.Shows("Is the scab old skin?") || !h.Shows("No visit is planned") {
		t.Fatalf("asked: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Plan a visit")
	uitest.Tap(t, h.Content(), "Keep")
	if visits, _ := h.visits("Wren"); len(visits) != 0 {
		t.Error("planned without a day")
	}
	day := model.MomentOf(h.Clock.Now()).Day()
	h.entry(0, h.Text().DayOfYear(day+3)) // without a year it lies ahead
	h.entry(1, "15:30")
	uitest.Tap(t, h.Content(), "Keep")
	visits, _ := h.visits("Wren")
	if len(visits) != 1 || visits[0].At.Day() != day+3 || visits[0].At.Precision != model.ToMinute || visits[0].Vet.IsZero() || !h.Shows("2 questions are open.") || h.Shows("It was held") {
		t.Fatalf("planned: %+v, %q", visits, uitest.Texts(h.Content()))
	}
	if all := h.owes(); len(all) != 1 || all[0].State != due.Later {
		t.Errorf("owed before: %+v", all)
	}
	h.Clock.Pass(4 * 24 * time.Hour)
	h.show("Wren", "vet")
	if all := h.owes(); len(all) != 1 || all[0].State == due.Later || !h.Shows("Was the visit held?") {
		t.Errorf("owed a day later: %+v, %q", all, uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "It was held")
	if n := len(uitest.Entries(h.Content())); n != 9 { // the line, day, time, practice, reason, said, two answers, the next
		t.Fatalf("%d entries", n)
	}
	h.entry(0, h.Text().DayShort(day+9))
	uitest.Tap(t, h.Content(), "Keep")
	if visits, _ := h.visits("Wren"); visits[0].Held != nil || !h.Shows("has not come") && !h.Shows("future") && !h.Shows("today") {
		t.Errorf("held in the future: %q", uitest.Texts(h.Content()))
	}
	h.entry(0, h.Text().DayShort(day+3))
	h.entry(4, "Looked at it under the lamp.")
	h.entry(5, "Yes, leave it alone.")
	h.entry(7, h.Text().DayShort(day+30))
	uitest.Tap(t, h.Content(), "Keep")
	visits, questions := h.visits("Wren")
	if len(visits) != 2 || visits[1].Held == nil || visits[0].At.Day() != day+30 || !h.Shows("As the vet said") || !h.Shows("Yes, leave it alone.") || !h.Shows("One question is open.") {
		t.Fatalf("held: %+v, %q", visits, uitest.Texts(h.Content()))
	}
	if questions[1].Open() || questions[1].Answer.Visit != visits[1].ID || !questions[0].Open() {
		t.Errorf("answered: %+v", questions)
	}
	if all := h.owes(); len(all) != 1 || all[0].State != due.Later {
		t.Errorf("owed after: %+v", all)
	}
	uitest.Tap(t, h.Content(), "Prescribed there")
	h.entry(0, "Brown ointment")
	uitest.Tap(t, h.Content(), "How it is given")
	h.typed("on the skin")
	h.key(fyne.KeyReturn)
	uitest.Tap(t, h.Content(), "In words")
	for i, typed := range map[int]string{3: "a thin layer", 4: "3", 5: "24 h"} {
		h.entry(i, typed)
	}
	uitest.Tap(t, h.Content(), "Keep")
	if courses := h.courses("Wren"); len(courses) != 1 || courses[0].Visit != visits[1].ID || !h.Shows("Prescribed: Brown ointment") {
		t.Fatalf("prescribed: %+v, %q", courses, uitest.Texts(h.Content()))
	}
	h.show("Wren", "days")
	if !h.Shows("Visit to the vet · Dr Ada Fern") {
		t.Errorf("the days: %q", uitest.Texts(h.Content()))
	}
	said := h.forVet("Wren")
	for _, want := range []string{"May she bathe?", "Yes, leave it alone.", "Looked at it under the lamp.", "Brown ointment"} {
		if !strings.Contains(said, want) {
			t.Errorf("the paper does not say %q: %q", want, said)
		}
	}
}

// What stands in the line for a question is not lost when something else changes.
func TestVisit_AQuestionThatIsBeingTypedStays(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	h.show("Wren", "vet")
	h.Window().Canvas().Focus(uitest.Entries(h.Content())[0])
	h.typed("Is it")
	weigh(t, h.Collection(), model.Grams(150), 0)
	h.show("Wren", "vet")
	if !uitest.Shows(h.Content(), "150") {
		t.Fatal("the weight is not shown")
	}
	uitest.Tap(t, h.Content(), "Note")
	if _, questions := h.visits("Wren"); len(questions) != 1 || questions[0].Words != "Is it" {
		t.Errorf("noted: %+v", questions)
	}
}

// What becomes due while a question is typed is shown, and the line keeps the keys, its text and
// where it is written on.
func TestVisit_WhatBecomesDueTakesNoKeysFromTheLine(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	h.show("Wren", "vet")
	h.Window().Canvas().Focus(uitest.Entries(h.Content())[0])
	h.typed("Is it?")
	h.key(fyne.KeyLeft)
	h.walk("Wren", func(d *exam.Draft) {
		d.Findings = []exam.Finding{{Standing: exam.New, Stop: "skin", What: "sore", Grade: exam.Slight, Rough: true, At: d.Begun}}
	})
	if !h.Shows("there you say that it was about this") {
		t.Fatalf("the vet is not asked for: %q", uitest.Texts(h.Content()))
	}
	if line := uitest.Entries(h.Content())[0]; h.Window().Canvas().Focused() != line {
		t.Error("the line that is shown has not the keys")
	}
	h.typed(" so")
	if got := h.entered(-1); got != "Is it so?" {
		t.Errorf("in the line stands %q", got)
	}
	h.key(fyne.KeyReturn)
	if _, questions := h.visits("Wren"); len(questions) != 1 || questions[0].Words != "Is it so?" {
		t.Errorf("noted: %+v", questions)
	}
}

// A visit that is noted answers, by one press, what the animal was to see a vet for; one undo
// takes back both. A planned visit after the day is remarked.
func TestVisit_AnswersWhatTheVetWasToSee(t *testing.T) {
	h := open(t, "en", small, look.ByDay, nil)
	h.show("Juniper", "vet")
	wanted := func() (open int, by model.Day) {
		list, err := due.NewBook(h.Tables()).Bring(h.T.Context(), h.Collection(), nil)
		if err != nil {
			t.Fatal(err)
		}
		all := due.ToSeeVet(list.BySubject()[h.Animal("Juniper").ID.Subject()])
		for _, i := range all {
			by = max(by, i.By)
		}
		return len(all), by
	}
	before, by := wanted()
	if before == 0 || !h.Shows("there you say that it was about this") {
		t.Fatalf("%d wanted: %q", before, uitest.Texts(h.Content()))
	}
	late := medicine.PlanVisit{Animal: h.Animal("Juniper").ID, At: model.MomentOn(model.MomentOf(h.Clock.Now()), by+4, model.Noon, model.ToDay), Visit: medicine.Visit{Practice: "By the mill"}}
	if _, err := h.Collection().Do(late); err != nil {
		t.Fatal(err)
	}
	if !h.Shows("Ask the practice for an earlier day") {
		t.Errorf("a late visit is not remarked: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Already held")
	uitest.Tap(t, h.Content(), h.Text().Say("visit.about", map[string]any{"What": "Blister, sore or scab · Firm lump", "By": "by 10 Jun"}))
	if want := strconv.Itoa(h.Tables().Value(knowledge.ValueAnswerVet)) + " days from the visit"; !h.Shows(want) {
		t.Errorf("for how long that stands is not said: %q", uitest.Texts(h.Content()))
	}
	if h.Shows("Vet: asks again on") {
		t.Errorf("the head speaks of an answer: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Keep")
	if after, _ := wanted(); after != before-1 {
		t.Fatalf("%d of %d stay open: %q", after, before, uitest.Texts(h.Content()))
	}
	if !h.Shows("Vet: asks again on") || h.Shows("Vet: by 10 Jun") {
		t.Errorf("the head after the visit: %q", uitest.Texts(h.Content()))
	}
	h.show("Juniper", "days")
	if !h.Shows("It asks again on") {
		t.Errorf("what was answered is not said: %q", uitest.Texts(h.Content()))
	}
	h.Undo()
	visits, _ := h.visits("Juniper")
	if h.Shows("Vet: asks again on") || !h.Shows("Vet: by 10 Jun") {
		t.Errorf("the head after the undo: %q", uitest.Texts(h.Content()))
	}
	if after, _ := wanted(); after != before || len(visits) == 0 || visits[0].Held != nil {
		t.Errorf("after the undo %d of %d are open, %+v", after, before, visits)
	}
	h.show("Juniper", "vet")
	h.Redo()
	if after, _ := wanted(); after != before-1 {
		t.Fatalf("done again %d of %d are open", after, before)
	}
	for n := len(visits); n > 0; n-- {
		uitest.Tap(t, h.Content(), "Remove")
	}
	if after, _ := wanted(); after != before || h.Shows("Vet: asks again on") {
		t.Errorf("once the visit is taken out %d of %d are open", after, before)
	}
}
