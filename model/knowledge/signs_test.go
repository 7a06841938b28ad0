package knowledge_test

import (
	"errors"
	"strings"
	"testing"

	"coilward/model/knowledge"
)

func TestSigns_EveryCell(t *testing.T) {
	tables, err := knowledge.Load(files(small()))
	if err != nil {
		t.Fatal(err)
	}
	s, ok := tables.Sign("exploring")
	if !ok || s.Key != 'o' || s.Domain != knowledge.Environment || s.Source != "assumed" || len(tables.Signs()) != 2 {
		t.Errorf("%+v, %v", s, ok)
	}
	for in, want := range map[knowledge.Setting]knowledge.Valence{knowledge.Untouched: knowledge.Ease, knowledge.Feeding: knowledge.NotOffered,
		knowledge.Handled: knowledge.Ease, knowledge.Moved: knowledge.Ease, knowledge.Cleaned: knowledge.Neither} {
		if s.Says[in] != want {
			t.Errorf("%s: %s, want %s", in, s.Says[in], want)
		}
	}
	if freezing, _ := tables.Sign(knowledge.Freezing); freezing.Says[knowledge.Handled] != knowledge.Unease {
		t.Errorf("freezing: %+v", freezing)
	}
	visit, _ := tables.Restraint("vet-visit")
	other, known := tables.Restraint("other")
	if !visit.Care || other.Care || !known || other.Source != "assumed" || len(tables.Restraints()) != 2 {
		t.Errorf("%+v, %+v", visit, other)
	}
	if _, known = tables.Restraint("hat"); known {
		t.Error("a reason that is none is known")
	}
	if _, known = tables.Sign("hat"); known {
		t.Error("a sign that is none is known")
	}
}

func TestSigns_Refused(t *testing.T) {
	for name, c := range map[string]struct{ file, old, new, column, reason string }{
		"freezing as ease":        {"signs.txt", "| neither | unease | unease |", "| neither | unease | ease |", "handled", "never ease"},
		"a valence that is none":  {"signs.txt", "ease | - | ease", "ease | joy | ease", "feeding", "want unease"},
		"a domain that is none":   {"signs.txt", "environment", "mind", "domain", "want nutrition"},
		"a key of two":            {"signs.txt", "| o |", "| oo |", "key", "one letter"},
		"a key that wanders":      {"signs.txt", "| o |", "| z |", "key", "one letter"},
		"a key that is no letter": {"signs.txt", "| o |", "| 0 |", "key", "one letter"},
		"a key twice":             {"signs.txt", "| o |", "| a |", "key", "earlier row"},
		"a sign twice":            {"signs.txt", "exploring", "freezing", "sign", "earlier row"},
		"a sign without source":   {"signs.txt", "neither | assumed", "neither |", "source", "names its source"},
		"no freezing":             {"signs.txt", "freezing", "frozen", "", "missing"},
		"care that is no answer":  {"restraints.txt", "| yes |", "| perhaps |", "care", "yes or no"},
		"a reason twice":          {"restraints.txt", "other", "vet-visit", "restraint", "earlier row"},
		"no reason":               {"restraints.txt", "vet-visit | yes | assumed\nother | no | assumed\n", "", "", "at least one"},
		"a number missing":        {"values.txt", "help-weeks | 6 | weeks | assumed\n", "", "", "missing"},
	} {
		bad := small()
		bad[c.file] = strings.Replace(bad[c.file], c.old, c.new, 1)
		_, err := knowledge.Load(files(bad))
		var fault *knowledge.Fault
		if !errors.As(err, &fault) || fault.File != c.file || fault.Column != c.column || !strings.Contains(fault.Reason, c.reason) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, key := range []string{"a", "x", "1", "9"} {
		good := small()
		good["signs.txt"] = strings.Replace(strings.Replace(good["signs.txt"], "| a |", "| d |", 1), "| o |", "| "+key+" |", 1)
		if _, err := knowledge.Load(files(good)); err != nil {
			t.Errorf("key %s: %v", key, err)
		}
	}
}
