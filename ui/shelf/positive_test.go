package shelf_test

import (
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/collection"
	"coilward/model/due"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/round"
	"coilward/ui/shelf"
	"coilward/ui/uitest"
)

// In whom something was detected counts as ill, and who was near counts so, as long as
// the positive is open.
func TestAPositiveIsOnTheShelf(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 4, "Ash", "Brook", "Fern") })
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	if err := h.Collection().View(func(v model.View) error {
		all, err := shelf.LoadAnimals(v, tables, v.Now(), nil)
		if err != nil {
			return err
		}
		places, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		list := due.List{Positives: positives.Marks{Detected: map[model.AnimalID]bool{}, Near: map[model.AnimalID]bool{}}}
		for id, a := range all {
			list.Positives.Detected[id], list.Positives.Near[id] = a.Name == "Ash", a.Name == "Brook"
		}
		shelf.Arrange(tables, places, husbandry.Scales{}, all, list, v.Now())
		for _, a := range all {
			if want := map[string]round.Class{"Ash": round.Ill, "Brook": round.NearPositive, "Fern": round.Resident}[a.Name]; a.Class() != want {
				t.Errorf("%s counts as %v, want %v", a.Name, a.Class(), want)
			}
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
}
