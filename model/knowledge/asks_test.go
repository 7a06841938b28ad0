package knowledge_test

import (
	"testing"

	"coilward/model/knowledge"
)

// A rule without findings speaks of every finding, and yet asks nothing of any
// one of them: only a rule that names the finding, at that stop, does.
func TestTables_AsksOnlyWhereAFindingIsNamed(t *testing.T) {
	rule := func(id, stops, findings, when string) string {
		return id + " | " + stops + " | " + findings + " | slight | 1 | - | " + when + " | vet-within-days | - | - | - | assumed\n"
	}
	cases := []struct {
		name  string
		rules string
		stop  knowledge.StopID
		what  knowledge.FindingID
		want  bool
	}{
		{"no findings", rule("any", "-", "-", "known-old"), "neck", "sore", false},
		{"no findings, at that stop", rule("any", "neck", "-", "known-old"), "neck", "sore", false},
		{"that finding", rule("one", "-", "sore", "known-old"), "neck", "sore", true},
		{"that finding, where it does not hold", rule("one", "-", "sore", "not-known-old"), "neck", "sore", true},
		{"that finding, beside another condition", rule("one", "-", "sore", "young known-old"), "neck", "sore", true},
		{"that finding, at that stop", rule("one", "neck", "sore", "known-old"), "neck", "sore", true},
		{"that finding, at another stop", rule("one", "rest", "other", "known-old"), "neck", "other", false},
		{"another finding", rule("one", "-", "kink", "known-old"), "neck", "sore", false},
		{"another condition", rule("one", "-", "sore", "young"), "neck", "sore", false},
		{"a cluster that holds it", rule("one", "-", "@skin", "known-old"), "neck", "sore", true},
		{"one without findings before one with", rule("any", "-", "-", "known-old") + rule("one", "-", "sore", "known-old"), "neck", "sore", true},
		{"one with findings that does not ask, before one without that does", rule("one", "-", "sore", "young") + rule("any", "-", "-", "known-old"), "neck", "sore", false},
	}
	for _, c := range cases {
		tb := small()
		tb["urgency.txt"] += c.rules
		tables, err := knowledge.Load(files(tb))
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if got := tables.Asks(c.stop, c.what, knowledge.KnownOld); got != c.want {
			t.Errorf("%s: asks %v", c.name, got)
		}
	}
	shipped := loadShipped(t)
	if own, ok := shipped.Rule("own"); !ok || len(own.Findings) != 0 || !own.Needs(knowledge.Baseline) || !own.At("skin", "sore") {
		t.Errorf("the rule of what is an animal's own: %+v", own)
	}
	if shipped.Asks("skin", "sore", knowledge.Baseline) || !shipped.Asks("spine", "kink", knowledge.Baseline) {
		t.Error("a kink, and not a sore, is asked whether it is the animal's own")
	}
}
