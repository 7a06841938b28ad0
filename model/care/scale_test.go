package care_test

import (
	"testing"

	"coilward/model"
	"coilward/model/care"
)

func TestLastScale(t *testing.T) {
	kitchen, bench := model.InstrumentID{ID: model.ID{1}}, model.InstrumentID{ID: model.ID{2}}
	weighed := func(day int64, with model.InstrumentID) care.Weighed {
		return care.Weighed{At: model.Moment{UTC: day * 86400}, Weight: care.Weight{With: with}}
	}
	for name, c := range map[string]struct {
		weights []care.Weighed
		want    model.InstrumentID
	}{
		"no weight":                   {},
		"newest first":                {[]care.Weighed{weighed(9, bench), weighed(3, kitchen)}, bench},
		"oldest first":                {[]care.Weighed{weighed(3, bench), weighed(9, kitchen)}, kitchen},
		"the newest without a scale":  {[]care.Weighed{weighed(3, bench), weighed(9, model.InstrumentID{})}, model.InstrumentID{}},
		"of one moment the one ahead": {[]care.Weighed{weighed(3, bench), weighed(3, kitchen)}, bench},
	} {
		if got := care.LastScale(c.weights...); got != c.want {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
	}
}
