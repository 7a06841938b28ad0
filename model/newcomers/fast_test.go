package newcomers_test

import (
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/quarantine"
	"coilward/model/weight"
)

// A loss in a fast is held against what one so long is known to cost: 18.3 % in 168 days,
// counted from two weeks after the last meal kept (McCue 2007, as the journal's comment
// tells it), and a quarter more, assumed; 1 - exp(-1.25 · 0.001203 · (99 - 14)) is 12 %.
// What it weighed before the fast owes nothing to it.
func TestALossInAFastIsHeldAgainstTheLine(t *testing.T) {
	for _, c := range []struct {
		grams int64 // on day 50, after 1,000 g at first
		state quarantine.State
		why   string
	}{{960, quarantine.Met, ""}, {949, quarantine.Watch, "quarantine.why.weight-fasts"}, {947, quarantine.NotMet, "quarantine.why.weight-above-line"}} {
		w := begin(t)
		weigh := func(grams int64) {
			t.Helper()
			w.do(care.Weigh{About: w.about(w.animal), Weight: care.Weight{Mass: model.Grams(grams), Gut: care.GutEmpty}, Again: model.Grams(grams)})
		}
		weigh(1000)
		w.on(1)
		w.do(care.Feed{About: w.about(w.animal), Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}})
		w.on(50)
		weigh(c.grams)
		l := w.line(quarantine.Weighed)
		if l.State != c.state || (len(l.Reasons) > 0) != (c.why != "") || c.why != "" && (l.Reasons[0].Key != c.why || l.Reasons[0].Gaps["Line"] != model.ShareGap(weight.Line(w.tables, 49))) {
			t.Errorf("%d g: %+v", c.grams, l)
		}
		weights := w.of(w.animal).Facts.Weights
		for _, one := range weights {
			if want := map[model.Day]int{w.arrived: 0, w.arrived + 50: weight.Line(w.tables, 49)}[one.Day]; one.Cost != want {
				t.Errorf("day %d: costs %d, want %d", one.Day-w.arrived, one.Cost, want)
			}
		}
		if got := weight.Line(w.tables, 99); got != 1200 {
			t.Errorf("the line on day 99: %d", got)
		}
	}
}
