package due

import (
	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// mites makes the next look for mites due after one that saw a speck, which is
// neither none seen nor mites, or mites. A look that sees none ends it.
func mites(t *knowledge.Tables, f Facts) []Obligation {
	for _, e := range f.Records.Entries {
		look, ok := e.Body.(care.MiteLook)
		if !ok {
			continue
		}
		if look.Grade == care.NoMites {
			return nil
		}
		value, reason := knowledge.ValueLookSpeck, "due.why.mite-speck"
		if look.Grade.Positive() {
			value, reason = knowledge.ValueLookMites, "due.why.mites"
		}
		o := Obligation{Key: Key{Job: MiteLook, Cause: e.ID.String()}, Since: e.At.Day(), Every: t.Value(value), Act: ActMites}
		o.By = o.Since + model.Day(o.Every)
		o.From = o.By
		o.Reasons = why(reason, map[string]model.Gap{"Day": model.DayGap(o.Since), "Days": model.CountGap(o.Every)})
		return []Obligation{o}
	}
	return nil
}
