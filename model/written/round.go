package written

import (
	"coilward/model"
	"coilward/model/label"
	"coilward/model/round"
)

// OrderOfStops tells the order of the boxes on a sheet of a round from another one, by who
// stands first in each.
func OrderOfStops(stops []round.Stop) uint16 {
	ids := make([]model.ID, len(stops))
	for i, s := range stops {
		ids[i] = s.Animals[0].ID
	}
	return label.Order(ids)
}

// KeptRound is the round that was kept of a sheet; ok is false where none was. One that was
// typed in by its number has an id that only ends alike; its boxes are in the order of the
// sheet then.
func KeptRound(v model.View, sheet label.Written) (s round.Stored, ok bool, err error) {
	end := label.EndOf(sheet.ID)
	return round.Typed(v, func(s round.Stored) bool {
		stops := make([]round.Stop, len(s.Stops))
		for i, p := range s.Stops {
			stops[i].Animals = p.Animals
		}
		return s.ID.ID == sheet.ID || end.Ends(s.ID.ID) && OrderOfStops(stops) == sheet.Order
	})
}
