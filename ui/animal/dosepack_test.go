package animal_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// The fields of a prescription by the weight of the day, and of a dose that was given.
const (
	firstHourField = 8
	lotField       = 11
	expiresField   = 12
	givenTimeField = 1
)

// The hour of the first dose is asked for, the volume goes by the last weight before the
// moment that stands in the form of the dose, and a pack that has expired is said there.
func TestVet_ADoseGoesByItsMomentAndItsPack(t *testing.T) {
	h := open(t, "en", small, look.ByDay, withVet(t))
	now := model.MomentOf(h.Clock.Now())
	ago := func(minutes int64) model.Moment {
		at := now
		at.UTC -= minutes * 60
		return at
	}
	if _, err := h.Collection().Do(care.Weigh{About: care.About{Animal: h.Animal("Wren").ID, At: ago(60)}, Weight: care.Weight{Mass: model.Grams(160)}}); err != nil {
		t.Fatal(err)
	}
	h.show("Wren", "vet")
	uitest.Tap(t, h.Content(), "Note a prescription")
	h.entry(0, "Brown solution")
	uitest.Tap(t, h.Content(), "How it is given")
	h.typed("by mouth")
	h.key(fyne.KeyReturn)
	uitest.Tap(t, h.Content(), "By weight of the day")
	for i, text := range []string{"5 mg/ml", "20 mg/kg", "5", "24 h"} {
		h.entry(3+i, text)
	}
	h.entry(firstHourField, "25:80")
	h.entry(lotField, "A  12")
	h.entry(expiresField, "1/2020")
	uitest.Tap(t, h.Content(), "Keep")
	if len(h.courses("Wren")) != 0 {
		t.Fatal("kept with an hour that no day has")
	}
	h.entry(firstHourField, "6:30")
	uitest.Tap(t, h.Content(), "Keep")
	all := h.courses("Wren")
	if len(all) != 1 || all[0].Pack.Lot != "A 12" || all[0].Pack.Expires != (model.Date{Day: model.NewDay(2020, 1, 1), Precision: model.ToMonth}) ||
		(all[0].Begins.UTC+int64(all[0].Begins.Offset))%86400 != (6*60+30)*60 || all[0].Begins.Precision != model.ToMinute {
		t.Fatalf("kept %+v: %q", all, uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Given")
	if !h.Shows("0.64\u00a0ml") || !h.Shows("The pack has expired") {
		t.Errorf("now: %q", uitest.Texts(h.Content()))
	}
	h.entry(givenTimeField, h.Text().Time(ago(120)))
	if !h.Shows("0.58\u00a0ml") { // the course beside the form goes by the present
		t.Errorf("before the last weighing: %q", uitest.Texts(h.Content()))
	}
}
