package round_test

import (
	"slices"
	"testing"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/rescue"
	"coilward/model/round"
	"coilward/model/storetest"
)

// Who lives in a room with one that is watched for mites is gone through after those of other
// rooms, and what tools go into works on mites; until the watch is over, and no longer than it
// lives there (common practice, no source).
func TestMitesInTheRoom(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	c, clock := storetest.New(t)
	do := func(command model.Command) []model.ID {
		t.Helper()
		change, err := c.Do(command)
		if err != nil {
			t.Fatal(command.Name(), err)
		}
		return change.Documents
	}
	now := func() model.Moment { return model.MomentOf(clock.Now()) }
	tubs := map[string]model.PlaceID{}
	for _, room := range []string{"Long room", "Loft"} {
		branches := []husbandry.Branch{{Place: husbandry.Place{Name: room, Kind: husbandry.Room}, Below: []husbandry.Branch{
			{Place: husbandry.Place{Name: room + " 1", Kind: husbandry.Tub}}, {Place: husbandry.Place{Name: room + " 2", Kind: husbandry.Tub}}, {Place: husbandry.Place{Name: room + " 3", Kind: husbandry.Tub}}}}}
		do(husbandry.AddPlaces{Branches: branches})
	}
	ids := map[string]model.AnimalID{}
	for _, name := range []string{"Ash", "Brook", "Fern", "Wren"} {
		ids[name] = model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept}})[0]}
	}
	read := func() map[string]round.Dweller {
		t.Helper()
		dwellers := map[string]round.Dweller{}
		if err := c.View(func(v model.View) error {
			places, err := husbandry.ReadHouse(v)
			if err != nil {
				return err
			}
			for _, p := range places.Places() {
				tubs[p.Name] = p.ID
			}
			house, err := round.ReadHouse(v, tables)
			for _, d := range house.Dwellers {
				dwellers[house.Names[d.Animal]] = d
			}
			return err
		}); err != nil {
			t.Fatal(err)
		}
		return dwellers
	}
	read()
	for name, tub := range map[string]string{"Ash": "Long room 1", "Brook": "Long room 2", "Fern": "Loft 1"} {
		do(husbandry.Move{Animal: ids[name], Place: tubs[tub], At: now()})
	}
	expect := func(when string, want map[string]round.Class) map[string]round.Dweller {
		t.Helper()
		got := read()
		for name, class := range want {
			if got[name].Facts.Class() != class {
				t.Errorf("%s: %s is %s, not %s", when, name, got[name].Facts.Class(), class)
			}
		}
		return got
	}
	expect("before", map[string]round.Class{"Ash": round.Resident, "Brook": round.Resident, "Fern": round.Resident, "Wren": round.Resident})

	seen := now().Day()
	do(care.LookForMites{About: care.About{Animal: ids["Ash"], At: now()}, MiteLook: care.MiteLook{Grade: care.SeveralMites, Where: []care.MiteWhere{care.OnAnimal}}})
	got := expect("mites seen", map[string]round.Class{"Ash": round.Ill, "Brook": round.NearPositive, "Fern": round.Resident, "Wren": round.Resident})
	want := []round.Reason{{Why: round.WhyNearMites, Since: model.Date{Day: seen, Precision: model.ToDay}}}
	if reasons := got["Brook"].Reasons; !slices.Equal(reasons, want) {
		t.Errorf("Brook is near for %v", reasons)
	}
	if f := got["Ash"].Facts; f.NearMites != 0 {
		t.Error("the one with mites is near itself")
	}
	brook := got["Brook"]
	if against := round.Stops(tables, []round.Dweller{brook})[0].Against; !slices.Contains(against, knowledge.TargetID("mites")) {
		t.Errorf("what lies between is against %v", against)
	}

	clock.Pass(24 * time.Hour)
	do(husbandry.Move{Animal: ids["Brook"], Place: tubs["Loft 2"], At: now()})
	expect("another room", map[string]round.Class{"Brook": round.Resident, "Fern": round.Resident})
	do(husbandry.Move{Animal: ids["Ash"], Place: tubs["Loft 3"], At: now()})
	clock.Pass(24 * time.Hour)
	do(husbandry.Move{Animal: ids["Wren"], Place: tubs["Long room 1"], At: now()})
	expect("mites moved, and may have stayed behind", map[string]round.Class{"Ash": round.Ill, "Brook": round.NearPositive, "Fern": round.NearPositive, "Wren": round.NearPositive})
	do(husbandry.Move{Animal: ids["Ash"], Place: tubs["Long room 2"], At: now()})

	for range 12 {
		clock.Pass(7 * 24 * time.Hour)
		do(care.LookForMites{About: care.About{Animal: ids["Ash"], At: now()}, MiteLook: care.MiteLook{Grade: care.NoMites, Where: []care.MiteWhere{care.OnAnimal}}})
	}
	expect("the watch is over", map[string]round.Class{"Ash": round.Resident, "Fern": round.Resident, "Wren": round.Resident})
}

