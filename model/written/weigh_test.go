package written_test

import (
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/storetest"
	"coilward/model/written"
)

// counting is a view that counts how often all documents of a type are read.
type counting struct {
	model.View
	reads map[model.DocumentType]int
}

func (c counting) All(t model.DocumentType, visit func(model.Document) bool) error {
	c.reads[t]++
	return c.View.All(t, visit)
}

// A sheet for weighing is known by its order again, of whatever place it is, and the house is
// read once for that, however many places there are.
func TestListed(t *testing.T) {
	c, clock := storetest.New(t)
	do := func(command model.Command) []model.ID {
		t.Helper()
		change, err := c.Do(command)
		if err != nil {
			t.Fatal(command.Name(), err)
		}
		return change.Documents
	}
	now := model.MomentOf(clock.Now())
	for _, room := range []string{"Mill", "Loft", "Yard"} {
		do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: room, Kind: husbandry.Room}, Below: []husbandry.Branch{
			{Place: husbandry.Place{Name: room + " 1", Kind: husbandry.Tub}}, {Place: husbandry.Place{Name: room + " 2", Kind: husbandry.Tub}}}}}})
	}
	places := map[string]model.PlaceID{}
	if err := c.View(func(v model.View) error {
		house, err := husbandry.ReadHouse(v)
		if err == nil {
			for _, p := range house.Places() {
				places[p.Name] = p.ID
			}
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	for name, place := range map[string]string{"Ash": "Mill 1", "Brook": "Mill 2", "Fern": "Loft 2", "Wren": "Yard 1", "Rush": ""} {
		id := model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept}})[0]}
		if place != "" {
			do(husbandry.Move{Animal: id, Place: places[place], At: now})
		}
	}
	if err := c.View(func(v model.View) error {
		for name, in := range map[string]model.PlaceID{"the whole house": {}, "Mill": places["Mill"], "Loft": places["Loft"], "Yard": places["Yard"]} {
			rows, err := written.Residents(v, in, now)
			if err != nil {
				return err
			}
			seen := counting{v, map[model.DocumentType]int{}}
			got, err := written.Listed(seen, written.OrderOf(rows), now)
			if err != nil || got != in {
				t.Errorf("the sheet of %s is of %v, %v", name, got, err)
			}
			for _, of := range []model.DocumentType{model.TypePlace, model.TypeStay} {
				if seen.reads[of] != 1 {
					t.Errorf("%s: all documents of type %s are read %d times", name, of, seen.reads[of])
				}
			}
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
}
