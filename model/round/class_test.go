package round

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model/knowledge"
)

// The class of each fact alone, and the latest of several. Source: common practice, no source.
func TestFacts_Class(t *testing.T) {
	for name, c := range map[string]struct {
		facts Facts
		class Class
		all   []Class
	}{
		"nothing":                  {Facts{}, Resident, []Class{Resident}},
		"seen often":               {Facts{Level: knowledge.NoAction}, Resident, []Class{Resident}},
		"look again":               {Facts{Level: knowledge.LookAgain}, LookAgain, []Class{LookAgain}},
		"lighter":                  {Facts{Lighter: true}, LookAgain, []Class{LookAgain}},
		"lighter, and newcomer":    {Facts{Lighter: true, Newcomer: true}, Newcomer, []Class{LookAgain, Newcomer}},
		"vet":                      {Facts{Level: knowledge.VetWithinDays}, Ill, []Class{Ill}},
		"emergency":                {Facts{Level: knowledge.EmergencyToday}, Ill, []Class{Ill}},
		"for the vet":              {Facts{Level: knowledge.LookAgain, ForVet: true}, Ill, []Class{LookAgain, Ill}},
		"watched for mites":        {Facts{MiteWatch: true}, NearPositive, []Class{NearPositive}},
		"detected":                 {Facts{Detected: true}, Ill, []Class{Ill}},
		"newcomer, look again":     {Facts{Level: knowledge.LookAgain, Newcomer: true}, Newcomer, []Class{LookAgain, Newcomer}},
		"near a positive, and ill": {Facts{Level: knowledge.VetWithinDays, NearPositive: true}, Ill, []Class{NearPositive, Ill}},
	} {
		if got := c.facts.Class(); got != c.class || !slices.Equal(c.facts.All(), c.all) {
			t.Errorf("%s: %v of %v, want %v of %v", name, got, c.facts.All(), c.class, c.all)
		}
	}
}

// One fact more never brings an animal to a cleaner class.
func TestFacts_MoreIsNeverCleaner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		flag := func(name string) bool { return rapid.Bool().Draw(t, name) }
		f := Facts{Level: knowledge.Level(rapid.IntRange(0, 4).Draw(t, "level")), ForVet: flag("vet"), MiteWatch: flag("mites"), Detected: flag("detected"), Newcomer: flag("new"), NearPositive: flag("near"), Lighter: flag("lighter")}
		for i, more := range []Facts{f, f, f, f, f, f} {
			*[]*bool{&more.ForVet, &more.MiteWatch, &more.Detected, &more.Newcomer, &more.NearPositive, &more.Lighter}[i] = true
			if more.Class() < f.Class() {
				t.Fatalf("%+v is %v, with more %+v it is %v", f, f.Class(), more, more.Class())
			}
		}
	})
}
