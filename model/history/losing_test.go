package history

import (
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/weight"
)

// weightAt is a weight of so many days before day 1000.
func weightAt(ago int, grams int64, gut care.Gut) care.Weighed {
	return care.Weighed{At: day(1000 - ago), Weight: care.Weight{Mass: model.Grams(grams), Gut: gut}}
}

// mealAt is a meal of so many days before day 1000.
func mealAt(ago int, outcome care.Outcome) care.Entry {
	return care.Entry{At: day(1000 - ago), Body: care.Meal{Outcome: outcome}}
}

// A weight soon after a meal weighs the prey as well: it neither hides a loss nor
// raises what one is held against.
func TestWhatIsCompared(t *testing.T) {
	tb := tables(t)
	before := []care.Weighed{weightAt(35, 1000, ""), weightAt(42, 1000, ""), weightAt(49, 1000, "")}
	for name, c := range map[string]struct {
		newest []care.Weighed
		meals  []care.Entry
		share  int
	}{
		"of an empty gut":               {[]care.Weighed{weightAt(2, 880, care.GutEmpty)}, nil, 1200},
		"before a meal":                 {[]care.Weighed{weightAt(2, 880, care.GutBeforeMeal)}, []care.Entry{mealAt(4, care.Took)}, 1200},
		"the gut is not said":           {[]care.Weighed{weightAt(2, 880, "")}, nil, 1200},
		"not said, fed 5 days before":   {[]care.Weighed{weightAt(2, 880, "")}, []care.Entry{mealAt(7, care.Took)}, 1200},
		"not said, fed 4 days before":   {[]care.Weighed{weightAt(0, 960, ""), weightAt(7, 880, "")}, []care.Entry{mealAt(4, care.Took)}, 1200},
		"not said, fed the day after":   {[]care.Weighed{weightAt(2, 880, "")}, []care.Entry{mealAt(1, care.Took)}, 1200},
		"not said, refused before":      {[]care.Weighed{weightAt(2, 880, "")}, []care.Entry{mealAt(4, care.Refused)}, 1200},
		"fed, whatever the meals say":   {[]care.Weighed{weightAt(0, 960, care.GutFed), weightAt(2, 880, care.GutEmpty)}, nil, 1200},
		"all of them soon after a meal": {[]care.Weighed{weightAt(0, 960, care.GutFed)}, nil, 0},
	} {
		r := Records{Weights: append(c.newest, before...), Entries: c.meals}
		if got := r.Loss(tb, 1000); got.Share != c.share {
			t.Errorf("%s: %+v, want a share of %d", name, got, c.share)
		}
	}
}

func TestLossWithOneWeightMore(t *testing.T) {
	tb := tables(t)
	r := Records{Weights: []care.Weighed{weightAt(0, 990, ""), weightAt(35, 1000, ""), weightAt(42, 1000, ""), weightAt(49, 1000, "")}}
	if got := r.LossWith(tb, care.Weighed{At: day(1001), Weight: care.Weight{Mass: model.Grams(700)}}); got.Share != 1550 || !got.ForVet() {
		t.Errorf("a new weight: %+v, want a share of 1550, the middle of 700 and 990 g", got)
	}
	if got := r.LossWith(tb, weightAt(20, 500, "")); got.Last.Mass != model.Grams(500) || len(got.Last.Of) != 1 {
		t.Errorf("an earlier day: %+v, want what was known on it", got)
	}
	if len(r.Weights) != 4 || r.Weights[0].Mass != model.Grams(990) {
		t.Error("the records themselves were changed")
	}
}

// felt is a check of so many days before day 1000 that felt the spine.
func felt(ago int, thin bool) exam.StoredCheck {
	c := exam.StoredCheck{Check: exam.Check{Walk: exam.Walk{Begun: day(1000 - ago)}}}
	c.Stops = []exam.Answered{{Stop: "spine", Look: exam.Felt}}
	if thin {
		c.Findings = []exam.Finding{{Stop: "spine", What: knowledge.Thin, Grade: exam.Slight}}
	}
	return c
}

