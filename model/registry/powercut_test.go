package registry_test

import (
	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/powercut"
	"coilward/model/storetest"
)

// powerCutGenerators draw power cuts and the looks after them; questions are all answered
// with yes.
func powerCutGenerators(tables *knowledge.Tables) storetest.Generators {
	note := func(t *rapid.T, v model.View) powercut.Note {
		c := powercut.Note{From: earlier(t, v), Confirmed: model.Confirmed{powercut.AskLong, powercut.AskTwice}}
		c.Cut = powercut.Cut{Until: c.From, Whole: true, Note: drawText(t)}
		c.Cut.Until.UTC = rapid.Int64Range(c.From.UTC+1, max(c.From.UTC+1, v.Now().UTC)).Draw(t, "until")
		if rapid.Bool().Draw(t, "measured") {
			c.Cut.Coldest = &model.Temperature{Hundredths: rapid.Int64Range(powercut.ColdestSeen, powercut.WarmestSeen).Draw(t, "coldest")}
		}
		if place, ok := pick(t, v, model.TypePlace, present); ok && rapid.Bool().Draw(t, "some") {
			c.Places, c.Cut.Whole = []model.PlaceID{{ID: place.ID}}, false
		}
		return c
	}
	of := func(draw func(*rapid.T, model.View, model.Document) model.Command) storetest.Generator {
		return func(t *rapid.T, v model.View) model.Command {
			d, ok := pick(t, v, model.TypeEntry, func(d model.Document) bool { return d.Kind == powercut.Kind })
			if !ok {
				return nil
			}
			return draw(t, v, d)
		}
	}
	return storetest.Generators{
		"powercut.note": func(t *rapid.T, v model.View) model.Command { return note(t, v) },
		"powercut.change": of(func(t *rapid.T, v model.View, d model.Document) model.Command {
			return powercut.Change{Entry: model.EntryID{ID: d.ID}, Base: d.Revision, Note: note(t, v)}
		}),
		"powercut.remove": of(func(_ *rapid.T, _ model.View, d model.Document) model.Command {
			return powercut.Remove{Entry: model.EntryID{ID: d.ID}}
		}),
		"powercut.quiet": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			problems, unread, err := exam.LegibleProblems(v, a.ID)
			if must(t, problems, err); !a.Status.Here() || len(unread) > 0 || powercut.OpenAtRest(tables, problems) {
				return nil
			}
			return powercut.LookedQuiet{Tables: tables, Animals: []model.AnimalID{a.ID}}
		}),
	}
}
