package animal_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/assumed"
	"coilward/model/collection"
	"coilward/model/contact"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/model/samples"
	"coilward/model/storetest"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// sampled is one animal that came 400 days ago, with a sample of each material taken so
// many days ago and looked through for serpentovirus.
func sampled(t *testing.T, found samples.Outcome, taken map[knowledge.MaterialID]int) func(*collection.Collection) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return func(c *collection.Collection) {
		one(t)(c)
		var a animals.Stored
		var now model.Moment
		if err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			a, now = all[0], v.Now()
			return err
		}); err != nil {
			t.Fatal(err)
		}
		day := func(ago int) model.Moment {
			return model.MomentOn(now, now.Day()-model.Day(ago), model.Noon, model.ToDay)
		}
		a.Since = model.Date{Day: day(400).Day(), Precision: model.ToDay}
		do(t, c, animals.Change{ID: a.ID, Base: a.Revision, Animal: a.Animal})
		for material, ago := range taken {
			id := do(t, c, samples.Prepare{Tables: tables, Each: []samples.New{{Animals: []model.AnimalID{a.ID}, Sample: samples.Sample{Material: material, For: []knowledge.AgentID{"serpentovirus"}, Taken: day(ago)}}}})
			do(t, c, samples.Enter{Tables: tables, At: day(ago - 5), Rows: []samples.Row{{On: samples.On{ID: model.SampleID{ID: id}, Base: 1}, Found: []samples.Found{{Of: "serpentovirus", Outcome: found}}}}})
		}
	}
}

func do(t *testing.T, c *collection.Collection, command model.Command) model.ID {
	t.Helper()
	done, err := c.Do(command)
	if err != nil {
		t.Fatal(err)
	}
	return done.Documents[0]
}

// By hand: 50 to 400 of 1,000 such animals carry it. One swab at the high sensitivity and
// the low prior: .05 × .05 of .05 × .05 + .95 × .995, that is 2.6 in 1,000. At the other end
// it was taken well after 42 days, of 600 in 1,000: .4 × .4 of .4 × .4 + .6 × .995: 21.2 in 100.
func TestTests_OneSwabAndOneThatSaysNothing(t *testing.T) {
	h := open(t, "en", small, look.ByDay, sampled(t, samples.NotDetected, map[knowledge.MaterialID]int{"oral-swab": 100, "blood": 60}))
	h.show("Wren", "tests")
	for _, said := range []string{"Chance that Wren carries Serpentovirus: under 1 to 22 in 100", "The next sample is worth taking now.", "5 to 40 in 100 → under 1 to 22 in 100", "says nothing: in such a sample",
		"5 to 40 in 100 of such animals carry it when they come.", "finds 60 to 95 in 100 of those that carry it", "For 7 to 42 days after it is caught", "never published", "The figures never say that an animal is free of something", "Only shared rooms are counted"} {
		if !h.Shows(said) {
			t.Errorf("%q is not said: %q", said, uitest.Texts(h.Content()))
		}
	}
	if beside := uitest.OfASurvey(h.Content()); len(beside) > 0 {
		t.Errorf("figures of a survey are shown: %q", beside)
	}
	uitest.Tap(t, h.Content(), "Lay out a sample")
	if n := len(h.Went); n == 0 || h.Went[n-1].To != place.Tray || h.Went[n-1].Page != "sample:oral-swab:serpentovirus" {
		t.Errorf("went to %+v", h.Went)
	}
	h.show("Wren", "tests")
	uitest.Tap(t, h.Content(), "Worms and protozoa in faeces, 20 to 70 in 100")
	if !h.Shows("No sample of Wren was looked through for Worms") {
		t.Errorf("of another thing: %q", uitest.Texts(h.Content()))
	}
}

