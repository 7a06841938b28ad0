package positives_test

import (
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// A kit is laid out for each that is here and has none waiting, of the material in which
// the thing was detected; those that wait are counted, so that it can be said why there
// are fewer kits than animals.
func TestWhoNeedsAKit(t *testing.T) {
	w := begin(t)
	of := w.open(w.sample(20, "ferlavirus", samples.Detected, w.ash), "ferlavirus")
	w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: []model.AnimalID{w.birch}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"ferlavirus"}}}}, Confirmed: yes})
	// what a plan has laid out for a day ahead is no kit that waits now
	w.do(samples.LayOut{Tables: w.tables, Each: []samples.New{{Animals: []model.AnimalID{w.ash}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"ferlavirus"}, Planned: &samples.Planned{Day: w.on(0).Day() + 1, Round: 2, Of: 2}}}}, Confirmed: yes})
	w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: []model.AnimalID{w.elm}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}}}}, Confirmed: yes})
	var fir animals.Stored
	if err := w.View(func(v model.View) (err error) { fir, err = animals.Find(v, w.fir); return err }); err != nil {
		t.Fatal(err)
	}
	gone := fir.Animal
	gone.Status, gone.StatusDay = animals.Died, model.Date{Day: w.on(2).Day(), Precision: model.ToDay}
	w.do(animals.Change{ID: w.fir, Base: fir.Revision, Animal: gone})
	each, waiting := w.trace(of).Kits([]model.AnimalID{w.ash, w.birch, w.elm, w.fir})
	if waiting != 1 || len(each) != 2 || each[0].Animals[0] != w.ash || each[1].Animals[0] != w.elm {
		t.Fatalf("%d wait, kits for %+v", waiting, each)
	}
	for _, n := range each {
		if n.Sample.Material != "choanal-swab" || len(n.Sample.For) != 1 || n.Sample.For[0] != "ferlavirus" || !n.Sample.Taken.IsZero() {
			t.Errorf("%+v", n)
		}
	}
}
