package weight_test

import (
	"testing"

	"coilward/model"
	"coilward/model/weight"
)

// Most animals do not lose the same share by one day: the scale does. Assumed bounds.
func TestAllAlike(t *testing.T) {
	tb := tables(t)
	of := func(grams ...int64) (all []weight.Change) {
		for _, g := range grams {
			all = append(all, weight.Change{Days: 14, From: model.Grams(1000), To: model.Grams(g)})
		}
		return all
	}
	old := of(950, 950, 950, 950, 950)
	old[0].Days = 46
	for name, c := range map[string]struct {
		changes []weight.Change
		share   int
		alike   bool
	}{
		"all 5 % lighter":               {of(950, 955, 945, 950, 960), -500, true},
		"all 6 % heavier":               {of(1060, 1055, 1062, 1060, 1070), 600, true},
		"just 4 %":                      {of(960, 960, 960, 960, 960), -400, true},
		"less than that":                {of(961, 961, 961, 961, 961), -390, false},
		"four of five, the fifth apart": {of(950, 950, 950, 950, 1000), -500, true},
		"three of five":                 {of(950, 950, 950, 1000, 1010), -500, false},
		"just 2 % beside the middle":    {of(950, 950, 950, 930, 1000), -500, true},
		"over 2 % beside it":            {of(950, 950, 950, 929, 1000), -500, false},
		"four animals":                  {of(950, 950, 950, 950), 0, false},
		"one of them long ago":          {old, 0, false},
		"nobody":                        {nil, 0, false},
	} {
		if share, alike := weight.AllAlike(tb, c.changes); share != c.share || alike != c.alike {
			t.Errorf("%s: %d, %v; want %d, %v", name, share, alike, c.share, c.alike)
		}
	}
}
