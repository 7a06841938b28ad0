package tray_test

import (
	"slices"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/model/storetest"
	"coilward/ui/tray"
)

// Animals and samples stand in shelf order, whatever order they were made in; one
// that was sold is offered for no sample.
func TestSamplesStandInShelfOrder(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	c, _ := storetest.New(t)
	room(t)(c)
	do := func(command model.Command) model.ID {
		t.Helper()
		done, err := c.Do(command)
		if err != nil {
			t.Fatal(err)
		}
		return done.Documents[0]
	}
	do(animals.Add{Animal: animals.Animal{Name: "Sold", Status: animals.Sold}})
	loose := do(animals.Add{Animal: animals.Animal{Name: "Loose"}})
	load := func() (found tray.Tray) {
		t.Helper()
		if err := c.View(func(v model.View) (err error) { found, err = tray.Load(v, tables); return err }); err != nil {
			t.Fatal(err)
		}
		return found
	}
	var shown []string
	of := map[string]model.AnimalID{"Loose": {ID: loose}}
	for _, a := range load().Animals {
		shown, of[a.Name] = append(shown, a.Name), a.ID
	}
	if want := append(names(), "Loose"); !slices.Equal(shown, want) {
		t.Errorf("animals %q, want %q", shown, want)
	}
	for _, name := range []string{"Loose", "Brook", "Ash", "Yarrow"} {
		do(samples.Prepare{Tables: tables, Each: []samples.New{{Animals: []model.AnimalID{of[name]}, Sample: samples.Sample{Material: "faeces", For: []knowledge.AgentID{"worms-and-protozoa"}}}}})
	}
	var got []model.AnimalID
	for _, s := range load().Samples {
		got = append(got, s.Animals[0])
		if s.Way.Stage != samples.ToTake || s.Way.Next != samples.ActTake {
			t.Errorf("%+v", s.Way)
		}
	}
	if want := []model.AnimalID{of["Yarrow"], of["Ash"], of["Brook"], of["Loose"]}; !slices.Equal(got, want) {
		t.Errorf("samples of %v, want %v", got, want)
	}
}

func TestTypingNarrowsTheAnimals(t *testing.T) {
	all := []tray.Animal{{Name: "Oak", Home: "Room A"}, {Name: "Rowan", Home: "Room B"}, {Name: "Ash", Home: "Room A"}, {Name: "Brook", Home: "Room B"}}
	for typed, want := range map[string][]string{"": {"Oak", "Rowan", "Ash", "Brook"}, "ro": {"Rowan", "Oak", "Ash", "Brook"}, "room a": {"Oak", "Ash"}, " ASH ": {"Ash"}, "o": {"Oak", "Rowan", "Ash", "Brook"}, "x": nil} {
		var got []string
		for _, a := range tray.Narrowed(all, typed) {
			got = append(got, a.Name)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q: %q, want %q", typed, got, want)
		}
	}
}
