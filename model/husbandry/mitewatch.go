package husbandry

import (
	"coilward/model"
	"coilward/model/knowledge"
)

// MiteWatch is for how many days mites are watched for where an animal lives at a
// moment: longer where its coolest zone is cool, or where that is not known.
// Warmth makes mites grow up sooner, not die sooner: it never shortens the watch.
func (h *House) MiteWatch(t *knowledge.Tables, animal model.AnimalID, at model.Moment) (days int) {
	if stay, lives := h.Where(animal, at); lives {
		if coolest, known := h.Zones(stay.Place).Coolest(); known && coolest.Hundredths >= int64(t.Value(knowledge.ValueMiteCool)) {
			return t.Value(knowledge.ValueMiteWatch)
		}
	}
	return t.Value(knowledge.ValueMiteWatchCool)
}
