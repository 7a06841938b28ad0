package registry_test

import (
	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/feeders"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

// feederGenerators draw what happens to the stock of feeders; questions are all
// answered with yes.
func feederGenerators(tables *knowledge.Tables) storetest.Generators {
	yes := model.Confirmed{feeders.AskDoubtful, feeders.AskOver, feeders.AskUp}
	batch := func(t *rapid.T) feeders.Batch {
		return feeders.Batch{Name: drawName(t), Prey: rapid.SampledFrom(care.Preys()).Draw(t, "prey"), Each: model.Grams(rapid.Int64Range(1, 300).Draw(t, "each")),
			Count: rapid.IntRange(20, 60).Draw(t, "count"), Freezer: rapid.SampledFrom([]string{"Chest", "Upright"}).Draw(t, "freezer")}
	}
	of := func(draw func(*rapid.T, model.View, model.Document) model.Command) storetest.Generator {
		return func(t *rapid.T, v model.View) model.Command {
			d, ok := pick(t, v, model.TypeBatch, present)
			if !ok {
				return nil
			}
			return draw(t, v, d)
		}
	}
	return storetest.Generators{
		"feeders.add": func(t *rapid.T, _ model.View) model.Command { return feeders.Add{Batch: batch(t)} },
		"feeders.change": of(func(t *rapid.T, _ model.View, d model.Document) model.Command {
			return feeders.Change{Tables: tables, ID: model.BatchID{ID: d.ID}, Base: d.Revision, Batch: batch(t)}
		}),
		"feeders.remove": of(func(t *rapid.T, v model.View, d model.Document) model.Command {
			s, err := feeders.Of(tables, v, model.BatchID{ID: d.ID}, model.EntryID{})
			if err != nil {
				t.Fatal(err)
			}
			if len(s.Uses) > 0 {
				return nil
			}
			return feeders.Remove{ID: s.ID}
		}),
		"feeders.thaw": of(func(t *rapid.T, v model.View, d model.Document) model.Command {
			return feeders.ThawOut{Tables: tables, Batch: model.BatchID{ID: d.ID}, Thaw: feeders.Thaw{Count: rapid.IntRange(1, 2).Draw(t, "count")}, At: v.Now(), Confirmed: yes}
		}),
		"feeders.freezer-failed": of(func(t *rapid.T, v model.View, d model.Document) model.Command {
			b, err := feeders.Decode(d)
			if err != nil {
				t.Fatal(err)
			}
			return feeders.Fail{Tables: tables, Failure: feeders.Failure{Freezer: b.Freezer}, At: v.Now()}
		}),
		"feeders.look": of(func(t *rapid.T, v model.View, d model.Document) model.Command {
			return feeders.LookThrough{Tables: tables, Batch: model.BatchID{ID: d.ID}, Look: feeders.Look{Thrown: rapid.IntRange(0, 1).Draw(t, "thrown")}, At: v.Now()}
		}),
		"feeders.entry.remove": func(t *rapid.T, v model.View) model.Command {
			d, ok := pick(t, v, model.TypeEntry, func(d model.Document) bool {
				return d.Kind == feeders.KindThaw || d.Kind == feeders.KindFreezer || d.Kind == feeders.KindLook
			})
			if !ok {
				return nil
			}
			return feeders.RemoveEntry{Entry: model.EntryID{ID: d.ID}}
		},
	}
}
