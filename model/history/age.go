package history

import (
	"coilward/model"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// AgeClass is the class of an animal that hatched then, on a day. The ages are
// those of the tables; source: common practice, no source.
func AgeClass(t *knowledge.Tables, hatched model.Date, on model.Day) exam.Age {
	if hatched.IsZero() || hatched.Day > on {
		return exam.AgeUnknown
	}
	switch days := int(on - hatched.Day); {
	case days <= t.Value(knowledge.ValueHatchling):
		return exam.Hatchling
	case days <= t.Value(knowledge.ValueJuvenile):
		return exam.Juvenile
	case days <= t.Value(knowledge.ValueSubadult):
		return exam.Subadult
	}
	return exam.Adult
}
