package animal_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/medicine"
	"coilward/ui/look"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// form are the texts of the form with where they stand, from top to bottom of its parts.
func (h *hand) form() (all []saying) {
	h.T.Helper()
	var left float32
	field := uitest.Entries(h.Content())[1]
	uitest.Walk(h.Content(), func(s uitest.Seen) bool {
		if f, is := s.Object.(fyne.Focusable); is && f == field {
			left = s.At.X - 40
		}
		return true
	})
	uitest.Walk(h.Content(), func(s uitest.Seen) bool {
		if t, is := s.Object.(*widgets.Text); is && s.At.X >= left {
			all = append(all, saying{t.Text(), s.At.Y})
		}
		return true
	})
	return all
}

// saying is a text of a form, so far below the top of the window.
type saying struct {
	text string
	at   float32
}

// said is how far below the top of the window a text stands in the form: one that is just
// that, else the first with that in it.
func (h *hand) said(text string) (at float32, is bool) {
	h.T.Helper()
	all := h.form()
	i := slices.IndexFunc(all, func(s saying) bool { return s.text == text })
	if i < 0 {
		i = slices.IndexFunc(all, func(s saying) bool { return strings.Contains(s.text, text) })
	}
	if i < 0 {
		return 0, false
	}
	return all[i].at, true
}

// refuses presses Keep in a form whose fields hold what is typed, by their place, and wants
// one refusal, right below its field: beneath the caption, and above the caption after it.
// What was typed stays.
func (h *hand) refuses(name, act string, typed map[int]string, want, caption, after string) {
	h.T.Helper()
	before := map[int]string{}
	for i, text := range typed {
		before[i] = h.entered(i)
		h.entry(i, text)
	}
	if act != "" {
		uitest.Tap(h.T, h.Content(), act)
	} else { // there are two of its name
		h.Window().Canvas().Focus(uitest.Entries(h.Content())[1])
		h.key(fyne.KeyReturn)
	}
	h.refused(name, want, caption, after)
	for i, text := range typed {
		if got := h.entered(i); got != text {
			h.T.Errorf("%s: typed %q, there stands %q", name, text, got)
		}
		h.entry(i, before[i])
	}
}

// refused wants a refusal below a caption, and above the one after it.
func (h *hand) refused(name, want, caption, after string) {
	h.T.Helper()
	at, said := h.said(want)
	from, under := h.said(caption)
	to, over := h.said(after)
	switch {
	case !said:
		h.T.Errorf("%s: %q is not said: %v", name, want, h.form())
	case !under || at <= from || after != "" && (!over || at >= to):
		h.T.Errorf("%s: %q stands at %v, not between %q at %v and %q at %v", name, want, at, caption, from, after, to)
	}
}

// entered is what stands in a field of the form.
func (h *hand) entered(i int) string {
	h.T.Helper()
	return reflect.ValueOf(uitest.Entries(h.Content())[i+1]).Elem().FieldByName("Text").String()
}

// Whatever is wrong in a visit that is planned is said at its field.
func TestVisit_WrongValuesOfAPlannedOne(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "vet")
	uitest.Tap(t, h.Content(), "Plan a visit")
	day := model.MomentOf(h.Clock.Now()).Day()
	h.entry(0, h.Text().DayShort(day+3))
	h.entry(2, "By the mill")
	for _, c := range []struct {
		name                 string
		typed                map[int]string
		want, caption, after string
	}{
		{"no day", map[int]string{0: ""}, "Enter when the visit is to be", "Day", "Time"},
		{"no such day", map[int]string{0: "31.2.2028"}, "There is no such day", "Day", "Time"},
		{"a word for a day", map[int]string{0: "soon"}, "cannot be read as a day", "Day", "Time"},
		{"a past day", map[int]string{0: h.Text().DayShort(day - 1)}, "That day is past", "Day", "Time"},
		{"a day more than a year ahead", map[int]string{0: h.Text().DayShort(day + medicine.MaxDays + 1)}, "more than a year away", "Day", "Time"},
		{"no hour", map[int]string{1: "noonish"}, "cannot be read as a time", "Time", "Practice"},
		{"an hour that is none", map[int]string{1: "25:00"}, "There is no such time", "Time", "Practice"},
		{"nobody's visit", map[int]string{2: ""}, "Which vet?", "Vet", "Practice"},
		{"a practice of too many signs", map[int]string{2: strings.Repeat("m", medicine.MaxLine+1)}, "at most 200 fit", "Practice", "What for"},
		{"the upper of two", map[int]string{0: "soon", 1: "noonish"}, "cannot be read as a day", "Day", "Time"},
	} {
		h.refuses(c.name, "Keep", c.typed, c.want, c.caption, c.after)
	}
	if visits, _ := h.visits("Wren"); len(visits) != 0 {
		t.Errorf("planned: %+v", visits)
	}
}

