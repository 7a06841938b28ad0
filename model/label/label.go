// Package label says what a QR code of ours names: a place or an animal, and
// nothing of either. What such a code leads to is known to the collection alone.
package label

import (
	"strings"

	"coilward/model"
)

// Label is what a code names: a place or an animal, by its id.
type Label struct {
	Kind model.SubjectKind // model.SubjectPlace or model.SubjectAnimal
	ID   model.ID
}

// scheme begins the text of every code, so that others' codes are not taken for
// ours. It is frozen: printed cards carry it.
const scheme = "coilward:"

// OfPlace is the label of a place.
func OfPlace(id model.PlaceID) Label { return Label{model.SubjectPlace, id.ID} }

// OfAnimal is the label of an animal.
func OfAnimal(id model.AnimalID) Label { return Label{model.SubjectAnimal, id.ID} }

// Text is what the code carries, such as
// "coilward:place:0190a1b2-c3d4-7e5f-8a9b-0c1d2e3f4a5b".
func (l Label) Text() string { return scheme + string(l.Kind) + ":" + l.ID.String() }

// Place is the place that the label names; ok is false where it names none.
func (l Label) Place() (id model.PlaceID, ok bool) {
	return model.PlaceID{ID: l.ID}, l.Kind == model.SubjectPlace
}

// Animal is the animal that the label names; ok is false where it names none.
func (l Label) Animal() (id model.AnimalID, ok bool) {
	return model.AnimalID{ID: l.ID}, l.Kind == model.SubjectAnimal
}

// Parse reads the text of a code: white space around it and the case of its
// letters do not matter. ok is false for every text that is not a label of ours.
func Parse(text string) (l Label, ok bool) {
	rest, ours := strings.CutPrefix(strings.ToLower(strings.TrimSpace(text)), scheme)
	kind, id, parted := strings.Cut(rest, ":")
	if !ours || !parted {
		return Label{}, false
	}
	l.Kind = model.SubjectKind(kind)
	if l.Kind != model.SubjectPlace && l.Kind != model.SubjectAnimal {
		return Label{}, false
	}
	var err error
	if l.ID, err = model.ParseID(id); err != nil || l.ID.IsZero() {
		return Label{}, false
	}
	return l, true
}
