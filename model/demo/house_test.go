package demo

import (
	"slices"
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
)

// Everyone who is here lives in a place of its own, none shared; somebody moved,
// the sold one lives nowhere, and the rack stands where it was moved to.
func TestEveryoneIsHoused(t *testing.T) {
	c, _ := filled(t, time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC))
	err := c.View(func(v model.View) error {
		h, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		all, err := animals.All(v)
		if err != nil {
			return err
		}
		moved := 0
		for _, a := range all {
			stay, housed := h.Where(a.ID, v.Now())
			if housed != a.Status.Here() {
				t.Errorf("%s: housed %v", a.Name, housed)
			}
			if n := len(h.Stays(a.ID)); n > 1 {
				moved++
			}
			if p, _ := h.Place(stay.Place); housed && (!p.Kind.Houses() || p.Size == (husbandry.Size{})) {
				t.Errorf("%s lives in %+v", a.Name, p)
			}
		}
		for id, living := range h.Residents(v.Now()) {
			if len(living) != 1 {
				t.Errorf("%d live in %s", len(living), h.Title(id))
			}
		}
		if moved < 3 {
			t.Errorf("%d have moved", moved)
		}
		rooms, racks := h.In(model.PlaceID{}), 0
		for _, p := range h.In(rooms[0].ID) {
			if p.Kind == husbandry.Rack {
				racks++
			}
		}
		if len(rooms) != 3 || racks != 1 {
			t.Errorf("%d rooms, %d racks in the first", len(rooms), racks)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A reading is typed as it is in the language of the story.
func TestReadingsAreTypedInTheLanguage(t *testing.T) {
	c, _ := filled(t, time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC))
	var readings []string
	err := c.View(func(v model.View) error {
		instruments, err := husbandry.Instruments(v)
		if err != nil {
			return err
		}
		for _, i := range instruments {
			checks, err := husbandry.Checks(v, i.ID)
			if err != nil {
				return err
			}
			for _, one := range checks {
				readings = append(readings, one.Reading)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if said := strings.Join(readings, "; "); strings.Contains(said, ".") || !strings.Contains(said, "25,1 °C") || !strings.Contains(said, "25,2 °C") {
		t.Errorf("in German it is typed: %s", said)
	}
}

// The small scale's last check has failed, so that weights since the last good
// one are doubtful; those of the other scale are not.
func TestAScaleIsDoubted(t *testing.T) {
	c, _ := filled(t, time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC))
	err := c.View(func(v model.View) error {
		instruments, err := husbandry.Instruments(v)
		if err != nil {
			return err
		}
		spans := map[model.InstrumentID][]husbandry.Span{}
		for _, i := range instruments {
			checks, err := husbandry.Checks(v, i.ID)
			if err != nil {
				return err
			}
			if found := husbandry.Doubtful(checks); len(found) > 0 {
				spans[i.ID] = found
			}
		}
		if len(instruments) != 5 || len(spans) != 1 {
			t.Errorf("%d instruments, doubtful %v", len(instruments), spans)
		}
		doubtful, sound := 0, 0
		all, err := animals.All(v)
		if err != nil {
			return err
		}
		for _, a := range all {
			series, err := care.Series(v, a.ID)
			if err != nil {
				return err
			}
			for _, w := range series {
				if husbandry.In(spans[w.With], w.At) {
					doubtful++
				} else {
					sound++
				}
			}
		}
		if doubtful < 3 || sound < 10*doubtful {
			t.Errorf("%d weights are doubtful, %d are not", doubtful, sound)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Every box that somebody lives in was cleaned lately, but for one; each cleaning
// works on what it was used against, but for one that was done again the day after,
// and mites were seen and went.
func TestCleaningsAndLooks(t *testing.T) {
	c, tables := filled(t, time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC))
	err := c.View(func(v model.View) error {
		h, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		late, vain := 0, 0
		for id := range h.Residents(v.Now()) {
			cleanings, err := husbandry.Cleanings(v, id.Subject())
			if err != nil {
				return err
			}
			if len(cleanings) == 0 {
				t.Errorf("%s was never cleaned", h.Title(id))
			}
			for _, one := range cleanings {
				if one.Extent != husbandry.Full {
					continue
				}
				best, said := husbandry.Best(one.Said, one.Against[0])
				switch {
				case slices.ContainsFunc(one.Said, func(v husbandry.Worked) bool { return v.Does == husbandry.DoesNot }):
					vain++
					again := slices.ContainsFunc(cleanings, func(o husbandry.Cleaned) bool {
						best, said := husbandry.Best(o.Said, one.Against[0])
						return o.At.Day() == one.At.Day()+1 && said && best.Does == husbandry.DoesWork
					})
					if !again {
						t.Errorf("%s: what did not work was not done again", h.Title(id))
					}
				case !said || best.Does != husbandry.DoesWork:
					t.Errorf("%s: %+v", h.Title(id), one.Said)
				}
			}
			if due := husbandry.CleaningDue(tables, h, id, cleanings); due.Next < v.Now().Day() {
				late++
			}
		}
		if late != 1 || vain != 1 {
			t.Errorf("%d places are late, %d cleanings were in vain", late, vain)
		}
		var grades []care.MiteGrade
		all, err := animals.All(v)
		if err != nil {
			return err
		}
		for _, a := range all {
			err := v.Timeline(a.ID.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
				if m, err := care.DecodeMiteLook(d); err == nil && !slices.Contains(grades, m.Grade) {
					grades = append(grades, m.Grade)
				}
				return true
			})
			if err != nil {
				return err
			}
		}
		if len(grades) < 4 {
			t.Errorf("grades seen: %v", grades)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// The house is told in the reader's language.
func TestHouseNamesAreTexts(t *testing.T) {
	c, _ := filled(t, time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC))
	err := c.View(func(v model.View) error {
		h, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		const want = "Schleusenraum, Langes Regal, Boden B, Box 5"
		if !slices.ContainsFunc(h.Places(), func(p husbandry.StoredPlace) bool { return h.Title(p.ID) == want }) {
			t.Errorf("no %q", want)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
