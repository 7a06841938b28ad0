package weight

import (
	"math"

	"coilward/model"
	"coilward/model/knowledge"
)

// Words say what the trend is, how seldom chance looks so, and from when on it counts;
// where it is not known, what it takes.
func (t Trend) Words(tables *knowledge.Tables) []model.Label {
	var words []model.Label
	say := func(key string, gaps map[string]model.Gap) { words = append(words, model.Label{Key: key, Gaps: gaps}) }
	if t.Known {
		key := "trend.level"
		switch {
		case t.Falls():
			key = "trend.falls"
		case t.Rises():
			key = "trend.rises"
		}
		say(key, map[string]model.Gap{"Share": model.ShareGap(t.Share), "Low": model.ShareGap(t.Low), "High": model.ShareGap(t.High), "Count": model.CountGap(len(t.Of)), "Since": model.DayGap(t.Since)})
		times := int(math.Round(1000 * t.Chance))
		switch {
		case !t.Falls() && !t.Rises():
		case times == 0:
			say("trend.chance-seldom", nil)
		default:
			say("trend.chance", map[string]model.Gap{"Times": model.CountGap(times)})
		}
	} else {
		say("trend.few", map[string]model.Gap{"Count": model.CountGap(t.On), "Days": model.CountGap(t.Days),
			"Fewest": model.CountGap(tables.Value(knowledge.ValueTrendWeights)), "Over": model.CountGap(tables.Value(knowledge.ValueTrendDays))})
	}
	if t.From != NoBreak {
		say("trend.from."+t.From.String(), map[string]model.Gap{"Day": model.DayGap(t.Broke)})
	}
	return words
}
