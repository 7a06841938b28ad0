package history

import "coilward/model/care"

// Gravid reports whether the last check called the animal gravid, and no clutch was laid
// since.
func (r Records) Gravid() bool {
	if len(r.Checks) == 0 || !r.Checks[0].Context.Gravid {
		return false
	}
	for _, e := range r.Entries {
		if _, laid := e.Body.(care.Clutch); laid && !e.At.Before(r.Checks[0].Begun) {
			return false
		}
	}
	return true
}
