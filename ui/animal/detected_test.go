package animal_test

import (
	"slices"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/contact"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// What was detected stands in the head of the animal and of those near it, and leads to
// the sample until a positive is opened, then to that; among the days it is marked.
func TestTheHeadSaysWhatWasDetected(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	var sample model.SampleID
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		do := func(command model.Command) model.ID {
			t.Helper()
			done, err := c.Do(command)
			if err != nil {
				t.Fatal(err)
			}
			return done.Documents[0]
		}
		var now model.Moment
		if err := c.View(func(v model.View) error { now = v.Now(); return nil }); err != nil {
			t.Fatal(err)
		}
		ago := func(n model.Day) model.Moment { return model.MomentOn(now, now.Day()-n, model.Noon, model.ToDay) }
		room := model.PlaceID{ID: do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Kind: husbandry.Room, Name: "Back room"}}}})}
		var of []model.AnimalID
		for _, name := range []string{"Dunnock", "Siskin"} {
			id := model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: name}})}
			box := model.PlaceID{ID: do(husbandry.AddPlaces{Parent: room, Branches: []husbandry.Branch{{Place: husbandry.Place{Kind: husbandry.Tub, Name: name}}}})}
			do(husbandry.Move{Animal: id, Place: box, At: ago(30)})
			of = append(of, id)
		}
		yes := model.Confirmed{"sample.kept-long", "sample.over-weekend"}
		sample = model.SampleID{ID: do(samples.Prepare{Tables: tables, Each: []samples.New{{Animals: of[:1], Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: ago(8)}}}, Confirmed: yes})}
		do(samples.Enter{Tables: tables, At: ago(1), Rows: []samples.Row{{On: samples.On{ID: sample, Base: 1}, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.Detected}}}}, Confirmed: yes})
	})
	leads := func(words string, to place.Name, subject model.ID) {
		t.Helper()
		uitest.Tap(t, h.Content(), words)
		if n := len(h.Went); n == 0 || h.Went[n-1].To != to || h.Went[n-1].Subject != subject {
			t.Errorf("%q leads to %v", words, h.Went)
		}
	}
	h.show("Dunnock", "")
	if !slices.Contains(uitest.Texts(h.Content()), "detected") {
		t.Errorf("the sample is not marked among the days: %q", uitest.Texts(h.Content()))
	}
	leads("Detected: Serpentovirus, reported on 8 Jun 2027", place.Tray, sample.ID)
	h.show("Siskin", "")
	leads("Near a positive: Serpentovirus in Dunnock", place.Tray, sample.ID)
	done, err := h.Collection().Do(contact.Open{Tables: tables, Sample: sample, Agent: "serpentovirus"})
	if err != nil {
		t.Fatal(err)
	}
	h.show("Siskin", "")
	leads("Near a positive: Serpentovirus in Dunnock", place.Positive, done.Documents[0])
	h.show("Dunnock", "")
	leads("Detected: Serpentovirus, open since 9 Jun 2027", place.Positive, done.Documents[0])
}
