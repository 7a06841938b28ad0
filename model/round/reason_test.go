package round_test

import (
	"slices"
	"testing"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/round"
	"coilward/model/storetest"
	"coilward/model/welfare"
)

// Each class that applies has a reason that names what and since when, and no reason is of
// a class that does not apply.
func TestReasonsOf(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	c, clock := storetest.New(t)
	do := func(command model.Command) {
		t.Helper()
		if _, err := c.Do(command); err != nil {
			t.Fatal(err)
		}
	}
	now := func() model.Moment { return model.MomentOf(clock.Now()) }
	start := now().Day()
	day := func(d model.Day) model.Date { return model.Date{Day: d, Precision: model.ToDay} }
	for name, ago := range map[string]model.Day{"Ash": 400, "Brook": 20, "Wren": 400, "Fern": 400, "Reed": 400} {
		do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept, Since: day(start - ago)}})
	}
	id := func(name string) (id model.AnimalID) {
		t.Helper()
		if err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			id = all[slices.IndexFunc(all, func(a animals.Stored) bool { return a.Name == name })].ID
			return err
		}); err != nil {
			t.Fatal(err)
		}
		return id
	}
	about := func(name string) care.About { return care.About{Animal: id(name), At: now()} }
	do(care.LookForMites{About: about("Fern"), MiteLook: care.MiteLook{Grade: care.SeveralMites, Where: []care.MiteWhere{care.OnAnimal}}})
	do(care.RecordWaste{About: about("Ash"), Waste: care.Waste{Faeces: []care.Trait{care.Blood}}})
	clock.Pass(3 * 24 * time.Hour)
	do(care.RecordWaste{About: about("Ash"), Waste: care.Waste{Faeces: []care.Trait{care.Blood}}}) // seen again: it is one finding
	do(welfare.Observe{Tables: tables, About: about("Reed"), Observation: welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"heavy-breathing"}}})
	marks := positives.Marks{Detected: map[model.AnimalID]bool{id("Wren"): true}, Near: map[model.AnimalID]bool{id("Brook"): true},
		Of: map[model.AnimalID][]positives.Mark{id("Wren"): {{Agent: "serpentovirus", Sampled: start - 9}}, id("Brook"): {{Agent: "serpentovirus", Sampled: start - 9, Near: true}}}}
	for name, want := range map[string][]round.Reason{
		"Ash":   {{Why: round.WhyVet, Finding: "waste-blood", Noted: true, Since: day(start + 3)}},
		"Brook": {{Why: round.WhyNewcomer, Since: day(start - 20)}, {Why: round.WhyNear, Agent: "serpentovirus", Since: day(start - 9)}},
		"Wren":  {{Why: round.WhyDetected, Agent: "serpentovirus", Since: day(start - 9)}},
		"Reed":  {{Why: round.WhyBreathing, Since: day(start + 3)}},
		"Fern":  {{Why: round.WhyVet, Finding: "mites", Noted: true, Since: day(start)}, {Why: round.WhyMiteWatch, Since: day(start)}},
	} {
		if err := c.View(func(v model.View) error {
			house, err := husbandry.ReadHouse(v)
			if err != nil {
				return err
			}
			a, err := animals.Find(v, id(name))
			if err != nil {
				return err
			}
			known, err := round.Know(v, tables, a, v.Now())
			if err != nil {
				return err
			}
			own := known.Own
			facts := round.FactsOf(tables, a.ID, own, house, nil, marks, v.Now())
			got := round.ReasonsOf(facts, a.ID, own, house, marks)
			if !slices.Equal(got, want) {
				t.Errorf("%s: %+v, want %+v", name, got, want)
			}
			for _, class := range facts.All() {
				if class != round.Resident && !slices.ContainsFunc(got, func(r round.Reason) bool { return r.Why.Class() == class }) {
					t.Errorf("%s: %v has no reason", name, class)
				}
			}
			for _, r := range got {
				if !slices.Contains(facts.All(), r.Why.Class()) {
					t.Errorf("%s: %+v is of a class that does not apply", name, r)
				}
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
	}
}

// The reasons of the class that rules by an order come first, the others stay as they are.
func TestStop_Because(t *testing.T) {
	told := func(w round.Why) round.Told { return round.Told{Animal: animal(0), Reason: round.Reason{Why: w}} }
	s := round.Stop{Reasons: []round.Told{told(round.WhyDetected), told(round.WhyVet), told(round.WhyNewcomer), told(round.WhyNear)}}
	got := s.Because(round.Newcomer)
	if want := []round.Told{told(round.WhyNewcomer), told(round.WhyDetected), told(round.WhyVet), told(round.WhyNear)}; !slices.Equal(got, want) {
		t.Errorf("%+v", got)
	}
	if s.Reasons[0].Why != round.WhyDetected {
		t.Error("the stop itself was changed")
	}
}
