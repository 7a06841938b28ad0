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

// Loss says how far a weight lies below those before it.
func Loss(t *wording.Text, l history.Loss) string {
	if l.Before > 0 {
		return t.Say("stands.loss-single", wording.Gaps{"Share": t.Percent(l.Share), "Median": l.Median, "Day": l.Before})
	}
	return t.Say("stands.loss", wording.Gaps{"Share": t.Percent(l.Share), "Median": l.Median})
}
