package shelf_test

import (
	"slices"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/due"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/round"
	"coilward/ui/shelf"
	"coilward/ui/uitest"
)

// arranged is the house as the shelf shows it.
func arranged(t *testing.T, h *hand) *shelf.House {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	var house *shelf.House
	if err := h.Collection().View(func(v model.View) error {
		all, err := shelf.LoadAnimals(v, tables, v.Now(), nil)
		if err != nil {
			return err
		}
		places, err := husbandry.ReadHouse(v)
		if err == nil {
			house = shelf.Arrange(tables, places, husbandry.Scales{}, all, due.List{}, v.Now())
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return house
}

// One that came from elsewhere counts as a newcomer for 90 days (seen: hobby
// quarantine pages; others name 30 to 365 days), one that hatched here does not;
// the room counts as its latest class.
func TestNewcomersAreOnTheShelf(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 4, "Ash") })
	today := model.MomentOf(h.Clock.Now()).Day()
	day := func(ago int) model.Date { return model.Date{Day: today - model.Day(ago), Precision: model.ToDay} }
	for _, a := range []animals.Animal{{Name: "Brook", Since: day(89)}, {Name: "Fern", Since: day(90)}, {Name: "Wren", Since: day(20), Hatched: day(20)}} {
		a.Status, a.Species = animals.Kept, "python-regius"
		do(t, h.Collection(), animals.Add{Animal: a})
	}
	house := arranged(t, h)
	for name, want := range map[string]round.Class{"Ash": round.Resident, "Brook": round.Newcomer, "Fern": round.Resident, "Wren": round.Resident} {
		if a := house.Animal(h.Animal(name).ID); a.Class() != want || !slices.Contains(a.Classes, want) {
			t.Errorf("%s counts as %v, want %v", name, a.Classes, want)
		}
	}
}
