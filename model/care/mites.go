package care

import "coilward/model"

// KindMiteLook is a look for mites. The value is frozen.
const KindMiteLook = "mite-look"

// MiteLook is one look for mites at one animal and what is around it.
type MiteLook struct {
	Grade MiteGrade   `json:"grade"`
	Where []MiteWhere `json:"where"` // where was looked; at least one
	Beside
}

// Kind is KindMiteLook.
func (MiteLook) Kind() string { return KindMiteLook }

// MiteGrade is how many mites were seen. Values are frozen; the text is
// "care.mites." + number. Source: common practice, no source.
type MiteGrade int

// The grades.
const (
	NoMites        MiteGrade = iota // none seen
	MiteSpeck                       // a suspicious speck: neither none seen nor positive
	OneMite                         // a single one, confirmed
	SeveralMites                    // several on the animal
	MitesAllAround                  // on the animal, in the enclosure and in the water bowl
)

// MiteGrades are the grades, fewest first.
func MiteGrades() []MiteGrade {
	return []MiteGrade{NoMites, MiteSpeck, OneMite, SeveralMites, MitesAllAround}
}

// Positive reports whether mites were seen for certain.
func (g MiteGrade) Positive() bool { return g >= OneMite }

// MiteWhere is where mites were looked for. Values are frozen; the text is
// "care.mites.where." + value.
type MiteWhere string

// The places to look at.
const (
	WhitePaper  MiteWhere = "paper" // white paper as substrate, or under the animal
	WaterBowl   MiteWhere = "bowl"
	OnAnimal    MiteWhere = "animal" // eye rims, chin groove, lips, vent, front belly scales
	InEnclosure MiteWhere = "enclosure"
)

// MiteWheres are the places in the order in which they are offered.
func MiteWheres() []MiteWhere { return []MiteWhere{WhitePaper, WaterBowl, OnAnimal, InEnclosure} }

// LookForMites notes a look at one animal.
type LookForMites struct {
	About
	MiteLook
}

// Name is "care.mite-look".
func (LookForMites) Name() string { return "care.mite-look" }

// NoMitesSeen notes "none seen" for many animals at once, but for those struck off
// the list: one change, one undo.
type NoMitesSeen struct {
	Animals   []model.AnimalID // as listed by name on the screen
	StruckOff []model.AnimalID // of these nothing is noted
	Where     []MiteWhere
	At        model.Moment
	By        model.PersonID
	Confirmed model.Confirmed
}

// Name is "care.mites-none-seen".
func (NoMitesSeen) Name() string { return "care.mites-none-seen" }
