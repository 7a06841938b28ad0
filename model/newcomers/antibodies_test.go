package newcomers_test

import (
	"testing"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// "Not detected" of antibodies counts for no release: who caught a thing lately has none
// yet. From memory.
func TestAntibodiesCountForNoRelease(t *testing.T) {
	const agent knowledge.AgentID = "serpentovirus"
	for method, counts := range map[knowledge.Method]bool{"": true, knowledge.PCR: true, knowledge.Antibodies: false} {
		w := begin(t)
		w.on(20)
		sample := samples.On{ID: model.SampleID{ID: w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: []model.AnimalID{w.animal}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{agent}, Taken: w.now()}}}})[0]}, Base: 1}
		w.on(30)
		w.do(samples.Enter{Tables: w.tables, At: w.now(), Rows: []samples.Row{{On: sample, Found: []samples.Found{{Of: agent, Outcome: samples.NotDetected, Method: method}}}}})
		facts := w.of(w.animal).Facts
		if len(facts.Results) != 1 || facts.Results[0].Speaks != counts {
			t.Errorf("by %q: %+v", method, facts.Results)
		}
		var have int
		for _, l := range w.of(w.animal).Gate.Lines {
			if l.Item == quarantine.LookedFor && len(l.Agents) > 0 && l.Agents[0] == agent {
				have = l.Have
			}
		}
		if (have == 1) != counts {
			t.Errorf("by %q: %d samples count", method, have)
		}
	}
}
