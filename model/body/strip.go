package body

import "coilward/model/drawing"

// Strip is the animal laid straight: for close-ups with a ruler, and as the
// axis of charts. Along the trunk its scale is even; the head keeps its own
// proportions and stands before the neck, the tail is drawn longer than it is.
type Strip struct {
	spine  *spine
	half   float64
	head   float64 // the head's drawn length
	behind float64 // the length from neck joint to tail tip
	start  float64 // where the snout is
}

// Straight lays the animal straight within length units from snout to tail tip,
// greatestHalf being the trunk's greatest half-width. The snout is to the left,
// or at the top if upright. The middle line lies at greatestHalf × 1.3 from the
// near edge. Seen from below it shows the belly.
func Straight(length, greatestHalf float64, upright, below bool) *Strip {
	head := headLength(greatestHalf)
	return lay(0, max(length-head, length*.1), greatestHalf, upright, below)
}

// StraightBetween lays the animal straight so that the trunk from one share of
// snout–vent length to another (500–10000: behind the head) fills 0 to width; the
// rest lies beside it. Otherwise it is as Straight, with the snout to the left.
func StraightBetween(from, to int, width, greatestHalf float64, below bool) *Strip {
	from = max(HeadShare, min(from, Full-1))
	to = max(from+1, min(to, Full))
	behind := width / (drawn(Trunk, float64(to)) - drawn(Trunk, float64(from))) * (tailEnd - neckJoint)
	before := headLength(greatestHalf) + behind*(drawn(Trunk, float64(from))-neckJoint)/(tailEnd-neckJoint)
	return lay(-before, behind, greatestHalf, false, below)
}

// headLength is how long the head is drawn on a strip.
func headLength(greatestHalf float64) float64 {
	return (headJoint - headSnout) * greatestHalf * widthAt(profile(), neckJoint) / headJointHalf
}

func lay(start, behind, half float64, upright, below bool) *Strip {
	s := &Strip{half: half, head: headLength(half), behind: behind, start: start}
	mid, joint := half*1.3, start+s.head
	first := joint - behind*neckJoint/(tailEnd-neckJoint)
	line := drawing.Points(first, mid, joint+behind, mid)
	if upright {
		line = drawing.Points(mid, first, mid, joint+behind)
	}
	s.spine = newSpine(line, half, below)
	return s
}

// Point is where the strip shows a place behind the head; not ok on its far side.
func (s *Strip) Point(place Place) (drawing.Point, bool) {
	if place.Part != Trunk && place.Part != Tail {
		return drawing.Point{}, false
	}
	return s.spine.pointOf(place)
}

// At is the place under a point; not ok beside the animal or on its head.
func (s *Strip) At(p drawing.Point) (Place, bool) {
	at, t := s.spine.locate(p)
	if at < neckJoint || t < -1 || t > 1 {
		return Place{}, false
	}
	part, along := alongOf(at)
	angle := angleOf(t, s.spine.mirrored)
	region, ok := regionOf(cells(), part, along, angle)
	return Place{Part: part, Along: along, Angle: angle, Region: region}, ok
}

// Distance is where a place lies along the strip, in its units; a place on the
// head or in the mouth counts as half-way along the head.
func (s *Strip) Distance(place Place) float64 {
	if place.Part != Trunk && place.Part != Tail {
		return s.start + s.head/2
	}
	at := drawn(place.Part, float64(place.Along))
	if at < neckJoint {
		return s.start + s.head*at/neckJoint
	}
	return s.start + s.head + s.behind*(at-neckJoint)/(tailEnd-neckJoint)
}

// Band is the outline of the whole width between two places, from the nearer to
// the snout to the farther.
func (s *Strip) Band(from, to Place) drawing.Path {
	return s.spine.band(drawn(from.Part, float64(from.Along)), drawn(to.Part, float64(to.Along)), -1, 1)
}

// Outline is the outline of a region as the strip shows it; empty for the head's.
func (s *Strip) Outline(region RegionID) drawing.Path {
	var out drawing.Path
	for _, c := range cells() {
		if c.region != region {
			continue
		}
		if path, _, ok := s.spine.cellPath(c); ok {
			out.Append(path)
		}
	}
	return out
}

// Draw draws the strip. Line widths follow its thickness.
func (s *Strip) Draw(pen drawing.Pen, o Options) {
	unit := max(min(s.half/fullHalf, 1.2), .22)
	if s.half < fullHalf/3 {
		o.Net = NoNet
	}
	art := trunkArt{spine: s.spine, pen: pen, options: o, unit: unit}
	if s.spine.mirrored {
		art.underside()
		return
	}
	art.above()
}
