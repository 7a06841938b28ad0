package animal_test

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/medicine"
	"coilward/model/people"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// withVet is one animal of 140 g, weighed yesterday, and a vet.
func withVet(t *testing.T) func(*collection.Collection) {
	return func(c *collection.Collection) {
		one(t)(c)
		weigh(t, c, model.Grams(145), 1)
		if _, err := c.Do(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}}}); err != nil {
			t.Fatal(err)
		}
	}
}

// entry types into a field of the form; before them stands the line for a question.
func (h *hand) entry(i int, text string) {
	h.T.Helper()
	uitest.Entries(h.Content())[i+1].(interface{ SetText(string) }).SetText(text)
}

// courses are the prescriptions of the animal.
func (h *hand) courses(name string) (all []medicine.Stored) {
	h.T.Helper()
	if err := h.Collection().View(func(v model.View) (err error) { all, err = medicine.Of(v, h.Animal(name).ID); return err }); err != nil {
		h.T.Fatal(err)
	}
	return all
}

// prescribe fills in the form of a prescription of 20 mg/kg in 50 mg/ml by mouth.
func (h *hand) prescribe(times, every string) {
	h.T.Helper()
	uitest.Tap(h.T, h.Content(), "Note a prescription")
	h.entry(0, "Brown solution")
	uitest.Tap(h.T, h.Content(), "How it is given")
	h.typed("by mouth")
	h.key(fyne.KeyReturn)
	uitest.Tap(h.T, h.Content(), "By weight of the day")
	h.entry(3, "5 mg/ml")
	h.entry(4, "20 mg/kg")
	h.entry(5, times)
	h.entry(6, every)
	uitest.Tap(h.T, h.Content(), "Keep")
}

