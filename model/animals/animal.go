package animals

import (
	"fmt"

	"coilward/model"
	"coilward/model/knowledge"
)

// Version is the newest form of an animal's body.
const Version = 1

// Animal is the body of an animal's document. Only the name must be given;
// every other zero value means "not known".
type Animal struct {
	Name    string              `json:"name"`
	Code    string              `json:"code,omitempty"` // the keeper's own, such as on the box
	Species knowledge.SpeciesID `json:"species,omitempty"`
	Sex     Sex                 `json:"sex,omitempty"`
	SexHow  SexHow              `json:"sexHow,omitempty"`
	Hatched model.Date          `json:"hatched,omitzero"`
	Morph   string              `json:"morph,omitempty"`
	Origin  string              `json:"origin,omitempty"` // in words, such as where it was bred or caught
	Source  SourceCode          `json:"source,omitempty"`
	// Permits are the permits and proofs of origin that came with it, by their numbers, in
	// the keeper's words.
	Permits   string          `json:"permits,omitempty"`
	Chip      Chip            `json:"chip,omitzero"`
	From      string          `json:"from,omitempty"`  // whom it came from
	Since     model.Date      `json:"since,omitzero"`  // when it came
	Length    Measured        `json:"length,omitzero"` // snout to vent, to turn percent into centimetres
	Photos    []model.PhotoID `json:"photos,omitempty"`
	Portrait  model.PhotoID   `json:"portrait,omitempty"` // one of Photos, or none
	Coat      Coat            `json:"coat,omitzero"`
	Status    Status          `json:"status"`
	StatusDay model.Date      `json:"statusDay,omitzero"` // since when it is so; of Kept: none
	Note      string          `json:"note,omitempty"`     // private: stands on no paper
	// OfferEvery is after how many days it is offered food again, as the keeper set it; 0:
	// as the table says for its class.
	OfferEvery int `json:"offerEvery,omitempty"`
}

// MaxOfferEvery is the most days that can be set between two offers.
const MaxOfferEvery = 365

// Sex is the animal's sex. Values are frozen; the text is "animals.sex." + value,
// and "animals.sex.unknown" of the zero value.
type Sex string

// The sexes.
const (
	SexUnknown Sex = ""
	Female     Sex = "female"
	Male       Sex = "male"
)

// SexHow is how the sex is known. Values are frozen; the text is
// "animals.sex-how." + value.
type SexHow string

// The ways to know the sex, by the trade's words.
const (
	HowUnknown   SexHow = ""
	HowProbed    SexHow = "probed"
	HowPopped    SexHow = "popped"
	HowDNA       SexHow = "dna"
	HowLaid      SexHow = "laid"    // she has laid eggs
	HowSired     SexHow = "sired"   // he has sired a clutch
	HowBreeder   SexHow = "breeder" // the breeder's word
	HowByLooks   SexHow = "looks"   // spurs and tail, not proof
	HowByPlugs   SexHow = "plugs"   // hemipenal plugs in a shed skin or passed
	HowSaidByVet SexHow = "vet"     // said by a vet
)

// SexHows are the ways to know the sex, in the order in which they are offered.
func SexHows() []SexHow {
	return []SexHow{HowProbed, HowPopped, HowDNA, HowLaid, HowSired, HowByPlugs, HowSaidByVet, HowBreeder, HowByLooks}
}

// SourceCode is the CITES code for where a specimen comes from, one letter.
// Source: CITES Resolution Conf. 12.3 (from memory; C, F, D, I and O also as in
// US 50 CFR 23.24). The text is "animals.source." + value.
type SourceCode string

// The source codes that an animal can have (A is for plants).
const (
	SourceNone          SourceCode = ""
	SourceBred          SourceCode = "C" // bred in captivity
	SourceBorn          SourceCode = "F" // born in captivity, not meeting "bred in captivity"
	SourceRanched       SourceCode = "R"
	SourceWild          SourceCode = "W"
	SourceRegistered    SourceCode = "D" // Appendix I, bred at a registered operation
	SourceConfiscated   SourceCode = "I"
	SourcePreConvention SourceCode = "O"
	SourceSea           SourceCode = "X" // taken from the sea, outside any state
	SourceUnknown       SourceCode = "U"
)

// SourceCodes are the codes in the order in which they are offered.
func SourceCodes() []SourceCode {
	return []SourceCode{SourceBred, SourceBorn, SourceRanched, SourceWild, SourceRegistered,
		SourceConfiscated, SourcePreConvention, SourceSea, SourceUnknown}
}

// Status tells whether the animal is here. Values are frozen; the text is
// "animals.status." + value.
type Status string

// The statuses.
const (
	Kept    Status = "kept"
	OnLoan  Status = "loan" // still the keeper's, elsewhere for now
	Sold    Status = "sold"
	Given   Status = "given"
	Died    Status = "died"
	Escaped Status = "escaped"
)

// Statuses are all of them, in the order in which they are offered.
func Statuses() []Status { return []Status{Kept, OnLoan, Sold, Given, Died, Escaped} }

// Here reports whether the animal is the keeper's own still: kept or on loan.
func (s Status) Here() bool { return s == Kept || s == OnLoan || s == "" }

// Measured is the length from snout to vent with the day it was taken.
type Measured struct {
	SnoutVent model.Length `json:"snoutVent"`
	On        model.Date   `json:"on,omitzero"`
}

// IsZero reports whether no length is known.
func (m Measured) IsZero() bool { return m.SnoutVent.IsZero() }

// Coat is how the animal is drawn until there is a photo: numbers of colours in
// the window's palette of coats, ground and markings.
type Coat struct {
	Ground   uint8 `json:"ground"`
	Markings uint8 `json:"markings"`
}

// Stored is an animal with its document's id and revision.
type Stored struct {
	ID       model.AnimalID
	Revision uint32
	Added    model.Day // when it came into the records
	Animal
}

// Begun is the day from which on the records can tell of the animal.
func (s Stored) Begun() model.Day { return max(s.Added, s.Since.Day) }

// Decode reads an animal's document.
func Decode(d model.Document) (Stored, error) {
	s := Stored{ID: model.AnimalID{ID: d.ID}, Revision: d.Revision, Added: d.At.Day()}
	if d.Type != model.TypeAnimal {
		return s, fmt.Errorf("read animal %s: the document is of type %s", d.ID, d.Type)
	}
	return s, d.Decode(Version, &s.Animal)
}

// Find reads one animal, or fails with model.ErrNotFound.
func Find(v model.View, id model.AnimalID) (Stored, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return Stored{}, fmt.Errorf("read animal %s: %w", id, err)
	}
	if d.Type != model.TypeAnimal {
		return Stored{}, fmt.Errorf("read animal %s, which is a document of type %s: %w", id, d.Type, model.ErrNotFound)
	}
	return Decode(d)
}

// All are the animals of the collection, in the order in which they were added.
func All(v model.View) ([]Stored, error) {
	var all []Stored
	var failed error
	err := v.All(model.TypeAnimal, func(d model.Document) bool {
		var s Stored
		if s, failed = Decode(d); failed == nil {
			all = append(all, s)
		}
		return failed == nil
	})
	if err == nil {
		err = failed
	}
	if err != nil {
		return nil, fmt.Errorf("read the animals: %w", err)
	}
	return all, nil
}
