package rescue_test

import (
	"encoding/json"
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/rescue"
	"coilward/model/round"
	"coilward/model/storetest"
	"coilward/model/welfare"
)

// spoilt is a document of an animal whose body nobody can read.
type spoilt struct {
	of   model.AnimalID
	kind model.DocumentType
	name string
	body string
}

func (spoilt) Name() string { return "test.spoilt" }

func (s spoilt) Plan(v model.View) (model.Writes, error) {
	d := model.Document{Type: s.kind, Kind: s.name, ID: v.NewID(), Version: 1, At: v.Now(), Subjects: []model.Subject{s.of.Subject()}, Body: json.RawMessage(s.body)}
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: "care.done.note"}}, nil
}

// One of which something cannot be read is in the order all the same, and comes before those
// of whom nothing is known to stand; what nobody can read counts as ill, so that hands are
// washed after it. What else is known of it stays known.
func TestRead_OneThatCannotBeReadHasItsTurn(t *testing.T) {
	all := tables(t)
	for name, c := range map[string]struct {
		spoilt spoilt
		ill    bool // nothing at all is known of how it stands
	}{
		"a meal":        {spoilt{kind: model.TypeEntry, name: care.KindMeal, body: `{"outcome":7}`}, true},
		"a check":       {spoilt{kind: model.TypeEntry, name: exam.KindCheck, body: `{"stops":7}`}, true},
		"a problem":     {spoilt{kind: model.TypeProblem, body: `{"glimpses":[]}`}, false},
		"a course":      {spoilt{kind: model.TypePrescription, body: `{"steps":7}`}, false},
		"nothing of it": {},
	} {
		store, clock := storetest.New(t)
		do := func(c model.Command) model.ID {
			t.Helper()
			done, err := store.Do(c)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			return done.Documents[0]
		}
		add := func(name string, status animals.Status) model.AnimalID {
			return model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: status}})}
		}
		sound, odd := add("Ash", animals.Kept), add("Zinnia", animals.Kept)
		for _, id := range []model.AnimalID{sound, odd} {
			do(care.Weigh{About: care.About{Animal: id, At: model.MomentOf(clock.Now())}, Weight: care.Weight{Mass: large}})
		}
		spoils := c.spoilt.kind != ""
		if spoils {
			c.spoilt.of = odd
			do(c.spoilt)
		}
		var house rescue.House
		if err := store.View(func(v model.View) (err error) { house, err = rescue.Read(v, all); return err }); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		at := slices.IndexFunc(house.Turns, func(turn rescue.Turn) bool { return turn.ID == odd })
		if len(house.Turns) != 2 || at < 0 {
			t.Fatalf("%s: %+v", name, house.Turns)
		}
		turn := house.Turns[at]
		if turn.Facts.Unread != spoils || spoils != slices.Contains(turn.Why, knowledge.RescueUnread) || spoils != (at == 0) {
			t.Errorf("%s: turn %d, %+v", name, at, turn)
		}
		if ill := house.Counts(at) == round.Ill; ill != c.ill {
			t.Errorf("%s: counts as %s", name, house.Counts(at))
		}
		if _, weighed := house.Weight[odd]; weighed == c.ill {
			t.Errorf("%s: weighed %v", name, weighed)
		}
		if spoils && c.ill && !house.Washed(1) {
			t.Errorf("%s: hands are not washed after it", name)
		}
	}
}

// One whose breathing on a visit is for the vet is brought out as one with a sign of the airways,
// and counts as ill; open mouth is an emergency.
func TestRead_BreathingOfAVisit(t *testing.T) {
	all := tables(t)
	for sign, emergency := range map[knowledge.SignID]bool{"heavy-breathing": false, knowledge.OpenMouth: true} {
		store, clock := storetest.New(t)
		do := func(c model.Command) model.ID {
			t.Helper()
			done, err := store.Do(c)
			if err != nil {
				t.Fatal(err)
			}
			return done.Documents[0]
		}
		var id model.AnimalID
		for _, name := range []string{"Ash", "Zinnia"} {
			id.ID = do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept}})
		}
		do(welfare.Observe{Tables: all, About: care.About{Animal: id, At: model.MomentOf(clock.Now())}, Observation: welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{sign}}})
		var house rescue.House
		if err := store.View(func(v model.View) (err error) { house, err = rescue.Read(v, all); return err }); err != nil {
			t.Fatal(err)
		}
		first := house.Turns[0]
		if first.ID != id || first.Facts.Emergency != emergency || !first.Facts.Airway || !first.Facts.Vet || house.Counts(0) != round.Ill || house.Counts(1) == round.Ill {
			t.Errorf("%s: %+v", sign, house.Turns)
		}
	}
}
