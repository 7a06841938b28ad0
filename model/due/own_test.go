package due_test

import (
	"testing"

	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/due"
)

// The keeper's own days between two offers stand in place of the table's; 0 or fewer, or
// more than a year, cannot be set.
func TestOfferedAsTheKeeperSetIt(t *testing.T) {
	a := ball()
	a.OfferEvery = 21
	w := newWorld(t, a)
	w.weigh(3, 300)
	w.feed(3, care.Took)
	if o := w.one(due.Offer); o.From != w.today()+18 || o.By != w.today()+18 || o.Reasons[0].Key != "due.why.offered-own" {
		t.Errorf("every 21 days, 3 days ago: %+v", o)
	}
	for days, reason := range map[int]string{-1: "number.range", 366: "number.range"} {
		a.OfferEvery = days
		w.refused(animals.Add{Animal: animals.Animal{Name: "Fern", OfferEvery: days}}, reason)
	}
}
