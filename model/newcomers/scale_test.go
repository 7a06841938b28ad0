package newcomers_test

import (
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
)

// Weights of a scale that failed its check after them meet nothing, also where a reader
// has read them before.
func TestWeightsOfAScaleThatFailed(t *testing.T) {
	w := begin(t)
	scale := model.InstrumentID{ID: w.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Bench scale", Kind: husbandry.Scale}})[0]}
	reader := newcomers.NewReader(w.tables)
	weight := func() (l quarantine.Line) {
		t.Helper()
		err := w.c.View(func(v model.View) error {
			all, err := reader.All(v, nil)
			for _, one := range all[0].Gate.Lines {
				if one.Item == quarantine.Weighed {
					l = one
				}
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	for _, d := range []int{0, 7} {
		grams := int64(1000 - d)
		w.on(d)
		w.do(care.Weigh{About: w.about(w.animal), Weight: care.Weight{Mass: model.Grams(grams), Gut: care.GutEmpty, With: scale}, Again: model.Grams(grams)})
	}
	if l := weight(); l.State != quarantine.Met {
		t.Fatalf("weighed twice: %+v", l)
	}
	w.on(9)
	w.do(husbandry.CheckInstrument{Instrument: scale, At: w.now(), Check: husbandry.InstrumentCheck{Reading: "193 g", Reference: "200 g"}})
	if l := weight(); l.State != quarantine.CannotTell || l.Reasons[0].Key != "quarantine.why.weight-doubtful" || l.Reasons[0].Gaps["Scale"].Text != "Bench scale" {
		t.Errorf("the scale failed: %+v", l)
	}
}
