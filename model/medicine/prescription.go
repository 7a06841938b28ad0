package medicine

import (
	"fmt"
	"slices"

	"coilward/model"
)

// Version is the newest form of a prescription's body.
const Version = 3

// PrescriptionID names a prescription.
type PrescriptionID struct{ model.ID }

// Prescription is the body of a prescription's document: a course as the vet wrote it,
// and each word on its doses. Its document's At is when it was prescribed.
type Prescription struct {
	Medicine string         `json:"medicine"` // as the vet wrote it
	Reason   string         `json:"reason,omitempty"`
	Vet      model.PersonID `json:"vet"`
	Form     Form           `json:"form"`
	// Concentration is in milligrams per millilitre; of PerKilogram in milligrams alone.
	Concentration Amount `json:"concentration,omitzero"`
	// Measure is what Dose of a step is measured in, per kilogram; of PerKilogram alone.
	Measure Measure `json:"measure,omitempty"`
	Fluid   bool    `json:"fluid,omitempty"` // a fluid, of which large volumes are usual
	Route   Route   `json:"route"`
	// NotLifted says that the vet does not want the animal lifted for weighing.
	NotLifted bool            `json:"notLifted,omitempty"`
	Begins    model.Moment    `json:"begins"` // the first planned dose
	Steps     []Step          `json:"steps"`
	Last      model.Date      `json:"last,omitzero"`    // the last day on which it is given, where the vet named one
	Recheck   model.Date      `json:"recheck,omitzero"` // the day on which the vet wants to see the animal
	Words     string          `json:"words,omitempty"`  // what else the vet said of it
	Photos    []model.PhotoID `json:"photos,omitempty"` // of what the vet wrote
	Visit     VisitID         `json:"visit,omitzero"`   // the visit at which it was written; since form 2
	Pack      Pack            `json:"pack,omitzero"`    // what stands on the pack; since form 3
	// Mass is what the animal weighed when it was prescribed, on that day; zero: not known.
	Mass    model.Mass `json:"mass,omitzero"`
	Weighed model.Date `json:"weighed,omitzero"`

	Doses []Dose `json:"doses,omitempty"` // in the order of their numbers, one of each at the most
	Ended *Ended `json:"ended,omitempty"`
}

// Form is how a dose is written. Values are frozen; the text is "medicine.form." + value.
type Form string

// The forms.
const (
	Volume      Form = "volume" // a fixed volume, which is never worked out anew
	PerKilogram Form = "per-kg" // by the weight of the day
	InWords     Form = "text"   // a bath, an ointment, a nebuliser
)

// Forms are all of them, in the order in which they are offered.
func Forms() []Form { return []Form{Volume, PerKilogram, InWords} }

// Measure is what is counted per kilogram. Values are frozen.
type Measure string

// The measures.
const (
	Milligrams  Measure = "mg"
	Millilitres Measure = "ml"
)

// Route is how a medicine is given. Values are frozen; the text is "medicine.route." +
// value.
type Route string

// The routes.
const (
	ByMouth    Route = "mouth"
	UnderSkin  Route = "under-skin"
	Muscle     Route = "muscle"
	BodyCavity Route = "body-cavity"
	OnSkin     Route = "skin"
	InEye      Route = "eye"
	InMouth    Route = "in-mouth" // on the lining of the mouth
	Breathed   Route = "breathed"
	Bath       Route = "bath"
	OtherRoute Route = "other" // as the words say
)

// Routes are all of them, in the order in which they are offered.
func Routes() []Route {
	return []Route{ByMouth, UnderSkin, Muscle, BodyCavity, OnSkin, InEye, InMouth, Breathed, Bath, OtherRoute}
}

// Injected reports whether a needle is used.
func (r Route) Injected() bool { return r == UnderSkin || r == Muscle || r == BodyCavity }

// Amount is an exact decimal in millionths of its unit, with what was typed.
type Amount struct {
	Millionths int64  `json:"millionths"`
	Typed      string `json:"typed,omitempty"`
}

// IsZero reports whether no amount is given.
func (a Amount) IsZero() bool { return a.Millionths == 0 }

// Step is a run of doses that are alike.
type Step struct {
	Day   int `json:"day"`             // on which it begins; 1 is the day of the first dose
	Times int `json:"times,omitempty"` // doses; 0: to the last day, or to the next step
	Every int `json:"every,omitempty"` // hours from one dose to the next; 0 where there is one dose
	// Dose is in millilitres of a Volume, and in the Measure per kilogram of PerKilogram.
	Dose  Amount `json:"dose,omitzero"`
	Words string `json:"words,omitempty"` // what is done, of InWords
}