func TestTests_WhatWasDetectedLeadsToItsSample(t *testing.T) {
	h := open(t, "de", small, look.ByNight, sampled(t, samples.Detected, map[knowledge.MaterialID]int{"oral-swab": 100}))
	h.show("Wren", "tests")
	if !h.Shows("Bitte die Tierarztpraxis anrufen") {
		t.Errorf("what follows: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Zur Probe")
	if n := len(h.Went); n == 0 || h.Went[n-1].To != place.Tray || h.Went[n-1].Subject.IsZero() {
		t.Errorf("went to %+v", h.Went)
	}
}

// What is not worked out for any python has no figure, and says why.
func TestTests_OfWhatNoFigureIsWorkedOut(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		one(t)(c)
		var a model.AnimalID
		var now model.Moment
		if err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			a, now = all[0].ID, v.Now()
			return err
		}); err != nil {
			t.Fatal(err)
		}
		id := do(t, c, samples.Prepare{Tables: tables, Each: []samples.New{{Animals: []model.AnimalID{a}, Sample: samples.Sample{Material: "blood", For: []knowledge.AgentID{"reptarenavirus"}, Taken: now}}}})
		do(t, c, samples.Enter{Tables: tables, At: now, Rows: []samples.Row{{On: samples.On{ID: model.SampleID{ID: id}, Base: 1}, Found: []samples.Found{{Of: "reptarenavirus", Outcome: samples.NotDetected}}}}})
	})
	h.show("Wren", "tests")
	uitest.Tap(t, h.Content(), "Reptarenavirus, no figure")
	for _, said := range []string{"No figure is worked out for Reptarenavirus", "antibodies say only that it was met", "not detected", "says nothing: in such a sample"} {
		if !h.Shows(said) {
			t.Errorf("%q is not said: %q", said, uitest.Texts(h.Content()))
		}
	}
}

// What is assumed is changed beside the page, and the chance follows: 10 to 30 in 100 in
// the place of 5 to 40.
func TestTests_OwnFiguresInThePlaceOfTheTables(t *testing.T) {
	h := open(t, "en", small, look.ByDay, sampled(t, samples.NotDetected, nil))
	h.show("Wren", "tests")
	uitest.Tap(t, h.Content(), "Change what is assumed")
	if !h.Shows("These figures are assumed. Change one only") {
		t.Fatalf("beside the page: %q", uitest.Texts(h.Content()))
	}
	do(t, h.Collection(), assumed.Change{Tables: h.Tables(), Own: assumed.Own{Row: assumed.Row{Table: assumed.Priors, ID: "serpentovirus-any"}, By: assumed.Vet, Why: "seen in this region",
		Values: map[assumed.Figure]knowledge.Span{assumed.Prior: {Low: 100, Assumed: 200, High: 300}}}})
	if !h.Shows("Chance that Wren carries Serpentovirus: 10 to 30 in 100") || !h.Shows("seen in this region") {
		t.Errorf("after the change: %q", uitest.Texts(h.Content()))
	}
	h.key(fyne.KeyEscape)
	if h.Shows("These figures are assumed. Change one only") || !h.Shows("Chance that Wren") {
		t.Errorf("after Escape: %q", uitest.Texts(h.Content()))
	}
}

