package wording_test

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"coilward/assets"
	"coilward/model/wording"
)

func TestSource(t *testing.T) {
	l := languages(t)
	en, de := l.In("en", wording.Units{}), l.In("de", wording.Units{})
	for source, want := range map[string]string{
		"common practice, no source":                   "übliche Praxis, ohne Quelle",
		"seen: WikiVet \"Snake Physical Examination\"": "eingesehen: WikiVet \"Snake Physical Examination\"",
		"common practice, no source; what it may go with from memory: standard reptile medicine textbooks": "übliche Praxis, ohne Quelle; womit es einhergehen kann, aus dem Gedächtnis: gängige Lehrbücher der Reptilienmedizin",
		"A Title: and what stands behind it": "A Title: and what stands behind it",
		"":                                   "",
	} {
		if got := de.Source(source); got != want {
			t.Errorf("%q is said as %q, want %q", source, got, want)
		}
		if got := en.Source(source); got != source {
			t.Errorf("in English %q is said as %q", source, got)
		}
	}
}

// What the rules of urgency rest on is said in every language: only titles of
// publications stay.
func TestSourcesOfUrgencyAreWorded(t *testing.T) {
	table, err := fs.ReadFile(assets.Knowledge(), "urgency.txt")
	if err != nil {
		t.Fatal(err)
	}
	de := languages(t).In("de", wording.Units{})
	title := regexp.MustCompile(`WikiVet [^;:]*|Front Vet Sci [^;:]*`)
	english := regexp.MustCompile(`\b(common|practice|source|memory|seen|page|counts|the|is|of|with|what)\b`)
	n := 0
	for line := range strings.Lines(string(table)) {
		columns := strings.Split(line, "|")
		if strings.HasPrefix(line, "#") || len(columns) < 2 || strings.HasPrefix(line, "rule ") {
			continue
		}
		n++
		source := strings.TrimSpace(columns[len(columns)-1])
		if left := english.FindString(title.ReplaceAllString(de.Source(source), "")); left != "" {
			t.Errorf("%q is said as %q", source, de.Source(source))
		}
	}
	if n < 50 {
		t.Errorf("only %d rules were read", n)
	}
}
