package shelf_test

import (
	"testing"

	"coilward/model/collection"
	"coilward/model/welfare"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// V leads from a box to the tally of its animal; an empty box has none.
func TestVisit_FromTheBox(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 2, "Juniper") })
	h.press("v")
	n := len(h.Went)
	if n == 0 || h.Went[n-1].To != place.Animal || h.Went[n-1].Page != welfare.KindObservation || h.Went[n-1].Subject != h.Animal("Juniper").ID.ID {
		t.Fatalf("went to %+v", h.Went)
	}
}
