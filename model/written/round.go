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

// KeptRound is the round that was kept of the sheet of that id; ok is false where none was.
// One that was typed in by its number has an id that only ends alike.
func KeptRound(v model.View, sheet model.ID) (s round.Stored, ok bool, err error) {
	number, ok := label.ParseNumber(label.Written{ID: sheet}.Number())
	if !ok {
		return round.Stored{}, false, nil
	}
	return round.Typed(v, number.Ends)
}
