package model

import (
	"encoding/json"
	"errors"
	"fmt"
)

// DocumentType tells what a document is. Values are frozen: they stand in every
// stored document.
type DocumentType string

// The types of document.
const (
	TypeAnimal  DocumentType = "animal"
	TypePerson  DocumentType = "person"
	TypeEntry   DocumentType = "entry"
	TypeProblem DocumentType = "problem"

	TypePlace      DocumentType = "place"
	TypeStay       DocumentType = "stay"
	TypeTool       DocumentType = "tool"
	TypeInstrument DocumentType = "instrument"

	TypeAnswer DocumentType = "answer" // to something that was due
	TypeSample DocumentType = "sample"

	TypeQuarantine DocumentType = "quarantine" // of one newcomer
	TypeProtocol   DocumentType = "protocol"   // the keeper's own, or changed

	TypePositive DocumentType = "positive" // something that was detected, until it is closed

	TypeBatch DocumentType = "batch" // of feeders

	TypeRound DocumentType = "round" // one going-through of the animals of a house

	TypePrescription DocumentType = "prescription" // a course as a vet wrote it, with its doses
	TypeVisit        DocumentType = "visit"        // an animal is seen by a vet: planned or held
	TypeQuestion     DocumentType = "question"     // to a vet, until it is answered or withdrawn

	TypeFigures DocumentType = "figures" // in place of a row of the tables of chances

	TypeReadings DocumentType = "readings" // of one sensor in one zone on one day
)

// DocumentTypes are all types of document, in the order in which they came to be.
func DocumentTypes() []DocumentType {
	return []DocumentType{TypeAnimal, TypePerson, TypeEntry, TypeProblem, TypePlace, TypeStay, TypeTool, TypeInstrument, TypeAnswer, TypeSample, TypeQuarantine, TypeProtocol, TypePositive, TypeBatch, TypeRound, TypePrescription, TypeVisit, TypeQuestion, TypeFigures, TypeReadings}
}

// Document is one revision of one thing in a collection: the header that every
// document has, and a body that only its capability can read. Documents are
// append-only: a change is a new revision, and a removed document keeps its
// revisions.
type Document struct {
	Type     DocumentType    `json:"type"`
	ID       ID              `json:"id"`
	Revision uint32          `json:"rev"`            // 1 is the first; set by the collection
	Kind     string          `json:"kind,omitempty"` // of an entry: "weight", "check" …; frozen
	Version  int             `json:"v"`              // of the body's form
	At       Moment          `json:"at"`             // when it happened; of things with a life: when it began
	By       PersonID        `json:"by,omitzero"`    // who did it
	Subjects []Subject       `json:"about,omitempty"`
	Written  Moment          `json:"written"` // when this revision was written; set by the collection
	Body     json.RawMessage `json:"body"`
}

// Errors of reading and changing a collection; test with errors.Is.
var (
	ErrNotFound = errors.New("not found")
	// ErrConflict says that a document was changed by something else since the
	// revision that a change was based on.
	ErrConflict = errors.New("changed in the meantime")
	// ErrNewer says that a body was written by a newer version of the program.
	ErrNewer = errors.New("written by a newer version")
)

// Encode puts a body into the document, in the form of that version.
func (d *Document) Encode(version int, body any) error {
	raw, err := json.Marshal(body)
	if err != nil {
		return fmt.Errorf("write the body of a %s document: %w", d.Type, err)
	}
	d.Version, d.Body = version, raw
	return nil
}

// Decode reads the document's body into body; newest is the newest version of
// the form that the caller knows. A newer one is refused with ErrNewer.
func (d Document) Decode(newest int, body any) error {
	if d.Version > newest {
		return fmt.Errorf("read %s %s %s (form %d, known up to %d): %w", d.Type, d.Kind, d.ID, d.Version, newest, ErrNewer)
	}
	if err := json.Unmarshal(d.Body, body); err != nil {
		return fmt.Errorf("read %s %s %s: %w", d.Type, d.Kind, d.ID, err)
	}
	return nil
}

// Animal is the first animal that the document is about.
func (d Document) Animal() (AnimalID, bool) {
	for _, s := range d.Subjects {
		if s.Kind == SubjectAnimal {
			return AnimalID{s.ID}, true
		}
	}
	return AnimalID{}, false
}
