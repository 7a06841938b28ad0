package powercut

import (
	"errors"

	"coilward/model"
	"coilward/model/knowledge"
)

// Chilling are those of the power cuts that an animal lived through in which it was colder than
// a room may become by the table, for as long as the watch after each takes at least: the animal
// was chilled, which published emergency lists name for the same day. Where it was not
// measured, that is not known. Source of the list: facts as the tables of urgency give them
// (seen: emergency page of a veterinary clinic); of the warmth and the days: assumed, and
// common practice, no source.
func Chilling(t *knowledge.Tables, cuts []Stored, today model.Day) (all []Stored) {
	room, looks := int64(t.Value(knowledge.ValueColdRoom)), t.ColdLooks()
	for _, cut := range cuts {
		if cut.Coldest != nil && cut.Coldest.Hundredths < room && today <= cut.Until.Day()+model.Day(looks[len(looks)-1].Day) {
			all = append(all, cut)
		}
	}
	return all
}

// FoodWaits reports whether one of the power cuts that an animal lived through ended today or
// yesterday: food is offered again once all has been as warm as usual for a day (common
// practice, no source).
func FoodWaits(cuts []Stored, today model.Day) bool {
	for _, cut := range cuts {
		if cut.Until.Day() >= today-1 {
			return true
		}
	}
	return false
}

// Days is a view through which the days of one animal are read. It notes the power cuts among
// them, so that they are read once.
type Days struct {
	model.View
	Cuts []Stored // newest first
}

// Timeline is the view's. A power cut that a newer version has written is passed over.
func (d *Days) Timeline(s model.Subject, from, to int64, visit func(model.Document) bool) error {
	var failed error
	err := d.View.Timeline(s, from, to, func(doc model.Document) bool {
		if !visit(doc) {
			return false
		}
		if doc.Type != model.TypeEntry || doc.Kind != Kind {
			return true
		}
		cut, err := Read(doc)
		if errors.Is(err, model.ErrNewer) {
			return true
		}
		d.Cuts, failed = append(d.Cuts, cut), err
		return err == nil
	})
	return errors.Join(err, failed)
}
