package due

import (
	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// weights makes the next weighing due by the class of the animal, sooner where
// it fasts.
func weights(t *knowledge.Tables, f Facts) []Obligation {
	rhythm, _ := f.Class(t)
	o := Obligation{Key: Key{Job: Weigh, Cause: "none"}, Since: f.Animal.Begun(), Every: rhythm.WeighBy, Act: ActWeigh}
	kept, fasts := f.fasting(t)
	if fasts {
		o.Every = min(o.Every, t.Value(knowledge.ValueWeighFasting))
	}
	o.Reasons = why("due.why.never-weighed", map[string]model.Gap{"Day": model.DayGap(o.Since)})
	if e, weighed := f.lastWeight(); weighed {
		o.Cause, o.Since = e.ID.String(), e.At.Day()
		o.Reasons = why("due.why.weighed", map[string]model.Gap{"Day": model.DayGap(o.Since), "Days": model.CountGap(o.Every)})
		if fasts {
			o.Reasons = why("due.why.weighed-fasts", map[string]model.Gap{"Day": model.DayGap(o.Since), "Kept": model.DayGap(kept)})
		}
	}
	o.By = o.Since + model.Day(o.Every)
	o.From = o.By
	return []Obligation{o.unlifted(f)}
}

// loss makes the vet due for a loss of weight that is a matter for the vet.
func loss(t *knowledge.Tables, f Facts) []Obligation {
	e, weighed := f.lastWeight()
	if !f.Standing.Losing || !weighed {
		return nil
	}
	l := f.Standing.Loss
	o := Obligation{Key: Key{Job: SeeVet, Cause: "loss/" + e.ID.String()}, Level: knowledge.VetWithinDays, Since: l.Last.At.Day(), Act: ActVet}
	o.From, o.By = o.Since, o.Since+model.Day(t.Value(knowledge.ValueVetWithin))
	key, gaps := "due.why.loss", map[string]model.Gap{"Share": model.ShareGap(l.Share), "Mass": model.MassGap(l.Last.Mass),
		"Median": model.MassGap(l.Median), "Day": model.DayGap(o.Since)}
	if l.Before > 0 {
		key, gaps["Before"] = "due.why.loss-single", model.DayGap(l.Before)
	}
	o.Reasons = why(key, gaps)
	return []Obligation{o}
}

func (f Facts) lastWeight() (care.Entry, bool) {
	for _, e := range f.Records.Entries {
		if _, ok := e.Body.(care.Weight); ok {
			return e, true
		}
	}
	return care.Entry{}, false
}

// checks makes the next check from snout to tail tip due. A brief look is none.
func checks(t *knowledge.Tables, f Facts) []Obligation {
	o := Obligation{Key: Key{Job: Check, Cause: "none"}, Since: f.Animal.Begun(), Every: t.Value(knowledge.ValueCheckBy), Act: ActCheck}
	o.Reasons = why("due.why.never-checked", map[string]model.Gap{"Day": model.DayGap(o.Since)})
	last, checked := f.lastCheck(t)
	switch {
	case checked:
		o.Cause, o.Since = last.ID.String(), last.Begun.Day()
		o.Reasons = why("due.why.checked", map[string]model.Gap{"Day": model.DayGap(o.Since), "Days": model.CountGap(o.Every)})
	case !f.Whole:
		o.Since = f.Read
		o.Reasons = why("due.why.long-unchecked", map[string]model.Gap{"Day": model.DayGap(o.Since)})
	}
	o.By = o.Since + model.Day(o.Every)
	o.From = o.By
	return []Obligation{o.unlifted(f)}
}

// sheds makes a look at eye caps and tail tip due after a shed of which it is not
// noted how they were, until an entry or a check says it.
func sheds(t *knowledge.Tables, f Facts) []Obligation {
	for _, e := range f.Records.Entries {
		shed, ok := e.Body.(care.Shed)
		if !ok {
			continue
		}
		last, checked := f.lastCheck(t)
		if shed.StuckEyeCaps != care.NotLooked && shed.StuckTailTip != care.NotLooked || checked && e.At.Before(last.Begun) && lookedAtEnds(last) {
			return nil
		}
		o := Obligation{Key: Key{Job: ShedLook, Cause: e.ID.String()}, Since: e.At.Day(), Act: ActCheck}
		o.From, o.By = o.Since, o.Since+model.Day(t.Value(knowledge.ValueShedLook))
		o.Reasons = why("due.why.shed", map[string]model.Gap{"Day": model.DayGap(o.Since)})
		return []Obligation{o.unlifted(f)}
	}
	return nil
}

// lookedAtEnds reports whether a check has looked at both eyes and the tail tip.
func lookedAtEnds(c exam.StoredCheck) bool {
	for _, stop := range []knowledge.StopID{"eye-left", "eye-right", "tail-tip"} {
		if look := c.At(stop).Look; !look.Looked() && look != exam.LeftToVet {
			return false
		}
	}
	return true
}
