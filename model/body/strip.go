package body

import "coilward/model/drawing"

// Strip is the animal laid straight: for close-ups with a ruler, and as the
// axis of charts. Its scale is the same as in the full views: even along the
// trunk, larger at head and tail.
type Strip struct {
	spine  *spine
	length float64
	half   float64
}

// Straight lays the animal straight within length units, greatestHalf being the
// trunk's greatest half-width. The snout is to the left, or at the top if upright.
// The middle line lies at greatestHalf × 1.3 from the near edge. Seen from below
// it shows the belly.
func Straight(length, greatestHalf float64, upright, below bool) *Strip {
	mid := greatestHalf * 1.3
	line := drawing.Points(0, mid, length, mid)
	if upright {
		line = drawing.Points(mid, 0, mid, length)
	}
	return &Strip{newSpine(line, greatestHalf, below), length, greatestHalf}
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

// Distance is how far from the snout end a place lies along the strip, in the
// strip's units; a place on the head or in the mouth counts as half-way along the head.
func (s *Strip) Distance(place Place) float64 {
	if place.Part != Trunk && place.Part != Tail {
		return neckJoint / 2 * s.length / tailEnd
	}
	return drawn(place.Part, float64(place.Along)) * s.length / tailEnd
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
