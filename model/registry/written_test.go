package registry_test

import (
	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/storetest"
	"coilward/model/written"
)

// writtenGenerators draw sheets that are typed in, with and without a mass.
func writtenGenerators(tables *knowledge.Tables) storetest.Generators {
	return storetest.Generators{
		"written.check": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			problems, err := exam.Problems(v, a.ID)
			if err != nil {
				t.Fatal(err)
			}
			at := written.On(v.Now(), v.Now().Day()-model.Day(rapid.IntRange(0, 3).Draw(t, "ago")))
			problems = exam.Before(problems, model.EntryID{}, at)
			d := exam.Begin(tables, exam.Beginning{Check: model.EntryID{ID: v.NewID()}, Animal: a.ID, At: at, Problems: problems})
			c := written.KeepCheck{Tables: tables, Draft: walked(t, tables, d, at).Fine(tables, at),
				Confirmed: model.Confirmed{written.AskSameDay, "mass.unlike", "animal.gone-asks", "day.before-hatched", "day.before-arrival"}}
			if rapid.Bool().Draw(t, "weighed") {
				c.Weight = care.Weight{Mass: model.Grams(rapid.Int64Range(20, 4000).Draw(t, "grams"))}
				c.Again = c.Weight.Mass
			}
			return c
		}),
	}
}
