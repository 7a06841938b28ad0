package chances

import (
	"slices"

	"coilward/model"
	"coilward/model/evidence"
	"coilward/model/knowledge"
)

// Joint is the chance that at least one of some animals carries a thing.
type Joint struct {
	Of      knowledge.AgentID
	Chance  evidence.Range
	Linkage evidence.Linkage // how much of what shares pools was worked out together
	Spoilt  bool             // figures of the keeper of the thing cannot be used
	// Silent is that in one of them it was detected in samples alone of which no figure speaks: the
	// chance leaves that out, and is not told.
	Silent bool
	// Detected are those in which it was detected, or in a pool of theirs, and that is open.
	Detected []model.AnimalID
}

// OfRoom are those who live in a room at a moment of today, and of each thing that figures
// are worked out of the chance that at least one of them carries it; nobody and none where
// the room is empty.
func (r *Reader) OfRoom(room model.PlaceID, now model.Moment) (living []model.AnimalID, all []Joint) {
	living = slices.DeleteFunc(r.house.Living(room, now), func(id model.AnimalID) bool { return !r.animals[id].Status.Here() })
	for _, of := range r.Agents() {
		if chance, ok := r.AtLeastOne(living, of); ok {
			chance.Detected = slices.DeleteFunc(slices.Clone(living), func(id model.AnimalID) bool { _, there := r.Detected(id, of); return !there })
			all = append(all, chance)
		}
	}
	return living, all
}
