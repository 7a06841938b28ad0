package history

import (
	"slices"
	"strconv"
	"testing"

	"coilward/model/care"
	"coilward/model/knowledge"
)

// Every row of what entries tell names something that an entry can note, and what
// must be told has its row.
func TestTells_FitTheEntries(t *testing.T) {
	tb := tables(t)
	var positive []string
	for _, g := range care.MiteGrades() {
		if g.Positive() {
			positive = append(positive, strconv.Itoa(int(g)))
		}
	}
	noted := map[knowledge.TellEntry][]string{
		knowledge.TellMeal: {string(care.Regurgitated)}, knowledge.TellShed: {eyeCap, tailTip}, knowledge.TellMites: positive,
	}
	for _, trait := range care.FaecesTraits() {
		noted[knowledge.TellFaeces] = append(noted[knowledge.TellFaeces], string(trait))
	}
	for _, trait := range care.UratesTraits() {
		noted[knowledge.TellUrates] = append(noted[knowledge.TellUrates], string(trait))
	}
	for _, row := range tb.Tells() {
		if !slices.Contains(noted[row.Entry], row.Noted) {
			t.Errorf("%s notes no %q", row.Entry, row.Noted)
		}
	}
	for _, entry := range []knowledge.TellEntry{knowledge.TellMeal, knowledge.TellShed, knowledge.TellMites} {
		for _, n := range noted[entry] {
			if _, told := tb.Tell(entry, n); !told {
				t.Errorf("%s tells nothing of %q", entry, n)
			}
		}
	}
	// What is as it should be tells of nothing.
	for entry, n := range map[knowledge.TellEntry]care.Trait{knowledge.TellFaeces: care.Formed, knowledge.TellUrates: care.White} {
		if row, told := tb.Tell(entry, string(n)); told {
			t.Errorf("%s in %s tells of %s", n, entry, row.Finding)
		}
	}
}
