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
		"seen: Pees et al. 2016 Vet Microbiol 182:213 (abstract)":                                          "eingesehen: Pees et al. 2016 Vet Microbiol 182:213 (Zusammenfassung)",
		"from memory: Wozniak and DeNardo 2000, of Camin 1953; by how warm it is":                          "aus dem Gedächtnis: Wozniak und DeNardo 2000, nach Camin 1953; je nach Wärme",
		"seen: BMC Vet Res 2019, comparison of three PCRs (abstract); Vet Rec 2011: counted in faeces":     "eingesehen: BMC Vet Res 2019, Vergleich von drei PCRs (Zusammenfassung); Vet Rec 2011: im Kot gezählt",
		"A Title, and a note (of its own)":                                                                 "A Title, and a note (of its own)",
		"A Title: and what stands behind it":                                                               "A Title: and what stands behind it",
		"":                                                                                                 "",
	} {
		if got := de.Source(source); got != want {
			t.Errorf("%q is said as %q, want %q", source, got, want)
		}
		if got := en.Source(source); got != source {
			t.Errorf("in English %q is said as %q", source, got)
		}
	}
}

// What the tables rest on is said in every language: only titles of publications
// stay.
func TestSourcesOfTheTablesAreWorded(t *testing.T) {
	de := languages(t).In("de", wording.Units{})
	title := regexp.MustCompile(`WikiVet [^;:]*|Front Vet Sci [^;:]*|Vet Rec [^;:,]*|J Parasitol [^,]*|J Virol|„[^“]*“|Graczyk, Owens & Cranfield|` +
		`Efficacy of common laboratory disinfectants on the infectivity of C\. parvum oocysts in cell culture|The Life History of Snake Mites`)
	english := regexp.MustCompile(`\b(common|practice|source|memory|seen|page|pages|counts|the|is|of|at|in \d|from|by|for|with|what|its|as|how|carried|samples|summary|no|abstract|days|rest|only|comparison|keeps|under|old|hours)\b`)
	for file, least := range map[string]int{"urgency": 50, "agents": 6, "answers": 6, "effects": 18, "materials": 10, "means": 15, "mitelife": 10, "positive": 11, "protocols": 3, "targets": 3, "ways": 4,
		"signs": 27, "rescue": 10, "sight": 8, "carriers": 5, "priors": 11, "coldacts": 12, "coldlooks": 4, "rounds": 3} {
		table, err := fs.ReadFile(assets.Knowledge(), file+".txt")
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for line := range strings.Lines(string(table)) {
			columns := strings.Split(line, "|")
			source := strings.TrimSpace(columns[len(columns)-1])
			if strings.HasPrefix(line, "#") || len(columns) < 2 || source == "source" {
				continue
			}
			n++
			if left := english.FindString(title.ReplaceAllString(de.Source(source), "")); left != "" {
				t.Errorf("%s: %q is said as %q: %q", file, source, de.Source(source), left)
			}
		}
		if n < least {
			t.Errorf("%s: only %d rows were read", file, n)
		}
	}
}
