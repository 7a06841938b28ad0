package history

import (
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// Against 800, 1000 and 1200 g, 900 g is a tenth less; the share is of the middle
// one.
func TestLossShare(t *testing.T) {
	tb := tables(t)
	from := tb.Value(knowledge.ValueLosingFrom)
	weighed := func(ago int, grams int64) care.Weighed {
		return care.Weighed{At: day(1000 - ago), Weight: care.Weight{Mass: model.Grams(grams)}}
	}
	before := []care.Weighed{weighed(from, 1200), weighed(from+1, 800), weighed(from+2, 1000)}
	for len(before) < tb.Value(knowledge.ValueLosingWeights) {
		before = append(before, weighed(from+3+len(before), 1000))
	}
	for _, c := range []struct {
		grams int64
		share int
	}{{900, 1000}, {1000, 0}, {1100, -1000}, {333, 6670}} {
		loss, known := LossOf(tb, append([]care.Weighed{weighed(0, c.grams)}, before...), 1000)
		if !known || loss.Share != c.share || loss.Median != model.Grams(1000) && loss.Median.Milligrams != 1_000_000 {
			t.Errorf("%d g: %+v, %v; want a share of %d", c.grams, loss, known, c.share)
		}
	}
}

// A weight soon after a meal weighs the prey as well: it neither hides a loss nor
// raises what one is held against.
func TestLossLeavesFedWeightsOut(t *testing.T) {
	tb := tables(t)
	from := tb.Value(knowledge.ValueLosingFrom)
	weighed := func(ago int, grams int64, gut care.Gut) care.Weighed {
		return care.Weighed{At: day(1000 - ago), Weight: care.Weight{Mass: model.Grams(grams), Gut: gut}}
	}
	var before []care.Weighed
	for i := range max(3, tb.Value(knowledge.ValueLosingWeights)) {
		before = append(before, weighed(from+5+i, 1000, care.GutUnknown))
	}
	for name, list := range map[string][]care.Weighed{
		"none":             append([]care.Weighed{weighed(2, 880, care.GutEmpty)}, before...),
		"the last is fed":  append([]care.Weighed{weighed(0, 960, care.GutFed), weighed(2, 880, care.GutEmpty)}, before...),
		"an older one too": append(append([]care.Weighed{weighed(2, 880, care.GutEmpty)}, weighed(from+3, 1400, care.GutFed)), before...),
	} {
		if loss, known := LossOf(tb, list, 1000); !known || loss.Share != 1200 {
			t.Errorf("%s: %+v, %v; want a share of 1200", name, loss, known)
		}
	}
	if _, known := LossOf(tb, []care.Weighed{weighed(0, 960, care.GutFed)}, 1000); known {
		t.Error("a single weight after a meal tells of a loss")
	}
}

// With too few weights for a median, a great fall below the one before it is for
// the vet all the same: one that was just brought in has no more.
func TestLoss_AgainstASingleWeight(t *testing.T) {
	tb := tables(t)
	weighed := func(ago int, grams int64, gut care.Gut) care.Weighed {
		return care.Weighed{At: day(1000 - ago), Weight: care.Weight{Mass: model.Grams(grams), Gut: gut}}
	}
	share := int64(tb.Value(knowledge.ValueLosingSingle))
	for name, c := range map[string]struct {
		list         []care.Weighed
		before       model.Day // 0: not known
		losing, vets bool
	}{
		"the first weight":                 {[]care.Weighed{weighed(0, 300, "")}, 0, false, false},
		"a third less in 25 days":          {[]care.Weighed{weighed(0, 300, ""), weighed(25, 446, "")}, 975, true, true},
		"just so much":                     {[]care.Weighed{weighed(0, 1000-10*share, ""), weighed(25, 1000, "")}, 975, true, true},
		"a little less than that":          {[]care.Weighed{weighed(0, 1001-10*share, ""), weighed(25, 1000, "")}, 975, false, false},
		"weighed twice on a day":           {[]care.Weighed{weighed(0, 300, ""), weighed(0, 446, "")}, 0, false, false},
		"the one before soon after a meal": {[]care.Weighed{weighed(0, 300, ""), weighed(2, 446, care.GutFed), weighed(40, 310, "")}, 960, false, false},
		"the one before is too old":        {[]care.Weighed{weighed(0, 300, ""), weighed(tb.Value(knowledge.ValueLosingTo)+1, 446, "")}, 0, false, false},
	} {
		loss, known := LossOf(tb, c.list, 1000)
		if known != (c.before > 0) || loss.Before != c.before || Losing(tb, c.list, 1000) != c.losing || known && loss.ForVet(tb) != c.vets {
			t.Errorf("%s: %+v, known %v, losing %v", name, loss, known, Losing(tb, c.list, 1000))
		}
	}
}
