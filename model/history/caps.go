package history

import "coilward/model/care"

// StuckCaps is how many sheds in a row, up to the last, left an eye cap by what
// was noted of them.
func (r Records) StuckCaps() int {
	for i, e := range r.Entries {
		if _, shed := e.Body.(care.Shed); shed {
			return r.shedsInRow()[i]
		}
	}
	return 0
}
