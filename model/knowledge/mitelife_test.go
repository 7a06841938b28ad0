package knowledge_test

import (
	"testing"

	"coilward/model/knowledge"
)

// The hours of each stage are of a keeper page Mite life cycle (seen), a care page The
// Snake Mite (seen), and Wozniak and DeNardo 2000 (memory); the chain of 37 days from
// an egg to a starved nymph is computed from 98 hours, 47 hours and 31 days.
func TestLifeOfAMite(t *testing.T) {
	tables := loadShipped(t)
	want := map[knowledge.MiteStageID][2]int{"egg": {28, 98}, "larva": {18, 47}, "first-nymph": {72, 14 * 24}, "unfed-nymph": {15 * 24, 31 * 24}, "second-nymph": {13, 26}, "adult": {10 * 24, 40 * 24}}
	if len(tables.MiteLife()) != len(want) {
		t.Fatalf("%d stages", len(tables.MiteLife()))
	}
	for _, s := range tables.MiteLife() {
		if least, most := s.Hours(); [2]int{least, most} != want[s.ID] {
			t.Errorf("%s: %d to %d hours", s.ID, least, most)
		}
	}
	chain, adult := tables.LongestMites()
	if chain != 98+47+31*24 || adult != 40*24 {
		t.Errorf("chain %d, adult %d hours", chain, adult)
	}
	// The watch outlasts both, in the cool both together.
	if watch := tables.Value(knowledge.ValueMiteWatch) * 24; watch <= chain || watch <= adult {
		t.Errorf("a watch of %d hours is too short", watch)
	}
	if watch := tables.Value(knowledge.ValueMiteWatchCool) * 24; watch < chain+adult-24 {
		t.Errorf("a watch of %d hours in the cool is too short", watch)
	}
}
