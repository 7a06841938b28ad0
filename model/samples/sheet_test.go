package samples_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model/knowledge"
	"coilward/model/samples"
)

// rows are samples that are looked through for some things, and have results of
// some.
func sheetRows(each ...samples.Sample) (all []samples.Followed) {
	for _, s := range each {
		all = append(all, samples.Followed{Stored: samples.Stored{Sample: s}})
	}
	return all
}

func TestASheetIsFilledByOneKeyPerCell(t *testing.T) {
	three := samples.Sample{For: []knowledge.AgentID{"serpentovirus", "ferlavirus", "cryptosporidium-serpentis"}}
	s := samples.NewSheet(sheetRows(three, three, three, three, three, three, three, three))
	keys := 0
	for more := true; more; keys++ {
		more = s.Put(samples.NotDetected)
	}
	if keys != 24 || s.Count(samples.NotDetected) != 24 || s.Count(samples.Pending) != 0 {
		t.Errorf("%d keys, %d not detected, %d empty", keys, s.Count(samples.NotDetected), s.Count(samples.Pending))
	}
}

func TestASheetLeavesOutWhatIsNotAskedOrThere(t *testing.T) {
	s := samples.NewSheet(sheetRows(
		samples.Sample{For: []knowledge.AgentID{"serpentovirus", "ferlavirus"}, Results: []samples.Result{{Of: "serpentovirus", Outcome: samples.Detected}}},
		samples.Sample{For: []knowledge.AgentID{"serpentovirus"}}))
	if want := []knowledge.AgentID{"ferlavirus", "serpentovirus"}; !slices.Equal(s.Columns, want) {
		t.Fatalf("columns %v, want %v", s.Columns, want)
	}
	for c, open := range map[samples.Cell]bool{{0, 0}: true, {0, 1}: false, {1, 0}: false, {1, 1}: true, {2, 0}: false, {0, -1}: false} {
		if s.Open(c) != open {
			t.Errorf("cell %v: open is %v", c, s.Open(c))
		}
	}
	if s.Outcome(samples.Cell{Row: 0, Column: 1}) != samples.Detected {
		t.Error("what is known already is not shown")
	}
	if s.Cells() != 2 || s.Count(samples.Pending) != 2 {
		t.Errorf("%d cells, %d empty", s.Cells(), s.Count(samples.Pending))
	}
	if !s.Put(samples.Inhibited) || s.At != (samples.Cell{Row: 1, Column: 1}) {
		t.Errorf("after the first cell the keys are at %v", s.At)
	}
	if s.Put(samples.Detected) {
		t.Error("there is another cell after the last")
	}
	if found := s.Found(0); !slices.Equal(found, []samples.Found{{Of: "ferlavirus", Outcome: samples.Inhibited}}) {
		t.Errorf("found %+v", found)
	}
}

// Whatever is typed, what is counted is what stands in the cells, and the keys
// are at one in which a result can be entered.
func TestWhatIsCountedStandsInTheSheet(t *testing.T) {
	agents := []knowledge.AgentID{"serpentovirus", "ferlavirus", "cryptosporidium"}
	rapid.Check(t, func(t *rapid.T) {
		var all []samples.Sample
		for range rapid.IntRange(1, 5).Draw(t, "rows") {
			s := samples.Sample{For: rapid.SliceOfNDistinct(rapid.SampledFrom(agents), 1, 3, rapid.ID).Draw(t, "for")}
			all = append(all, s)
		}
		s := samples.NewSheet(sheetRows(all...))
		for range rapid.IntRange(0, 20).Draw(t, "keys") {
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				s.Move(rapid.IntRange(-1, 1).Draw(t, "dx"), rapid.SampledFrom([]int{-1, 1}).Draw(t, "dy"))
			case 1:
				s.Back()
			default:
				s.Put(rapid.SampledFrom(append(samples.Outcomes(), samples.Pending)).Draw(t, "outcome"))
			}
			if !s.Open(s.At) {
				t.Fatalf("the keys are at %v", s.At)
			}
		}
		sum := s.Count(samples.Pending)
		results := 0
		for _, o := range samples.Outcomes() {
			sum += s.Count(o)
		}
		for i := range s.Rows {
			results += len(s.Found(i))
		}
		if sum != s.Cells() || results != s.Cells()-s.Count(samples.Pending) {
			t.Fatalf("%d counted and %d results of %d cells", sum, results, s.Cells())
		}
	})
}
