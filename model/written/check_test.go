package written_test

import (
	"errors"
	"slices"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/storetest"
	"coilward/model/written"
)

// world is a collection in which sheets are typed in.
type world struct {
	*testing.T
	*collection.Collection
	now model.Moment
}

func open(t *testing.T) *world {
	t.Helper()
	c, clock := storetest.New(t)
	return &world{t, c, model.MomentOf(clock.Now())}
}

func (w *world) do(c model.Command) collection.Change {
	w.Helper()
	done, err := w.Do(c)
	if err != nil {
		w.Fatalf("%s: %v", c.Name(), err)
	}
	return done
}

func (w *world) animal(name string) model.AnimalID {
	w.Helper()
	return model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept}}).Documents[0]}
}

// sheet is a sheet of an animal, ticked all fine, so many days ago.
func (w *world) sheet(animal model.AnimalID, ago model.Day) (c written.KeepCheck) {
	w.Helper()
	tb := tables(w)
	at := written.On(w.now, w.now.Day()-ago)
	err := w.View(func(v model.View) error {
		c = written.KeepCheck{Tables: tb, Draft: exam.Begin(tb, exam.Beginning{Check: model.EntryID{ID: v.NewID()}, Animal: animal, At: at}).Fine(tb, at)}
		return nil
	})
	if err != nil {
		w.Fatal(err)
	}
	return c
}

func (w *world) kept(c written.KeepCheck) (at model.Moment, kept bool) {
	w.Helper()
	if err := w.View(func(v model.View) (err error) { at, kept, err = written.Kept(v, c.Draft.Check.ID); return err }); err != nil {
		w.Fatal(err)
	}
	return at, kept
}

func (w *world) rows(in model.PlaceID, at model.Moment) (rows []written.Row) {
	w.Helper()
	if err := w.View(func(v model.View) (err error) { rows, err = written.Rows(v, in, at); return err }); err != nil {
		w.Fatal(err)
	}
	return rows
}

// A sheet becomes the check with its id and, where a mass stands on it, a weight, both of its
// day and in one change.
func TestKeepCheck(t *testing.T) {
	w := open(t)
	juniper := w.animal("Juniper")
	by := model.PersonID{ID: model.ID{7}}
	for ago, mass := range map[model.Day]model.Mass{3: {}, 2: model.Grams(1432)} {
		c := w.sheet(juniper, ago)
		c.By, c.Weight.Mass = by, mass
		if _, kept := w.kept(c); kept {
			t.Fatal("kept before it was typed in")
		}
		change := w.do(c)
		if want := 1 + min(1, int(mass.Milligrams)); len(change.Documents) != want {
			t.Errorf("%d documents, want %d", len(change.Documents), want)
		}
		if at, kept := w.kept(c); !kept || at.Day() != w.now.Day()-ago || at.Precision != model.ToDay {
			t.Errorf("kept %v, at %v", kept, at)
		}
		for _, id := range change.Documents {
			err := w.View(func(v model.View) error {
				d, err := v.Document(id)
				if err == nil && (d.By != by || d.At != c.Draft.Begun) {
					t.Errorf("%s is by %v at %v", d.Kind, d.By, d.At)
				}
				return err
			})
			if err != nil {
				t.Fatal(err)
			}
		}
		if _, err := w.Undo(); err != nil {
			t.Fatal(err)
		}
		if _, kept := w.kept(c); kept {
			t.Error("one undo does not take the sheet back")
		}
	}
}

// What cannot stand is refused or asked at its field, and nothing of the sheet is kept; what
// is asked is kept once it is confirmed.
func TestSheetsThatCannotStand(t *testing.T) {
	w := open(t)
	juniper, sold, young := w.animal("Juniper"), w.animal("Sorrel"), w.animal("Wren")
	for _, a := range []struct {
		id     model.AnimalID
		change func(*animals.Animal)
	}{
		{sold, func(a *animals.Animal) {
			a.Status, a.StatusDay = animals.Sold, model.Date{Day: w.now.Day() - 30, Precision: model.ToDay}
		}},
		{young, func(a *animals.Animal) { a.Hatched = model.Date{Day: w.now.Day() - 5, Precision: model.ToDay} }},
	} {
		var of animals.Stored
		if err := w.View(func(v model.View) (err error) { of, err = animals.Find(v, a.id); return err }); err != nil {
			t.Fatal(err)
		}
		after := of.Animal
		a.change(&after)
		w.do(animals.Change{ID: a.id, Base: of.Revision, Animal: after})
	}
	w.do(care.Weigh{About: care.About{Animal: juniper, At: written.On(w.now, w.now.Day()-20)}, Weight: care.Weight{Mass: model.Grams(1432)}})
	w.do(w.sheet(juniper, 9))
	weighing := func(c written.KeepCheck, mass model.Mass) written.KeepCheck { c.Weight.Mass = mass; return c }
	ahead := w.sheet(juniper, 1)
	ahead.Draft.Begun.UTC += 3 * 86400
	unsaid := w.sheet(juniper, 1)
	unsaid.Draft = exam.Begin(tables(t), exam.Beginning{Check: unsaid.Draft.Check, Animal: juniper, At: unsaid.Draft.Begun})
	for _, c := range []struct {
		name    string
		sheet   written.KeepCheck
		field   string
		reason  string
		confirm bool
	}{
		{"a day ahead", ahead, "day", "day.future", false},
		{"no stop is answered", unsaid, "stop", "exam.nothing-answered", false},
		{"another check of that day", w.sheet(juniper, 9), "day", written.AskSameDay, true},
		{"sold before", w.sheet(sold, 2), "day", "animal.gone-asks", true},
		{"not hatched yet", w.sheet(young, 8), "day", "day.before-hatched", true},
		{"half as heavy", weighing(w.sheet(juniper, 4), model.Grams(700)), "mass", "mass.unlike", true},
	} {
		_, err := w.Do(c.sheet)
		var r *model.Refusal
		if !errors.As(err, &r) || r.Field != c.field || r.Reason != c.reason || (r.Answer == model.Confirm) != c.confirm {
			t.Errorf("%s: %v, want %s", c.name, err, c.reason)
			continue
		}
		if _, kept := w.kept(c.sheet); kept {
			t.Errorf("%s: it is kept all the same", c.name)
		}
		if c.confirm {
			c.sheet.Confirmed = model.Confirmed{c.reason}
			w.do(c.sheet)
		}
	}
}

