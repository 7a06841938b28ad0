package particulars

import (
	"slices"

	"coilward/model/history"
	"coilward/model/knowledge"
	"coilward/model/wording"
	"coilward/ui/widgets"
)

// Steps are the steps of urgency, the lightest first.
func Steps() []knowledge.Level {
	return []knowledge.Level{knowledge.NoAction, knowledge.LookAgain, knowledge.VetWithinDays, knowledge.EmergencyToday}
}

// Urgency is the mark of a level; what no rule speaks of has that of "seen
// often".
func Urgency(l knowledge.Level) widgets.Urgency {
	return widgets.Urgency(max(0, slices.Index(Steps(), l)))
}

// Unfed says of a young animal since when it has kept no meal.
func Unfed(t *wording.Text, u history.Unfed) string {
	key := "stands.unfed"
	if u.Meal.IsZero() {
		key = "stands.never-fed"
	}
	return t.Say(key, wording.Gaps{"Day": u.Since})
}
