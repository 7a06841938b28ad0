package care

import (
	"slices"

	"coilward/model"
)

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

// Counts reports whether the look tells how it stands with mites: what is seen anywhere
// does, "none seen" only where the animal itself was looked at. Paper, bowl, enclosure
// and bath are a glance. Source: common practice, no source.
func (m MiteLook) Counts() bool { return m.Grade != NoMites || slices.Contains(m.Where, OnAnimal) }

// glance is what stands for the kind in the label of a look that does not count.
const glance = "mite-look-glance"

func (m MiteLook) check() *model.Refusal {
	switch {
	case !slices.Contains(MiteGrades(), m.Grade):
		return mend("mites", "", "choice.unknown", nil)
	case len(m.Where) == 0:
		return mend("mite-where", "", "mites.where", nil)
	}
	for i, w := range m.Where {
		if !slices.Contains(MiteWheres(), w) || slices.Contains(m.Where[:i], w) {
			return mend("mite-where", string(w), "choice.unknown", nil)
		}
	}
	return nil
}

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
	InBath      MiteWhere = "bath" // see MiteBathCaution
)

// MiteBathCaution is the key of what stands beside the choice of a bath. Source: common
// practice, no source.
const MiteBathCaution = "care.caution.mite-bath"

// MiteWheres are the places in the order in which they are offered.
func MiteWheres() []MiteWhere {
	return []MiteWhere{WhitePaper, WaterBowl, OnAnimal, InEnclosure, InBath}
}

// LookForMites notes a look at one animal.
type LookForMites struct {
	About
	MiteLook
}

// Name is "care.mite-look".
func (LookForMites) Name() string { return "care.mite-look" }

// Plan writes the look.
func (c LookForMites) Plan(v model.View) (model.Writes, error) {
	return entry{about: c.About, body: c.MiteLook}.plan(v)
}

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

// Plan writes a look for everyone on the list who is not struck off.
func (c NoMitesSeen) Plan(v model.View) (model.Writes, error) {
	var w model.Writes
	var name string
	noted := map[model.AnimalID]bool{}
	look := MiteLook{Grade: NoMites, Where: c.Where}
	for _, animal := range c.Animals {
		if noted[animal] || slices.Contains(c.StruckOff, animal) {
			continue
		}
		noted[animal] = true
		of, err := subjectOf(v, animal)
		if err != nil {
			return model.Writes{}, err
		}
		name = of.Name
		e := entry{about: About{Animal: animal, At: c.At, By: c.By, Confirmed: c.Confirmed}, body: look}
		if r := e.checkAlone(of, v.Now()); r != nil {
			return model.Writes{}, r
		}
		d, err := e.document(v)
		if err != nil {
			return model.Writes{}, err
		}
		w.Put = append(w.Put, d)
	}
	switch len(w.Put) {
	case 0:
		return model.Writes{}, mend("mite-animals", "", "mites.nobody", nil)
	case 1:
		w.Label = label("care.done", name, KindMiteLook, look)
	default:
		w.Label = model.Label{Key: "care.done.no-mites-seen", Gaps: map[string]model.Gap{"Count": model.CountGap(len(w.Put))}}
		if !look.Counts() {
			w.Label.Key = "care.done.no-mites-seen-glance"
		}
	}
	return w, nil
}
