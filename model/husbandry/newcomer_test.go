package husbandry_test

import (
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
)

// quarantined puts in a quarantine of an animal as its document stands.
type quarantined struct {
	animal  model.AnimalID
	version int
	body    string
}

func (quarantined) Name() string { return "test.quarantined" }

func (q quarantined) Plan(v model.View) (model.Writes, error) {
	return model.Writes{Put: []model.Document{{Type: model.TypeQuarantine, ID: v.NewID(), Version: q.version, At: v.Now(), Subjects: []model.Subject{q.animal.Subject()}, Body: []byte(q.body)}},
		Label: model.Label{Key: "care.done.note"}}, nil
}

// An animal in quarantine is a newcomer however long it is here; one that was released
// is none, and one that was never in quarantine goes by its days. A quarantine that nobody
// can read counts as open, and the house can be read all the same.
func TestANewcomerGoesByItsQuarantine(t *testing.T) {
	for name, c := range map[string]struct {
		ago   int // days since it came
		kept  []quarantined
		after bool
	}{
		"never in quarantine, of late":       {10, nil, true},
		"never in quarantine, long ago":      {90, nil, false},
		"in quarantine, long ago":            {200, []quarantined{{body: `{"protocol":"long"}`}}, true},
		"released, of late":                  {10, []quarantined{{body: `{"protocol":"short","released":{"at":{"utc":1}}}`}}, false},
		"released, and in quarantine again":  {200, []quarantined{{body: `{"protocol":"short","released":{}}`}, {body: `{"protocol":"short"}`}}, true},
		"in quarantine, and released before": {200, []quarantined{{body: `{"protocol":"short"}`}, {body: `{"protocol":"short","released":{}}`}}, true},
		"as a newer version says":            {200, []quarantined{{version: 99, body: `[]`}}, true},
		"nobody can read it":                 {200, []quarantined{{body: `[]`}}, true},
		"released, and one nobody can read":  {200, []quarantined{{body: `{"released":{}}`}, {body: `[]`}}, true},
		"unreadable, and released before":    {200, []quarantined{{body: `[]`}, {body: `{"released":{}}`}}, true},
		"half of it can be read":             {200, []quarantined{{body: `{"released":7}`}}, true},
	} {
		w := begin(t)
		id := model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: "Oak", Since: model.Date{Day: ago(0).Day() - model.Day(c.ago), Precision: model.ToDay}}}).Documents[0]}
		for _, q := range c.kept {
			q.animal = id
			w.do(q)
		}
		if err := w.View(func(v model.View) error {
			h, err := husbandry.ReadHouse(v)
			if err == nil && h.Newcomer(w.tables, id, ago(0).Day()) != c.after {
				t.Errorf("%s: a newcomer is %v", name, !c.after)
			}
			return err
		}); err != nil {
			t.Error(name, err)
		}
	}
}

// The room of a place is the room that it stands in, or else what is outermost.
func TestRoomOfAPlace(t *testing.T) {
	w := begin(t)
	change := w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{
		{Place: husbandry.Place{Name: "Loft", Kind: husbandry.Room}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "Rack", Kind: husbandry.Rack}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "A", Kind: husbandry.Tub}}}}}},
		{Place: husbandry.Place{Name: "Lone rack", Kind: husbandry.Rack}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "B", Kind: husbandry.Tub}}}}}})
	if err := w.View(func(v model.View) error {
		h, err := husbandry.ReadHouse(v)
		for i, want := range []int{0, 0, 0, 3, 3} {
			if got := h.Room(model.PlaceID{ID: change.Documents[i]}); got.ID != change.Documents[want] {
				t.Errorf("of place %d: %s", i, got)
			}
		}
		if none := (model.PlaceID{ID: model.ID{9}}); h.Room(none) != none {
			t.Error("of a place that is not there")
		}
		return err
	}); err != nil {
		t.Error(err)
	}
}
