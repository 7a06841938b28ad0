package animal_test

import (
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// A sample stands among the days of every animal that it is of, with how far it
// came; what has no result is said to have none, and behind "not detected" stands what it
// leaves open (of ferlavirus in swabs 2 of 5: Flach et al. 2018 J Zoo Wildl Med 49(4),
// abstract).
func TestSample_StandsAmongTheDays(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		one(t)(c)
		other, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Merle"}})
		if err != nil {
			t.Fatal(err)
		}
		var all []animals.Stored
		var at model.Moment
		if err := c.View(func(v model.View) (err error) { at = v.Now(); all, err = animals.All(v); return err }); err != nil {
			t.Fatal(err)
		}
		at.UTC -= 5 * 86400
		pool := []model.AnimalID{all[0].ID, {ID: other.Documents[0]}}
		if all[0].ID.ID == other.Documents[0] {
			pool[0] = all[1].ID
		}
		done, err := c.Do(samples.Prepare{Tables: tables, Each: []samples.New{{Animals: pool, Sample: samples.Sample{Material: "oral-swab", For: []knowledge.AgentID{"serpentovirus", "cryptosporidium-serpentis", "reptarenavirus", "ferlavirus"}, Taken: at}}}})
		if err != nil {
			t.Fatal(err)
		}
		at.UTC += 86400
		if _, err := c.Do(samples.Enter{Tables: tables, At: at, Rows: []samples.Row{{On: samples.On{ID: model.SampleID{ID: done.Documents[0]}, Base: 1}, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.Inhibited}, {Of: "reptarenavirus", Outcome: samples.NotDetected}, {Of: "ferlavirus", Outcome: samples.NotDetected}}}}}); err != nil {
			t.Fatal(err)
		}
	})
	for _, name := range []string{"Wren", "Merle"} {
		h.show(name, "")
		for _, said := range []string{"Mouth swab: at the lab", "pooled with 1 other animal", "Serpentovirus: inhibited", "Cryptosporidium serpentis: no result yet", "Reptarenavirus: not detected, says nothing of a python", "Ferlavirus: not detected, often missed in such samples: all together, they found it in 2 of 5"} {
			if !h.Shows(said) {
				t.Errorf("%s: %q is not said: %q", name, said, uitest.Texts(h.Content()))
			}
		}
	}
	uitest.Tap(t, h.Content(), "Mouth swab: at the lab")
	if n := len(h.Went); n == 0 || h.Went[n-1].To != place.Tray || h.Went[n-1].Subject.IsZero() {
		t.Errorf("opened, it goes to %v", h.Went)
	}
}
