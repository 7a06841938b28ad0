package exam

import (
	"slices"

	"coilward/model/body"
	"coilward/model/knowledge"
)

// Typed is a place as it was typed at a stop: where the stop looks at the belly alone, left
// and right are those of the belly. ok is false for a place on the body at a stop that looks
// at the head or into the mouth alone.
func Typed(stop knowledge.Stop, p body.Place) (at body.Place, ok bool) {
	if len(stop.Regions) == 0 || p.Whole() || p.Part != body.Trunk && p.Part != body.Tail {
		return p, true
	}
	onHead := func(r body.RegionID) bool {
		place, _ := body.In(r)
		return place.Part == body.Head || place.Part == body.Mouth
	}
	onBelly := func(r body.RegionID) bool {
		place, _ := body.In(r)
		return place.Side() == body.BellySide
	}
	all := func(is func(body.RegionID) bool) bool {
		return !slices.ContainsFunc(stop.Regions, func(r body.RegionID) bool { return !is(r) })
	}
	switch {
	case all(onHead):
		return p, false
	case !all(onBelly):
		return p, true
	}
	switch p.Side() {
	case body.LeftSide:
		return turnedTo(p, bellyLeft), true
	case body.RightSide:
		return turnedTo(p, -bellyLeft), true
	case body.BackSide:
		return turnedTo(p, 180), true
	}
	return p, true
}

// bellyLeft is the middle of the left half of the belly, in degrees.
const bellyLeft = 155

func turnedTo(p body.Place, angle int) body.Place {
	if p.Part == body.Tail {
		return body.OnTail(p.Along, angle)
	}
	return body.OnTrunk(p.Along, angle)
}
