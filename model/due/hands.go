package due

import (
	"strconv"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/weight"
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
	e, weighed := f.lastWeight()
	if weighed {
		o.Cause, o.Since = e.ID.String(), e.At.Day()
		o.Reasons = why("due.why.weighed", map[string]model.Gap{"Day": model.DayGap(o.Since), "Days": model.CountGap(o.Every)})
		if fasts {
			o.Reasons = why("due.why.weighed-fasts", map[string]model.Gap{"Day": model.DayGap(o.Since), "Kept": model.DayGap(kept)})
		}
	}
	if l := f.Standing.Loss; weighed && l.Level == knowledge.LookAgain {
		o.Every, o.Level = min(o.Every, t.Value(knowledge.ValueWeighLosing)), l.Level
		o.Reasons = whyLoss(l)
	}
	o.By = o.Since + model.Day(o.Every)
	o.From = o.By
	return []Obligation{o.unlifted(f)}
}

// loss makes the vet due for a loss of weight that is a matter for the vet.
func loss(t *knowledge.Tables, f Facts) []Obligation {
	l := f.Standing.Loss
	if !l.ForVet() {
		return nil
	}
	newest := l.Last.Of[0]
	o := Obligation{Key: Key{Job: SeeVet, Cause: "loss/" + newest.Entry.String()}, Level: knowledge.VetWithinDays, Since: newest.Day, Act: ActVet, Reasons: whyLoss(l),
		Brief: briefly("due.brief.loss", map[string]model.Gap{"Day": model.DayGap(l.HeldDay())})}
	o.From, o.By = o.Since, o.Since+model.Day(t.Value(knowledge.ValueVetWithin))
	return []Obligation{o}
}

// breathing makes the vet due for what was seen on visits of its breathing. One cause stands
// for one visit: what was answered of it holds when it is an emergency no longer.
func breathing(t *knowledge.Tables, f Facts) []Obligation {
	b := f.Standing.Breathing
	if b.IsZero() {
		return nil
	}
	day := b.At.Day()
	o := Obligation{Key: Key{Job: SeeVet, Cause: "breathing/" + strconv.FormatInt(b.At.UTC, 10)}, Level: b.Level, Since: day, From: day, By: day, Act: ActVet,
		Brief: briefly("due.brief.breathing", map[string]model.Gap{"Day": model.DayGap(day)})}
	if b.Level < knowledge.EmergencyToday {
		o.By += model.Day(t.Value(knowledge.ValueVetWithin))
	}
	gaps := map[string]model.Gap{"Day": model.DayGap(day)}
	var signs []string
	for _, id := range b.Signs {
		signs = append(signs, "sign."+string(id))
	}
	gaps["Signs"] = model.KeysGap(signs...)
	switch {
	case b.Level >= knowledge.EmergencyToday:
		o.Reasons = why("due.why.breathing-open", gaps)
	case len(signs) > 0:
		o.Reasons = why("due.why.breathing", gaps)
	default:
		o.Reasons = why("due.why.breaths-far", map[string]model.Gap{"Day": model.DayGap(day)})
	}
	return []Obligation{o}
}

// whyLoss tells what the weights tell, and how many of them do not count.
func whyLoss(l weight.Loss) []model.Label {
	gaps := map[string]model.Gap{"Share": model.ShareGap(l.Share), "Mass": model.MassGap(l.Last.Mass),
		"Median": model.MassGap(l.Held.Mass), "Day": model.DayGap(l.Last.Of[0].Day), "Before": model.DayGap(l.HeldDay()), "Line": model.ShareGap(l.Line)}
	if l.Reason == weight.Slow {
		gaps["Since"], gaps["Month"] = model.DayGap(l.HeldDay()), model.ShareGap(-l.Trend.Share)
	}
	reasons := why("due.why.loss."+l.Reason.String(), gaps)
	if l.Doubtful > 0 {
		reasons = append(reasons, why("due.why.loss-doubtful", map[string]model.Gap{"Count": model.CountGap(l.Doubtful)})...)
	}
	return reasons
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
