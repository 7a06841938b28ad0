package samples_test

import (
	"testing"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// Awaited are those that were taken and not answered, of the animals and the thing asked about.
func TestAwaited(t *testing.T) {
	one, other := model.AnimalID{ID: model.ID{1}}, model.AnimalID{ID: model.ID{2}}
	virus := []knowledge.AgentID{"serpentovirus"}
	taken := samples.Sample{Material: "choanal-swab", For: virus, Taken: ago(3)}
	answered := taken
	answered.Results = []samples.Result{{Of: "serpentovirus", Outcome: samples.NotDetected}}
	void := taken
	void.Void = &samples.Void{}
	for name, c := range map[string]struct {
		of     model.AnimalID
		sample samples.Sample
		want   int
	}{
		"on its way": {one, taken, 1}, "of another animal": {other, taken, 0}, "answered": {one, answered, 0}, "given up": {one, void, 0},
		"not taken yet":         {one, samples.Sample{Material: "choanal-swab", For: virus}, 0},
		"of something else too": {one, samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"ferlavirus", "serpentovirus"}, Taken: ago(3)}, 1},
		"of something else":     {one, samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"ferlavirus"}, Taken: ago(3)}, 0},
	} {
		s := samples.Stored{Animals: []model.AnimalID{c.of}, Sample: c.sample}
		if got := samples.Awaited([]samples.Stored{s}, []model.AnimalID{one}, "serpentovirus"); len(got) != c.want {
			t.Errorf("%s: %d, want %d", name, len(got), c.want)
		}
	}
}
