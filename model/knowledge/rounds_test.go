package knowledge_test

import (
	"strings"
	"testing"

	"coilward/model/knowledge"
)

func TestLoad_RefusesABadTableOfRounds(t *testing.T) {
	for _, c := range []struct {
		name, file, old, new string
		line                 int
		row, column, reason  string
	}{
		{"a class left out", "rounds.txt", "look-again, near-positive, ill, newcomer |", "look-again, ill, newcomer |", 2, "first", "classes", "each of"},
		{"a class twice", "rounds.txt", "resident, look-again, near-positive, newcomer, ill", "resident, look-again, near-positive, newcomer, ill, ill", 3, "second", "classes", "each of"},
		{"an order twice", "rounds.txt", "second |", "first |", 3, "first", "round", "earlier row"},
		{"apart in the middle", "rounds.txt", "| newcomer |", "| ill |", 2, "first", "apart", "last of the classes"},
		{"an order without a source", "rounds.txt", "| - | assumed", "| - |", 3, "second", "source", "names its source"},
		{"a measure somewhere", "between.txt", "classes", "boxes", 2, "gloves", "at", "want classes or rounds"},
		{"a measure twice", "between.txt", "clothes", "gloves", 3, "gloves", "measure", "earlier row"},
		{"a suspect of no class", "suspects.txt", "ill |", "well |", 2, "well", "class", "want one of"},
		{"a suspect of no target", "suspects.txt", "| virus", "| worms", 2, "ill", "target", "no row of targets.txt"},
		{"a suspect twice", "suspects.txt", "newcomer | mites", "ill | virus", 3, "ill", "target", "names this target"},
		{"a suspect without a source", "suspects.txt", "virus | assumed", "virus |", 2, "ill", "source", "names its source"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := small()
			if bad[c.file] = strings.Replace(bad[c.file], c.old, c.new, 1); bad[c.file] == small()[c.file] {
				t.Fatalf("%q is not in %s", c.old, c.file)
			}
			_, err := knowledge.Load(files(bad))
			for _, f := range faults(err) {
				if f.File == c.file && f.Line == c.line && f.Row == c.row && f.Column == c.column && strings.Contains(f.Reason, c.reason) {
					return
				}
			}
			t.Errorf("got %v", err)
		})
	}
}
