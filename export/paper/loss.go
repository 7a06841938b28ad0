package paper

import (
	"slices"

	"coilward/model/weight"
)

// loss is the sentence of a loss of weight, and on which scale the weights were taken
// that do not count in it.
func (r record) loss(l weight.Loss) string {
	said := r.say("paper.loss."+l.Reason.String(), gaps{"Percent": r.text.Percent(l.Share), "Last": l.Last.Mass, "Median": l.Held.Mass, "Line": r.text.Percent(l.Line),
		"Day": l.Last.Of[0].Day, "Before": l.HeldDay(), "Since": l.HeldDay(), "Month": r.text.Percent(-l.Trend.Share), "Low": r.text.Percent(-l.Trend.High), "High": r.text.Percent(-l.Trend.Low)})
	if l.Doubtful == 0 {
		return said
	}
	for _, w := range slices.Backward(r.Weights) {
		if scale, doubtful := r.Scales.Doubts(w.Body.With, w.At); doubtful {
			return said + " " + r.say("paper.sentence.loss-doubtful", gaps{"Scale": Clean(scale)})
		}
	}
	return said
}
