package particulars

import (
	"slices"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/ui/widgets"
)

// Levels is how urgent each problem was by a verdict.
func Levels(v exam.Verdict) map[model.ProblemID]knowledge.Level {
	levels := map[model.ProblemID]knowledge.Level{}
	for _, r := range v.Reasons {
		for _, i := range r.Signs {
			if i >= 0 && i < len(v.Signs) {
				id := v.Signs[i].Problem
				levels[id] = max(levels[id], r.Level)
			}
		}
	}
	return levels
}

// Steps are the steps of urgency, the lightest first.
func Steps() []knowledge.Level {
	return []knowledge.Level{knowledge.NoAction, knowledge.LookAgain, knowledge.VetWithinDays, knowledge.EmergencyToday}
}

// Urgency is the mark of a level; what no rule speaks of has that of "seen
// often".
func Urgency(l knowledge.Level) widgets.Urgency {
	return widgets.Urgency(max(0, slices.Index(Steps(), l)))
}
