package handover_test

import (
	"testing"

	"coilward/model"
	"coilward/model/handover"
)

// An entry that remembers papers names the animal, the key and the list, and has the id that
// is made of the animal's.
func TestSound(t *testing.T) {
	animal := model.AnimalID{ID: model.ID{5}}
	whole := handover.Taken{Animal: animal, Key: "AAAA", Sum: "00"}
	for name, c := range map[string]struct {
		change func(*handover.Taken, *model.Document)
		sound  bool
	}{
		"as it is": {func(*handover.Taken, *model.Document) {}, true},
		"of no animal": {func(t *handover.Taken, d *model.Document) {
			t.Animal = model.AnimalID{}
			d.ID = handover.TakenID(t.Animal)
		}, false},
		"of no key":      {func(t *handover.Taken, _ *model.Document) { t.Key = "" }, false},
		"of no list":     {func(t *handover.Taken, _ *model.Document) { t.Sum = "" }, false},
		"of another id":  {func(_ *handover.Taken, d *model.Document) { d.ID = model.ID{6} }, false},
		"of another one": {func(t *handover.Taken, _ *model.Document) { t.Animal.ID = model.ID{6} }, false},
	} {
		taken, d := whole, model.Document{Type: model.TypeEntry, Kind: handover.Kind, ID: handover.TakenID(animal)}
		c.change(&taken, &d)
		if err := d.Encode(handover.Version, taken); err != nil {
			t.Fatal(err)
		}
		if known, err := handover.Sound(d); !known || (err == nil) != c.sound {
			t.Errorf("%s: known %v, %v", name, known, err)
		}
	}
	if known, err := handover.Sound(model.Document{Type: model.TypeEntry, Kind: "weight"}); known || err != nil {
		t.Errorf("a weight: known %v, %v", known, err)
	}
	newer := model.Document{Type: model.TypeEntry, Kind: handover.Kind, ID: handover.TakenID(animal), Version: handover.Version + 1, Body: []byte("{}")}
	if known, err := handover.Sound(newer); !known || err == nil {
		t.Errorf("a newer one: known %v, %v", known, err)
	}
}

// The day of a photo is held as any other; the portrait needs none.
func TestDaysOfPhotos(t *testing.T) {
	now := start()
	from, id, _ := seller(t, now)
	for name, c := range map[string]struct {
		photo handover.Photo
		reads bool
	}{
		"a portrait without a day": {handover.Photo{Portrait: true}, true},
		"of a day":                 {handover.Photo{When: handover.When{Day: model.NewDay(2026, 1, 1), Precision: model.ToDay}}, true},
		"of the year 1899":         {handover.Photo{When: handover.When{Day: model.NewDay(1899, 12, 31), Precision: model.ToDay}}, false},
		"of 1900":                  {handover.Photo{When: handover.When{Day: model.NewDay(1900, 1, 1), Precision: model.ToDay}}, true},
		"of no precision":          {handover.Photo{When: handover.When{Day: model.NewDay(2026, 1, 1)}}, false},
		"a minute of a whole day":  {handover.Photo{When: handover.When{Day: model.NewDay(2026, 1, 1), Minute: 1, Precision: model.ToDay}}, false},
		"the last minute":          {handover.Photo{When: handover.When{Day: model.NewDay(2026, 1, 1), Minute: 24*60 - 1, Precision: model.ToMinute}}, true},
		"a minute of the next day": {handover.Photo{When: handover.When{Day: model.NewDay(2026, 1, 1), Minute: 24 * 60, Precision: model.ToMinute}}, false},
	} {
		r := from.record(id)
		r.Photos = []handover.Photo{c.photo}
		raw, err := r.Bytes()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := handover.Read(raw); (err == nil) != c.reads {
			t.Errorf("%s: %v", name, err)
		}
	}
}
