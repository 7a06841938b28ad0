package body

import "coilward/model/drawing"

// Organ is where something inside lies along the trunk: percents of snout–vent
// length, with the source of the figures.
type Organ struct {
	ID       string // of the text "organ." + ID
	From, To int    // whole percents
	Source   string
}

const (
	quarterSource = "\"Anatomical road map\" article and \"Snake Anatomy Basics\""
	anchorSource  = "memory: generic veterinary anatomy chapters; not verified for each species"
)

// Quarters are the contents of the four quarters of the trunk.
func Quarters() []Organ {
	return []Organ{
		{"quarter-1", 0, 25, quarterSource},  // gullet, windpipe, heart
		{"quarter-2", 25, 50, quarterSource}, // vascular lung, liver, then stomach
		{"quarter-3", 50, 75, quarterSource}, // gall bladder, spleen, pancreas, gonads, small bowel
		{"quarter-4", 75, 100, quarterSource},
	}
}

// Organs are landmarks along the trunk, by their front ends. They are rough: an
// organ's place differs by species, age and meal.
func Organs() []Organ {
	return []Organ{
		{"heart", 22, 33, anchorSource},
		{"lung", 25, 45, anchorSource},
		{"liver", 38, 56, anchorSource},
		{"stomach", 46, 67, anchorSource},
		{"triad", 65, 70, anchorSource}, // gall bladder, spleen, pancreas
		{"gonads", 65, 80, anchorSource},
		{"small-bowel", 68, 81, anchorSource},
		{"right-kidney", 70, 77, anchorSource},
		{"left-kidney", 74, 82, anchorSource},
		{"colon", 81, 100, anchorSource},
	}
}

// OrganPoint is the middle of an organ's bar in a full view; not ok in the others.
func OrganPoint(id ViewID, organ Organ) (drawing.Point, bool) {
	v := views()[id]
	if v == nil || v.spine == nil {
		return drawing.Point{}, false
	}
	t0, t1 := organRow(organ.ID)
	return v.spine.at(drawn(Trunk, float64(organ.From+organ.To)*50), (t0+t1)/2), true
}

// organRow is the lane, as t, that an organ's bar is drawn in, so that organs
// lying beside one another do not cover each other.
func organRow(id string) (from, to float64) {
	switch id {
	case "heart":
		return -.16, .16
	case "lung", "right-kidney":
		return -.62, -.34
	case "liver", "triad":
		return .02, .34
	case "stomach", "left-kidney":
		return .38, .66
	case "gonads":
		return -.94, -.68
	}
	return -.28, -.04
}

// organs draws the layer: the borders of the quarters and a bar for each organ.
func (a trunkArt) organs() {
	for i, o := range Organs() {
		role := drawing.OrganA
		if i%2 == 1 {
			role = drawing.OrganB
		}
		t0, t1 := organRow(o.ID)
		p := a.band(drawn(Trunk, float64(o.From)*100), drawn(Trunk, float64(o.To)*100-10), t0, t1)
		a.pen.Fill(p, role, .55)
		a.line(p, 1.6, drawing.Sheet, .9)
	}
	for _, q := range Quarters()[1:] {
		s := drawn(Trunk, float64(q.From)*100)
		a.line(a.curve(s, -1, s, 0, s, 1), 5, drawing.Sheet, .9)
		a.line(a.curve(s, -1, s, 0, s, 1), 2, drawing.Ink, 1)
	}
}
