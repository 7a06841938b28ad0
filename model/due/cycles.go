package due

import (
	"coilward/model"
	"coilward/model/droppings"
	"coilward/model/knowledge"
	"coilward/model/shedding"
)

// cycles makes a look due where the sheds of an animal ask for one: in blue for longer
// than a cycle lasts, without a shed for long while it grows, or shed twice in a short
// time. A check of the whole animal since answers it.
func cycles(t *knowledge.Tables, f Facts) (all []Obligation) {
	look := func(w shedding.Watch, cause, reason string) {
		if last, checked := f.lastCheck(t); checked && last.Begun.Day() >= w.From {
			return
		}
		o := Obligation{Key: Key{Job: ShedLook, Cause: cause + "/" + w.Entry.String()}, Since: w.On, From: w.From, By: w.From, Act: ActCheck,
			Reasons: why(reason, map[string]model.Gap{"Day": model.DayGap(w.On), "Days": model.CountGap(w.Days)})}
		all = append(all, o.unlifted(f))
	}
	if w, blue := shedding.InBlue(t, f.Records.Entries); blue {
		look(w, "blue", "due.why.blue")
		return all
	}
	rhythm, known := f.Class(t)
	if w, overdue := shedding.Overdue(t, known && rhythm.Class != adult, f.Records.Entries); overdue {
		look(w, "no-shed", "due.why.no-shed")
	}
	if w, close := shedding.Close(t, f.Records.Entries); close {
		look(w, "close", "due.why.shed-close")
	}
	return all
}

// missed makes a look due where faeces are missed. It names no cause: that is for the
// vet to say.
func missed(t *knowledge.Tables, f Facts) []Obligation {
	last := droppings.Of(t, f.Records.Entries)
	from, missed := last.Missed(t)
	if !missed {
		return nil
	}
	o := Obligation{Key: Key{Job: LookAgain, Cause: "stool/" + last.Entry.String()}, Level: knowledge.LookAgain, Since: last.Faeces, From: from, By: from, Act: ActCheck,
		Caution: "due.caution.stool", Reasons: why("due.why.stool", map[string]model.Gap{"Day": model.DayGap(last.Faeces), "Kept": model.CountGap(last.Kept), "Days": model.CountGap(t.Value(knowledge.ValueStoolBy))})}
	return []Obligation{o.unlifted(f)}
}
