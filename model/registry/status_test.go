package registry_test

import (
	"encoding/json"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/storetest"
)

// Care knows an animal's status by its frozen values alone: it asks about one that has
// left, and only of such.
func TestCareKnowsWhoIsHere(t *testing.T) {
	for _, status := range append(animals.Statuses(), "") {
		c, clock := storetest.New(t)
		id := model.AnimalID{ID: model.ID{1}}
		body, err := json.Marshal(map[string]any{"name": "Kestrel", "status": status})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := c.Do(storetest.Put{Documents: []model.Document{{Type: model.TypeAnimal, ID: id.ID, Version: 1, Body: body}}}); err != nil {
			t.Fatal(err)
		}
		at := model.Moment{UTC: clock.Now().Unix(), Precision: model.ToMinute}
		_, err = c.Do(care.Feed{About: care.About{Animal: id, At: at}, Meal: care.Meal{Outcome: care.Refused}})
		if (err == nil) != status.Here() {
			t.Errorf("a meal of an animal with status %q: %v", status, err)
		}
	}
}
