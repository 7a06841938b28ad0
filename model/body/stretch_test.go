package body_test

import (
	"testing"

	"coilward/model/body"
)

// A place in the middle of a region of the trunk lies within its stretch, and
// head and tail have none.
func TestStretch(t *testing.T) {
	for _, id := range body.Regions() {
		from, to, ok := body.Stretch(id)
		place, _ := body.In(id)
		if place.Part == body.Trunk && id != body.Vent && (!ok || place.Along < from || place.Along > to) {
			t.Errorf("%s: place at %d, stretch %d to %d (%v)", id, place.Along, from, to, ok)
		}
		if place.Part != body.Trunk && id != body.Vent && ok {
			t.Errorf("%s lies on %s and has a stretch", id, place.Part)
		}
	}
	if from, to, _ := body.Stretch("hind.belly"); from != 6000 || to != 8000 {
		t.Errorf("hind.belly: %d to %d", from, to)
	}
}

// The zones join from snout to vent, and the middle of each region of the trunk
// lies within exactly one of them.
func TestZones(t *testing.T) {
	zones := body.Zones()
	if !zones[0].From.Whole() || !zones[0].To.Whole() || len(zones) != 7 {
		t.Fatalf("%+v", zones)
	}
	trunk := zones[1:6]
	for i, z := range trunk {
		if z.From.Along >= z.To.Along || i > 0 && z.From.Along != trunk[i-1].To.Along {
			t.Errorf("%s: %d to %d", z.ID, z.From.Along, z.To.Along)
		}
	}
	if trunk[0].From.Along != 0 || trunk[4].To.Along != body.Full || zones[6].From.Part != body.Tail || zones[6].To.Along != body.Full {
		t.Errorf("ends: %+v", zones)
	}
	for _, id := range body.Regions() {
		from, to, ok := body.Stretch(id)
		if !ok {
			continue
		}
		within := 0
		for _, z := range trunk {
			if z.From.Along <= from && to <= z.To.Along {
				within++
			}
		}
		if within != 1 {
			t.Errorf("%s, %d to %d, lies in %d zones", id, from, to, within)
		}
	}
}
