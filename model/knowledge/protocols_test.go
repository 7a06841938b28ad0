package knowledge_test

import (
	"slices"
	"testing"

	"coilward/model/knowledge"
)

// The protocols: 30 days, the zoo minimum, seen: zoo-association quarantine page and
// its 2007 standards; 90 days for pythons, seen: hobby quarantine pages; 180 days,
// seen: clinician's web summary of Origgi 2019. What they ask for beside the days:
// common practice, no source.
func TestProtocolsOfTheProgram(t *testing.T) {
	tables := loadShipped(t)
	type row struct{ days, notDetected, apart, faecal int }
	want := map[knowledge.ProtocolID]row{"short": {30, 1, 0, 2}, "python": {90, 2, 42, 3}, "long": {180, 3, 42, 3}}
	if len(tables.Protocols()) != len(want) {
		t.Fatalf("%d protocols", len(tables.Protocols()))
	}
	for id, w := range want {
		p, ok := tables.Protocol(id)
		if !ok || len(p.For) != 2 || (row{p.Days, p.For[0].NotDetected, p.For[0].Apart, p.Faecal}) != w {
			t.Errorf("%s: %+v", id, p)
		}
		if !p.Mites || p.Within != 30 || p.FaecalApart != 14 || p.CheckWithin != 7 || p.Meals != 2 || p.Weight != 95 || p.Watch != 90 || p.Sheds != 1 {
			t.Errorf("%s: %+v", id, p)
		}
	}
	if _, known := tables.Protocol("none"); known {
		t.Error("a protocol that stands in no row")
	}
}

// In living pythons no sample speaks of reptarenavirus: the virus may be in the brain
// and spinal cord only, seen: Stenglein et al. 2017 J Virol (abstract).
func TestWhatNoSampleSpeaksOf(t *testing.T) {
	tables := loadShipped(t)
	for of, want := range map[knowledge.AgentID]bool{"reptarenavirus": false, "serpentovirus": true, "worms-and-protozoa": true, "nothing": false} {
		if tables.Speaks(of) != want {
			t.Errorf("%s: %v", of, !want)
		}
	}
	if !slices.ContainsFunc(tables.Agents(), func(a knowledge.Agent) bool { return a.ID == knowledge.FaecalAgent }) {
		t.Error("what faecal samples are looked through for stands in no row")
	}
}

func TestAlternativesAreReadTogether(t *testing.T) {
	tables, err := knowledge.Load(files(small()))
	if err != nil {
		t.Fatal(err)
	}
	long, _ := tables.Protocol("long")
	if len(long.For) != 1 || !slices.Equal(long.For[0].Agents, []knowledge.AgentID{"flu", "pox"}) || long.For[0].Apart != 42 || long.Mites {
		t.Errorf("%+v", long)
	}
}
