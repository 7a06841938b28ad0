package animal_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// A bath too warm is asked about, with its caution in sight; said to be so, it stands
// among the days with its warmth and its minutes.
func TestBath_CautionsAndAsks(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", care.KindBath)
	if !h.Shows("Never leave the animal alone in it") || !h.Shows("26\u00a0°C to 30\u00a0°C (assumed)") {
		t.Fatalf("no caution: %q", uitest.Texts(h.Content()))
	}
	h.keepPicture("bath")
	h.typed("34")
	h.Canvas().Focus(uitest.Entries(h.Content())[1])
	h.typed("20")
	h.key(fyne.KeyReturn)
	top := h.Canvas().Overlays().Top()
	if top == nil || !uitest.Shows(top, "can burn") {
		t.Fatalf("not asked: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, top, h.Text().Say("window.ask.yes"))
	if b, is := h.entries()[0].Body.(care.Bath); !is || b.Warm.Hundredths != 3400 || b.Minutes != 20 {
		t.Fatalf("kept %+v", h.entries()[0])
	}
	h.show("Wren", "days")
	if !h.Shows("20 minutes") {
		t.Errorf("shown %q", uitest.Texts(h.Content()))
	}
}

// Fluids without the vet who said so are refused at that field, and what was typed stays.
func TestFluids_OnlyAsAVetHasSaid(t *testing.T) {
	h := open(t, "de", small, look.ByDay, one(t))
	h.show("Wren", care.KindFluids)
	h.typed("nach Plan")
	h.key(fyne.KeyReturn)
	if !h.Shows("Bitte eintragen, wer es gesagt hat") || len(h.entries()) != 1 {
		t.Fatalf("shown %q", uitest.Texts(h.Content()))
	}
	h.typed("Dr. Reiher")
	h.key(fyne.KeyReturn)
	if f, is := h.entries()[0].Body.(care.Fluids); !is || f.What != "nach Plan" || f.Advised != "Dr. Reiher" {
		t.Errorf("kept %+v", h.entries()[0])
	}
}

// The days say how long after the one before a shed came, and the form of faeces when
// the last ones were seen.
func TestDays_SayWhenASkinCameOffBefore(t *testing.T) {
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		one(t)(c)
		err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			if err != nil {
				return err
			}
			for _, ago := range []int64{60, 18} {
				at := v.Now()
				at.UTC -= ago * 86400
				about := care.About{Animal: all[0].ID, At: at, Confirmed: model.Confirmed{"day.before-arrival"}}
				if _, err = c.Do(care.RecordShed{About: about, Shed: care.Shed{Skin: care.Whole}}); err != nil {
					return err
				}
				if _, err = c.Do(care.RecordWaste{About: about, Waste: care.Waste{Faeces: []care.Trait{care.Formed}}}); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	})
	h.show("Wren", "days")
	if !h.Shows("42 days after the one before") {
		t.Errorf("shown %q", uitest.Texts(h.Content()))
	}
	h.show("Wren", care.KindWaste)
	if !h.Shows("Last faeces 22 May 2027, urates not noted") {
		t.Errorf("shown %q", uitest.Texts(h.Content()))
	}
}

// A clutch asks how many eggs it had; more than any python lays is refused at that field.
func TestClutch(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", care.KindClutch)
	h.typed("600")
	h.key(fyne.KeyReturn)
	if !h.Shows("150") || len(h.entries()) != 1 {
		t.Fatalf("shown %q", uitest.Texts(h.Content()))
	}
	for range 2 {
		h.key(fyne.KeyBackspace)
	}
	h.key(fyne.KeyReturn)
	if c, is := h.entries()[0].Body.(care.Clutch); !is || c.Eggs != 6 {
		t.Fatalf("kept %+v", h.entries()[0])
	}
	h.show("Wren", "days")
	if !h.Shows("6 eggs") {
		t.Errorf("shown %q", uitest.Texts(h.Content()))
	}
}
