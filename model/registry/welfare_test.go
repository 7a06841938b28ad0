package registry_test

import (
	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/knowledge"
	"coilward/model/storetest"
	"coilward/model/welfare"
)

// welfareGenerators draw visits, handlings, changes that are tried and what befell people;
// some correct an entry of the same kind.
func welfareGenerators(tables *knowledge.Tables) storetest.Generators {
	setting := func(t *rapid.T) knowledge.Setting { return rapid.SampledFrom(knowledge.Settings()).Draw(t, "setting") }
	of := func(t *rapid.T, v model.View, kind string, animal *model.AnimalID) (id model.EntryID, base uint32) {
		d, ok := pick(t, v, model.TypeEntry, func(d model.Document) bool { return d.Kind == kind })
		if ok && rapid.Bool().Draw(t, "corrects") {
			*animal, _ = d.Animal()
			return model.EntryID{ID: d.ID}, d.Revision
		}
		return id, 0
	}
	return storetest.Generators{
		"welfare.observe": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			c := welfare.Observe{Tables: tables, About: drawAbout(t, v, a.ID), Observation: welfare.Observation{Setting: setting(t), Note: drawText(t)}}
			for _, s := range rapid.SliceOfNDistinct(rapid.SampledFrom(tables.Signs()), 0, 4, func(s knowledge.Sign) knowledge.SignID { return s.ID }).Draw(t, "signs") {
				if s.Says[c.Setting] != knowledge.NotOffered {
					c.Signs = append(c.Signs, s.ID)
				}
			}
			if c.None = len(c.Signs) == 0; rapid.Bool().Draw(t, "counted") {
				c.Breaths = &welfare.Breaths{Count: rapid.IntRange(0, 40).Draw(t, "breaths"), Seconds: 120}
			}
			c.Entry, c.Base = of(t, v, welfare.KindObservation, &c.Animal)
			return c
		}),
		"welfare.handle": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			c := welfare.Handle{Tables: tables, About: drawAbout(t, v, a.ID), Handling: welfare.Handling{Lifts: rapid.IntRange(0, 3).Draw(t, "lifts"), Hand: rapid.IntRange(0, 20).Draw(t, "hand"),
				Came: rapid.Bool().Draw(t, "came"), DrewBack: rapid.IntRange(0, 3).Draw(t, "drew back"), Note: drawText(t)}}
			if rapid.Bool().Draw(t, "held") {
				c.Restraint, c.Why = rapid.IntRange(1, 9).Draw(t, "minutes"), rapid.SampledFrom(tables.Restraints()).Draw(t, "why").ID
			}
			c.Entry, c.Base = of(t, v, welfare.KindHandling, &c.Animal)
			return c
		}),
		"welfare.try": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			c := welfare.Try{About: drawAbout(t, v, a.ID), Change: welfare.Change{What: drawName(t), Setting: setting(t), Hoped: rapid.SampledFrom(welfare.Hopes()).Draw(t, "hoped"), AfterBad: rapid.Bool().Draw(t, "bad")}}
			c.Entry, c.Base = of(t, v, welfare.KindChange, &c.Animal)
			return c
		}),
		"welfare.person": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			d, ok := pick(t, v, model.TypePerson, present)
			if !ok {
				return nil
			}
			about := drawAbout(t, v, a.ID)
			c := welfare.NoteContact{Person: model.PersonID{ID: d.ID}, At: about.At, Confirmed: about.Confirmed,
				PersonContact: welfare.PersonContact{What: rapid.SampledFrom(welfare.Contacts()).Draw(t, "what"), Animal: a.ID, Washed: rapid.Bool().Draw(t, "washed")}}
			if before, ok := pick(t, v, model.TypeEntry, func(d model.Document) bool { return d.Kind == welfare.KindPerson }); ok && rapid.Bool().Draw(t, "corrects") {
				if e, _, err := welfare.Decode(before); err == nil {
					c.Person, c.Animal, c.Entry, c.Base = e.Person, e.Body.(welfare.PersonContact).Animal, e.ID, e.Revision
				}
			}
			return c
		}),
		"welfare.remove": func(t *rapid.T, v model.View) model.Command {
			d, ok := pick(t, v, model.TypeEntry, func(d model.Document) bool {
				_, known, err := welfare.Decode(d)
				return known && err == nil
			})
			if !ok {
				return nil
			}
			return welfare.Remove{Entry: model.EntryID{ID: d.ID}}
		},
	}
}
