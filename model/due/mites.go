package due

import (
	"coilward/model"
	"coilward/model/care"
	"coilward/model/history"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

// mites makes the next look for mites due: each week after mites until the watch
// for them is over, and sooner after a speck, which is neither none seen nor mites.
// After mites it is no job of every day: it is put off no longer than any other
// look that a finding asks for.
func mites(t *knowledge.Tables, f Facts) []Obligation {
	w, watching := f.Mites, f.Watching
	if !watching {
		return nil
	}
	o := Obligation{Key: Key{Job: MiteLook, Cause: f.lastMiteLook().String()}, Since: w.Last, From: w.Next, By: w.Next, Every: w.Every, Act: ActMites}
	if w.Speck {
		o.Reasons = why("due.why.mite-speck", map[string]model.Gap{"Day": model.DayGap(w.Last), "Days": model.CountGap(w.Every)})
	}
	if w.Mites == 0 {
		return []Obligation{o}
	}
	o.Level = knowledge.LookAgain
	o.Reasons = append(o.Reasons, why("due.why.mites", map[string]model.Gap{"Day": model.DayGap(w.Mites), "Days": model.CountGap(t.Value(knowledge.ValueLookMites))})...)
	o.Reasons = append(o.Reasons, why("due.why.mite-watch", map[string]model.Gap{"Day": model.DayGap(w.Ends), "Days": model.CountGap(t.Value(knowledge.ValueMiteGap))})...)
	return []Obligation{o}
}

// lastMiteLook is the newest look for mites.
func (f Facts) lastMiteLook() (id model.EntryID) {
	for _, e := range f.Records.Entries {
		if _, is := e.Body.(care.MiteLook); is {
			return e.ID
		}
	}
	return id
}

// watch reads for how long mites are watched for, where any were seen.
func (f *Facts) watch(t *knowledge.Tables, v model.View) error {
	looks := f.Records.MiteDays()
	days := t.Value(knowledge.ValueMiteWatchCool)
	if looks.Positive() {
		house, err := husbandry.ReadHouseOf(v, f.Animal.ID)
		if err != nil {
			return err
		}
		days = house.MiteWatch(t, f.Animal.ID, f.Now)
	}
	f.Mites, f.Watching = history.MiteWatch(t, looks, days, f.Now.Day())
	return nil
}