// Where one with mites was sold or died, its room stays near mites until everyone who lives there
// was looked at for as long as it would have been: to the round, the rescue and Due alike (common
// practice, no source; the days: the table of values, where it is not known how warm it is).
func TestMitesStayBehindWhenTheirSnakeIsGone(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	for _, status := range []animals.Status{animals.Sold, animals.Died, animals.OnLoan} {
		c, clock := storetest.New(t)
		do := func(command model.Command) []model.ID {
			t.Helper()
			change, err := c.Do(command)
			if err != nil {
				t.Fatal(command.Name(), err)
			}
			return change.Documents
		}
		now := func() model.Moment { return model.MomentOf(clock.Now()) }
		ids, tubs := map[string]model.AnimalID{}, map[string]model.PlaceID{}
		for room, names := range map[string][]string{"Long room": {"Ash", "Brook", "Wren"}, "Loft": {"Fern"}} {
			branch := husbandry.Branch{Place: husbandry.Place{Name: room, Kind: husbandry.Room}}
			for _, name := range names {
				branch.Below = append(branch.Below, husbandry.Branch{Place: husbandry.Place{Name: name, Kind: husbandry.Tub}})
			}
			made := do(husbandry.AddPlaces{Branches: []husbandry.Branch{branch}})
			for i, name := range names {
				tubs[name] = model.PlaceID{ID: made[i+1]}
				ids[name] = model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept}})[0]}
			}
		}
		for _, name := range []string{"Ash", "Brook", "Fern"} {
			do(husbandry.Move{Animal: ids[name], Place: tubs[name], At: now()})
		}
		look := func(name string, grade care.MiteGrade) {
			t.Helper()
			do(care.LookForMites{About: care.About{Animal: ids[name], At: now()}, MiteLook: care.MiteLook{Grade: grade, Where: []care.MiteWhere{care.OnAnimal}}})
		}
		near := func(when string, want ...string) {
			t.Helper()
			list, err := due.NewBook(tables).Bring(t.Context(), c, nil)
			if err != nil {
				t.Fatal(err)
			}
			asked := map[string]bool{}
			for _, i := range list.Items {
				asked[i.Of.Name] = asked[i.Of.Name] || i.Job == due.MiteLook && i.Reasons[0].Key == "due.why.mites-near"
			}
			if err := c.View(func(v model.View) error {
				house, err := round.ReadHouse(v, tables)
				if err != nil {
					return err
				}
				warm, err := rescue.Read(v, tables)
				if err != nil {
					return err
				}
				for _, d := range house.Dwellers {
					name := house.Names[d.Animal]
					if name == "Ash" {
						continue
					}
					is := slices.Contains(want, name)
					if got := d.Facts.NearMites != 0; got != is || asked[name] != is || (warm.Class[d.Animal] == round.NearPositive) != is {
						t.Errorf("%s, %s: %s is near mites: %v on a round, %v in Due, %s in a rescue; want %v", status, when, name, got, asked[name], warm.Class[d.Animal], is)
					}
				}
				return nil
			}); err != nil {
				t.Fatal(err)
			}
		}
		near("before")
		look("Ash", care.SeveralMites)
		near("mites seen", "Brook")
		clock.Pass(5 * 24 * time.Hour)
		do(animals.SetStatus{ID: ids["Ash"], Base: 1, Status: status, Day: model.Date{Day: now().Day(), Precision: model.ToDay}})
		near("gone", "Brook")
		do(husbandry.Move{Animal: ids["Wren"], Place: tubs["Wren"], At: now()})
		near("another one came", "Brook", "Wren")
		for range 12 {
			clock.Pass(7 * 24 * time.Hour)
			look("Brook", care.NoMites)
		}
		near("one of them was never looked at", "Brook", "Wren")
		for range 11 {
			look("Brook", care.NoMites)
			look("Wren", care.NoMites)
			near("looked at for less than 77 days", "Brook", "Wren")
			clock.Pass(7 * 24 * time.Hour)
		}
		look("Brook", care.NoMites)
		near("on the last day one of them was looked at 7 days ago")
		look("Wren", care.NoMites)
		near("everyone was looked at for 77 days")
	}
}
