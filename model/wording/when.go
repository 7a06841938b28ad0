package wording

import "coilward/model"

// By says by when something is due, as of a day: by that day, today, or overdue
// since it.
func (t *Text) By(by, today model.Day) string {
	switch {
	case by > today:
		return t.Say("when.by", Gaps{"Day": t.DayShort(by)})
	case by == today:
		return t.Say("when.today")
	}
	return t.Say("when.late", Gaps{"Day": t.DayShort(by)})
}
