package history

import (
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
)

// weighed is one weighing.
func weighed(at model.Moment, m model.Mass) care.Weighed {
	return care.Weighed{At: at, Weight: care.Weight{Mass: m}}
}

func day(n int) model.Moment { return model.Moment{UTC: int64(n) * 86400} }

func TestAgeClass(t *testing.T) {
	hatched := model.Date{Day: 1000, Precision: model.ToDay}
	for after, want := range map[int]exam.Age{0: exam.Hatchling, 91: exam.Hatchling, 92: exam.Juvenile, 364: exam.Juvenile, 365: exam.Subadult, 1094: exam.Subadult, 1095: exam.Adult, -1: exam.AgeUnknown} {
		if got := AgeClass(tables(t), hatched, hatched.Day+model.Day(after)); got != want {
			t.Errorf("%d days after hatching: %q, want %q", after, got, want)
		}
	}
	if got := AgeClass(tables(t), model.Date{}, 5000); got != exam.AgeUnknown {
		t.Errorf("nothing known: %q", got)
	}
}
