package animals_test

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// beside are Wren and Siskin in one room, and Merle elsewhere; detect finds something
// in a sample of Wren.
func beside(t *testing.T) (fill, detect func(*collection.Collection)) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	do := func(c *collection.Collection, command model.Command) model.ID {
		t.Helper()
		done, err := c.Do(command)
		if err != nil {
			t.Fatal(err)
		}
		return done.Documents[0]
	}
	yes := model.Confirmed{"day.before-arrival", "sample.kept-long", "sample.over-weekend"}
	var wren model.AnimalID
	daysAgo := func(c *collection.Collection, n model.Day) (m model.Moment) {
		if err := c.View(func(v model.View) error {
			m = model.MomentOn(v.Now(), v.Now().Day()-n, model.Noon, model.ToDay)
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		return m
	}
	fill = func(c *collection.Collection) {
		room := model.PlaceID{ID: do(c, husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Kind: husbandry.Room, Name: "Back room"}}}})}
		for _, name := range []string{"Wren", "Siskin", "Merle"} {
			id := model.AnimalID{ID: do(c, animals.Add{Animal: animals.Animal{Name: name}})}
			if name == "Wren" {
				wren = id
			}
			if name != "Merle" {
				box := model.PlaceID{ID: do(c, husbandry.AddPlaces{Parent: room, Branches: []husbandry.Branch{{Place: husbandry.Place{Kind: husbandry.Tub, Name: name}}}})}
				do(c, husbandry.Move{Animal: id, Place: box, At: daysAgo(c, 30)})
			}
		}
	}
	detect = func(c *collection.Collection) {
		id := do(c, samples.Prepare{Tables: tables, Each: []samples.New{{Animals: []model.AnimalID{wren}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: daysAgo(c, 8)}}}, Confirmed: yes})
		do(c, samples.Enter{Tables: tables, At: daysAgo(c, 1), Rows: []samples.Row{{On: samples.On{ID: model.SampleID{ID: id}, Base: 1}, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.Detected}}}}, Confirmed: yes})
	}
	return fill, detect
}

// What was detected stands in the list, at its animal and at those near it: when all are
// read, when it happens in sight, and when it happened meanwhile.
func TestRoster_SaysWhatWasDetectedAndWhoWasNear(t *testing.T) {
	size := fyne.NewSize(1280, 800)
	fill, detect := beside(t)
	says := func(when string, h *hand) {
		t.Helper()
		texts := uitest.Texts(h.Content())
		for _, words := range []string{"detected", "Serpentovirus", "near a positive"} {
			if !slices.Contains(texts, words) {
				t.Errorf("%s: no %q in %q", when, words, texts)
			}
		}
		uitest.Tap(t, h.Content(), "Detected or near")
		if texts := uitest.Texts(h.Content()); !slices.Contains(texts, "Wren") || !slices.Contains(texts, "Siskin") || slices.Contains(texts, "Merle") {
			t.Errorf("%s, detected or near: %q", when, texts)
		}
		uitest.Tap(t, h.Content(), "Detected or near")
		uitest.Tap(t, h.Content(), "Something open")
		if texts := uitest.Texts(h.Content()); !slices.Contains(texts, "Wren") || slices.Contains(texts, "Merle") {
			t.Errorf("%s, something open: %q", when, texts)
		}
		uitest.Tap(t, h.Content(), "Something open")
	}
	first := open(t, "en", size, look.ByDay, func(c *collection.Collection) { fill(c); detect(c) })
	says("read at first", first)

	h := open(t, "en", size, look.ByDay, fill)
	if h.Shows("near a positive") || h.Shows("Detected or near") {
		t.Fatalf("nothing was detected yet: %q", uitest.Texts(h.Content()))
	}
	detect(h.Collection())
	says("in sight", h)

	away := open(t, "en", size, look.ByDay, fill)
	away.Go(place.Route{To: place.Due})
	detect(away.Collection())
	away.Go(place.Route{To: place.Animals})
	says("meanwhile", away)
}
