package newcomers_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/assumed"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/storetest"
	ui "coilward/ui/newcomers"
	"coilward/ui/place"
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
	if beside := uitest.OfASurvey(w.Content()); len(beside) > 0 {
		t.Errorf("beside the chance of at least one there is a figure of a survey: %q", beside)
	}
	nowhere := open(t, uitest.Look{}, "en", one(t, 10))
	if slices.ContainsFunc(uitest.Texts(nowhere.Content()), func(s string) bool { return strings.Contains(s, "at least one in") }) {
		t.Errorf("where it lives nowhere: %q", uitest.Texts(nowhere.Content()))
	}
}

// roomed is a newcomer of ten days ago who lives in a loft.
func roomed(t *testing.T) func(*collection.Collection) {
	fill := one(t, 10)
	return func(c *collection.Collection) {
		fill(c)
		change, err := c.Do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Loft", Kind: husbandry.Room}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "Box 1", Kind: husbandry.Tub}}}}}})
		if err != nil {
			t.Fatal(err)
		}
		if err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			if err != nil {
				return err
			}
			_, err = c.Do(husbandry.Move{Animal: all[0].ID, Place: model.PlaceID{ID: change.Documents[1]}, At: v.Now(), Confirmed: model.Confirmed{"house.shared"}})
			return err
		}); err != nil {
			t.Fatal(err)
		}
	}
}

// What could not be read is said below the rooms, and of own figures that cannot be used; where
// nothing could be worked out that is said in their place.
func TestTheRoomsSayWhatCannotBeRead(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		w := open(t, uitest.Look{}, language, roomed(t))
		text := w.Text()
		for key, count := range map[string]int{"chance.cannot.unread": 1, "chance.cannot.unread-quarantine": 1} {
			if w.Shows(text.Count(key, count)) {
				t.Errorf("%s: %s is said, and all can be read", language, key)
			}
		}
		other := made(t, w.Collection(), animals.Add{Animal: animals.Animal{Name: "Siskin", Status: animals.Kept}})
		do(t, w.Collection(), spoilt{model.AnimalID{ID: other}})
		do(t, w.Collection(), storetest.Put{Documents: []model.Document{{Type: model.TypeSample, ID: model.ID{8}, Version: 1, At: model.MomentOf(storetest.Start()), Subjects: []model.Subject{model.AnimalID{ID: other}.Subject()}, Body: json.RawMessage(`[]`)}}})
		do(t, w.Collection(), storetest.Put{Documents: []model.Document{{Type: model.TypeFigures, ID: model.ID{9}, Version: 1, At: model.MomentOf(storetest.Start()), Body: json.RawMessage(`{"table":"prior","row":"serpentovirus-any","values":{},"by":"vet","why":"x"}`)}}})
		for _, said := range []string{text.Count("chance.cannot.unread", 1), text.Count("chance.cannot.unread-quarantine", 1), text.Say("chance.room-own")} {
			if !w.Shows(said) {
				t.Errorf("%s: %q is not said: %q", language, said, uitest.Texts(w.Content()))
			}
		}
	}
}

// Where nothing could be worked out of the rooms that is said in their place, and can be tried again.
func TestTheRoomsSayThatNothingCouldBeWorkedOut(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		var page *ui.Page
		w := uitest.Open(t, uitest.Setting{Language: language, Fill: roomed(t), Place: place.Newcomers, Make: func(w place.Window) place.Place {
			page = ui.New(w)
			return page
		}})
		w.Go(place.Route{To: place.Newcomers})
		text := w.Text()
		fault, rooms := text.Say("chance.fault")+". "+text.Say("chance.fault-what"), text.Say("chance.room", map[string]any{"Room": "Loft", "Agent": "Serpentovirus", "Chance": ""})
		if !w.Shows(rooms) || w.Shows(fault) {
			t.Fatalf("%s: %q", language, uitest.Texts(w.Content()))
		}
		page.FailRooms()
		if !w.Shows(fault) || w.Shows(rooms) || !w.Shows(text.Say("chance.rooms")) {
			t.Fatalf("%s: %q", language, uitest.Texts(w.Content()))
		}
		uitest.Tap(t, w.Content(), text.Say("chance.again"))
		if !w.Shows(rooms) || w.Shows(fault) {
			t.Errorf("%s: tried again: %q", language, uitest.Texts(w.Content()))
		}
	}
}
