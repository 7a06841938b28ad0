package due

import (
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/contact"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/samples"
)

// Detection is one thing that was detected in one sample, with the open positive for
// it, nil where none was opened yet.
type Detection struct {
	Sample samples.Stored
	Agent  knowledge.AgentID
	At     model.Moment // when the lab reported it
	// MayBeFalse is that it may be a false alarm, and no sign speaks against saying so.
	MayBeFalse bool
	Open       *positives.Trace
}

// positivesDue adds what is due for what was detected and is not settled.
func positivesDue(v model.View, t *knowledge.Tables, unsettled []positives.Trace, due map[model.AnimalID][]Obligation) error {
	for _, d := range detections(unsettled) {
		of, there, err := owes(v, d.Sample)
		if err != nil {
			return err
		}
		if !there {
			continue
		}
		for _, feeder := range Feeders() {
			if feeder.Detected == nil {
				continue
			}
			for _, o := range feeder.Detected(t, d) {
				o.Subject = of.Subject()
				due[of] = append(due[of], o)
			}
		}
	}
	return nil
}

// detections are the results that no positive was ever opened for, and the open
// positives, those too whose result was put right.
func detections(unsettled []positives.Trace) (found []Detection) {
	for i, trace := range unsettled {
		d := Detection{Agent: trace.Agent, At: trace.Reported, MayBeFalse: trace.MayBeFalse}
		if !trace.ID.IsZero() {
			d.Open = &unsettled[i]
		}
		d.Sample.ID, d.Sample.Animals, d.Sample.Taken = trace.Sample, trace.Animals, trace.Taken
		found = append(found, d)
	}
	return found
}

// detected makes due that a positive is opened, and the next thing of the list of an
// open one: that it is closed where all was done, or the result was put right.
func detected(t *knowledge.Tables, d Detection) []Obligation {
	o := Obligation{Key: Key{Job: Positive, Cause: d.Sample.ID.String() + " " + string(d.Agent)}, Since: d.At.Day(), From: d.At.Day(), By: d.At.Day(), Act: ActPositive}
	gaps := map[string]model.Gap{"Agent": model.KeyGap("agent." + string(d.Agent)), "Day": model.DayGap(d.At.Day())}
	if d.Open == nil {
		o.Level = knowledge.VetWithinDays
		o.Reasons = why("due.why.detected", gaps)
		if n := len(d.Sample.Animals); n > 1 {
			o.Reasons = append(o.Reasons, model.Label{Key: "due.why.detected-pool", Gaps: map[string]model.Gap{"Animals": model.CountGap(n)}})
		}
		if d.MayBeFalse {
			o.Reasons = append(o.Reasons, model.Label{Key: "due.why.detected-doubt"})
		}
		return []Obligation{o}
	}
	o.Level = knowledge.LookAgain
	o.Since, o.From, o.By = d.Open.Opened.Day(), d.Open.Opened.Day(), d.Open.Opened.Day()
	gaps["Day"] = model.DayGap(d.Open.Opened.Day())
	unmet := contact.Unmet(d.Open.Acts)
	if d.Open.Stands && slices.Contains(unmet, contact.CallVet) {
		o.Level = knowledge.VetWithinDays // that it was opened makes it no less urgent
	}
	o.Cause = fmt.Sprintf("%s/%v/%d", d.Open.ID, d.Open.Stands, len(unmet))
	switch {
	case !d.Open.Stands:
		o.Reasons = why("due.why.positive-corrected", gaps)
	case len(unmet) == 0:
		o.Reasons = why("due.why.positive-close", gaps)
	default:
		gaps["Act"], gaps["Count"] = model.KeyGap("positive.act."+string(unmet[0])), model.CountGap(len(unmet))
		o.Reasons = why("due.why.positive-next", gaps)
	}
	return []Obligation{o}
}
