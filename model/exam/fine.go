package exam

import (
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Fine is the draft in which every stop without an answer was looked at in its usual way,
// and nothing new stands there: what a sheet says whose boxes are all ticked fine. A mouth
// was not opened then. A stop whose earlier finding was not asked about stays without an
// answer: nobody has said how that stands.
func (d Draft) Fine(t *knowledge.Tables, at model.Moment) Draft {
	d.Stops = slices.Clone(d.Stops)
	for i, s := range d.Stops {
		stop, known := t.Stop(s.Stop)
		if !known || s.Look != NotYet || d.unasked(s.Stop) {
			continue
		}
		d.Stops[i] = Answered{Stop: s.Stop, Look: d.usual(stop), At: at}
	}
	return d
}

// unasked reports whether an earlier finding at the stop wants an answer.
func (d Draft) unasked(stop knowledge.StopID) bool {
	return slices.ContainsFunc(d.Earlier, func(e Earlier) bool { return e.Stop == stop && e.Now.Standing == Unasked })
}
