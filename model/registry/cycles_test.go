package registry_test

import (
	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

// bathGenerators draw baths, fluids and what is said before a shed, whose questions are
// all answered with yes.
func bathGenerators(tables *knowledge.Tables) storetest.Generators {
	drawn := func(t *rapid.T, v model.View, a animals.Stored) (care.About, model.Temperature) {
		about := drawAbout(t, v, a.ID)
		about.Confirmed = append(about.Confirmed, care.AskWarm, care.AskCold, care.AskLong)
		return about, model.Temperature{Hundredths: rapid.Int64Range(0, 4000).Draw(t, "warm")}
	}
	return storetest.Generators{
		"care.blue": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			about, _ := drawn(t, v, a)
			return care.RecordBlue{About: about}
		}),
		"care.clutch": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			about := drawAbout(t, v, a.ID)
			about.Confirmed = append(about.Confirmed, care.AskMale)
			return care.RecordClutch{About: about, Clutch: care.Clutch{Eggs: rapid.IntRange(0, 12).Draw(t, "eggs")}}
		}),
		"care.bath": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			about, warm := drawn(t, v, a)
			c := care.Bathe{Tables: tables, About: about, Bath: care.Bath{Warm: warm, Minutes: rapid.IntRange(0, 90).Draw(t, "minutes")}}
			if d, ok := pick(t, v, model.TypeEntry, func(d model.Document) bool { return d.Kind == care.KindBath }); ok && rapid.Bool().Draw(t, "corrects") {
				c.Entry, c.Base = model.EntryID{ID: d.ID}, d.Revision
				c.Animal, _ = d.Animal()
			}
			return c
		}),
		"care.fluids": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			about, warm := drawn(t, v, a)
			return care.GiveFluids{Tables: tables, About: about, Fluids: care.Fluids{What: drawText(t), Advised: drawText(t), Warm: warm}}
		}),
	}
}
