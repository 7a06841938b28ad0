package newcomers_test

import (
	"testing"

	"coilward/model"
	"coilward/model/contact"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// sampled is a sample of today with its answer.
func (w *world) sampled(of knowledge.AgentID, found samples.Outcome, who ...model.AnimalID) model.SampleID {
	w.t.Helper()
	on := samples.On{ID: model.SampleID{ID: w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: who, Sample: samples.Sample{Material: "oral-swab", For: []knowledge.AgentID{of}, Taken: w.now()}}}})[0]}, Base: 1}
	w.do(samples.Enter{Tables: w.tables, At: w.now(), Rows: []samples.Row{{On: on, Found: []samples.Found{{Of: of, Outcome: found}}}}})
	return on.ID
}

// looked is the line of a thing that is looked for.
func (w *world) looked(of knowledge.AgentID) quarantine.Line {
	w.t.Helper()
	for _, l := range w.of(w.animal).Gate.Lines {
		if l.Item == quarantine.LookedFor && l.Agents[0] == of {
			return l
		}
	}
	w.t.Fatalf("no line of %s", of)
	return quarantine.Line{}
}

// What was detected stands, whatever is not detected later, until its positive is
// closed by a word that settles it. Source: no clearance of a serpentovirus was seen
// over 28 months (Hoon-Hanks et al. 2019, Front Vet Sci 6:338); which words settle it is
// common practice, no source.
func TestWhatWasDetectedStands(t *testing.T) {
	for why, settles := range map[contact.Why]bool{"": false, contact.NotConfirmed: true, contact.VetsWord: true, contact.Otherwise: false, contact.Gone: false} {
		w := begin(t)
		w.on(3)
		sample := w.sampled("serpentovirus", samples.Detected, w.animal)
		w.on(20)
		w.sampled("serpentovirus", samples.NotDetected, w.animal)
		w.on(62)
		w.sampled("serpentovirus", samples.NotDetected, w.animal)
		w.on(70)
		if why != "" {
			id := contact.PositiveID{ID: w.do(contact.Open{Tables: w.tables, Sample: sample, Agent: "serpentovirus"})[0]}
			w.do(contact.Close{ID: id, Base: 1, Why: why, Note: "by word of mouth", At: w.now()})
		}
		w.on(80)
		if l := w.line(quarantine.NoneFound); l.State.Met() != settles || settles && l.Since != w.arrived+70 {
			t.Errorf("closed %q: %+v", why, l)
		}
		if l := w.looked("serpentovirus"); l.State.Met() != settles {
			t.Errorf("closed %q: %+v", why, l)
		}
		for _, s := range w.of(w.animal).Plan {
			if s.Kind == quarantine.StepSwab && s.Agents[0] == "serpentovirus" && !settles {
				t.Errorf("closed %q, and asked for again: %+v", why, s)
			}
		}
	}
}

// What was detected outside of the protocol stands too, and a lab that puts it right
// settles it.
func TestWhatWasDetectedOutsideOfTheProtocol(t *testing.T) {
	w := begin(t)
	w.on(30)
	sample := w.sampled("reptarenavirus", samples.Detected, w.animal)
	if l := w.line(quarantine.NoneFound); l.State.Met() || l.On[0] != sample.ID {
		t.Errorf("%+v", l)
	}
}

// Swabs of several animals together say nothing of one of them.
func TestAPoolIsNoSampleOfTheGate(t *testing.T) {
	w := begin(t)
	moss := w.came("Moss", w.tubs[1][0])
	w.on(5)
	w.sampled("serpentovirus", samples.NotDetected, w.animal, moss)
	w.on(60)
	w.sampled("serpentovirus", samples.NotDetected, w.animal)
	if l := w.looked("serpentovirus"); l.Have != 1 || l.Reasons[len(l.Reasons)-1].Key != "quarantine.why.pooled" {
		t.Errorf("%+v", l)
	}
}

// A sample of the day on which it was last near a ferlavirus, and for four weeks after,
// says nothing of whether it was caught there. Source of the days: their row of the
// table, Pees et al. 2016, Vet Microbiol 182:213.
func TestNearAPositiveASampleSpeaksLater(t *testing.T) {
	w := begin(t)
	elm := w.came("Elm", w.tubs[0][1])
	w.on(5)
	w.sampled("ferlavirus", samples.NotDetected, w.animal)
	w.on(47)
	sample := w.sampled("ferlavirus", samples.Detected, elm)
	w.do(contact.Open{Tables: w.tables, Sample: sample, Agent: "ferlavirus"})
	w.on(48)
	w.do(husbandry.Move{Animal: elm, Place: w.tubs[1][0], At: w.now()})
	worth, _ := w.tables.Answer("ferlavirus")
	speaks := 48 + worth.SpeaksAfter
	for _, day := range []int{48, 49, speaks - 1} {
		w.on(day)
		w.sampled("ferlavirus", samples.NotDetected, w.animal)
		if l := w.looked("ferlavirus"); l.State.Met() || l.Earliest != w.arrived+model.Day(speaks) {
			t.Errorf("a sample of day %d: %s, earliest day %d", day, l.State, l.Earliest-w.arrived)
		}
	}
	w.on(speaks)
	w.sampled("ferlavirus", samples.NotDetected, w.animal)
	if l := w.looked("ferlavirus"); !l.State.Met() {
		t.Errorf("a sample of day %d: %+v", speaks, l)
	}
}