// Whatever is wrong in a visit that was held is said at its field; so it is in an answer and
// in the words of a question.
func TestVisit_WrongValuesOfOneThatWasHeld(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	h.show("Wren", "vet")
	if _, err := h.Collection().Do(medicine.AskQuestion{Animal: h.Animal("Wren").ID, At: model.MomentOf(h.Clock.Now()), Words: "May she bathe?"}); err != nil {
		t.Fatal(err)
	}
	day := model.MomentOf(h.Clock.Now()).Day()
	uitest.Tap(t, h.Content(), "Note a visit")
	for _, c := range []struct {
		name                 string
		typed                map[int]string
		want, caption, after string
	}{
		{"held in the future", map[int]string{0: h.Text().DayShort(day + 1)}, "This lies ahead", "Day", "Time"},
		{"held in the next hours", map[int]string{1: "23:59"}, "This lies ahead", "Day", "Vet"},
		{"answered before it was asked", map[int]string{0: h.Text().DayShort(day - 2), 5: "Yes."}, "It cannot be closed before", "The vet’s answer", "Next visit on"},
		{"the next one before this", map[int]string{6: h.Text().DayShort(day)}, "The next visit comes after this one", "Next visit on", ""},
		{"the next one on no day", map[int]string{6: "some time"}, "cannot be read as a day", "Next visit on", ""},
	} {
		h.refuses(c.name, "Keep", c.typed, c.want, c.caption, c.after)
	}
	if visits, _ := h.visits("Wren"); len(visits) != 0 {
		t.Errorf("noted: %+v", visits)
	}
}

// Whatever is wrong in a prescription is said at its field, the upper one first.
func TestVet_WrongValuesOfAPrescription(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	h.show("Wren", "vet")
	h.prescribe("", "24 h") // stays open: how long is not said
	day := model.MomentOf(h.Clock.Now()).Day()
	short := func(days model.Day) string { return h.Text().DayShort(day + days) }
	h.entry(5, "4")
	for _, c := range []struct {
		name                 string
		typed                map[int]string
		want, caption, after string
	}{
		{"no medicine", map[int]string{0: " "}, "Nothing is entered", "Medicine", "What for"},
		{"prescribed ahead", map[int]string{2: short(1)}, "This lies ahead", "Prescribed on", "How it is dosed"},
		{"no concentration", map[int]string{3: ""}, "no volume can be worked out", "Concentration (mg/ml)", "Dose"},
		{"a concentration of nothing", map[int]string{3: "0 mg/ml"}, "concentration of nothing cannot be", "Concentration (mg/ml)", "Dose"},
		{"a dose of no unit", map[int]string{4: "20"}, "of what: mg/kg or ml/kg?", "Dose", "How many doses"},
		{"a dose of an unknown unit", map[int]string{4: "20 drops/kg"}, "drops/kg", "Dose", "How many doses"},
		{"neither number nor last day", map[int]string{5: ""}, "How long is it given?", "How many doses", "From one dose to the next"},
		{"half a dose more", map[int]string{5: "4.5"}, "whole number", "How many doses", "From one dose to the next"},
		{"all at once", map[int]string{6: "0"}, "all doses at once", "From one dose to the next", "First dose on"},
		{"an unknown time", map[int]string{6: "2 moons"}, "is no time known here", "From one dose to the next", "First dose on"},
		{"begun before it was prescribed", map[int]string{7: short(-3)}, "The first dose cannot be before", "First dose on", "Last day"},
		{"begun at no hour", map[int]string{8: "late"}, "cannot be read as a time", "First dose on", "Last day"},
		{"over before it begins", map[int]string{9: short(-1)}, "The last day cannot be before it", "Last day", "Vet wants to see"},
		{"seen again before", map[int]string{10: short(-1)}, "Enter that day or a later one", "Vet wants to see", "Lot"},
		{"a pack of no date", map[int]string{12: "old"}, "cannot be read as", "Vet wants to see", "What else the vet said"},
		{"the dose stands above the last day", map[int]string{4: "20 drops/kg", 9: "soon", 12: "old"}, "drops/kg", "Dose", "How many doses"},
		{"the last day stands above the pack", map[int]string{9: "soon", 12: "old"}, "cannot be read as a day", "Last day", "Vet wants to see"},
		{"the first day stands above its hour", map[int]string{7: "soon", 8: "late"}, "cannot be read as a day", "First dose on", "Last day"},
		{"the medicine stands above the prescriber's day", map[int]string{0: "", 2: short(1)}, "Nothing is entered", "Medicine", "What for"},
	} {
		h.refuses(c.name, "Keep", c.typed, c.want, c.caption, c.after)
	}
	if all := h.courses("Wren"); len(all) != 0 {
		t.Errorf("noted: %+v", all)
	}
	uitest.Tap(t, h.Content(), "Keep")
	if all := h.courses("Wren"); len(all) != 1 {
		t.Fatalf("what is right is not kept: %q", uitest.Texts(h.Content()))
	}
	h.Clock.Pass(time.Hour)
	uitest.Tap(t, h.Content(), "Given")
	h.refuses("given tomorrow", "Keep", map[int]string{0: short(1)}, "This lies ahead", "Day", "Note")
	h.refuses("given before it was prescribed", "Keep", map[int]string{0: short(-1)}, "It was prescribed on", "Day", "Note")
	h.refuses("given at no hour", "Keep", map[int]string{1: "late"}, "cannot be read as a time", "Time", "Note")
	h.refuses("a weight of no unit known", "Keep", map[int]string{2: "12 stone"}, "stone", "Time", "Note")
	if d := h.courses("Wren")[0].Doses; len(d) != 0 {
		t.Errorf("given: %+v", d)
	}
}

