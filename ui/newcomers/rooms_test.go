package newcomers_test

import (
	"slices"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/assumed"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/ui/uitest"
)

// Of each room in which a newcomer lives it is said how likely it is that at least one
// there carries each thing: with the figures of the tables 5 to 40 in 100 of one, and of
// two 1 − .95² to 1 − .6² and what the days with the newcomer add.
func TestTheRoomOfANewcomer(t *testing.T) {
	fill := one(t, 10)
	w := open(t, uitest.Look{}, "en", func(c *collection.Collection) {
		fill(c)
		var newcomer model.AnimalID
		var now model.Moment
		if err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			newcomer, now = all[0].ID, v.Now()
			return err
		}); err != nil {
			t.Fatal(err)
		}
		change, err := c.Do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Loft", Kind: husbandry.Room}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "Box 1", Kind: husbandry.Tub}}, {Place: husbandry.Place{Name: "Box 2", Kind: husbandry.Tub}}}}}})
		if err != nil {
			t.Fatal(err)
		}
		do(t, c, husbandry.Move{Animal: newcomer, Place: model.PlaceID{ID: change.Documents[1]}, At: now, Confirmed: model.Confirmed{"house.shared"}})
	})
	said := func(words string) bool {
		return slices.ContainsFunc(uitest.Texts(w.Content()), func(s string) bool { return strings.Contains(s, words) })
	}
	if !said("at least one in Loft carries Serpentovirus: 5 to 40 in 100") || !said("1 animal lives there") || !said("The figures never say that an animal is free") {
		t.Fatalf("%q", uitest.Texts(w.Content()))
	}
	var second model.PlaceID
	var now model.Moment
	if err := w.Collection().View(func(v model.View) error {
		house, err := husbandry.ReadHouse(v)
		now = v.Now()
		for _, p := range house.Places() {
			if p.Name == "Box 2" {
				second = p.ID
			}
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	change, err := w.Collection().Do(animals.Add{Animal: animals.Animal{Name: "Ash", Status: animals.Kept, Since: model.Date{Day: now.Day() - 300, Precision: model.ToDay}}})
	if err != nil {
		t.Fatal(err)
	}
	do(t, w.Collection(), husbandry.Move{Animal: model.AnimalID{ID: change.Documents[0]}, Place: second, At: now, Confirmed: model.Confirmed{"house.shared"}})
	if !said("at least one in Loft carries Serpentovirus: 9 to 65 in 100") || !said("2 animals live there") {
		t.Errorf("of two: %q", uitest.Texts(w.Content()))
	}
	do(t, w.Collection(), assumed.Change{Tables: w.Tables(), Own: assumed.Own{Row: assumed.Row{Table: assumed.Priors, ID: "serpentovirus-any"}, By: assumed.Keeper, Why: "as seen here", Values: map[assumed.Figure]knowledge.Span{assumed.Prior: {Low: 10, Assumed: 100, High: 200}}}})
	if !said("at least one in Loft carries Serpentovirus: 1 to 37 in 100") { // 1 − .99² is 1.99 in 100, 1 − .8² is 36, and a day of 200 in 10,000 times .2
		t.Errorf("of figures that were changed: %q", uitest.Texts(w.Content()))
	}
	nowhere := open(t, uitest.Look{}, "en", one(t, 10))
	if slices.ContainsFunc(uitest.Texts(nowhere.Content()), func(s string) bool { return strings.Contains(s, "at least one in") }) {
		t.Errorf("where it lives nowhere: %q", uitest.Texts(nowhere.Content()))
	}
}
