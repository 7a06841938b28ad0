package paper

import (
	"slices"

	"coilward/model/care"
	"coilward/model/weight"
)

// loss is the sentence of a loss of weight, and that the weight is doubtful where it
// is.
func (r record) loss(l weight.Loss) string {
	said := r.say("paper.loss."+l.Reason.String(), gaps{"Percent": r.text.Percent(l.Share), "Last": l.Last.Mass, "Median": l.Held.Mass, "Line": r.text.Percent(l.Line),
		"Day": l.Last.Of[0].Day, "Before": l.HeldDay()})
	for _, w := range slices.Backward(r.Weights) {
		if !told(l, w) {
			continue
		}
		if scale, doubtful := r.Scales.Doubts(w.Body.With, w.At); doubtful {
			return said + " " + r.say("paper.sentence.loss-doubtful", gaps{"Scale": Clean(scale)})
		}
	}
	return said
}

// told reports whether the weight is one of those that tell what the animal weighs now.
func told(l weight.Loss, w Dated[care.Weight]) bool {
	return slices.ContainsFunc(l.Last.Of, func(of weight.Weighing) bool { return of.Day == w.At.Day() && of.Mass == w.Body.Mass })
}
