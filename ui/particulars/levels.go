package particulars

import (
	"coilward/model"
	"coilward/model/exam"
	"coilward/model/knowledge"
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
