package due

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/powercut"
)

// cold makes the looks after a power cut due, until the last of them is done: at the
// breathing of one that lived where it was, and of one fed shortly before at what it may
// bring up; and the vet, where it was so cold. Of two power cuts the later one speaks, whose looks stand for both. The days
// are of the table; common practice, no source.
func cold(t *knowledge.Tables, f Facts) []Obligation {
	if len(f.Cuts) == 0 || f.Animal.Status == animals.OnLoan {
		return nil
	}
	cut := slices.MaxFunc(f.Cuts, func(a, b powercut.Stored) int {
		return cmp.Or(cmp.Compare(a.Until.UTC, b.Until.UTC), slices.Compare(a.ID.ID[:], b.ID.ID[:]))
	})
	w := powercut.WatchAfter(t, cut.Until.Day(), powercut.Looks(f.Checks))
	if w.Over() {
		return chilled(t, f)
	}
	o := Obligation{Key: Key{Job: ColdLook, Cause: "power-cut/" + cut.ID.String() + "/" + w.Next.String()}, Level: knowledge.LookAgain,
		Since: cut.Until.Day(), From: w.Next, By: w.Next, Most: t.Value(knowledge.ValueVetWithin), Act: ActPowerCut, Caution: "due.caution.power-cut",
		Reasons: why("due.why.power-cut", map[string]model.Gap{"Day": model.DayGap(cut.Until.Day()), "Look": model.CountGap(w.Looks + 1), "Of": model.CountGap(w.Of), "Ends": model.DayGap(w.Ends)})}
	if cut.Coldest != nil {
		o.Reasons = append(o.Reasons, why("due.why.power-cut-cold", map[string]model.Gap{"Temperature": model.TemperatureGap(cut.Coldest.Hundredths)})...)
	} else {
		o.Reasons = append(o.Reasons, why("due.why.power-cut-unmeasured", nil)...)
	}
	if day, fed := fedBefore(t, f, cut); fed {
		o.Reasons = append(o.Reasons, why("due.why.power-cut-fed", map[string]model.Gap{"Day": model.DayGap(day)})...)
	}
	return append(chilled(t, f), o)
}

// Chilled begins the cause of what a power cut asks of the vet in which it was so cold.
const Chilled = "chilled/"

// chilled makes the vet due for each power cut in which the animal was chilled (see
// powercut.Chilling). Looks that see nothing do not take it back; an answer does.
func chilled(t *knowledge.Tables, f Facts) (all []Obligation) {
	for _, cut := range powercut.Chilling(t, f.Cuts, f.Now.Day()) {
		all = append(all, chilling(t, cut))
	}
	return all
}

// chilling is what one such power cut makes due.
func chilling(t *knowledge.Tables, cut powercut.Stored) Obligation {
	day := cut.Until.Day()
	return Obligation{Key: Key{Job: SeeVet, Cause: Chilled + cut.ID.String()}, Level: knowledge.EmergencyToday, Since: day, From: day, By: day, Act: ActVet,
		Brief:   briefly("due.brief.chilled", map[string]model.Gap{"Day": model.DayGap(day), "Temperature": model.TemperatureGap(cut.Coldest.Hundredths)}),
		Reasons: why("due.why.power-cut-chilled", map[string]model.Gap{"Temperature": model.TemperatureGap(cut.Coldest.Hundredths), "Room": model.TemperatureGap(int64(t.Value(knowledge.ValueColdRoom)))})}
}

// UnansweredChilling are those of the power cuts that an animal lived through in which it was
// chilled and of which no answer to what is due says that the vet was called.
func UnansweredChilling(v model.View, t *knowledge.Tables, animal model.AnimalID, cuts []powercut.Stored) (open []powercut.Stored, err error) {
	today := v.Now().Day()
	for _, cut := range powercut.Chilling(t, cuts, today) {
		o := chilling(t, cut)
		o.Subject = animal.Subject()
		all := []Obligation{o}
		if err := answered(v, t, all, today); err != nil {
			return nil, err
		}
		if !all[0].answered(today) {
			open = append(open, cut)
		}
	}
	return open, nil
}

// fedBefore is the day of the last meal that was taken so shortly before the end of a power
// cut that it was not digested when it began.
func fedBefore(t *knowledge.Tables, f Facts, cut powercut.Stored) (day model.Day, fed bool) {
	for _, e := range f.Records.Entries {
		meal, is := e.Body.(care.Meal)
		if is && meal.Outcome == care.Took && e.At.UTC <= cut.Until.UTC && cut.From.Day()-e.At.Day() < model.Day(t.Value(knowledge.ValueFed)) {
			return e.At.Day(), true
		}
	}
	return 0, false
}
