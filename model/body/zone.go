package body

import "math"

// Full is the whole of a part's length in hundredths of a percent.
const Full = 10000

// HeadShare is how far the head reaches along the trunk, in hundredths of a
// percent of snout–vent length. Source: common practice, no source.
const HeadShare = 500

// Where the sides of the body meet, in degrees from the middle of the back.
const (
	backEdge  = 30  // the back reaches 30° to both sides
	bellyEdge = 130 // the belly scales begin 130° from the middle of the back
	spurEdge  = 91  // the spurs lie on the lower half of the flank
)

// cell is a rectangle of body surface: along from <= a < to, angle from
// lowest to highest inclusive, on the left for positive angles; the belly's go
// on past 180.
type cell struct {
	part            Part
	from, to        int
	lowest, highest int
	region          RegionID
}

// cells shares out the whole surface from the head's end to the tail tip.
func cells() []cell {
	var out []cell
	add := func(part Part, from, to, lowest, highest int, id RegionID) {
		out = append(out, cell{part, from, to, lowest, highest, id})
	}
	around := func(part Part, zone RegionID, from, to int) {
		add(part, from, to, -backEdge, backEdge, zone+".back")
		add(part, from, to, backEdge+1, bellyEdge, zone+".left")
		add(part, from, to, -bellyEdge, -backEdge-1, zone+".right")
	}
	belly := func(part Part, from, to int, id RegionID) {
		add(part, from, to, bellyEdge+1, 359-bellyEdge, id)
	}
	edges := []int{HeadShare, 1400, 2800, 4400, 6000, 8000}
	for i, zone := range []RegionID{"neck", "fore", "upper-mid", "lower-mid", "hind"} {
		around(Trunk, zone, edges[i], edges[i+1])
		belly(Trunk, edges[i], edges[i+1], zone+".belly")
	}
	const spurs, vent, ventEnd, baseEnd, tipStart = 9650, 9800, 600, 4000, 8500
	around(Trunk, "before-vent", 8000, spurs)
	add(Trunk, spurs, Full+1, -backEdge, backEdge, BeforeVentBack)
	for _, side := range []struct {
		sign       int
		flank, own RegionID
	}{{1, BeforeVentLeft, SpurLeft}, {-1, BeforeVentRight, SpurRight}} {
		a, b := mirrored(side.sign, backEdge+1, spurEdge-1)
		add(Trunk, spurs, Full+1, a, b, side.flank)
		a, b = mirrored(side.sign, spurEdge, bellyEdge)
		add(Trunk, spurs, Full+1, a, b, side.own)
	}
	belly(Trunk, 8000, vent, BeforeVentBelly)
	belly(Trunk, vent, Full+1, Vent)
	belly(Tail, 0, ventEnd, Vent)
	around(Tail, "tail-base", 0, baseEnd)
	belly(Tail, ventEnd, baseEnd, TailBaseBelly)
	around(Tail, "tail", baseEnd, tipStart)
	belly(Tail, baseEnd, tipStart, TailBelly)
	add(Tail, tipStart, Full+1, -179, 180, TailTip)
	return out
}

func mirrored(sign, a, b int) (lowest, highest int) {
	if sign < 0 {
		return -b, -a
	}
	return a, b
}

func (c *cell) contains(part Part, along, angle int) bool {
	within := func(a int) bool { return c.lowest <= a && a <= c.highest }
	return c.part == part && c.from <= along && along < c.to && (within(angle) || within(angle+360))
}

// regionOf is the region of a place on the surface behind the head.
func regionOf(all []cell, part Part, along, angle int) (RegionID, bool) {
	for i := range all {
		if all[i].contains(part, along, angle) {
			return all[i].region, true
		}
	}
	return "", false
}

// drawn is s of a share of the trunk or the tail.
func drawn(part Part, along float64) float64 {
	switch {
	case part == Tail:
		return 1 + along/Full*(tailEnd-1)
	case along < HeadShare:
		return along / HeadShare * neckJoint
	}
	return neckJoint + (along-HeadShare)/(Full-HeadShare)*(1-neckJoint)
}

// alongOf is the part and the share of it at s.
func alongOf(s float64) (Part, int) {
	switch {
	case s >= 1:
		return Tail, min(Full, int(math.Round((s-1)/(tailEnd-1)*Full)))
	case s < neckJoint:
		return Trunk, max(0, int(math.Round(s/neckJoint*HeadShare)))
	}
	return Trunk, HeadShare + int(math.Round((s-neckJoint)/(1-neckJoint)*(Full-HeadShare)))
}

// angleOf is the angle round the body where a view from above or below meets it
// at t across.
func angleOf(t float64, below bool) int {
	t = max(-1, min(1, t))
	a := int(math.Round(math.Asin(t) * 180 / math.Pi))
	if !below {
		return a
	}
	if a < 0 {
		return turned(-180 - a)
	}
	return 180 - a
}

// turned brings an angle into −179…180.
func turned(angle int) int {
	angle %= 360
	if angle > 180 {
		return angle - 360
	}
	if angle <= -180 {
		return angle + 360
	}
	return angle
}

// flankReach is how far round the edge a finding still shows, in degrees: one on
// the flank is drawn at the edge from above and from below.
const flankReach = 40

// acrossOf is t of an angle in a view from above or below; not ok if it lies
// on the far side.
func acrossOf(angle float64, below bool) (t float64, ok bool) {
	if below {
		angle = 180 - angle
		if angle > 180 {
			angle -= 360
		}
	}
	switch {
	case math.Abs(angle) <= 90:
		return math.Sin(angle * math.Pi / 180), true
	case math.Abs(angle) <= 90+flankReach:
		return math.Copysign(1, angle), true
	}
	return 0, false
}
