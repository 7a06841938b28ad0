package weight

import (
	"math"

	"coilward/model/knowledge"
)

// Line is the share, in hundredths of a percent, that a fast of so many days since
// the last meal kept is known to cost at the most: what was measured, by the same
// share each day, and the margin of the tables above it. Starving is counted from
// some days after the meal. Source: McCue 2007, 18.3 % in 168 days, counted from two
// weeks after the last meal (seen: the journal's comment on it); the margin is assumed.
func Line(t *knowledge.Tables, days int) int {
	return int(math.Round(10_000 * -math.Expm1(-margin(t)*Daily(t)*float64(starving(t, days)))))
}

// Daily is the measured rate, as a share of the mass each day: 0.00120.
func Daily(t *knowledge.Tables) float64 {
	return -math.Log1p(-float64(t.Value(knowledge.ValueFastLost))/1000) / float64(t.Value(knowledge.ValueFastLostIn))
}

func margin(t *knowledge.Tables) float64 { return float64(t.Value(knowledge.ValueFastMargin)) / 100 }

func starving(t *knowledge.Tables, days int) int {
	return max(0, days-t.Value(knowledge.ValueStarvingFrom))
}
