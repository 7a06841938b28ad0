package model

import (
	"encoding/hex"
	"fmt"
)

// ID names one document for ever and everywhere: a UUID of version 7
// (RFC 9562), so that two machines never give the same one and sorting by id
// sorts by the time of making. The zero ID means "none".
type ID [16]byte

// String is the id in the usual 8-4-4-4-12 form of RFC 9562.
func (id ID) String() string {
	h := hex.EncodeToString(id[:])
	return h[:8] + "-" + h[8:12] + "-" + h[12:16] + "-" + h[16:20] + "-" + h[20:]
}

// IsZero reports whether the id names nothing.
func (id ID) IsZero() bool { return id == ID{} }

// MarshalText writes the usual form, and nothing for the zero id.
func (id ID) MarshalText() ([]byte, error) {
	if id.IsZero() {
		return nil, nil
	}
	return []byte(id.String()), nil
}

// UnmarshalText reads what MarshalText wrote.
func (id *ID) UnmarshalText(text []byte) error {
	parsed, err := ParseID(string(text))
	if err != nil {
		return err
	}
	*id = parsed
	return nil
}

// ParseID reads the usual form of an id; empty text is the zero id.
func ParseID(text string) (ID, error) {
	var id ID
	if text == "" {
		return id, nil
	}
	if len(text) != 36 || text[8] != '-' || text[13] != '-' || text[18] != '-' || text[23] != '-' {
		return id, fmt.Errorf("read id %q: want the form xxxxxxxx-xxxx-xxxx-xxxx-xxxxxxxxxxxx", text)
	}
	if _, err := hex.Decode(id[:], []byte(text[:8]+text[9:13]+text[14:18]+text[19:23]+text[24:])); err != nil {
		return ID{}, fmt.Errorf("read id %q: %w", text, err)
	}
	return id, nil
}

// AnimalID names an animal.
type AnimalID struct{ ID }

// PersonID names a person.
type PersonID struct{ ID }

// EntryID names an entry of the days.
type EntryID struct{ ID }

// ProblemID names a problem: the chain of one finding over checks.
type ProblemID struct{ ID }

// PlaceID names a place: a room, a rack, a shelf or an enclosure.
type PlaceID struct{ ID }

// StayID names a stay of an animal in a place.
type StayID struct{ ID }

// ToolID names a tool that touches animals, such as a hook or a travelling tub.
type ToolID struct{ ID }

// SampleID names a sample that is looked through for something.
type SampleID struct{ ID }

// QuarantineID names the quarantine of one newcomer.
type QuarantineID struct{ ID }

// RoundID names a round: one going-through of the animals of a house.
type RoundID struct{ ID }

// BatchID names a batch of feeders: prey of one kind and size that was bought together.
type BatchID struct{ ID }

// InstrumentID names an instrument that measures, such as a scale.
type InstrumentID struct{ ID }

// PhotoID names a stored photo by the SHA-256 of its bytes, in lower-case hex.
type PhotoID string

// Subject is what an entry is about.
type Subject struct {
	Kind SubjectKind `json:"kind"`
	ID   ID          `json:"id"`
}

// SubjectKind tells what sort of thing a subject is. Values are frozen: they
// stand in every stored document.
type SubjectKind string

// The kinds of subject.
const (
	SubjectAnimal SubjectKind = "animal"
	SubjectPlace  SubjectKind = "place"
	SubjectPerson SubjectKind = "person"
	SubjectClutch SubjectKind = "clutch"
	SubjectLot    SubjectKind = "lot"

	SubjectTool       SubjectKind = "tool"
	SubjectInstrument SubjectKind = "instrument"

	SubjectObligation SubjectKind = "obligation" // something that was due
	SubjectRound      SubjectKind = "round"

	// SubjectReadings is what readings are found by: the id is that of the place that
	// they were taken in, or of the instrument. They keep off the place's own timeline,
	// which would grow by every day of a logger.
	SubjectReadings SubjectKind = "readings"
)

// Subject is the animal as a subject of entries.
func (id AnimalID) Subject() Subject { return Subject{Kind: SubjectAnimal, ID: id.ID} }

// Subject is the person as a subject of entries.
func (id PersonID) Subject() Subject { return Subject{Kind: SubjectPerson, ID: id.ID} }

// Subject is the batch as a subject of entries.
func (id BatchID) Subject() Subject { return Subject{Kind: SubjectLot, ID: id.ID} }

// Subject is the place as a subject of entries.
func (id PlaceID) Subject() Subject { return Subject{Kind: SubjectPlace, ID: id.ID} }

// Subject is the tool as a subject of entries.
func (id ToolID) Subject() Subject { return Subject{Kind: SubjectTool, ID: id.ID} }

// Subject is the round as a subject of entries.
func (id RoundID) Subject() Subject { return Subject{Kind: SubjectRound, ID: id.ID} }

// Subject is the instrument as a subject of entries.
func (id InstrumentID) Subject() Subject { return Subject{Kind: SubjectInstrument, ID: id.ID} }
