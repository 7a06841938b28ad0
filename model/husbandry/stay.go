package husbandry

import (
	"fmt"

	"coilward/model"
)

// Stay is one animal in one place from a moment to a moment. Its document's At
// is the beginning and its subjects are the animal and the place, so that it
// stands on the timelines of both.
type Stay struct {
	Animal model.AnimalID
	Place  model.PlaceID
	From   model.Moment
	To     model.Moment // zero: still there
	Note   string
}

// stayBody is what the header of a stay's document does not say.
type stayBody struct {
	To   model.Moment `json:"to,omitzero"`
	Note string       `json:"note,omitempty"`
}

// StoredStay is a stay with the document's id and revision.
type StoredStay struct {
	ID       model.StayID
	Revision uint32
	By       model.PersonID // who noted it
	Stay
}

// DecodeStay reads a stay's document.
func DecodeStay(d model.Document) (StoredStay, error) {
	s := StoredStay{ID: model.StayID{ID: d.ID}, Revision: d.Revision, By: d.By}
	if d.Type != model.TypeStay {
		return s, fmt.Errorf("read stay %s: the document is of type %s", d.ID, d.Type)
	}
	var body stayBody
	if err := d.Decode(Version, &body); err != nil {
		return s, err
	}
	s.From, s.To, s.Note = d.At, body.To, body.Note
	for _, about := range d.Subjects {
		switch about.Kind {
		case model.SubjectAnimal:
			s.Animal = model.AnimalID{ID: about.ID}
		case model.SubjectPlace:
			s.Place = model.PlaceID{ID: about.ID}
		}
	}
	return s, nil
}
