package samples_test

import (
	"encoding/json"
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

func TestMethods_WhereTheyMakeADifference(t *testing.T) {
	tables := begin(t).tables
	for _, c := range []struct {
		of   knowledge.AgentID
		in   knowledge.MaterialID
		want []knowledge.Method
	}{
		{serpento, swab, []knowledge.Method{knowledge.AcidFast, knowledge.Flotation, knowledge.Antibodies}}, // usually by PCR
		{"worms-and-protozoa", "faeces", []knowledge.Method{knowledge.PCR, knowledge.AcidFast, knowledge.Antibodies}},
		{"reptarenavirus", "blood", []knowledge.Method{knowledge.Antibodies}},
		{serpento, "shed-skin", nil},
		{"reptarenavirus", "tissue", nil},
	} {
		if got := samples.Methods(tables, c.of, c.in); !slices.Equal(got, c.want) {
			t.Errorf("%s in %s: %v, want %v", c.of, c.in, got, c.want)
		}
	}
}

// Antibodies tell that an animal met a thing, not that it carries it; and who caught it
// lately has none yet. From memory.
func TestAntibodies_NeverSayThatAThingIsNotThere(t *testing.T) {
	tables := begin(t).tables
	for _, c := range []struct {
		by      knowledge.Method
		outcome samples.Outcome
		speaks  bool
		open    string
	}{
		{"", samples.NotDetected, true, ""}, {knowledge.PCR, samples.NotDetected, true, ""}, {knowledge.Antibodies, samples.NotDetected, false, "samples.not-met"},
		{"", samples.Detected, true, ""}, {knowledge.Antibodies, samples.Detected, true, "samples.met"},
		{knowledge.Antibodies, samples.Inhibited, false, ""},
	} {
		s := samples.Sample{Material: swab, For: []knowledge.AgentID{serpento}, Results: []samples.Result{{Of: serpento, Outcome: c.outcome, Method: c.by}}}
		if got := samples.Speaks(tables, s, serpento); got != c.speaks {
			t.Errorf("%s by %q speaks: %v", c.outcome, c.by, got)
		}
		if l, ok := samples.LeavesOpen(tables, s, serpento); l.Key != c.open || ok != (c.open != "") {
			t.Errorf("%s by %q leaves open %q, %v", c.outcome, c.by, l.Key, ok)
		}
	}
	weak := samples.Sample{Material: "oral-swab", For: []knowledge.AgentID{"ferlavirus"}, Results: []samples.Result{{Of: "ferlavirus", Outcome: samples.NotDetected, Method: knowledge.PCR}}}
	if l, _ := samples.LeavesOpen(tables, weak, "ferlavirus"); l.Key != "samples.weak" {
		t.Errorf("what is missed often leaves open %q", l.Key)
	}
}

func TestMethod_IsThatOfTheResultThatCounts(t *testing.T) {
	b := begin(t)
	id := b.prepared(samples.Sample{Material: swab, For: []knowledge.AgentID{serpento}, Taken: ago(9)}, b.juno)
	b.do(samples.Enter{Tables: b.tables, At: ago(2), Rows: []samples.Row{{On: samples.On{ID: id, Base: 1}, Found: []samples.Found{{Of: serpento, Outcome: samples.NotDetected, Method: knowledge.Antibodies}}}}})
	if got := b.read(id).Method(serpento); got != knowledge.Antibodies {
		t.Errorf("by %q", got)
	}
	b.do(samples.Correct{Tables: b.tables, ID: id, Base: 2, Result: samples.Result{Of: serpento, Outcome: samples.NotDetected, Method: knowledge.PCR, At: ago(1), Why: "read wrong"}})
	if got := b.read(id); got.Method(serpento) != knowledge.PCR || got.Results[0].Method != knowledge.Antibodies {
		t.Errorf("%+v", got.Results)
	}
	if got := b.read(id).Method("ferlavirus"); got != "" {
		t.Errorf("of what has no result by %q", got)
	}
}

func TestRead_ASampleOfTheFirstForm(t *testing.T) {
	d := model.Document{Type: model.TypeSample, ID: model.ID{7}, At: ago(3), Version: 1, Body: json.RawMessage(`{"material":"oral-swab","for":["serpentovirus"],"results":[{"of":"serpentovirus","outcome":"not-detected","at":{"utc":1}}]}`)}
	s, err := samples.Read(d)
	if err != nil || s.Outcome("serpentovirus") != samples.NotDetected || s.Method("serpentovirus") != "" {
		t.Errorf("%+v: %v", s, err)
	}
}
