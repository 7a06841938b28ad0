package medicine

import "coilward/model"

// Pack is what stands on the pack that the medicine came in, as far as it was read.
type Pack struct {
	Lot     string     `json:"lot,omitempty"`
	Expires model.Date `json:"expires,omitzero"` // the last day, month or year in which it may be used
}

// MaxLot is the most signs of a lot.
const MaxLot = 60

// Expired reports whether the pack is past its date on a day: one that names a month or a
// year lasts to its end. A pack without a date is not known to be.
func (p Pack) Expired(on model.Day) bool {
	if p.Expires.IsZero() {
		return false
	}
	year, month, _ := p.Expires.Day.Date()
	last := p.Expires.Day
	switch p.Expires.Precision {
	case model.ToMonth:
		last = model.NewDay(year, month+1, 0)
	case model.ToYear:
		last = model.NewDay(year, 12, 31)
	}
	return on > last
}
