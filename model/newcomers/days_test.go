package newcomers_test

import (
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/contact"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// A stretch near a positive that ended after the day of a release counts up to that day.
func TestAStretchThatEndedLaterCountsUpToTheRelease(t *testing.T) {
	w := begin(t)
	elm := w.came("Elm", w.tubs[0][1])
	w.on(10)
	const agent = knowledge.AgentID("serpentovirus")
	sample := samples.On{ID: model.SampleID{ID: w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: []model.AnimalID{elm}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{agent}, Taken: w.now()}}}})[0]}, Base: 1}
	w.on(14)
	w.do(samples.Enter{Tables: w.tables, At: w.now(), Rows: []samples.Row{{On: sample, Found: []samples.Found{{Of: agent, Outcome: samples.Detected}}}}})
	w.do(contact.Open{Tables: w.tables, Sample: sample.ID, Agent: agent})
	w.on(15)
	then := w.now()
	w.on(20)
	w.do(husbandry.Move{Animal: elm, Place: w.tubs[1][0], At: w.now()})
	w.on(25)
	w.do(newcomers.Release{Tables: w.tables, ID: w.kept, Base: 1, At: then, Why: "goes back", Confirmed: model.Confirmed{"quarantine.unmet"}})
	if l := w.of(w.animal).Gate.Lines[0]; l.Item != quarantine.InRoom || l.Again != w.arrived+15 || l.Reasons[0].Key != "quarantine.why.near-positive" {
		t.Errorf("%+v", l)
	}
}

// Before its first day, as where the clock was set back, no days have gone by.
func TestNoDayIsBelowNone(t *testing.T) {
	w := begin(t)
	w.rewrites(func(q *quarantine.Stored) { q.Arrived.UTC += 3 * 86400 })
	if n := w.of(w.animal); n.Day != 0 || n.Gate.Lines[0].Have != 0 || n.Gate.Met {
		t.Errorf("day %d, %+v", n.Day, n.Gate.Lines[0])
	}
}

// Of a day on which no place is noted for it, it is not known how warm it was: mites are
// watched for 77 days, and the line says so. Source of the days: computed from values of
// Wozniak and DeNardo 2000 (memory).
func TestADayWithoutAPlaceIsNotWarm(t *testing.T) {
	for name, c := range map[string]struct{ out, in, days int }{"every day somewhere": {-1, -1, 42}, "days without a place": {2, 5, 77}} {
		w := begin(t)
		w.look(w.animal, care.NoMites)
		if c.out > 0 {
			w.on(c.out)
			w.do(husbandry.MoveOut{Animal: w.animal, At: w.now()})
			w.on(c.in)
			w.do(husbandry.Move{Animal: w.animal, Place: w.tubs[0][0], At: w.now()})
		}
		w.on(8)
		l, said := w.line(quarantine.MiteFree), false
		for _, r := range l.Reasons {
			said = said || r.Key == "quarantine.why.mites-cool" && r.Gaps["Days"] == model.CountGap(77)
		}
		if l.Want != c.days || said != (c.days == 77) {
			t.Errorf("%s: %d days, said %v", name, l.Want, said)
		}
	}
}
