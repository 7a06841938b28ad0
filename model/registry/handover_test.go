package registry_test

import (
	"encoding/json"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/handover"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

// handoverGenerators draw papers of an animal that is here, or of one from elsewhere.
func handoverGenerators(tables *knowledge.Tables) storetest.Generators {
	return storetest.Generators{
		"handover.take-in": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			g, err := handover.Gather(v, tables, a.ID, "0.8.0")
			r := must(t, g, err).Record
			r.Photos = nil
			if rapid.Bool().Draw(t, "from elsewhere") {
				r.Animal.ID.ID, r.Animal.Name = v.NewID(), drawName(t)
				r.Animal.Chip = animals.Chip{}
				for i := range r.Entries {
					r.Entries[i].ID.ID = v.NewID()
				}
			} else if n := len(r.Entries); n > 0 {
				r.Entries = append(r.Entries, handover.Entry{ID: model.EntryID{ID: v.NewID()}, Kind: "weight", When: r.Entries[n-1].When, Body: json.RawMessage(`{"mass":{"mg":1432000}}`)})
			}
			return handover.TakeIn{Tables: tables, Record: r, Key: rapid.SampledFrom([]string{"AAAA", "BBBB"}).Draw(t, "key"), Sum: "00", At: v.Now(), Protocol: drawProtocol(t, tables),
				Confirmed: append(quarantined, handover.AskOlder, handover.AskOtherKey)}
		}),
	}
}
