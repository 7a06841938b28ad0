package contact

import (
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Version is the newest form of a positive's body.
const Version = 1

// PositiveID names a positive.
type PositiveID struct{ model.ID }

// Positive is the body of a positive's document: one thing that was detected in one
// sample. The animals of the sample stand in its header, more than one where it was
// pooled. Its document's At is when it was opened.
type Positive struct {
	Sample   model.SampleID    `json:"sample"`
	Agent    knowledge.AgentID `json:"agent"`
	Taken    model.Moment      `json:"taken"`    // the sample, as it was when the positive was opened
	Reported model.Moment      `json:"reported"` // by the lab
	// Doubt is that it may be a false alarm, by the tables of that day, which assume it:
	// of the samples a second one comes first, and until then it is treated as real.
	Doubt  bool    `json:"doubt,omitempty"`
	Done   []Did   `json:"done,omitempty"` // in the order in which it was said
	Closed *Closed `json:"closed,omitempty"`
}

// Did says that one thing of the list was done.
type Did struct {
	Act  knowledge.PositiveActID `json:"act"`
	At   model.Moment            `json:"at"`
	By   model.PersonID          `json:"by,omitzero"`
	Note string                  `json:"note,omitempty"`
}

// Closed says why a positive is no longer open, and what of its list was not done.
type Closed struct {
	At    model.Moment              `json:"at"`
	By    model.PersonID            `json:"by,omitzero"`
	Why   Why                       `json:"why"`
	Note  string                    `json:"note,omitempty"`
	Unmet []knowledge.PositiveActID `json:"unmet,omitempty"`
}

// Why is why a positive was closed. Values are frozen; the text is "positive.why." +
// value.
type Why string

// Why a positive was closed.
const (
	Corrected    Why = "corrected"     // the lab put the result right
	NotConfirmed Why = "not-confirmed" // by the vet's word, after a second sample
	Gone         Why = "gone"          // it died or left
	VetsWord     Why = "vets-word"     // all that was asked was done, and the vet says so
	Otherwise    Why = "otherwise"     // as the note says
)

// Whys are all of them, in the order in which they are offered.
func Whys() []Why { return []Why{Corrected, NotConfirmed, Gone, VetsWord, Otherwise} }

// Open reports whether the positive is open still.
func (p Positive) Open() bool { return p.Closed == nil }

// Did is the newest word that a thing of the list was done.
func (p Positive) Did(act knowledge.PositiveActID) (Did, bool) {
	for _, d := range slices.Backward(p.Done) {
		if d.Act == act {
			return d, true
		}
	}
	return Did{}, false
}

// Stored is a positive with what its document's header says.
type Stored struct {
	ID       PositiveID
	Revision uint32
	Opened   model.Moment
	By       model.PersonID
	Animals  []model.AnimalID
	Positive
}

// Pool reports whether several animals were in one sample, so that it is not known
// which of them it was.
func (s Stored) Pool() bool { return len(s.Animals) > 1 }

// Read reads a positive's document.
func Read(d model.Document) (Stored, error) {
	s := Stored{ID: PositiveID{d.ID}, Revision: d.Revision, Opened: d.At, By: d.By}
	if d.Type != model.TypePositive {
		return s, fmt.Errorf("read positive %s: the document is of type %s", d.ID, d.Type)
	}
	s.Animals = animalsOf(d)
	return s, d.Decode(Version, &s.Positive)
}

func animalsOf(d model.Document) (all []model.AnimalID) {
	for _, about := range d.Subjects {
		if about.Kind == model.SubjectAnimal {
			all = append(all, model.AnimalID{ID: about.ID})
		}
	}
	return all
}

func (s Stored) document() (model.Document, error) {
	d := model.Document{Type: model.TypePositive, ID: s.ID.ID, Revision: s.Revision, At: s.Opened, By: s.By}
	for _, a := range s.Animals {
		d.Subjects = append(d.Subjects, a.Subject())
	}
	return d, d.Encode(Version, s.Positive)
}

// All are the positives of the collection, open and closed, in the order of their
// ids. One that cannot be read is passed over: what was detected then stands as if
// nobody had opened one, and verifying names it.
func All(v model.View) ([]Stored, error) {
	var all []Stored
	err := v.All(model.TypePositive, func(d model.Document) bool {
		if s, err := Read(d); err == nil {
			all = append(all, s)
		}
		return true
	})
	if err != nil {
		return nil, fmt.Errorf("read the positives: %w", err)
	}
	return all, nil
}

// OpenOf are the open positives of one animal, the earliest opened first: what a
// record says of her is that one is open since then.
func OpenOf(v model.View, animal model.AnimalID) ([]Stored, error) {
	all, err := All(v)
	all = slices.DeleteFunc(all, func(s Stored) bool { return !s.Open() || !slices.Contains(s.Animals, animal) })
	slices.SortStableFunc(all, func(a, b Stored) int { return int(a.Opened.Day() - b.Opened.Day()) })
	return all, err
}

// Find reads one positive.
func Find(v model.View, id PositiveID) (Stored, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return Stored{}, fmt.Errorf("read positive %s: %w", id, err)
	}
	return Read(d)
}
