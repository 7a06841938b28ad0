package importing_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/importing"
	"coilward/model/storetest"
)

func place(n int, name string, kind husbandry.PlaceKind, in int) importing.Place {
	return importing.Place{Source: line(n), Place: husbandry.Place{Name: name, Kind: kind}, New: in}
}

// stay is of the animal and the place of those numbers, from so many days ago to
// so many; to 0: still there.
func stay(n, of, in, from, to int) importing.Stay {
	s := importing.Stay{Source: line(n), New: of, NewPlace: in, From: at(from)}
	if to > 0 {
		s.To = at(to)
	}
	return s
}

// toTheDay is a stay that is known to begin on a day, not at which hour.
func toTheDay(s importing.Stay) importing.Stay {
	s.From.Precision = model.ToDay
	return s
}

func TestJudgeStays(t *testing.T) {
	two := []importing.Animal{animal(2, "Juno"), animal(3, "Brook")}
	loft := []importing.Place{place(9, "Loft", husbandry.Room, -1), place(9, "Box 1", husbandry.Tub, 0), place(9, "Box 2", husbandry.Tub, 0)}
	hatched := animal(2, "Juno")
	hatched.Hatched = model.Date{Day: at(10).Day(), Precision: model.ToDay}
	for name, c := range map[string]struct {
		rows          importing.Rows
		stays, places int
		refused       string
	}{
		"one":                       {importing.Rows{Animals: two, Places: loft, Stays: []importing.Stay{stay(4, 0, 1, 20, 0)}}, 1, 2, ""},
		"one after the other":       {importing.Rows{Animals: two, Places: loft, Stays: []importing.Stay{stay(4, 0, 1, 9, 0), stay(5, 0, 2, 20, 9)}}, 2, 3, ""},
		"a place that nobody names": {importing.Rows{Animals: two, Places: loft}, 0, 0, ""},
		"two places at a time":      {importing.Rows{Animals: two, Places: loft, Stays: []importing.Stay{stay(4, 0, 1, 20, 0), stay(5, 0, 2, 9, 3)}}, 1, 2, "5 stay.overlap"},
		"two in one place":          {importing.Rows{Animals: two, Places: loft, Stays: []importing.Stay{stay(4, 0, 1, 20, 0), stay(5, 1, 1, 9, 3)}}, 1, 2, "5 house.shared"},
		"two in one, confirmed": {importing.Rows{Animals: two, Places: loft, Confirmed: model.Confirmed{"house.shared"},
			Stays: []importing.Stay{stay(4, 0, 1, 20, 0), stay(5, 1, 1, 9, 3)}}, 2, 2, ""},
		"one that began and ended on the day another began": {importing.Rows{Animals: two, Places: loft, Stays: []importing.Stay{stay(4, 1, 1, 1, 0), toTheDay(stay(5, 1, 2, 1, 1))}}, 2, 3, ""},
		"before hatching":       {importing.Rows{Animals: []importing.Animal{hatched}, Places: loft, Stays: []importing.Stay{stay(4, 0, 1, 20, 0)}}, 0, 0, "4 day.before-hatching"},
		"the end first":         {importing.Rows{Animals: two, Places: loft, Stays: []importing.Stay{stay(4, 0, 1, 9, 20)}}, 0, 0, "4 stay.end-first"},
		"tomorrow":              {importing.Rows{Animals: two, Places: loft, Stays: []importing.Stay{stay(4, 0, 1, -2, 0)}}, 0, 0, "4 day.future"},
		"in a room":             {importing.Rows{Animals: two, Places: loft, Stays: []importing.Stay{stay(4, 0, 0, 20, 0)}}, 0, 0, "4 house.no-enclosure"},
		"of one who cannot be":  {importing.Rows{Animals: []importing.Animal{animal(2, "")}, Places: loft, Stays: []importing.Stay{stay(4, 0, 1, 20, 0)}}, 0, 0, "2 name.empty, 4 movein.animal-refused"},
		"in what cannot be":     {importing.Rows{Animals: two, Places: []importing.Place{place(9, "", husbandry.Room, -1), place(9, "Box", husbandry.Tub, 0)}, Stays: []importing.Stay{stay(4, 0, 1, 20, 0)}}, 0, 0, "9 text.empty, 9 movein.place-refused, 4 movein.place-refused"},
		"a box in a box":        {importing.Rows{Animals: two, Places: []importing.Place{place(9, "Box", husbandry.Tub, -1), place(9, "Box", husbandry.Tub, 0)}, Stays: []importing.Stay{stay(4, 0, 0, 20, 0)}}, 1, 1, "9 house.nesting"},
		"a name twice":          {importing.Rows{Animals: two, Places: append(loft, place(10, "box 1", husbandry.Tub, 0)), Stays: []importing.Stay{stay(4, 0, 1, 20, 0)}}, 1, 2, "10 house.twice"},
		"moved within one hour": {importing.Rows{Animals: two, Places: loft, Stays: []importing.Stay{stay(4, 0, 1, 20, 20)}}, 0, 0, "4 stay.end-first"},
	} {
		t.Run(name, func(t *testing.T) {
			room, _ := storetest.New(t)
			j := judged(t, room, c.rows)
			if j.Stays != c.stays || j.Places != c.places || said(j) != c.refused {
				t.Errorf("%d stays, %d places, refused %q; want %d, %d, %q", j.Stays, j.Places, said(j), c.stays, c.places, c.refused)
			}
			if good := judged(t, room, j.Good()); said(good) != "" || good.Stays != c.stays || good.Places != c.places {
				t.Errorf("of the good ones %q is refused, %d stays, %d places", said(good), good.Stays, good.Places)
			}
			if j.Made() == 0 {
				return
			}
			if _, err := room.Do(j.Good()); err != nil {
				t.Error(err)
			}
			if house := whole(t, room); len(house.Places()) != c.places {
				t.Errorf("%d places are there", len(house.Places()))
			}
			if _, err := room.Undo(); err != nil || len(whole(t, room).Places()) != 0 {
				t.Errorf("after one undo places are there (%v)", err)
			}
		})
	}
}