// A prescription is copied, its doses are told, one is missed, and the vet's answer
// closes that; each can be undone.
func TestVet_APrescriptionAndItsDoses(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	h.show("Wren", "vet")
	if !h.Shows("Nothing is prescribed for Wren") {
		t.Errorf("empty: %q", uitest.Texts(h.Content()))
	}
	h.prescribe("5", "0")
	if !h.Shows("all doses at once") || len(h.courses("Wren")) != 0 {
		t.Errorf("interval 0: %q", uitest.Texts(h.Content()))
	}
	h.entry(6, "24 h")
	uitest.Tap(t, h.Content(), "Keep")
	if !h.Shows("20 mg/kg × 0.145 kg ÷ 5 mg/ml = 0.58 ml") || !h.Shows("prescribed by Dr Ada Fern") {
		t.Fatalf("prescribed: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Given")
	uitest.Tap(t, h.Content(), "Keep")
	if !h.Shows("1 of 5 doses given") {
		t.Fatalf("given: %q", uitest.Texts(h.Content()))
	}
	h.Undo()
	if !h.Shows("0 of 5 doses given") {
		t.Error("a dose is not undone")
	}
	h.Redo()
	h.Clock.Pass(48 * time.Hour)
	h.show("Wren", "vet")
	if !h.Shows("1 not noted") {
		t.Errorf("two days later: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Missed")
	uitest.Tap(t, h.Content(), "Keep")
	if !h.Shows("Dose 2 of") || !h.Shows("Never give two to make up for it") {
		t.Fatalf("missed: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "What the vet said")
	uitest.Tap(t, h.Content(), "Keep")
	if !h.Shows("Nothing is entered") {
		t.Errorf("an empty word: %q", uitest.Texts(h.Content()))
	}
	h.entry(0, "go on as planned")
	uitest.Tap(t, h.Content(), "Keep")
	if h.Shows("Never give two") || !h.Shows("1 missed") {
		t.Errorf("answered: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "End the course")
	uitest.Tap(t, h.Content(), "The plan is through")
	press := h.Content()
	uitest.Tap(t, press, "End the course")
	if h.courses("Wren")[0].Ended != nil {
		t.Error("it is called through with doses left")
	}
}

// Without a vet among the people nothing can be prescribed, and the form says so.
func TestVet_WithoutAPrescriber(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "vet")
	h.prescribe("5", "24 h")
	if !h.Shows("Choose the vet who prescribed it") || len(h.courses("Wren")) != 0 {
		t.Errorf("%q", uitest.Texts(h.Content()))
	}
}

// A volume that goes by a weight of a scale which failed its check says so.
func TestVet_AVolumeByADoubtfulWeightSaysSo(t *testing.T) {
	for _, good := range []bool{true, false} {
		h := open(t, "en", small, look.ByDay, withVet(t))
		done, err := h.Collection().Do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Kitchen scale", Kind: husbandry.Scale}})
		if err != nil {
			t.Fatal(err)
		}
		scale := model.InstrumentID{ID: done.Documents[0]}
		at := model.MomentOf(h.Clock.Now())
		if _, err := h.Collection().Do(care.Weigh{About: care.About{Animal: h.Animal("Wren").ID, At: at}, Weight: care.Weight{Mass: model.Grams(144), With: scale}}); err != nil {
			t.Fatal(err)
		}
		if _, err := h.Collection().Do(husbandry.CheckInstrument{Instrument: scale, At: at, Check: husbandry.InstrumentCheck{Good: good}}); err != nil {
			t.Fatal(err)
		}
		h.show("Wren", "vet")
		h.prescribe("5", "24 h")
		if len(h.courses("Wren")) != 1 {
			t.Fatalf("not kept: %q", uitest.Texts(h.Content()))
		}
		if h.Shows("Kitchen scale failed its check") == good {
			t.Errorf("good %t: %q", good, uitest.Texts(h.Content()))
		}
	}
}

// The volume that is shown is that by the weight which the dose is noted by: one that is
// typed at once counts at once.
func TestVet_TheVolumeGoesByTheWeightThatIsTyped(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	h.show("Wren", "vet")
	h.prescribe("5", "24 h")
	uitest.Tap(t, h.Content(), "Given")
	h.entry(2, "160 g")
	if !h.Shows("0.64\u00a0ml") || !h.Shows("20 mg/kg × 0.16 kg ÷ 5 mg/ml = 0.64 ml") {
		t.Errorf("160 g: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Keep")
	if d, _ := h.courses("Wren")[0].Dose(1); d.Drawn != 640 {
		t.Errorf("noted %+v", d)
	}
}

// A dose stands on the day on which it was given; where that is another, the planned one
// is told beside it.
func TestVet_ADoseStandsOnItsDay(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	h.show("Wren", "vet")
	h.prescribe("5", "48 h")
	c := h.courses("Wren")[0]
	at := model.MomentOf(h.Clock.Now())
	if h.Shows("planned") {
		t.Errorf("nothing is given: %q", uitest.Texts(h.Content()))
	}
	if _, err := h.Collection().Do(medicine.Tell{Tables: h.Tables(), ID: c.ID, Base: c.Revision, Number: 2, Did: medicine.Given, At: at, Confirmed: model.Confirmed{"medicine.early"}}); err != nil {
		t.Fatal(err)
	}
	if !h.Shows("planned " + h.Text().DayOfYear(at.Day()+2)) {
		t.Errorf("%q", uitest.Texts(h.Content()))
	}
}

// Where the last weight is old, one is asked for there, and one is back on the page once
// it is kept.
func TestVet_WeighedAgain(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	h.show("Wren", "vet")
	h.prescribe("5", "24 h")
	if h.Shows("Weigh now") {
		t.Error("asked for though it was weighed yesterday")
	}
	h.Clock.Pass(8 * 24 * time.Hour)
	h.show("Wren", "vet")
	uitest.Tap(t, h.Content(), "Weigh now")
	h.typed("150")
	uitest.Tap(t, h.Content(), "Keep")
	if h.Shows("Weigh now") || !h.Shows("20 mg/kg × 0.15 kg ÷ 5 mg/ml = 0.6 ml") {
		t.Errorf("%q", uitest.Texts(h.Content()))
	}
}

// A course stands among the days, and each word on a dose on its own; both lead to the
// calendar.
func TestVet_ACourseAndItsDosesStandAmongTheDays(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	h.show("Wren", "vet")
	h.prescribe("5", "24 h")
	uitest.Tap(t, h.Content(), "Given")
	uitest.Tap(t, h.Content(), "Keep")
	h.Clock.Pass(24 * time.Hour)
	h.show("Wren", "days")
	for _, want := range []string{"Prescribed: Brown solution", "Brown solution: given", "dose 1 of 5", "0.58\u00a0ml"} {
		if !h.Shows(want) {
			t.Errorf("not shown: %q in %q", want, uitest.Texts(h.Content()))
		}
	}
	uitest.Tap(t, h.Content(), "Brown solution: given")
	if !h.Shows("1 of 5 doses given") {
		t.Errorf("it leads to %q", uitest.Texts(h.Content()))
	}
}

// The first dose of a course lies ahead, without a year too.
func TestVet_TheFirstDoseLiesAhead(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	h.show("Wren", "vet")
	h.prescribe("5", "")
	day := model.MomentOf(h.Clock.Now()).Day() + 3
	h.entry(7, h.Text().DayOfYear(day))
	h.entry(6, "24 h")
	uitest.Tap(t, h.Content(), "Keep")
	if all := h.courses("Wren"); len(all) != 1 || all[0].Begins.Day() != day {
		t.Errorf("%+v, %q", all, uitest.Texts(h.Content()))
	}
}
