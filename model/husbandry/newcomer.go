package husbandry

import (
	"fmt"

	"coilward/model"
	"coilward/model/knowledge"
)

// kept is what this package must know of a quarantine; its fields are named as in the
// quarantine's own document.
type kept struct {
	Released *struct{} `json:"released"`
}

const quarantineVersion = 1

// readQuarantines reads of each animal that was ever in quarantine whether it is now.
func readQuarantines(v model.View) (map[model.AnimalID]bool, error) {
	open := map[model.AnimalID]bool{}
	if err := v.All(model.TypeQuarantine, func(d model.Document) bool {
		quarantinedBy(d, open)
		return true
	}); err != nil {
		return nil, fmt.Errorf("read who is in quarantine: %w", err)
	}
	return open, nil
}

// quarantinedBy notes what one quarantine says of that. One that cannot be read counts as
// open.
func quarantinedBy(d model.Document, open map[model.AnimalID]bool) {
	var q kept
	animal, _ := d.Animal()
	err := d.Decode(quarantineVersion, &q)
	open[animal] = open[animal] || err != nil || q.Released == nil
}

// Came is when an animal came from elsewhere, as far as it is known; zero where it did
// not, or it is not known.
func (h *House) Came(id model.AnimalID) model.Date { return h.came[id] }

// Newcomer reports whether an animal is in quarantine. One that never was counts as a
// newcomer where it came from elsewhere within as many days as the table says; one
// that hatched on the day that it came did not.
func (h *House) Newcomer(t *knowledge.Tables, id model.AnimalID, today model.Day) bool {
	if open, known := h.quarantined[id]; known {
		return open
	}
	_, last, ok := h.Unquarantined(t, id)
	return ok && last >= today
}

// Unquarantined are the first and the last day on which an animal that was never in
// quarantine counts as a newcomer; ok is false where it was, did not come from elsewhere,
// or nobody noted when.
func (h *House) Unquarantined(t *knowledge.Tables, id model.AnimalID) (first, last model.Day, ok bool) {
	if _, known := h.quarantined[id]; known {
		return 0, 0, false
	}
	came := h.came[id]
	if came.IsZero() {
		return 0, 0, false
	}
	return came.Day, lastDay(came) + model.Day(t.Value(knowledge.ValueNewcomer)) - 1, true
}
