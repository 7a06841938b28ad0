package registry_test

import (
	"slices"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/meals"
	"coilward/model/storetest"
)

// mealGenerators draw meals whose questions are all answered with yes.
func mealGenerators(tables *knowledge.Tables) storetest.Generators {
	return storetest.Generators{
		"meals.offer": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			c := meals.Offer{Tables: tables, About: drawAbout(t, v, a.ID), Meal: care.Meal{
				Prey: rapid.SampledFrom(care.Preys()).Draw(t, "prey"), Outcome: rapid.SampledFrom(care.Outcomes()).Draw(t, "outcome"),
				Each: model.Grams(rapid.Int64Range(1, 900).Draw(t, "each")),
			}}
			c.Confirmed = slices.Concat(c.Confirmed, model.Confirmed{meals.AskWaits, meals.AskMore, meals.AskAfter})
			if eaten := about(t, v, a, func(d model.Document) bool { return d.Kind == care.KindMeal }); len(eaten) > 0 && rapid.Bool().Draw(t, "changes") {
				c.Entry, c.Base = model.EntryID{ID: eaten[0].ID}, eaten[0].Revision
			}
			return c
		}),
	}
}
