package paper

import "coilward/model/history"

// loss is the sentence of a loss of weight that a vet should hear of, and that
// the weight is doubtful where it is.
func (r record) loss(l history.Loss) string {
	told := gaps{"Percent": r.text.Percent(l.Share), "Median": l.Median, "Day": l.Last.At.Day()}
	key := "paper.sentence.loss"
	if l.Before > 0 {
		key, told["Before"] = "paper.sentence.loss-single", l.Before
	}
	said := r.say(key, told)
	if scale, doubtful := r.Scales.Doubts(l.Last.With, l.Last.At); doubtful {
		said += " " + r.say("paper.sentence.loss-doubtful", gaps{"Scale": Clean(scale)})
	}
	return said
}
