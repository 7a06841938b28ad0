package particulars

import (
	"coilward/model"
	"coilward/model/wording"
)

// When names a moment by its time where it is of today, and by its day where it
// is older.
func When(t *wording.Text, at model.Moment, today model.Day) string {
	if at.Day() == today {
		return t.Time(at)
	}
	return t.DayShort(at.Day())
}
