package husbandry

import (
	"fmt"

	"coilward/model"
)

// Instrument is the body of a document of something that readings are taken
// with, or that gives heat or light by number.
type Instrument struct {
	Name  string         `json:"name"`
	Kind  InstrumentKind `json:"kind"`
	Place model.PlaceID  `json:"place,omitzero"` // where it is
	Code  string         `json:"code,omitempty"`
	// InUse is since when; the age of a lamp counts from it.
	InUse model.Date `json:"inUse,omitzero"`
	// CheckEvery is how many days a check may lie back, 0: as the table has it.
	CheckEvery int        `json:"checkEvery,omitempty"`
	Note       string     `json:"note,omitempty"`
	Closed     model.Date `json:"closed,omitzero"` // since when it is no longer used
}

// InstrumentKind is what an instrument is. Values are frozen; the text is
// "husbandry.instrument-kind." + value.
type InstrumentKind string

// The kinds of instrument.
const (
	Scale       InstrumentKind = "scale"
	Thermometer InstrumentKind = "thermometer"
	Thermostat  InstrumentKind = "thermostat"
	Hygrometer  InstrumentKind = "hygrometer"
	UVLamp      InstrumentKind = "uv-lamp"
)

// InstrumentKinds are the kinds in the order in which they are offered.
func InstrumentKinds() []InstrumentKind {
	return []InstrumentKind{Scale, Thermometer, Thermostat, Hygrometer, UVLamp}
}

// KindInstrumentCheck is the kind of the entry of a check of an instrument; its
// subject is the instrument. The value is frozen.
const KindInstrumentCheck = "instrument-check"

// InstrumentCheck is the body of an entry: what the instrument showed against
// what is known, and whether that is good enough, as the person judged it.
type InstrumentCheck struct {
	Good      bool   `json:"good"`
	Reading   string `json:"reading,omitempty"`   // as typed, with its unit
	Reference string `json:"reference,omitempty"` // as typed: a known mass, a second thermometer
	Note      string `json:"note,omitempty"`
}

// StoredInstrument is an instrument with the document's id and revision.
type StoredInstrument struct {
	ID       model.InstrumentID
	Revision uint32
	Since    model.Moment // when it was added
	Instrument
}

// Checked is one check of an instrument with its entry and moment.
type Checked struct {
	Entry      model.EntryID
	Revision   uint32
	Instrument model.InstrumentID
	At         model.Moment
	By         model.PersonID
	InstrumentCheck
}

// DecodeInstrument reads an instrument's document.
func DecodeInstrument(d model.Document) (StoredInstrument, error) {
	s := StoredInstrument{ID: model.InstrumentID{ID: d.ID}, Revision: d.Revision, Since: d.At}
	if d.Type != model.TypeInstrument {
		return s, fmt.Errorf("read instrument %s: the document is of type %s", d.ID, d.Type)
	}
	return s, d.Decode(Version, &s.Instrument)
}