// In a fast it counts whether the animal was in good condition before it.
func TestGoodBefore(t *testing.T) {
	tb := tables(t)
	unlooked := felt(140, false)
	unlooked.Stops = nil
	for name, c := range map[string]struct {
		checks []exam.StoredCheck
		good   bool
	}{
		"no check":                      {nil, false},
		"felt, not thin":                {[]exam.StoredCheck{felt(140, false)}, true},
		"thin":                          {[]exam.StoredCheck{felt(140, true)}, false},
		"thin once, not the last time":  {[]exam.StoredCheck{felt(140, false), felt(160, true)}, true},
		"the last one did not feel":     {[]exam.StoredCheck{unlooked, felt(160, false)}, true},
		"none felt":                     {[]exam.StoredCheck{unlooked}, false},
		"only since the meal":           {[]exam.StoredCheck{felt(110, false)}, false},
		"thin since the meal":           {[]exam.StoredCheck{felt(110, true), felt(140, false)}, true},
		"180 days before the meal":      {[]exam.StoredCheck{felt(120+180, false)}, true},
		"more than that before":         {[]exam.StoredCheck{felt(120+181, false)}, false},
		"on the day of the meal, later": {[]exam.StoredCheck{{Check: exam.Check{Walk: exam.Walk{Begun: day(880)}}}}, false},
	} {
		r := Records{Checks: c.checks, Entries: []care.Entry{mealAt(120, care.Took)}}
		for i := range 40 {
			r.Weights = append(r.Weights, weightAt(i*7, 1500, ""))
		}
		for i := range 2 {
			r.Weights[i].Mass = model.Grams(1340) // 10.7 %
		}
		want := weight.Far
		if c.good {
			want = weight.LongFast
		}
		if got := r.Loss(tb, 1000); got.Reason != want || got.Fast != c.good {
			t.Errorf("%s: %+v, want %v", name, got, want)
		}
	}
}

// What a gravid animal weighed is not held against what it weighs after its clutch.
func TestGravid(t *testing.T) {
	tb := tables(t)
	gravid := func(ago int) exam.StoredCheck {
		c := felt(ago, false)
		c.Context.Gravid = true
		return c
	}
	for name, c := range map[string]struct {
		checks []exam.StoredCheck
		forVet bool
	}{
		"never":                     {[]exam.StoredCheck{felt(10, false), felt(60, false)}, true},
		"before the last check":     {[]exam.StoredCheck{felt(10, false), gravid(60)}, false},
		"still":                     {[]exam.StoredCheck{gravid(10), felt(60, false)}, true},
		"a long time ago":           {[]exam.StoredCheck{felt(10, false), felt(200, false), gravid(260)}, true},
		"twice, a long time apart":  {[]exam.StoredCheck{felt(10, false), gravid(60), felt(200, false), gravid(300)}, false},
		"the check was the day of":  {[]exam.StoredCheck{felt(0, false), gravid(1)}, false},
		"no check tells it is over": {[]exam.StoredCheck{gravid(60)}, true},
	} {
		r := Records{Checks: c.checks, Weights: []care.Weighed{weightAt(0, 1000, ""), weightAt(35, 1500, ""), weightAt(42, 1500, ""), weightAt(49, 1500, "")}}
		if got := r.Loss(tb, 1000); got.ForVet() != c.forVet {
			t.Errorf("%s: %+v, want a vet: %v", name, got, c.forVet)
		}
	}
}

// A clutch that is noted breaks likewise, whether a check called the animal gravid or not;
// a weight of its day may be one of before it.
func TestClutch(t *testing.T) {
	tb := tables(t)
	laid := func(ago int) care.Entry {
		e := mealAt(ago, care.Took)
		e.Body = care.Clutch{Eggs: 6}
		return e
	}
	for name, c := range map[string]struct {
		entries []care.Entry
		forVet  bool
	}{
		"never":                {nil, true},
		"since the last ones":  {[]care.Entry{laid(7)}, false},
		"on the day of one":    {[]care.Entry{laid(35)}, false},
		"before all of them":   {[]care.Entry{laid(50)}, true},
		"twice":                {[]care.Entry{laid(7), laid(400)}, false},
		"today, with a weight": {[]care.Entry{laid(0)}, false},
	} {
		r := Records{Entries: c.entries, Weights: []care.Weighed{weightAt(0, 1000, ""), weightAt(35, 1500, ""), weightAt(42, 1500, ""), weightAt(49, 1500, "")}}
		if got := r.Loss(tb, 1000); got.ForVet() != c.forVet {
			t.Errorf("%s: %+v, want a vet: %v", name, got, c.forVet)
		}
	}
}

// The usual time between meals is that of half a year up to the last one.
func TestUsualIsOfLate(t *testing.T) {
	tb := tables(t)
	r := Records{}
	for _, ago := range []int{100, 120, 140, 160, 290, 297, 304, 311, 318, 325, 332} {
		r.Entries = append(r.Entries, mealAt(ago, care.Took))
	}
	if got := r.usual(tb); got != 20 {
		t.Errorf("usual: every %d days, want 20", got)
	}
}

func TestTheTablesKnowThin(t *testing.T) {
	if tb := tables(t); !feltForThin(tb, felt(0, false)) || feltForThin(tb, exam.StoredCheck{}) {
		t.Error("no stop of the tables, or another than the spine, is where an animal is felt to be thin")
	}
}
