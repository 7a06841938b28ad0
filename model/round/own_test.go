package round_test

import (
	"math/rand/v2"
	"testing"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/history"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/round"
	"coilward/model/storetest"
)

// The facts of an animal are its own, those of the house it lives in and those of the
// positives that are open, each by itself. A newcomer is one for 90 days (seen: hobby
// quarantine pages; others name 30 to 365 days); one that mites were seen on is ill at
// first, and watched once none are seen any more (computed, from published spans).
func TestFactsOf(t *testing.T) {
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
	today := model.MomentOf(clock.Now()).Day()
	for name, ago := range map[string]model.Day{"Ash": 400, "Brook": 20, "Wren": 400} {
		do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept, Since: model.Date{Day: today - ago, Precision: model.ToDay}}})
	}
	ids := map[string]model.AnimalID{}
	facts := func(name string, marks positives.Marks) (f round.Facts) {
		t.Helper()
		if err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			if err != nil {
				return err
			}
			house, err := husbandry.ReadHouse(v)
			if err != nil {
				return err
			}
			for _, a := range all {
				if ids[a.Name] = a.ID; a.Name != name {
					continue
				}
				known, err := round.Know(v, tables, a, v.Now())
				if err != nil {
					return err
				}
				f = round.FactsOf(tables, a.ID, known.Own, house, nil, marks, v.Now())
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		return f
	}
	none := positives.Marks{}
	if got := facts("Ash", none); got != (round.Facts{}) {
		t.Errorf("of one that nothing is known of: %+v", got)
	}
	if got := facts("Brook", none); got != (round.Facts{Newcomer: true}) {
		t.Errorf("of one that came 20 days ago: %+v", got)
	}
	if got := facts("Wren", positives.Marks{Detected: map[model.AnimalID]bool{ids["Wren"]: true}}); got != (round.Facts{Detected: true}) {
		t.Errorf("of one in which something was detected: %+v", got)
	}
	if got := facts("Wren", positives.Marks{Near: map[model.AnimalID]bool{ids["Wren"]: true}}); got != (round.Facts{NearPositive: true}) {
		t.Errorf("of one near a positive: %+v", got)
	}
	look := func(g care.MiteGrade) {
		t.Helper()
		do(care.LookForMites{About: care.About{Animal: ids["Ash"], At: model.MomentOf(clock.Now())}, MiteLook: care.MiteLook{Grade: g, Where: []care.MiteWhere{care.OnAnimal}}})
	}
	look(care.SeveralMites)
	if got := facts("Ash", none); got.Class() != round.Ill {
		t.Errorf("with mites: %+v", got)
	}
	for range 5 {
		clock.Pass(7 * 24 * time.Hour)
		look(care.NoMites)
	}
	if got := facts("Ash", none); !got.MiteWatch || got.Class() != round.NearPositive {
		t.Errorf("five weeks after the last mites: %+v", got)
	}
	do(care.TreatMites{About: care.About{Animal: ids["Ash"], At: model.MomentOf(clock.Now())}, MiteTreatment: care.MiteTreatment{What: "as the vet said", Until: model.Date{Day: model.MomentOf(clock.Now()).Day() + 14, Precision: model.ToDay}}})
	for range 7 {
		clock.Pass(7 * 24 * time.Hour)
		look(care.NoMites)
	}
	if got := facts("Ash", none); !got.MiteWatch { // over by the mites alone: 84 of 77 days
		t.Errorf("35 days after the last day of a treatment: %+v", got)
	}
	if got := facts("Wren", none); got != (round.Facts{}) {
		t.Errorf("of another one: %+v", got)
	}
}

// Whatever was seen, and however warm it is: the house is asked for the length of a watch
// only where one is watched for by the longest, and that changes no class.
func TestTheWatchOfAClassIsThatOfMites(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	found := map[bool]int{}
	for seed := range uint64(60) {
		draw := rand.New(rand.NewPCG(seed, 3))
		c, clock := storetest.New(t)
		do := func(command model.Command) model.ID {
			t.Helper()
			change, err := c.Do(command)
			if err != nil {
				t.Fatal(command.Name(), err)
			}
			return change.Documents[0]
		}
		ago := func(days int) model.Moment { return model.MomentOf(clock.Now().AddDate(0, 0, -days)) }
		id := model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: "Ash", Species: "python-regius", Status: animals.Kept}})}
		tub := husbandry.Place{Name: "Tub", Kind: husbandry.Tub}
		if draw.IntN(3) > 0 {
			tub.Zones.Cool = model.Temperature{Hundredths: 2800, Typed: "28"}
		}
		place := model.PlaceID{ID: do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: tub}}})}
		do(husbandry.Move{Animal: id, Place: place, At: ago(500)})
		see := func(grade care.MiteGrade, days int) {
			do(care.LookForMites{About: care.About{Animal: id, At: ago(days)}, MiteLook: care.MiteLook{Grade: grade, Where: []care.MiteWhere{care.OnAnimal}}})
		}
		if began := draw.IntN(120); began > 0 {
			see(care.MiteGrades()[draw.IntN(len(care.MiteGrades()))], began)
			for day := began - 7; day > 0; day -= 5 + draw.IntN(5) {
				see(care.NoMites, day)
			}
		}
		if err := c.View(func(v model.View) error {
			a, err := animals.Find(v, id)
			if err != nil {
				return err
			}
			house, err := husbandry.ReadHouse(v)
			if err != nil {
				return err
			}
			records, err := history.Lately(tables, v, a, nil, v.Now())
			if err != nil {
				return err
			}
			looks, today := records.MiteDays(), v.Now().Day()
			want, _ := looks.Watch(tables, records.Treated(), house.MitesLast(tables, id, looks.Seen(today), v.Now()), today)
			known, err := round.Know(v, tables, a, v.Now())
			if err != nil {
				return err
			}
			got := round.FactsOf(tables, id, known.Own, house, nil, positives.Marks{}, v.Now())
			if found[got.MiteWatch]++; got.MiteWatch != (want.Mites != 0) {
				t.Errorf("seed %d, %v: watched is %v", seed, looks, got.MiteWatch)
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
	}
	if found[true] < 10 || found[false] < 10 {
		t.Errorf("watched and not: %v", found)
	}
}

// An animal on which nothing was ever seen costs no walk through the days of its house.
func BenchmarkFactsOf(b *testing.B) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		b.Fatal(err)
	}
	c, clock := storetest.New(b)
	var id model.AnimalID
	var house *husbandry.House
	for _, command := range []model.Command{animals.Add{Animal: animals.Animal{Name: "Ash", Species: "python-regius", Status: animals.Kept}},
		husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Tub", Kind: husbandry.Tub, Zones: husbandry.Zones{Cool: model.Temperature{Hundredths: 2800, Typed: "28"}}}}}}} {
		change, err := c.Do(command)
		if err != nil {
			b.Fatal(err)
		}
		if id.IsZero() {
			id.ID = change.Documents[0]
			continue
		}
		if _, err := c.Do(husbandry.Move{Animal: id, Place: model.PlaceID{ID: change.Documents[0]}, At: model.MomentOf(time.Unix(0, 0))}); err != nil {
			b.Fatal(err)
		}
	}
	if err := c.View(func(v model.View) (err error) { house, err = husbandry.ReadHouse(v); return err }); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if round.FactsOf(tables, id, round.Own{}, house, nil, positives.Marks{}, model.MomentOf(clock.Now())).MiteWatch {
			b.Fatal("it is watched")
		}
	}
}
