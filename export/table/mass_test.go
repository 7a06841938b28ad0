package table_test

import (
	"coilward/model/care"
	"coilward/model/importing"
)

// massOf is the mass of a weight in milligrams, 0 of another entry.
func massOf(e importing.Entry) int64 {
	if w, ok := e.Body.(care.Weight); ok {
		return w.Mass.Milligrams
	}
	return 0
}
