package infested_test

import (
	"maps"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/infested"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

// house is two rooms in which animals lived for 200 days: Ash moved from the first to the
// second on day 50, Brook and Wren live in the first, Fern in the second. On day 100 one was
// sold that lived in the first, Rush.
type house struct {
	*husbandry.House
	tables       *knowledge.Tables
	first, other model.PlaceID
	ids          map[string]model.AnimalID
	start        model.Day
	now          model.Moment
	all          []animals.Stored
	view         func(func(model.View) error) error
	do           func(model.Command) []model.ID
}

func newHouse(t *testing.T) house {
	t.Helper()
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
	w := house{tables: tables, ids: map[string]model.AnimalID{}, start: now().Day(), view: c.View, do: do}
	tub := func(name string) husbandry.Branch {
		return husbandry.Branch{Place: husbandry.Place{Name: name, Kind: husbandry.Tub}}
	}
	room := func(name string, tubs ...husbandry.Branch) []model.ID {
		return do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: name, Kind: husbandry.Room}, Below: tubs}}})
	}
	first, other := room("Mill", tub("1"), tub("2"), tub("3"), tub("4")), room("Loft", tub("5"), tub("6"))
	w.first, w.other = model.PlaceID{ID: first[0]}, model.PlaceID{ID: other[0]}
	move := func(name string, tub model.ID) {
		do(husbandry.Move{Animal: w.ids[name], Place: model.PlaceID{ID: tub}, At: now()})
	}
	for name, tub := range map[string]model.ID{"Ash": first[1], "Brook": first[2], "Wren": first[3], "Rush": first[4], "Fern": other[1]} {
		w.ids[name] = model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept}})[0]}
		move(name, tub)
	}
	clock.Pass(50 * 24 * time.Hour)
	move("Ash", other[2])
	clock.Pass(50 * 24 * time.Hour)
	do(animals.SetStatus{ID: w.ids["Rush"], Base: 1, Status: animals.Sold, Day: model.Date{Day: now().Day(), Precision: model.ToDay}})
	clock.Pass(100 * 24 * time.Hour)
	w.now = now()
	if err := c.View(func(v model.View) (err error) {
		if w.all, err = animals.All(v); err != nil {
			return err
		}
		w.House, err = husbandry.ReadHouse(v)
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return w
}

// rooms are the rooms in which mites are watched for, given the looks at animals by days from
// the beginning; an animal without looks was never looked at.
func (w house) rooms(looks map[string]map[int]care.MiteGrade) infested.Rooms {
	all := map[model.AnimalID]infested.Animal{}
	for name, id := range w.ids {
		a := infested.Animal{Name: name, Status: animals.Kept, Looks: care.MiteDays{}}
		if name == "Rush" {
			a.Status = animals.Sold
		}
		for day, grade := range looks[name] {
			a.Looks[w.start+model.Day(day)] = grade
		}
		all[id] = a
	}
	return infested.RoomsOf(w.tables, w.House, all, w.now)
}

// weekly are looks that see none, from a day to another.
func weekly(from, to int) map[int]care.MiteGrade {
	all := map[int]care.MiteGrade{}
	for day := from; day <= to; day += 7 {
		all[day] = care.NoMites
	}
	return all
}

func seenOn(day int, more map[int]care.MiteGrade) map[int]care.MiteGrade {
	all := maps.Clone(more)
	if all == nil {
		all = map[int]care.MiteGrade{}
	}
	all[day] = care.SeveralMites
	return all
}

// A room is watched where one lives that is watched for mites, or lived since they were seen;
// where that one is gone, until all who live there were looked at for 77 days, with no more than
// 10 days between two looks (the table of values).
func TestRoomsOf(t *testing.T) {
	w := newHouse(t)
	type looks = map[string]map[int]care.MiteGrade
	for name, c := range map[string]struct {
		looks        looks
		first, other int // the day on which mites were seen there last; 0: not watched
	}{
		"nothing seen":                           {looks{"Brook": weekly(1, 199)}, 0, 0},
		"on one that lives there":                {looks{"Brook": seenOn(190, nil)}, 190, 0},
		"on one that moved before":               {looks{"Ash": seenOn(60, nil)}, 0, 60},
		"on one that moved after":                {looks{"Ash": seenOn(40, nil)}, 40, 40},
		"whose own watch is over":                {looks{"Ash": seenOn(40, weekly(47, 199))}, 0, 0},
		"on one that is gone":                    {looks{"Rush": seenOn(99, nil)}, 99, 0},
		"gone, its own watch was over":           {looks{"Rush": seenOn(10, weekly(17, 99))}, 0, 0},
		"gone, its own watch was begun":          {looks{"Rush": seenOn(40, weekly(47, 99))}, 40, 0},
		"one looked at":                          {looks{"Rush": seenOn(99, nil), "Brook": weekly(101, 199)}, 99, 0},
		"both looked at":                         {looks{"Rush": seenOn(99, nil), "Brook": weekly(101, 199), "Wren": weekly(101, 199)}, 0, 0},
		"both, on other days":                    {looks{"Rush": seenOn(99, nil), "Brook": weekly(101, 199), "Wren": weekly(104, 199)}, 0, 0},
		"both, begun together with its own":      {looks{"Rush": seenOn(40, weekly(47, 99)), "Brook": weekly(101, 122), "Wren": weekly(101, 122)}, 0, 0},
		"both, for too short":                    {looks{"Rush": seenOn(99, nil), "Brook": weekly(130, 199), "Wren": weekly(130, 199)}, 99, 0},
		"one with a long gap":                    {looks{"Rush": seenOn(99, nil), "Brook": weekly(101, 199), "Wren": {101: care.NoMites, 199: care.NoMites}}, 99, 0},
		"mites on one of them since":             {looks{"Rush": seenOn(99, nil), "Brook": weekly(101, 199), "Wren": seenOn(195, weekly(101, 190))}, 195, 0},
		"the looks of another room":              {looks{"Rush": seenOn(99, nil), "Fern": weekly(101, 199), "Ash": weekly(101, 199)}, 99, 0},
		"the looks of one that moved away count": {looks{"Rush": seenOn(10, weekly(17, 99)), "Ash": weekly(1, 50)}, 0, 0},
	} {
		got := w.rooms(c.looks)
		for room, want := range map[model.PlaceID]int{w.first: c.first, w.other: c.other} {
			r, watched := got[room]
			if watched != (want != 0) || watched && r.Seen != w.start+model.Day(want) {
				t.Errorf("%s: %+v, want %d in %v", name, got, want, room)
			}
		}
		if _, near := got.Near(w.ids["Brook"], w.House, w.now); near != (c.first != 0) {
			t.Errorf("%s: Brook is near: %v", name, near)
		}
	}
}

// One more look that sees none never begins a watch, and one that sees mites on one that lives
// in a room always does.
func TestRoomsOf_MoreLooks(t *testing.T) {
	w := newHouse(t)
	rapid.Check(t, func(t *rapid.T) {
		looks := map[string]map[int]care.MiteGrade{}
		for _, name := range []string{"Ash", "Brook", "Wren", "Rush", "Fern"} {
			last := 199
			if name == "Rush" {
				last = 99
			}
			some := rapid.MapOfN(rapid.IntRange(1, last), rapid.SampledFrom([]care.MiteGrade{care.NoMites, care.NoMites, care.NoMites, care.MiteSpeck, care.OneMite}), 0, 12).Draw(t, name)
			if rapid.Bool().Draw(t, name+" weekly") {
				from := rapid.IntRange(1, last).Draw(t, name+" from")
				for day, grade := range weekly(from, last) {
					some[day] = grade
				}
			}
			looks[name] = some
		}
		before := w.rooms(looks)
		name, day := rapid.SampledFrom([]string{"Ash", "Brook", "Wren", "Fern"}).Draw(t, "more"), rapid.IntRange(1, 200).Draw(t, "on")
		if _, looked := looks[name][day]; !looked {
			looks[name][day] = care.NoMites
			for room := range w.rooms(looks) {
				if _, watched := before[room]; !watched {
					t.Fatalf("a look at %s that sees none begins the watch of a room", name)
				}
			}
		}
		looks[name][200] = care.OneMite
		if r, near := w.rooms(looks).Near(w.ids[name], w.House, w.now); !near || r.Seen != w.start+200 {
			t.Fatalf("mites on %s: %+v", name, r)
		}
	})
}

// Of those that are not here any more the looks are read, of those that are here what is known.
func TestRead(t *testing.T) {
	w := newHouse(t)
	at := w.now
	at.UTC -= 101 * 86400
	w.do(care.LookForMites{About: care.About{Animal: w.ids["Rush"], At: at}, MiteLook: care.MiteLook{Grade: care.SeveralMites, Where: []care.MiteWhere{care.OnAnimal}}})
	if err := w.view(func(v model.View) error {
		rooms, unread := infested.Read(v, w.tables, w.House, w.all, nil)
		if r := rooms[w.first]; len(unread) > 0 || len(rooms) != 1 || r.On != "Rush" || r.Seen != at.Day() {
			t.Errorf("%+v, %v", rooms, unread)
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
}
