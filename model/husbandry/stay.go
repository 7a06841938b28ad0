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
	// Until is To, or the end of the day on which the animal was sold, given away,
	// died or escaped, whichever is earlier; zero: still there.
	Until model.Moment
}

// open reports whether the animal is still there.
func (s StoredStay) open() bool { return s.Until.IsZero() }

// covers reports whether the animal is there at a moment. Where the order within
// a day is not known, the day of moving in counts and that of moving out does not.
func (s Stay) covers(at model.Moment) bool {
	return !Before(at, s.From) && (s.To.IsZero() || Before(at, s.To))
}

// overlaps reports whether the two share time for certain: stays that meet on a
// day do not, where the order within that day is not known.
func (s Stay) overlaps(o Stay) bool {
	return (o.To.IsZero() || Before(s.From, o.To)) && (s.To.IsZero() || Before(o.From, s.To))
}

func (s StoredStay) document() (model.Document, error) {
	d := model.Document{Type: model.TypeStay, ID: s.ID.ID, Revision: s.Revision, At: s.From, By: s.By,
		Subjects: []model.Subject{s.Animal.Subject(), s.Place.Subject()}}
	return d, d.Encode(Version, stayBody{To: s.To, Note: s.Note})
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
	s.From, s.To, s.Until, s.Note = d.At, body.To, body.To, body.Note
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
