package newcomers_test

import (
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/quarantine"
	"coilward/model/weight"
)

// A loss in a fast is held against what one so long is known to cost: 18.3 % in 168 days,
// counted from two weeks after the last meal kept (McCue 2007, as the journal's comment
// tells it), and a quarter more, assumed; 1 - exp(-1.25 · 0.001203 · (99 - 14)) is 12 %.
// What it weighed before the fast owes nothing to it. The fast of one that is no adult, or
// of which nobody knows that it was in good condition before, excuses no loss: assumed.
func TestALossInAFastIsHeldAgainstTheLine(t *testing.T) {
	for name, c := range map[string]struct {
		first, last int64 // grams, at first and on day 63
		looked      bool  // before the fast
		state       quarantine.State
		why         string
	}{
		"95 of 100":         {1100, 1045, true, quarantine.Met, ""},
		"inside the line":   {1100, 1030, true, quarantine.Watch, "quarantine.why.weight-fasts"},
		"above it":          {1100, 1025, true, quarantine.NotMet, "quarantine.why.weight-above-line"},
		"no adult":          {1000, 948, true, quarantine.NotMet, "quarantine.why.weight-low"},
		"condition unknown": {1100, 1030, false, quarantine.NotMet, "quarantine.why.weight-low"},
	} {
		w := begin(t)
		weigh := func(day int, grams int64) {
			t.Helper()
			w.on(day)
			w.do(care.Weigh{About: w.about(w.animal), Weight: care.Weight{Mass: model.Grams(grams), Gut: care.GutEmpty}, Again: model.Grams(grams)})
		}
		for day := range 3 {
			weigh(day, c.first)
		}
		if c.looked {
			w.check(exam.Seen)
		}
		w.on(3)
		w.do(care.Feed{About: w.about(w.animal), Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}})
		weigh(63, c.last)
		l, line := w.line(quarantine.Weighed), weight.Line(w.tables, 60)
		if l.State != c.state || (len(l.Reasons) > 0) != (c.why != "") || c.why != "" && l.Reasons[0].Key != c.why {
			t.Errorf("%s: %+v", name, l)
		}
		if said := c.why == "quarantine.why.weight-fasts" || c.why == "quarantine.why.weight-above-line"; said && l.Reasons[0].Gaps["Line"] != model.ShareGap(line) {
			t.Errorf("%s: the line %+v, want %d", name, l.Reasons[0].Gaps["Line"], line)
		}
		if kept := w.of(w.animal).Facts.Kept; kept != w.arrived+3 {
			t.Errorf("%s: the last meal kept is of %v", name, kept)
		}
		for _, one := range w.of(w.animal).Facts.Weights {
			want := 0
			if one.Day == w.arrived+63 {
				want = line
			}
			if one.Cost != want {
				t.Errorf("%s, day %d: costs %d, want %d", name, one.Day-w.arrived, one.Cost, want)
			}
		}
		if got := weight.Line(w.tables, 99); got != 1200 {
			t.Errorf("the line on day 99: %d", got)
		}
	}
}
