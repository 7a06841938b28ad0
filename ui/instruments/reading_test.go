package instruments_test

import (
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/storetest"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// What an instrument showed is read before it is noted: what is no mass, no
// temperature, no humidity is refused at its field, and a bare number is kept with
// its unit, as typed.
func TestWhatAnInstrumentShowedIsRead(t *testing.T) {
	for name, c := range map[string]struct {
		kind          husbandry.InstrumentKind
		language      string
		typed, wanted string // wanted: as it is kept; empty: refused
	}{
		"a mass":                      {husbandry.Scale, "de", "199,5", "199,5\u00a0g"},
		"a mass with its unit":        {husbandry.Scale, "en", "0.2 kg", "0.2 kg"},
		"no mass":                     {husbandry.Scale, "en", "199,5 abc", ""},
		"words":                       {husbandry.Scale, "en", "about right", ""},
		"a temperature":               {husbandry.Thermometer, "de", "31,5", "31,5\u00a0°C"},
		"a temperature of degrees":    {husbandry.Thermostat, "en", "31 °", "31\u00a0°C"},
		"a temperature in another":    {husbandry.Thermometer, "en", "88 F", "88 F"},
		"a mass at a thermometer":     {husbandry.Thermometer, "en", "200 g", ""},
		"a humidity":                  {husbandry.Hygrometer, "en", "55", "55\u00a0%"},
		"more than all of a humidity": {husbandry.Hygrometer, "en", "120 %", ""},
		"what a lamp gives":           {husbandry.UVLamp, "en", "index 3 at 30 cm", "index 3 at 30 cm"},
	} {
		w := open(t, plain(), c.language, func(to *collection.Collection) {
			if _, err := to.Do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Instrument", Kind: c.kind}}); err != nil {
				t.Fatal(err)
			}
		}, place.Route{})
		text := w.Text()
		w.Go(place.Route{To: place.Instruments, Subject: kit(w).Instruments[0].ID.ID})
		uitest.Tap(t, w.Content(), text.Say("instruments.check"))
		typeInto(w, 1, c.typed)
		uitest.Tap(t, w.Content(), particulars.Capital(text.Say("husbandry.check.good")))
		uitest.Tap(t, w.Content(), text.Say("instruments.note-check"))
		checks := kit(w).Instruments[0].Checks
		switch {
		case c.wanted == "" && (len(checks) != 0 || !w.Shows(c.typed)):
			t.Errorf("%s: %q was noted, or is gone from its field", name, c.typed)
		case c.wanted != "" && (len(checks) != 1 || checks[0].Reading != c.wanted || !checks[0].Good):
			t.Errorf("%s: %q became %+v, want %q: %q", name, c.typed, checks, c.wanted, uitest.Texts(w.Content()))
		}
	}
}

// A check that is put right shows the figure beside its unit, not the unit twice,
// and what is not touched is kept as it was, readable or not.
func TestACheckPutRightKeepsWhatIsNotTouched(t *testing.T) {
	w := open(t, plain(), "en", func(to *collection.Collection) {
		change, err := to.Do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Kitchen scale", Kind: husbandry.Scale}})
		if err == nil {
			_, err = to.Do(husbandry.CheckInstrument{Instrument: model.InstrumentID{ID: change.Documents[0]}, At: model.MomentOf(storetest.Start()), Check: husbandry.InstrumentCheck{Reading: "a bit less", Reference: "200\u00a0g"}})
		}
		if err != nil {
			t.Fatal(err)
		}
	}, place.Route{})
	w.Go(place.Route{To: place.Instruments, Subject: kit(w).Instruments[0].ID.ID})
	uitest.Tap(t, w.Content(), w.Text().DayShort(model.MomentOf(storetest.Start()).Day()))
	if !slices.Contains(uitest.Texts(w.Content()), "200") {
		t.Errorf("the field beside its unit holds more than the figure: %q", uitest.Texts(w.Content()))
	}
	typeInto(w, 3, "seen by two")
	uitest.Tap(t, w.Content(), w.Text().Say("instruments.note-check"))
	if c := kit(w).Instruments[0].Checks; len(c) != 1 || c[0].Note != "seen by two" || c[0].Reading != "a bit less" || c[0].Reference != "200\u00a0g" {
		t.Errorf("%+v: %q", c, uitest.Texts(w.Content()))
	}
}
