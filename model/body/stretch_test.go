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
