package animal

import (
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/model/wording"
)

// kindSample is what the days call a sample, which is a document of its own and
// no entry.
const kindSample = "sample"

// tellSample says what a sample is of, how far it came, and what was found of
// each thing. What nobody found yet is said to be so.
func tellSample(t *wording.Text, tables *knowledge.Tables, d model.Document) (told, error) {
	s, err := samples.Read(d)
	if err != nil {
		return told{}, err
	}
	stage := t.Say("samples.stage." + string(s.Stage()))
	if s.Void != nil {
		stage += ", " + t.Say("samples.why."+string(s.Void.Why))
	}
	line := told{title: t.Say("animal.day.sample", wording.Gaps{"Material": t.Say("material." + string(s.Material)), "Stage": stage})}
	if others := len(s.Animals) - 1; others > 0 {
		line.detail = t.Count("animal.day.sample.pool", others)
	}
	if s.Void == nil {
		line.detail = joined(line.detail, found(t, tables, s.Sample))
		line.detected = slices.ContainsFunc(s.For, func(a knowledge.AgentID) bool { return s.Outcome(a) == samples.Detected })
	}
	line.detail = joined(line.detail, firstLine(s.Note))
	return line, nil
}

// found is what was found of each thing that a sample is looked through for, by which
// method where that was noted, and what the answer leaves open.
func found(t *wording.Text, tables *knowledge.Tables, s samples.Sample) string {
	var all []string
	for _, agent := range s.For {
		r, _ := s.Result(agent)
		outcome := "pending"
		if r.Outcome != samples.Pending {
			outcome = string(r.Outcome)
		}
		said := t.Say("agent."+string(agent)) + ": " + t.Say("samples.outcome."+outcome)
		if r.Method != "" {
			said += ", " + t.Say("samples.by", wording.Gaps{"Method": t.Say("method." + string(r.Method))})
		}
		if open, leaves := samples.LeavesOpen(tables, s, agent); leaves {
			said += ", " + t.Label(open)
		}
		if r.Why != "" {
			said += " (" + t.Say("animal.day.sample.corrected") + ")"
		}
		all = append(all, said)
	}
	return strings.Join(all, "; ")
}
