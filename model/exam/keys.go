package exam

import (
	"coilward/model"
	"coilward/model/body"
	"coilward/model/knowledge"
)

// Key is a key of the numpad; every part of a check can be answered with them.
type Key rune

// The keys beside the digits '1' to '9'.
const (
	KeyNotLooked Key = '0'
	KeyVet       Key = '.' // left to the vet; a comma does the same
	KeyBack      Key = '-'
	KeyOther     Key = '+' // the other way of looking; on the mouth: seen
	KeyEnter     Key = '\n'
)

// Answers to an earlier finding, in the order of their digits.
func standings() [4]Standing { return [4]Standing{Same, Better, Worse, Gone} }

// Press is the draft after a key. Keys that mean nothing here change nothing.
// While an earlier finding of the stop wants an answer, the digits 1 to 4 say
// same, better, worse, gone; otherwise they note the stop's findings. Enter
// stores that the stop was looked at in its usual way and goes on; on a mouth in
// which nothing was noted it stores that it was not opened. The error is a
// *model.Refusal, and the draft is then as it was.
func (d Draft) Press(t *knowledge.Tables, key Key, at model.Moment) (Draft, error) {
	if key == KeyBack {
		return d.Go(d.Index - 1), nil
	}
	id, ok := d.Stop()
	stop, known := t.Stop(id)
	if !ok || !known {
		return d, nil
	}
	switch {
	case key == KeyEnter:
		return d.Answer(d.usual(stop), at)
	case key == KeyOther:
		return d.Answer(other(stop), at)
	case key == KeyVet || key == ',':
		return d.Answer(LeftToVet, at)
	case key == KeyNotLooked:
		return d.Answer(NotLooked, at)
	case key >= '1' && key <= '9':
		return d.digit(t, stop, int(key-'1'), at), nil
	}
	return d, nil
}

func (d Draft) digit(t *knowledge.Tables, stop knowledge.Stop, n int, at model.Moment) Draft {
	if i, asking := d.Asking(); asking {
		if answers := standings(); n < len(answers) {
			return d.AnswerEarlier(i, answers[n], at)
		}
		return d
	}
	if n < len(stop.Choices) {
		return d.Mark(t, stop.Choices[n], at)
	}
	return d
}

// usual is what Enter stores at a stop.
func (w Walk) usual(stop knowledge.Stop) Look {
	switch {
	case stop.Way == knowledge.Felt:
		return Felt
	case stop.Way == knowledge.Opened && !w.found(stop.ID) && !w.asked(stop.ID):
		return NotLooked
	}
	return Seen
}

// other is what '+' stores at a stop.
func other(stop knowledge.Stop) Look {
	if stop.Way == knowledge.Seen {
		return Felt
	}
	return Seen
}

// Middle is where a finding goes that was pointed to nowhere: the middle of the
// stop's first region, or the zero Place for a stop about the whole animal.
func Middle(t *knowledge.Tables, stop knowledge.StopID) body.Place {
	s, _ := t.Stop(stop)
	if len(s.Regions) == 0 {
		return body.Place{}
	}
	place, _ := body.In(s.Regions[0])
	return place
}
