package due

import (
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

// kit is what the book keeps of instruments.
type kit struct {
	leaves []kitLeaf
	err    error // why the instruments cannot be read
}

// kitLeaf is what the book keeps of one instrument in use.
type kitLeaf struct {
	owner *Owner
	due   []Obligation
}

// checkKit reads all instruments and their checks anew, where a change touched
// one: they are few. What cannot be read hides nothing of what others owe, and is
// tried again. It reports whether anything was read.
func (b *Book) checkKit(c Source) (anew bool) {
	b.marks.Lock()
	read := b.instruments
	b.instruments = false
	b.marks.Unlock()
	if !read {
		return false
	}
	if err := c.View(b.readKit); err != nil {
		b.kit = kit{err: err}
		b.marks.Lock()
		defer b.marks.Unlock()
		b.instruments = true
	}
	return true
}

func (b *Book) readKit(v model.View) error {
	all, err := husbandry.Instruments(v)
	if err != nil {
		return err
	}
	b.kit = kit{}
	for _, i := range all {
		due, err := owedBy(v, b.tables, i)
		if err != nil {
			return err
		}
		if err := answered(v, b.tables, due, v.Now().Day()); err != nil {
			return err
		}
		if len(due) > 0 {
			b.kit.leaves = append(b.kit.leaves, kitLeaf{&Owner{Subject: i.ID.Subject(), Name: i.Name, folded: animals.Fold(i.Name)}, due})
		}
	}
	return b.readBatches(v)
}

// owedBy is what is due for an instrument; nothing for one that is no longer used.
func owedBy(v model.View, t *knowledge.Tables, i husbandry.StoredInstrument) ([]Obligation, error) {
	if !i.Closed.IsZero() {
		return nil, nil
	}
	checks, err := husbandry.Checks(v, i.ID)
	if err != nil {
		return nil, err
	}
	var all []Obligation
	for _, feeder := range Feeders() {
		if feeder.Instrument != nil {
			all = append(all, feeder.Instrument(t, i, checks)...)
		}
	}
	return all, nil
}

// findAt is what an instrument owes, with its name.
func findAt(v model.View, t *knowledge.Tables, id model.InstrumentID) ([]Obligation, string, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return nil, "", err
	}
	i, err := husbandry.DecodeInstrument(d)
	if err != nil {
		return nil, "", err
	}
	all, err := owedBy(v, t, i)
	return all, i.Name, err
}

// instrumentChecks makes the next check of an instrument due, and at once where
// the last one failed.
func instrumentChecks(t *knowledge.Tables, i husbandry.StoredInstrument, checks []husbandry.Checked) []Obligation {
	again := husbandry.CheckDue(t, i, checks)
	if again.Every == 0 && !again.Failed {
		return nil
	}
	o := Obligation{Key: Key{Subject: i.ID.Subject(), Job: CheckInstrument, Cause: "none"}, From: again.Next, By: again.Next, Since: i.Begun(), Every: again.Every, Act: ActInstrument}
	if again.Last.IsZero() {
		o.Reasons = why("due.why.instrument-never", map[string]model.Gap{"Day": model.DayGap(o.Since), "Days": model.CountGap(again.Every)})
		return []Obligation{o}
	}
	o.Cause, o.Since = again.Entry.String(), again.Last.Day()
	gaps := map[string]model.Gap{"Day": model.DayGap(o.Since), "Days": model.CountGap(again.Every)}
	switch good, known := husbandry.LastGood(checks); {
	case !again.Failed:
		o.Reasons = why("due.why.instrument-checked", gaps)
	case known:
		gaps["Good"] = model.DayGap(good.At.Day())
		o.Reasons = why("due.why.instrument-failed", gaps)
	default:
		o.Reasons = why("due.why.instrument-failed-ever", gaps)
	}
	if again.Failed && (i.Kind == husbandry.Thermometer || i.Kind == husbandry.Thermostat) { // somebody lies in a warmth that nobody knows
		o.Reasons, o.Most = append(why("due.why.measure", nil), o.Reasons...), t.Value(knowledge.ValueAnswerWarmth)
	}
	return []Obligation{o}
}

// lamps makes a UV lamp due that has been in use as long as the table says.
func lamps(t *knowledge.Tables, i husbandry.StoredInstrument, _ []husbandry.Checked) []Obligation {
	old := husbandry.LampDue(t, i)
	if old.Every == 0 {
		return nil
	}
	since := i.InUse.Day
	return []Obligation{{Key: Key{Subject: i.ID.Subject(), Job: ChangeLamp, Cause: since.String()}, From: old.Next, By: old.Next, Since: since, Every: old.Every, Act: ActInstrument,
		Reasons: why("due.why.lamp", map[string]model.Gap{"Day": model.DayGap(since), "Days": model.CountGap(old.Every)})}}
}
