package paper

import "coilward/model/history"

// loss is the sentence of a loss of weight that a vet should hear of.
func (r record) loss(l history.Loss) string {
	told := gaps{"Percent": (l.Share + 50) / 100, "Median": l.Median, "Day": l.Last.At.Day()}
	if l.Before > 0 {
		told["Before"] = l.Before
		return r.say("paper.sentence.loss-single", told)
	}
	return r.say("paper.sentence.loss", told)
}
