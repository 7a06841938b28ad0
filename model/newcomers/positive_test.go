package newcomers_test

import (
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/contact"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// A newcomer that was near a positive begins again after the last day on which the two
// shared a room, also once it is closed, but not where it was called off. Source: seen,
// zoo-association quarantine page and its 2007 standards; that a positive counts like
// somebody who comes in is common practice, no source.
func TestNearAPositiveItBeginsAgain(t *testing.T) {
	for name, c := range map[string]struct {
		why      contact.Why
		putRight bool // by the lab
		again    bool
	}{"open": {"", false, true}, "closed as the vet said": {contact.VetsWord, false, true}, "not confirmed": {contact.NotConfirmed, false, false}, "put right and still open": {"", true, false}} {
		w := begin(t)
		elm := w.came("Elm", w.tubs[0][1])
		w.on(10)
		const agent = knowledge.AgentID("serpentovirus")
		sample := samples.On{ID: model.SampleID{ID: w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: []model.AnimalID{elm}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{agent}, Taken: w.now()}}}})[0]}, Base: 1}
		w.on(14)
		w.do(samples.Enter{Tables: w.tables, At: w.now(), Rows: []samples.Row{{On: sample, Found: []samples.Found{{Of: agent, Outcome: samples.Detected}}}}})
		id := contact.PositiveID{ID: w.do(contact.Open{Tables: w.tables, Sample: sample.ID, Agent: agent})[0]}
		if l := w.line(quarantine.InRoom); l.Again != w.now().Day() || l.Reasons[0].Key != "quarantine.why.near-positive" || l.On[0] != id.ID {
			t.Errorf("%s, near still: %+v", name, l)
		} else if n := w.of(w.animal); !l.NoDay || !l.Undated() || !n.Gate.Undated() || len(l.Reasons) != 2 || l.Reasons[1].Key != "quarantine.why.still-near" || l.Reasons[1].Gaps["Name"].Text != "Elm" {
			t.Errorf("%s, near still, and dated: %+v", name, l)
		} else if slices.ContainsFunc(n.Plan, func(s quarantine.Step) bool { return s.Kind == quarantine.StepRelease }) {
			t.Errorf("%s, near still: the plan has a day for the release", name)
		}
		w.on(16)
		w.do(husbandry.Move{Animal: elm, Place: w.tubs[1][0], At: w.now()})
		apart := w.now().Day()
		w.on(30)
		if c.why != "" {
			w.do(contact.Close{ID: id, Base: 1, Why: c.why, At: w.now()})
		}
		if c.putRight {
			w.do(samples.Correct{Tables: w.tables, ID: sample.ID, Base: 2, Result: samples.Result{Of: agent, Outcome: samples.NotDetected, At: w.now(), Why: "mixed up at the lab"}})
		}
		want := w.arrived
		if c.again {
			want = apart
		}
		if l := w.line(quarantine.InRoom); l.Earliest != want+90 || l.NoDay {
			t.Errorf("%s: earliest %v, want 90 days from %v", name, l.Earliest, want)
		}
	}
}

// Worms in another of the room begin no day again: the list is watched for them. Source:
// common practice, no source.
func TestNearWormsNoDayBeginsAgain(t *testing.T) {
	w := begin(t)
	elm := w.came("Elm", w.tubs[0][1])
	w.on(10)
	sample := samples.On{ID: model.SampleID{ID: w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: []model.AnimalID{elm}, Sample: samples.Sample{Material: knowledge.Faeces, For: []knowledge.AgentID{knowledge.FaecalAgent}, Taken: w.now()}}}})[0]}, Base: 1}
	w.on(14)
	w.do(samples.Enter{Tables: w.tables, At: w.now(), Rows: []samples.Row{{On: sample, Found: []samples.Found{{Of: knowledge.FaecalAgent, Outcome: samples.Detected}}}}})
	if l := w.line(quarantine.InRoom); l.Again == w.now().Day() || l.NoDay || l.Earliest != w.arrived+90 {
		t.Errorf("the days in the room: %+v", l)
	}
	l := w.line(quarantine.Faecal)
	i := slices.IndexFunc(l.Reasons, func(r model.Label) bool { return r.Key == "quarantine.why.beside" })
	if i < 0 || l.Reasons[i].Gaps["Name"].Text != "Elm" || !slices.Contains(l.On, sample.ID.ID) {
		t.Errorf("the faecal samples: %+v", l)
	}
	var found []positives.Trace
	err := w.c.View(func(v model.View) (err error) { found, err = positives.Unsettled(v, w.tables); return err })
	if err != nil || len(found) != 1 || len(found[0].Near) != 1 || len(found[0].Newcomers()) != 0 {
		t.Fatalf("%+v, %v", found, err)
	}
	if slices.ContainsFunc(found[0].Acts, func(s contact.Standing) bool { return s.For == knowledge.ForNewcomers }) {
		t.Errorf("newcomers are to begin again: %+v", found[0].Acts)
	}
}

// A ferlavirus that was not detected in a swab of the mouth is told as one that such swabs
// miss often. Source: Flach et al. 2018, J Zoo Wildl Med 49(4) (abstract).
func TestASwabThatMissesMuchIsTold(t *testing.T) {
	w := begin(t)
	w.on(3)
	w.sampled("ferlavirus", samples.NotDetected, w.animal)
	w.sampled("serpentovirus", samples.NotDetected, w.animal)
	for of, told := range map[knowledge.AgentID]bool{"ferlavirus": true, "serpentovirus": false} {
		if l := w.looked(of); slices.ContainsFunc(l.Reasons, func(r model.Label) bool { return r.Key == "quarantine.why.weak" }) != told {
			t.Errorf("%s: %+v", of, l.Reasons)
		}
	}
}