func whole(t *testing.T, c *collection.Collection) (h *husbandry.House) {
	t.Helper()
	if err := c.View(func(v model.View) (err error) { h, err = husbandry.ReadHouse(v); return err }); err != nil {
		t.Fatal(err)
	}
	return h
}

// A refused overlap names both stays.
func TestAnOverlapNamesBoth(t *testing.T) {
	c, _ := storetest.New(t)
	j := judged(t, c, importing.Rows{Animals: []importing.Animal{animal(2, "Juno")},
		Places: []importing.Place{place(9, "Box 1", husbandry.Tub, -1), place(9, "Box 2", husbandry.Tub, -1)}, Stays: []importing.Stay{stay(4, 0, 0, 20, 0), stay(5, 0, 1, 9, 0)}})
	if len(j.Refused) != 1 || j.Refused[0].Refusal.Gaps["Place"] != model.TextGap("Box 2") || j.Refused[0].Refusal.Gaps["Other"] != model.TextGap("Box 1") || j.Refused[0].Refusal.Field != "stay-from" {
		t.Errorf("%+v", j.Refused)
	}
}

// An animal that left on a day nobody noted may have lived somewhere; whether it
// does so still is asked.
func TestStaysOfOneThatIsGone(t *testing.T) {
	c, _ := storetest.New(t)
	gone := importing.Animal{Source: line(2), Animal: animals.Animal{Name: "Juno", Status: animals.Died}}
	rows := importing.Rows{Animals: []importing.Animal{gone}, Places: []importing.Place{place(9, "Box", husbandry.Tub, -1)}, Stays: []importing.Stay{stay(4, 0, 0, 20, 9), stay(5, 0, 0, 5, 0)}}
	if j := judged(t, c, rows); j.Stays != 1 || said(j) != "5 animal.gone-asks" {
		t.Errorf("%d stays, refused %q", j.Stays, said(j))
	}
}

// Whatever stays rows hold, those that are brought in never overlap for one
// animal, each row is accounted for, and once more all of them are there.
func TestStaysNeverOverlap(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c, _ := storetest.New(t)
		rows := importing.Rows{Animals: []importing.Animal{animal(0, "Juno"), animal(1, "Brook")}, Confirmed: model.Confirmed{"house.shared"},
			Places: []importing.Place{place(2, "A", husbandry.Tub, -1), place(3, "B", husbandry.Tub, -1), place(4, "C", husbandry.Vivarium, -1)}}
		for i := range rapid.IntRange(0, 9).Draw(r, "stays") {
			s := stay(10+i, rapid.IntRange(0, 1).Draw(r, "of"), rapid.IntRange(0, 2).Draw(r, "in"), rapid.IntRange(0, 30).Draw(r, "from"), rapid.IntRange(0, 30).Draw(r, "to"))
			if rapid.Bool().Draw(r, "vague") {
				s = toTheDay(s)
			}
			rows.Stays = append(rows.Stays, s)
		}
		j := judged(t, c, rows)
		if j.Stays+len(j.Refused) != len(rows.Stays) {
			r.Fatalf("%d stays, refused %q", j.Stays, said(j))
		}
		if _, err := c.Do(j.Good()); err != nil {
			r.Fatal(err)
		}
		house := whole(t, c)
		stays := 0
		if err := c.View(func(v model.View) error {
			return v.All(model.TypeAnimal, func(d model.Document) bool {
				all := house.Stays(model.AnimalID{ID: d.ID})
				for i, a := range all {
					for _, b := range all[:i] {
						if b.From.Day() < a.From.Day() && (b.To.IsZero() || b.To.Day() > a.From.Day()) {
							r.Errorf("%s to %s and from %s", b.From.Day(), b.To.Day(), a.From.Day())
						}
					}
				}
				stays += len(all)
				return true
			})
		}); err != nil {
			r.Fatal(err)
		}
		if stays != j.Stays || strings.Contains(said(j), "house.") {
			r.Errorf("%d stays are there of %d; %s", stays, j.Stays, said(j))
		}
	})
}
