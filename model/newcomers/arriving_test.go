package newcomers_test

import (
	"testing"

	"coilward/model/newcomers"
)

func TestAnArrivalIsGuidedUntilAllIsDone(t *testing.T) {
	n := newcomers.Newcomer{Arrival: []newcomers.ArrivalStep{{Kind: newcomers.ArriveWeigh, Done: true}, {Kind: newcomers.ArriveCheck}}}
	if len(n.Arriving()) != 2 {
		t.Error("the arrival is not guided")
	}
	n.Arrival[1].Done = true
	if n.Arriving() != nil {
		t.Error("the arrival is guided though all is done")
	}
}