// Dose is the word on one planned dose.
type Dose struct {
	Number int            `json:"number"` // of the plan, from 1
	Did    Did            `json:"did"`
	At     model.Moment   `json:"at"` // when it was given, or when it was said that it was not
	By     model.PersonID `json:"by,omitzero"`
	// Mass and Weighed are what the volume was worked out by; of PerKilogram alone.
	Mass    model.Mass `json:"mass,omitzero"`
	Weighed model.Date `json:"weighed,omitzero"`
	// Drawn is the volume in microlitres as a syringe shows it; 0 of words.
	Drawn int64 `json:"drawn,omitempty"`
	// Site is where a needle went in, in percent of the body from the snout; 0: not said.
	Site int    `json:"site,omitempty"`
	Why  string `json:"why,omitempty"` // it was left out
	Note string `json:"note,omitempty"`
	// Answer is what the vet said of one that was missed; without it that is still open.
	Answer *Answer `json:"answer,omitempty"`
}

// Did is what became of a dose. Values are frozen; the text is "medicine.did." + value.
type Did string

// What can become of a dose.
const (
	Given   Did = "given"
	LeftOut Did = "left-out" // on purpose, for a reason
	Missed  Did = "missed"
)

// Dids are all of them, in the order in which they are offered.
func Dids() []Did { return []Did{Given, LeftOut, Missed} }

// Answer is a word of the vet.
type Answer struct {
	At   model.Moment   `json:"at"`
	By   model.PersonID `json:"by,omitzero"` // who noted it
	Said string         `json:"said"`
}

// Ended says why a course is over.
type Ended struct {
	At   model.Moment   `json:"at"`
	By   model.PersonID `json:"by,omitzero"`
	Why  Why            `json:"why"`
	Note string         `json:"note,omitempty"`
}

// Why is why a course is over. Values are frozen; the text is "medicine.why." + value.
type Why string

// Why a course is over.
const (
	Finished  Why = "finished" // the plan is through
	VetsWord  Why = "vets-word"
	Gone      Why = "gone" // the animal died or left
	Otherwise Why = "otherwise"
)

// Whys are all of them, in the order in which they are offered.
func Whys() []Why { return []Why{Finished, VetsWord, Gone, Otherwise} }

// Open reports whether the course goes on.
func (p Prescription) Open() bool { return p.Ended == nil }

// Dose is the word on a planned dose, if there is one.
func (p Prescription) Dose(number int) (Dose, bool) {
	i := slices.IndexFunc(p.Doses, func(d Dose) bool { return d.Number == number })
	if i < 0 {
		return Dose{}, false
	}
	return p.Doses[i], true
}

// Stored is a prescription with what its document's header says.
type Stored struct {
	ID         PrescriptionID
	Revision   uint32
	Prescribed model.Moment
	By         model.PersonID // who noted it
	Animal     model.AnimalID
	Prescription
}

// Read reads a prescription's document.
func Read(d model.Document) (Stored, error) {
	s := Stored{ID: PrescriptionID{d.ID}, Revision: d.Revision, Prescribed: d.At, By: d.By}
	if d.Type != model.TypePrescription {
		return s, fmt.Errorf("read prescription %s: the document is of type %s", d.ID, d.Type)
	}
	s.Animal, _ = d.Animal()
	return s, d.Decode(Version, &s.Prescription)
}

func (s Stored) document() (model.Document, error) {
	d := model.Document{Type: model.TypePrescription, ID: s.ID.ID, Revision: s.Revision, At: s.Prescribed, By: s.By, Subjects: []model.Subject{s.Animal.Subject()}}
	return d, d.Encode(Version, s.Prescription)
}

// Of are the prescriptions of an animal, the newest first. One that cannot be read is
// the error, with the others.
func Of(v model.View, animal model.AnimalID) ([]Stored, error) {
	return listed(v, animal, model.TypePrescription, Read)
}

// listed are the documents of a type of one animal, the newest first. One that cannot be
// read is the error, with the others.
func listed[T any](v model.View, animal model.AnimalID, of model.DocumentType, read func(model.Document) (T, error)) (all []T, err error) {
	var illegible error
	err = v.Timeline(animal.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if d.Type != of {
			return true
		}
		s, failed := read(d)
		if failed != nil {
			illegible = failed
			return true
		}
		all = append(all, s)
		return true
	})
	if err != nil {
		return nil, fmt.Errorf("read the documents of type %s of %s: %w", of, animal, err)
	}
	return all, illegible
}

// Find reads one prescription.
func Find(v model.View, id PrescriptionID) (Stored, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return Stored{}, fmt.Errorf("read prescription %s: %w", id, err)
	}
	return Read(d)
}
