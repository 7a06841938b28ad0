package chart

import "math"

// OddsScale places chances by their odds, so that what is rare and what is nearly sure can
// both be told apart. It is the one scale of chances, on the screen and on paper.
type OddsScale struct{ lowest, span float64 } // as odds

// steps are the chances at which a line may stand.
var steps = []float64{.001, .003, .01, .02, .05, .1, .2, .5, .8, .95, .99, .999}

// odds is the logarithm of the odds of a chance.
func odds(p float64) float64 {
	p = min(max(p, 1e-6), 1-1e-6)
	return math.Log(p / (1 - p))
}

// WholeOddsScale runs from the least step to the greatest.
func WholeOddsScale() OddsScale { return oddsScale(steps[0], steps[len(steps)-1], 0) }

// oddsScale runs from one chance to a greater one, with so much room beyond each, as odds.
func oddsScale(low, high, room float64) OddsScale {
	return OddsScale{odds(low) - room, odds(high) - odds(low) + 2*room}
}

// At is where a chance stands: 0 the least that the scale holds or less, 1 the greatest or more.
func (s OddsScale) At(p float64) float64 {
	return min(1, max(0, (odds(p)-s.lowest)/s.span))
}

// Lines are the steps on the scale that stand at least so far apart, as a part of it, from
// the least on.
func (s OddsScale) Lines(apart float64) (all []float64) {
	for _, p := range steps {
		if at := (odds(p) - s.lowest) / s.span; at >= 0 && at <= 1 && (len(all) == 0 || at-s.At(all[len(all)-1]) >= apart) {
			all = append(all, p)
		}
	}
	return all
}