// A sheet without a time stands at noon of its day; one of today not ahead of now.
func TestOn(t *testing.T) {
	zone := time.FixedZone("", 2*3600)
	for _, c := range []struct{ now, day, want string }{
		{"2027-06-09 18:20", "2027-06-07", "2027-06-07 12:00"},
		{"2027-06-09 18:20", "2027-06-09", "2027-06-09 12:00"},
		{"2027-06-09 07:20", "2027-06-09", "2027-06-09 07:20"},
	} {
		now, err := time.ParseInLocation("2006-01-02 15:04", c.now, zone)
		if err != nil {
			t.Fatal(err)
		}
		var day model.Day
		if err := day.UnmarshalText([]byte(c.day)); err != nil {
			t.Fatal(err)
		}
		got := written.On(model.MomentOf(now), day)
		if said := time.Unix(got.UTC, 0).In(zone).Format("2006-01-02 15:04"); said != c.want || got.Precision != model.ToDay {
			t.Errorf("%s on %s: %s to the %s, want %s", c.day, c.now, said, got.Precision, c.want)
		}
	}
}

// The lines of a sheet for weighing are in the order of a walk, with the weights of the day
// and the last before it; of a room those in it, of the whole house the others too, by name,
// and who is gone nowhere.
func TestRows(t *testing.T) {
	w := open(t)
	done := w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{
		{Place: husbandry.Place{Name: "Loft", Kind: husbandry.Room}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "one", Kind: husbandry.Tub}}, {Place: husbandry.Place{Name: "two", Kind: husbandry.Tub}}}},
		{Place: husbandry.Place{Name: "Cellar", Kind: husbandry.Room}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "three", Kind: husbandry.Tub}}}}}})
	places := map[string]model.PlaceID{}
	err := w.View(func(v model.View) error {
		house, err := husbandry.ReadHouse(v)
		for _, p := range house.Places() {
			places[p.Name] = p.ID
		}
		return err
	})
	if err != nil || len(places) != len(done.Documents) {
		t.Fatal(places, err)
	}
	at := written.On(w.now, w.now.Day()-1)
	for name, box := range map[string]string{"Asp": "three", "Brook": "two", "Cress": "one", "Dunlin": "", "Alder": ""} {
		id := w.animal(name)
		if box != "" {
			w.do(husbandry.Move{Animal: id, Place: places[box], At: written.On(w.now, w.now.Day()-40)})
		}
		if name == "Brook" {
			for ago, grams := range map[model.Day]int64{12: 500, 5: 510, 1: 520, 0: 530} {
				w.do(care.Weigh{About: care.About{Animal: id, At: written.On(w.now, w.now.Day()-ago)}, Weight: care.Weight{Mass: model.Grams(grams)}})
			}
		}
	}
	gone := w.animal("Aster")
	w.do(animals.SetStatus{ID: gone, Base: 1, Status: animals.Sold, Day: model.Date{Day: w.now.Day() - 3, Precision: model.ToDay}})
	for in, want := range map[string][]string{"": {"Cress", "Brook", "Asp", "Alder", "Dunlin"}, "Loft": {"Cress", "Brook"}, "three": {"Asp"}} {
		var names []string
		rows := w.rows(places[in], at)
		for _, r := range rows {
			names = append(names, r.Animal.Name)
			if r.Animal.Name == "Brook" && (r.Last.Mass != model.Grams(510) || r.Noted.Mass != model.Grams(520)) {
				t.Errorf("in %q: Brook's last %v, noted %v", in, r.Last.Mass, r.Noted.Mass)
			}
		}
		if !slices.Equal(names, want) {
			t.Errorf("in %q: %q, want %q", in, names, want)
		}
		if slices.Reverse(rows); len(rows) > 1 && written.OrderOf(rows) == written.OrderOf(w.rows(places[in], at)) {
			t.Errorf("in %q: another order is not told", in)
		}
	}
}
