package animals_test

import (
	"encoding/json"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// spoilt puts an entry into an animal's days that no version can read.
type spoilt struct{ id model.AnimalID }

func (spoilt) Name() string { return "care.spoilt" }

func (s spoilt) Plan(v model.View) (model.Writes, error) {
	d := model.Document{Type: model.TypeEntry, Kind: care.KindMeal, ID: v.NewID(), Version: 1, At: v.Now(), Subjects: []model.Subject{s.id.Subject()}, Body: json.RawMessage(`{"outcome":7}`)}
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: "care.done.note"}}, nil
}

// An animal whose days cannot be read in full stands in the list, says so, and
// hides no other: when all are read at first, and when one changes.
func TestRoster_OneThatCannotBeReadHidesNoOther(t *testing.T) {
	two := func(c *collection.Collection) (first model.AnimalID) {
		for _, name := range []string{"Wren", "Siskin"} {
			if _, err := c.Do(animals.Add{Animal: animals.Animal{Name: name}}); err != nil {
				t.Fatal(err)
			}
		}
		err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			first = all[0].ID
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return first
	}
	spoil := func(c *collection.Collection, id model.AnimalID) {
		if _, err := c.Do(spoilt{id}); err != nil {
			t.Fatal(err)
		}
	}
	shows := func(when string, h *hand, unread bool) {
		if !h.Shows("Wren") || !h.Shows("Siskin") || h.Shows("Not all can be read") != unread {
			t.Errorf("%s: %q", when, uitest.Texts(h.Content()))
		}
	}
	size := fyne.NewSize(1280, 800)

	changed := open(t, "en", size, look.ByDay, func(c *collection.Collection) { two(c) })
	changed.Go(place.Route{To: place.Animals})
	shows("sound", changed, false)
	spoil(changed.Collection(), changed.Animal("Wren").ID)
	shows("after the change", changed, true)

	first := open(t, "en", size, look.ByDay, func(c *collection.Collection) { spoil(c, two(c)) })
	first.Go(place.Route{To: place.Animals})
	shows("read at first", first, true)
}
