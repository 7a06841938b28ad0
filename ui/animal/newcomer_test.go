package animal_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	"coilward/model/storetest"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// inQuarantine is one animal that came ten days ago.
func inQuarantine(t testing.TB) func(*collection.Collection) {
	return func(c *collection.Collection) {
		tables, err := knowledge.Load(assets.Knowledge())
		if err != nil {
			t.Fatal(err)
		}
		var now model.Moment
		if err := c.View(func(v model.View) error { now = v.Now(); return nil }); err != nil {
			t.Fatal(err)
		}
		done, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Dunnock", Status: animals.Kept}})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := c.Do(quarantine.Begin{Tables: tables, Animal: model.AnimalID{ID: done.Documents[0]}, Protocol: newcomers.Usual,
			Arrived: model.MomentOn(now, now.Day()-10, model.Noon, model.ToDay), Confirmed: model.Confirmed{"day.before-arrival"}}); err != nil {
			t.Fatal(err)
		}
	}
}

func TestTheHeadSaysHowFarAQuarantineHasCome(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, inQuarantine(t))
	h.show("Dunnock", "")
	uitest.Tap(t, h.Content(), "Newcomer, day 10 of 90")
	if n := len(h.Went); n == 0 || h.Went[n-1].To != place.Newcomers || h.Went[n-1].Subject != h.Animal("Dunnock").ID.ID {
		t.Errorf("it leads to %v", h.Went)
	}
}

// One that came lately and never was in quarantine is offered it; one that hatched
// here is not.
func TestTheHeadOffersAQuarantineToWhoCame(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, func(c *collection.Collection) {
		var today model.Day
		if err := c.View(func(v model.View) error { today = v.Now().Day(); return nil }); err != nil {
			t.Fatal(err)
		}
		on := model.Date{Day: today - 4, Precision: model.ToDay}
		for _, a := range []animals.Animal{{Name: "Dunnock", Since: on, Status: animals.Kept}, {Name: "Wren", Since: on, Hatched: on, Status: animals.Kept}} {
			if _, err := c.Do(animals.Add{Animal: a}); err != nil {
				t.Fatal(err)
			}
		}
	})
	h.show("Wren", "")
	if h.Shows("begin quarantine") {
		t.Error("it is offered to one that hatched here")
	}
	h.show("Dunnock", "")
	uitest.Tap(t, h.Content(), "Came on 5 June 2027: begin quarantine")
	if n := len(h.Went); n == 0 || h.Went[n-1].To != place.Newcomers || h.Went[n-1].Subject != h.Animal("Dunnock").ID.ID || h.Went[n-1].Page != "new" {
		t.Errorf("it leads to %v", h.Went)
	}
}

// A quarantine that cannot be read is said in the head; the page stands all the same, and
// no other is offered.
func TestTheHeadSaysThatAQuarantineCannotBeRead(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, func(c *collection.Collection) {
		var now model.Moment
		if err := c.View(func(v model.View) error { now = v.Now(); return nil }); err != nil {
			t.Fatal(err)
		}
		done, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Dunnock", Since: model.Date{Day: now.Day() - 4, Precision: model.ToDay}, Status: animals.Kept}})
		if err != nil {
			t.Fatal(err)
		}
		bad := model.Document{Type: model.TypeQuarantine, ID: model.ID{1}, Version: 1, At: now, Subjects: []model.Subject{{Kind: model.SubjectAnimal, ID: done.Documents[0]}}, Body: []byte(`[]`)}
		if _, err := c.Do(storetest.Put{Documents: []model.Document{bad}}); err != nil {
			t.Fatal(err)
		}
	})
	h.show("Dunnock", "")
	if h.Shows("begin quarantine") {
		t.Error("another is offered")
	}
	uitest.Tap(t, h.Content(), "Its quarantine cannot be read")
	if n := len(h.Went); n == 0 || h.Went[n-1].To != place.Newcomers || h.Went[n-1].Subject != h.Animal("Dunnock").ID.ID {
		t.Errorf("it leads to %v", h.Went)
	}
	if _, err := h.Collection().Do(storetest.Remove{IDs: []model.ID{{1}}}); err != nil {
		t.Fatal(err)
	}
	h.show("Dunnock", "")
	if h.Shows("cannot be read") || !h.Shows("begin quarantine") {
		t.Error("it is said of one that is gone")
	}
}

// A treatment against mites is noted with its caution, and opens again as it was noted.
func TestATreatmentAgainstMitesIsNotedAndOpens(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, inQuarantine(t))
	h.show("Dunnock", care.KindMiteLook)
	uitest.Tap(t, h.Content(), "Treated for mites") // it is offered beside where they were seen
	if !h.Shows("No product and no dose is proposed here") {
		t.Error("no caution")
	}
	uitest.Tap(t, h.Content(), "Keep")
	fields := uitest.Entries(h.Content())
	uitest.Type(h.Canvas(), "washed as the vet said")
	h.Focus(fields[1])
	uitest.Type(h.Canvas(), "the vet")
	uitest.Tap(t, h.Content(), "Keep")
	var entry model.ID
	var noted care.MiteTreatment
	err := h.Collection().View(func(v model.View) error {
		return v.Timeline(h.Animal("Dunnock").ID.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
			if e, known, err := care.Decode(d); err == nil && known {
				if m, is := e.Body.(care.MiteTreatment); is {
					entry, noted = d.ID, m
				}
			}
			return true
		})
	})
	if err != nil || noted.What != "washed as the vet said" || noted.Advised != "the vet" || !noted.Until.IsZero() {
		t.Fatalf("%+v, %v", noted, err)
	}
	h.show("Dunnock", entry.String())
	if !h.Shows("No product and no dose is proposed here") || !h.Shows("Remove") {
		t.Errorf("it does not open: %q", uitest.Texts(h.Content()))
	}
}

// The arrival's weight asks what its gut held, without a choice made already.
func TestTheArrivalsWeightAsksForTheGut(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, inQuarantine(t))
	h.show("Dunnock", care.KindWeight)
	uitest.Type(h.Canvas(), "812 g")
	uitest.Tap(t, h.Content(), "Keep")
	if !h.Shows("Nothing is entered") {
		t.Fatalf("it is kept without its gut: %q", uitest.Texts(h.Content()))
	}
	if !h.Shows("right before a meal, and say so") {
		t.Error("it does not say why")
	}
}
