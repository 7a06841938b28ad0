package husbandry

import (
	"errors"
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
	var failed error
	err := v.All(model.TypeQuarantine, func(d model.Document) bool {
		failed = quarantinedBy(d, open)
		return failed == nil
	})
	if err == nil {
		err = failed
	}
	if err != nil {
		return nil, fmt.Errorf("read who is in quarantine: %w", err)
	}
	return open, nil
}

// quarantinedBy notes what one quarantine says of that.
func quarantinedBy(d model.Document, open map[model.AnimalID]bool) error {
	var q kept
	animal, _ := d.Animal()
	err := d.Decode(quarantineVersion, &q)
	if errors.Is(err, model.ErrNewer) {
		err = nil // whatever it says, it counts as open
	}
	open[animal] = open[animal] || q.Released == nil
	return err
}

// Newcomer reports whether an animal is in quarantine. One that never was counts as a
// newcomer where it came from elsewhere within as many days as the table says; one
// that hatched on the day that it came did not.
func (h *House) Newcomer(t *knowledge.Tables, id model.AnimalID, today model.Day) bool {
	if open, known := h.quarantined[id]; known {
		return open
	}
	came := h.came[id]
	return !came.IsZero() && lastDay(came)+model.Day(t.Value(knowledge.ValueNewcomer)) > today
}
