package jot_test

import (
	"errors"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/jot"
	"coilward/model/knowledge"
	"coilward/model/storetest"
	"coilward/model/wording"
)

// A line is noted of all whom it names by one change, and one undo takes it back.
func TestALineIsOneChange(t *testing.T) {
	b := begin(t)
	c, _ := storetest.New(t)
	var known []jot.Animal
	for _, name := range []string{"Juniper", "Kestrel"} {
		done, err := c.Do(animals.Add{Animal: animals.Animal{Name: name}})
		if err != nil {
			t.Fatal(err)
		}
		known = append(known, jot.Animal{ID: model.AnimalID{ID: done.Documents[0]}, Name: name})
	}
	names, now := jot.Known(known, nil), model.MomentOf(storetest.Start())
	entries := func() (n int) {
		if err := c.View(func(v model.View) error {
			return v.All(model.TypeEntry, func(model.Document) bool { n++; return true })
		}); err != nil {
			t.Fatal(err)
		}
		return n
	}
	for line, want := range map[string]int{
		"ju 140": 1, "ju refused": 1, "ju shed whole": 1, "ju faeces soft": 1, "ju paper 2": 1, "ju note: x": 1,
		"ju, ke refused": 2, "all paper 0": 2, "all paper 1": 2, "all paper 0 note: x": 2, "ju and ke note: moved": 2,
	} {
		a := b.lexicon.Read(line, names, b.languages.In("en", wording.Units{}), now)
		if len(a.Readings) != 1 {
			t.Fatalf("%q: %+v", line, a)
		}
		if _, err := c.Do(a.Readings[0].Command(jot.Asked{Tables: shipped(t)})); err != nil {
			t.Errorf("%q: %v", line, err)
			continue
		}
		if got := entries(); got != want {
			t.Errorf("%q: %d entries, want %d", line, got, want)
		}
		if _, err := c.Undo(); err != nil || entries() != 0 {
			t.Errorf("%q: %d entries after undo, %v", line, entries(), err)
		}
	}
}

func TestWeightsAreNotNotedOfSeveral(t *testing.T) {
	c, _ := storetest.New(t)
	for _, body := range []care.Body{nil, care.Weight{Mass: model.Grams(140)}} {
		if _, err := c.Do(jot.NoteSeveral{Animals: []model.AnimalID{{ID: model.ID{1}}}, Body: body, At: model.MomentOf(storetest.Start())}); err == nil {
			t.Errorf("%T was noted", body)
		}
	}
	if got := (jot.Reading{}).Command(jot.Asked{}); got != nil {
		t.Errorf("nobody: %v", got)
	}
}

// An implausible mass is caught by the rule for a typed mass, as in every form.
func TestAMassBeyondTheSpeciesIsRefused(t *testing.T) {
	b := begin(t)
	c, _ := storetest.New(t)
	done, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Juniper"}})
	if err != nil {
		t.Fatal(err)
	}
	names := jot.Known([]jot.Animal{{ID: model.AnimalID{ID: done.Documents[0]}, Name: "Juniper"}}, nil)
	a := b.lexicon.Read("ju 14 kg", names, b.languages.In("en", wording.Units{}), model.MomentOf(storetest.Start()))
	_, err = c.Do(a.Readings[0].Command(jot.Asked{Heaviest: func(model.AnimalID) model.Mass { return model.Grams(3500) }}))
	var r *model.Refusal
	if !errors.As(err, &r) || r.Reason != "mass.heaviest" {
		t.Errorf("%v", err)
	}
}

func shipped(t *testing.T) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}
