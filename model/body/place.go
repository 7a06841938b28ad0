package body

import "math"

// Part is the part of the animal a place lies on. Values are frozen.
type Part string

// The parts.
const (
	Trunk Part = "trunk" // snout to vent
	Tail  Part = "tail"  // behind the vent
	Head  Part = "head"  // the head's outside, on one of its three views
	Mouth Part = "mouth" // inside the open mouth
)

// ViewID names one of the six drawings. Values are frozen.
type ViewID string

// The six views.
const (
	Above     ViewID = "above"      // whole animal from above
	Underside ViewID = "underside"  // whole animal from below, mirrored as it is seen
	HeadAbove ViewID = "head-above" //
	HeadLeft  ViewID = "head-left"  // the animal's left
	HeadRight ViewID = "head-right" // the animal's right
	OpenMouth ViewID = "mouth"
)

// RegionID names a region of the body, the same in every view that shows it.
// Values are frozen.
type RegionID string

// Place is a place on the animal, independent of any drawing. On the trunk it is
// the share of snout–vent length and the angle round the body; on the tail the
// share of the tail and the angle; on head and mouth the view and a point in it.
type Place struct {
	Part   Part     `json:"part"`
	Along  int      `json:"along,omitempty"` // trunk: hundredths of a percent of snout–vent length, 0–10000; tail: of the tail
	Angle  int      `json:"angle,omitempty"` // degrees: 0 back, +90 left flank, −90 right flank, 180 belly; −179–180
	View   ViewID   `json:"view,omitempty"`  // head and mouth only
	X      int      `json:"x,omitempty"`     // head and mouth: ten-thousandths of the view's width, 0–10000
	Y      int      `json:"y,omitempty"`     // head and mouth: ten-thousandths of the view's height
	Region RegionID `json:"region"`
}

// Side is a side of the body in words' terms. Values are the keys' last part.
type Side string

// The sides, by the angle round the body.
const (
	BackSide  Side = "back"
	LeftSide  Side = "left"
	RightSide Side = "right"
	BellySide Side = "belly"
)

// Side is the side of the body that a place behind the head lies on; empty on
// head and mouth, whose regions name their side themselves.
func (p Place) Side() Side {
	if p.Part != Trunk && p.Part != Tail {
		return ""
	}
	switch a := turned(p.Angle); {
	case -backEdge <= a && a <= backEdge:
		return BackSide
	case backEdge < a && a <= bellyEdge:
		return LeftSide
	case -bellyEdge <= a && a < -backEdge:
		return RightSide
	}
	return BellySide
}

// Percent is the share of snout–vent length, or of the tail, in whole percent.
func (p Place) Percent() int { return (p.Along + 50) / 100 }

// Slice is the fine zone that a place behind the head lies in: a twentieth of
// its part's length, as whole percents from and to.
func (p Place) Slice() (from, to int) {
	from = min(p.Along/500, 19) * 5
	return from, from + 5
}

// FromSnout is how far from the snout a place on the trunk lies, in tenths of
// a millimetre, given the snout–vent length in the same unit.
func (p Place) FromSnout(snoutVent int64) int64 {
	return (int64(p.Along)*snoutVent + Full/2) / Full
}

// OnTrunk is the place at a share of snout–vent length (0–10000, clamped) and an
// angle round the body. Before the neck its region is the head's there.
func OnTrunk(along, angle int) Place {
	p := Place{Part: Trunk, Along: max(0, min(Full, along)), Angle: turned(angle)}
	p.Region = p.surface()
	return p
}

// OnTail is the place at a share of the tail (0–10000, clamped) and an angle.
func OnTail(along, angle int) Place {
	p := Place{Part: Tail, Along: max(0, min(Full, along)), Angle: turned(angle)}
	p.Region = p.surface()
	return p
}

func (p Place) surface() RegionID {
	if id, ok := regionOf(views()[Above].cells, p.Part, p.Along, p.Angle); ok {
		return id
	}
	v := views()[Above]
	if p.Angle > 90 || p.Angle < -90 {
		v = views()[Underside]
	}
	t, _ := acrossOf(float64(p.Angle), v.below)
	for k := t * .99; math.Abs(k) > .01; k *= .9 { // at the very edge there may be nothing
		if id, ok := v.frame.find(v.spine.beforeNeck(p.Along, k)); ok {
			return id
		}
	}
	if id, ok := v.frame.find(v.spine.beforeNeck(p.Along, 0)); ok {
		return id
	}
	return Snout
}

// In is the place in the middle of a region: on trunk and tail of its stretch
// and side, on head and mouth in the first view that shows it; not ok for an
// unknown region.
func In(region RegionID) (Place, bool) {
	for _, c := range cells() {
		if c.region == region {
			return Place{Part: c.part, Along: (c.from + min(c.to, Full)) / 2, Angle: turned((c.lowest + c.highest) / 2), Region: region}, true
		}
	}
	for _, id := range []ViewID{HeadLeft, HeadRight, HeadAbove, OpenMouth, Above, Underside} {
		if p, ok := Anchor(id, region); ok {
			return At(id, p)
		}
	}
	return Place{}, false
}

// Best is the view that shows a place best: its own for head and mouth, from
// below for the belly, else from above.
func (p Place) Best() ViewID {
	switch {
	case p.Part == Head || p.Part == Mouth:
		return p.View
	case p.Angle > 90 || p.Angle < -90:
		return Underside
	}
	return Above
}

// How near two places must lie to be the same place again: a keeper's estimate
// is worth 3 to 5 % of length.
const (
	sameAlong = 400 // hundredths of a percent of snout–vent length
	sameAngle = 30  // degrees

	// tailShare is the tail's length against snout–vent length, in percent; source:
	// computed from usual proportions of pythons.
	tailShare = 8
)

// Same reports whether two places may be the same place seen twice: within 4 %
// of snout–vent length and 30° round the body; on head and mouth the same region.
func Same(a, b Place) bool {
	outer := func(p Place) bool { return p.Part == Trunk || p.Part == Tail }
	if outer(a) != outer(b) {
		return false
	}
	if !outer(a) {
		return a.Region == b.Region
	}
	d := turned(a.Angle - b.Angle)
	apart := a.measured() - b.measured()
	return -sameAlong <= apart && apart <= sameAlong && -sameAngle <= d && d <= sameAngle
}

// measured is the distance from the snout in hundredths of a percent of
// snout–vent length, the tail counted on.
func (p Place) measured() int {
	if p.Part == Tail {
		return Full + p.Along*tailShare/100
	}
	return p.Along
}
