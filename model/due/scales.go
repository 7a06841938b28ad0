package due

import (
	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/weight"
)

// weighDay is a day on which animals were weighed with a scale.
type weighDay struct {
	scale model.InstrumentID
	day   model.Day
}

// alike is the newest day of the last 30 on which most animals that were weighed with a
// scale had changed alike, and by what share.
type alike struct {
	day   model.Day
	share int
}

// alikes holds the weights of all animals against each other, by scale and day. A weight
// that the scale of another check made doubtful still tells of its own.
func (b *Book) alikes(today model.Day) map[model.InstrumentID]alike {
	if len(b.kit.leaves) == 0 {
		return nil
	}
	since := today - model.Day(b.tables.Value(knowledge.ValueLosingLast))
	changes := map[weighDay][]weight.Change{}
	for _, l := range b.leaves {
		weights := l.facts.Records.Weights
		for i := 0; i+1 < len(weights) && weights[i].At.Day() > since; i++ {
			w, before := weights[i], weights[i+1]
			if w.With.IsZero() || w.Gut == care.GutFed || before.Gut == care.GutFed {
				continue
			}
			key := weighDay{w.With, w.At.Day()}
			changes[key] = append(changes[key], weight.Change{Days: int(w.At.Day() - before.At.Day()), From: before.Mass, To: w.Mass})
		}
	}
	found := map[model.InstrumentID]alike{}
	for key, of := range changes {
		if share, is := weight.AllAlike(b.tables, of); is && key.day > found[key.scale].day {
			found[key.scale] = alike{key.day, share}
		}
	}
	return found
}

// suspected is the check of a scale that is due at once, since most animals changed alike
// after its last one.
func (a alike) suspected(o Obligation) Obligation {
	if a.day == 0 || o.Job != CheckInstrument || o.Since >= a.day {
		return o
	}
	o.From, o.By = min(o.From, a.day), min(o.By, a.day)
	o.Reasons = append(why("due.why.scale-alike", map[string]model.Gap{"Day": model.DayGap(a.day), "Share": model.ShareGap(a.share)}), o.Reasons...)
	return o
}