// Who was near is said with the room and until when: one in which it was detected and whose
// positive was closed, one that came without a quarantine; and what cannot be read.
func TestTests_OfWhomItMayHaveCaughtIt(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	fill := sampled(t, samples.NotDetected, map[knowledge.MaterialID]int{"oral-swab": 300})
	for language, want := range map[string][]string{
		"en": {"in Loft, until they are parted: Elm, in whose sample it was detected. The positive was closed, but that animal may carry it still", "in Loft: Gorse, for whom no quarantine was begun; it counts as a newcomer for 90 days", "1 quarantine cannot be read; it counts as not released", "shares a room with Elm, who may still carry it"},
		"de": {"in Loft, bis sie getrennt sind: Elm, mit Nachweis in einer Probe", "in Loft: Gorse, ohne begonnene Quarantäne; als Neuzugang zählt es 90 Tage lang", "1 Quarantäne ist nicht lesbar; sie zählt als nicht freigegeben", "mit Elm in einem Raum lebt und Elm es noch tragen kann"},
	} {
		h := open(t, language, small, look.ByDay, func(c *collection.Collection) {
			fill(c)
			var wren model.AnimalID
			var now model.Moment
			if err := c.View(func(v model.View) error {
				all, err := animals.All(v)
				wren, now = all[0].ID, v.Now()
				return err
			}); err != nil {
				t.Fatal(err)
			}
			day := func(ago int) model.Moment {
				return model.MomentOn(now, now.Day()-model.Day(ago), model.Noon, model.ToDay)
			}
			places, err := c.Do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Loft", Kind: husbandry.Room}, Below: []husbandry.Branch{
				{Place: husbandry.Place{Name: "Box 1", Kind: husbandry.Tub}}, {Place: husbandry.Place{Name: "Box 2", Kind: husbandry.Tub}}, {Place: husbandry.Place{Name: "Box 3", Kind: husbandry.Tub}}}}}})
			if err != nil {
				t.Fatal(err)
			}
			came := func(name string, ago int) model.AnimalID {
				return model.AnimalID{ID: do(t, c, animals.Add{Animal: animals.Animal{Name: name, Status: animals.Kept, Since: model.Date{Day: day(ago).Day(), Precision: model.ToDay}}})}
			}
			elm, gorse := came("Elm", 390), came("Gorse", 20)
			for i, id := range []model.AnimalID{wren, elm, gorse} {
				do(t, c, husbandry.Move{Animal: id, Place: model.PlaceID{ID: places.Documents[i+1]}, At: day([]int{200, 200, 20}[i]), Confirmed: model.Confirmed{"house.shared"}})
			}
			s := model.SampleID{ID: do(t, c, samples.Prepare{Tables: tables, Each: []samples.New{{Animals: []model.AnimalID{elm}, Sample: samples.Sample{Material: "oral-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: day(60)}}}})}
			do(t, c, samples.Enter{Tables: tables, At: day(50), Rows: []samples.Row{{On: samples.On{ID: s, Base: 1}, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.Detected}}}}})
			p := contact.PositiveID{ID: do(t, c, contact.Open{Tables: tables, Sample: s, Agent: "serpentovirus"})}
			do(t, c, contact.Close{ID: p, Base: 1, At: day(10), Why: contact.VetsWord, Note: "as said"})
			do(t, c, storetest.Put{Documents: []model.Document{{Type: model.TypeQuarantine, ID: model.ID{8}, Version: 1, At: day(390), Subjects: []model.Subject{elm.Subject()}, Body: []byte("[]")}}})
		})
		h.show("Wren", "tests")
		for _, said := range want {
			if !h.Shows(said) {
				t.Errorf("%s: %q is not said: %q", language, said, uitest.Texts(h.Content()))
			}
		}
	}
}

// Where something was detected in another in the room the page opens on that thing, and not on
// the first or on what the animal was sampled for.
func TestTests_OpensOnWhatWasDetectedBesideIt(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	fill := sampled(t, samples.NotDetected, map[knowledge.MaterialID]int{"oral-swab": 300})
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		fill(c)
		var wren model.AnimalID
		var now model.Moment
		if err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			wren, now = all[0].ID, v.Now()
			return err
		}); err != nil {
			t.Fatal(err)
		}
		day := func(ago int) model.Moment {
			return model.MomentOn(now, now.Day()-model.Day(ago), model.Noon, model.ToDay)
		}
		places, err := c.Do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Loft", Kind: husbandry.Room}, Below: []husbandry.Branch{
			{Place: husbandry.Place{Name: "Box 1", Kind: husbandry.Tub}}, {Place: husbandry.Place{Name: "Box 2", Kind: husbandry.Tub}}}}}})
		if err != nil {
			t.Fatal(err)
		}
		elm := model.AnimalID{ID: do(t, c, animals.Add{Animal: animals.Animal{Name: "Elm", Status: animals.Kept, Since: model.Date{Day: day(390).Day(), Precision: model.ToDay}}})}
		for i, id := range []model.AnimalID{wren, elm} {
			do(t, c, husbandry.Move{Animal: id, Place: model.PlaceID{ID: places.Documents[i+1]}, At: day(200), Confirmed: model.Confirmed{"house.shared"}})
		}
		do(t, c, quarantine.Begin{Tables: tables, Animal: elm, Protocol: "python", Arrived: day(100), Confirmed: model.Confirmed{"day.before-arrival", "quarantine.after-arrival"}})
		s := model.SampleID{ID: do(t, c, samples.Prepare{Tables: tables, Each: []samples.New{{Animals: []model.AnimalID{elm}, Sample: samples.Sample{Material: "oral-swab", For: []knowledge.AgentID{"ferlavirus"}, Taken: day(60)}}}})}
		do(t, c, samples.Enter{Tables: tables, At: day(50), Rows: []samples.Row{{On: samples.On{ID: s, Base: 1}, Found: []samples.Found{{Of: "ferlavirus", Outcome: samples.Detected}}}}})
	})
	h.show("Wren", "tests")
	if !h.Shows("Chance that Wren carries Ferlavirus") {
		t.Errorf("it opens on %q", uitest.Texts(h.Content()))
	}
}
