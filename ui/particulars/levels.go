package particulars

import (
	"slices"

	"coilward/model/knowledge"
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
