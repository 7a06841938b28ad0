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

func TestLosing(t *testing.T) {
	weights := func(last int64, at int, before ...int64) []care.Weighed {
		list := []care.Weighed{weighed(day(at), model.Grams(last))}
		for i, g := range before {
			list = append(list, weighed(day(at-30-i*50), model.Grams(g)))
		}
		return list
	}
	for _, c := range []struct {
		name   string
		given  []care.Weighed
		losing bool
	}{
		{"none", nil, false},
		{"two before are too few", weights(900, 300, 1000, 1000), false},
		{"just at 95 %", weights(950, 300, 1000, 1000, 1000), true},
		{"just above", weights(951, 300, 1000, 1000, 1000), false},
		{"the median, not the mean", weights(940, 300, 1000, 1000, 400), true},
		{"an even count takes the middle of two", weights(950, 300, 1000, 1000, 1000, 1200), true},
		{"too old to say", weights(900, 269, 1000, 1000, 1000), false},
		{"30 days old still says", weights(900, 270, 1000, 1000, 1000), true},
	} {
		if got := Losing(tables(t), c.given, 300); got != c.losing {
			t.Errorf("%s: losing %v, want %v", c.name, got, c.losing)
		}
	}
	old := weights(900, 300, 1000, 1000, 1000)
	old[3].At = day(300 - 181)
	if Losing(tables(t), old, 300) {
		t.Error("a weight of more than 180 days before counted")
	}
	near := weights(900, 300, 1000, 1000, 1000)
	near[1].At = day(300 - 29)
	if Losing(tables(t), near, 300) {
		t.Error("a weight of less than 30 days before counted")
	}
}