// Without a vet among the people that is said where one is chosen, and what was typed stays.
func TestVet_APrescriptionOfNobodyIsRefusedAtTheVet(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "vet")
	h.prescribe("5", "24 h")
	h.refused("nobody", "Choose the vet who prescribed it", "Vet", "Prescribed on")
	if got := h.entered(0); got != "Brown solution" || len(h.courses("Wren")) != 0 {
		t.Errorf("there stands %q", got)
	}
}

// Whatever is wrong in the words of a question, in its answer, in a dose that was left out and
// at the end of a course is said at its field.
func TestVet_WrongWords(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	h.show("Wren", "vet")
	at := model.MomentOf(h.Clock.Now())
	if _, err := h.Collection().Do(medicine.AskQuestion{Animal: h.Animal("Wren").ID, At: at, Words: "May she bathe?"}); err != nil {
		t.Fatal(err)
	}
	short := func(days model.Day) string { return h.Text().DayShort(at.Day() + days) }
	uitest.Tap(t, h.Content(), "The vet’s answer")
	h.refuses("no answer", "Keep", map[int]string{0: " "}, "Nothing is entered", "The vet’s answer", "Day")
	h.refuses("answered tomorrow", "Keep", map[int]string{0: "Yes.", 1: short(1)}, "This lies ahead", "Day", "Keep")
	h.refuses("answered before it was asked", "Keep", map[int]string{0: "Yes.", 1: short(-1)}, "It cannot be closed before", "Day", "Keep")
	h.key(fyne.KeyEscape)
	uitest.Tap(t, h.Content(), "Change")
	h.refuses("no words", "Keep", map[int]string{0: ""}, "Nothing is entered", "Question to the vet", "Keep")
	h.key(fyne.KeyEscape)
	if _, questions := h.visits("Wren"); len(questions) != 1 || !questions[0].Open() || questions[0].Words != "May she bathe?" {
		t.Errorf("asked: %+v", questions)
	}
	h.prescribe("3", "24 h")
	uitest.Tap(t, h.Content(), "Given")
	uitest.Tap(t, h.Content(), "Left out")
	h.refuses("left out without a reason", "Keep", map[int]string{1: ""}, "Write down why the dose was left out", "Why it was left out", "Note")
	h.key(fyne.KeyEscape)
	uitest.Tap(t, h.Content(), "End the course")
	h.entry(1, "she said so")
	uitest.Tap(t, h.Content(), "Missed")
	if h.entered(1) != "she said so" || !h.Shows("End Brown solution") {
		t.Error("another form took the place of one in which something was typed")
	}
	h.refuses("ended without the vet's words", "", map[int]string{1: " "}, "Write down what the vet said", "Note", "")
	if c := h.courses("Wren")[0]; c.Ended != nil || len(c.Doses) != 0 {
		t.Errorf("noted: %+v", c)
	}
}
