package wording

import "coilward/model"

// By says by when something is due, as of a day: by that day, today, or overdue
// since it. A day of another year has its year.
func (t *Text) By(by, today model.Day) string {
	day := t.DayShort(by)
	if yearOf(by) == yearOf(today) {
		day = t.DayOfYear(by)
	}
	switch {
	case by > today:
		return t.Say("when.by", Gaps{"Day": day})
	case by == today:
		return t.Say("when.today")
	}
	return t.Say("when.late", Gaps{"Day": day})
}
