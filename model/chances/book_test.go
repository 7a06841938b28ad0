package chances_test

import (
	"errors"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/assumed"
	"coilward/model/chances"
	"coilward/model/contact"
	"coilward/model/evidence"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// everything is all that a reader tells of some animals and rooms.
type everything struct {
	Chances map[string]whole
	Rooms   map[string][]chances.Joint
}

type whole struct {
	Now     evidence.Range
	Linkage evidence.Linkage
	Steps   []string
	Exposed []chances.Exposed
	Act     evidence.Act
	From    model.Day
	Course  []chances.Point
	Own     []assumed.Stored
}

func told(r *chances.Reader, v model.View, all []model.AnimalID, rooms []model.PlaceID) everything {
	e := everything{map[string]whole{}, map[string][]chances.Joint{}}
	for _, a := range all {
		for _, c := range r.All(a) {
			one := whole{Now: c.Now, Linkage: c.Linkage, Exposed: c.Exposed, Act: c.Act, From: c.From, Course: c.Course(), Own: c.Own}
			for _, s := range c.Steps {
				one.Steps = append(one.Steps, fmt.Sprint(s.Sample.ID, s.Outcome, s.Before, s.After, s.Mute, s.Soon))
			}
			e.Chances[fmt.Sprint(a, c.Of)] = one
		}
	}
	for _, room := range rooms {
		_, e.Rooms[room.String()] = r.OfRoom(room, v.Now())
	}
	return e
}

// What the book tells is what is worked out anew, after whatever was changed, undone and done
// again, and on the next day.
func TestBook_TellsWhatIsWorkedOutAnew(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		w, clock := beginAt(t)
		book := chances.NewBook(w.tables)
		all, rooms := []model.AnimalID{w.ash, w.birch, w.fir}, []model.PlaceID{w.loft, w.cellar}
		var taken []model.SampleID
		try := func(c model.Command) { _, _ = w.Do(c) } // what is refused changes nothing
		who := func() model.AnimalID { return rapid.SampledFrom(all).Draw(rt, "who") }
		of := func() knowledge.AgentID {
			return rapid.SampledFrom([]knowledge.AgentID{virus, worms}).Draw(rt, "of")
		}
		steps := map[string]func(){
			"move": func() {
				try(husbandry.Move{Animal: who(), Place: rapid.SampledFrom(w.boxes).Draw(rt, "to"), At: w.on(rapid.IntRange(0, 60).Draw(rt, "ago")), Confirmed: yes})
			},
			"sample": func() {
				agent := of()
				whose := rapid.SampledFrom([][]model.AnimalID{{w.ash}, {w.birch}, {w.ash, w.fir}, all}).Draw(rt, "of")
				if err := w.View(func(v model.View) error {
					for _, id := range whose {
						if _, err := animals.Find(v, id); err != nil {
							return err
						}
					}
					return nil
				}); errors.Is(err, model.ErrNotFound) {
					return // it was undone that one of them came
				}
				taken = append(taken, w.sample(map[knowledge.AgentID]knowledge.MaterialID{virus: "choanal-swab", worms: "faeces"}[agent], rapid.IntRange(0, 200).Draw(rt, "ago"), agent, rapid.SampledFrom([]samples.Outcome{samples.Pending, samples.NotDetected, samples.Detected}).Draw(rt, "found"), whose...))
			},
			"void": func() {
				if len(taken) > 0 {
					try(samples.Remove{ID: rapid.SampledFrom(taken).Draw(rt, "sample")})
				}
			},
			"open": func() {
				if len(taken) > 0 {
					try(contact.Open{Tables: w.tables, Sample: rapid.SampledFrom(taken).Draw(rt, "sample"), Agent: of()})
				}
			},
			"close": func() {
				var all []contact.Stored
				if err := w.View(func(v model.View) (err error) { all, err = contact.All(v); return err }); err != nil {
					rt.Fatal(err)
				}
				for _, p := range all {
					try(contact.Close{ID: p.ID, Base: p.Revision, At: w.on(0), Why: rapid.SampledFrom(contact.Whys()).Draw(rt, "why"), Note: "as said"})
				}
			},
			"quarantine": func() {
				try(quarantine.Begin{Tables: w.tables, Animal: who(), Protocol: "python", Arrived: w.on(rapid.IntRange(0, 60).Draw(rt, "ago")), Confirmed: yes})
			},
			"figures": func() {
				try(assumed.Change{Tables: w.tables, Own: assumed.Own{Row: assumed.Row{Table: assumed.Priors, ID: "serpentovirus-any"}, By: assumed.Keeper, Why: "as seen here",
					Values: map[assumed.Figure]knowledge.Span{assumed.Prior: {Low: 10, Assumed: rapid.IntRange(100, 200).Draw(rt, "prior"), High: 300}}}})
			},
			"arrival": func() {
				try(animals.Add{Animal: animals.Animal{Name: fmt.Sprint("Oak ", rapid.IntRange(0, 1<<20).Draw(rt, "name")), Status: animals.Kept, Since: model.Date{Day: w.on(20).Day(), Precision: model.ToDay}}})
			},
			"undo":    func() { _, _ = w.Undo() },
			"redo":    func() { _, _ = w.Redo() },
			"day":     func() { clock.Pass(24 * time.Hour) },
			"nothing": func() {},
		}
		names := slices.Sorted(maps.Keys(steps))
		for range rapid.IntRange(1, 8).Draw(rt, "steps") {
			step := rapid.SampledFrom(names).Draw(rt, "step")
			steps[step]()
			if err := w.View(func(v model.View) error {
				fresh, err := chances.NewReader(v, w.tables)
				if err != nil {
					return err
				}
				return book.Ask(v, func(r *chances.Reader) error {
					if got, want := told(r, v, all, rooms), told(fresh, v, all, rooms); !reflect.DeepEqual(got, want) {
						rt.Fatalf("after %s the book tells\n%+v\nand anew it is\n%+v", step, got, want)
					}
					return nil
				})
			}); err != nil {
				rt.Fatal(err)
			}
		}
	})
}

// At rest the reader stays the same one; after a change, and on the next day, it is another.
func TestBook_AtRest(t *testing.T) {
	w, clock := beginAt(t)
	book := chances.NewBook(w.tables)
	ask := func() (r *chances.Reader) {
		if err := w.View(func(v model.View) error {
			return book.Ask(v, func(is *chances.Reader) error { r = is; return nil })
		}); err != nil {
			t.Fatal(err)
		}
		return r
	}
	first := ask()
	if ask() != first {
		t.Error("at rest it is read anew")
	}
	w.sample("oral-swab", 100, virus, samples.NotDetected, w.ash)
	second := ask()
	if second == first {
		t.Error("after a change it is not read anew")
	}
	if _, err := w.Undo(); err != nil {
		t.Fatal(err)
	}
	third := ask()
	if third == second || third == first {
		t.Error("after it was undone it is not read anew")
	}
	clock.Pass(24 * time.Hour)
	if ask() == third {
		t.Error("on the next day it is not read anew")
	}
}
