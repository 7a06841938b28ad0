package exam_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"coilward/model/exam"
	"coilward/model/knowledge"
)

// texts are the catalogues of the tables and of the check in one language.
func texts(t *testing.T, language string) map[string]string {
	t.Helper()
	all := map[string]string{}
	for _, name := range []string{"knowledge.json", "exam.json"} {
		raw, err := os.ReadFile(filepath.Join("../../assets/text", language, name))
		if err != nil {
			t.Fatal(err)
		}
		var some map[string]string
		if err := json.Unmarshal(raw, &some); err != nil {
			t.Fatal(err)
		}
		for key, text := range some {
			all[key] = text
		}
	}
	return all
}

// keys are all keys that tables and types can make.
func keys(tb *knowledge.Tables) []string {
	var all []string
	for _, s := range append(slices.Clone(tb.Stops()), wasteStop(tb)) {
		all = append(all, "stop."+string(s.ID), "stop."+string(s.ID)+".look")
		if s.Way == knowledge.Opened {
			all = append(all, "stop."+string(s.ID)+".caution")
		}
	}
	for _, f := range tb.Findings() {
		all = append(all, "finding."+string(f.ID))
	}
	for _, r := range tb.Rules() {
		all = append(all, "reason."+string(r.ID))
	}
	for _, s := range tb.SpeciesList() {
		all = append(all, "species."+string(s.ID))
	}
	for level := knowledge.NoAction; level <= knowledge.EmergencyToday; level++ {
		all = append(all, "urgency."+level.String(), "urgency."+level.String()+".act")
	}
	for _, l := range []exam.Look{exam.NotYet, exam.Seen, exam.Felt, exam.NotLooked, exam.LeftToVet} {
		all = append(all, l.Key())
	}
	for _, g := range []exam.Grade{exam.Slight, exam.Marked, exam.Severe} {
		all = append(all, g.Key())
	}
	for _, s := range []exam.Standing{exam.Unasked, exam.New, exam.Same, exam.Better, exam.Worse, exam.Gone, exam.CameBack, exam.Closed} {
		all = append(all, s.Key())
	}
	for _, e := range []exam.Extent{exam.BriefLook, exam.PartCheck, exam.FullCheck} {
		all = append(all, e.Key())
	}
	for _, p := range []exam.ShedPhase{exam.ShedUnknown, exam.ShedNone, exam.ShedBefore} {
		all = append(all, p.Key())
	}
	for _, a := range []exam.Age{exam.AgeUnknown, exam.Hatchling, exam.Juvenile, exam.Subadult, exam.Adult} {
		all = append(all, a.Key())
	}
	for _, c := range exam.Commands() {
		all = append(all, "exam.done."+strings.TrimPrefix(c.Name(), "exam."))
	}
	return append(all, exam.SeeVet.Key(), exam.LookThere.Key())
}

func TestTexts_EveryIdHasWordsInBothLanguages(t *testing.T) {
	tb := tables(t)
	for _, language := range []string{"en", "de"} {
		all := texts(t, language)
		for _, key := range keys(tb) {
			if strings.TrimSpace(all[key]) == "" {
				t.Errorf("%s: no text for %s", language, key)
			}
		}
	}
}

func TestTexts_KeysAndGapsAreAlike(t *testing.T) {
	gap := regexp.MustCompile(`\{\{\.\w+\}\}`)
	gaps := func(text string) []string { found := gap.FindAllString(text, -1); slices.Sort(found); return found }
	english, german := texts(t, "en"), texts(t, "de")
	if len(english) != len(german) {
		t.Errorf("%d keys in English, %d in German", len(english), len(german))
	}
	for key, text := range english {
		if other, ok := german[key]; !ok || !reflect.DeepEqual(gaps(text), gaps(other)) {
			t.Errorf("%s: %q, %q", key, text, other)
		}
	}
}

func TestTexts_NoVerdictOnHealthAndNoMedicine(t *testing.T) {
	never := regexp.MustCompile(`(?i)\bhealthy\b|\bgesund\b|diagnos|free of|\bfrei von\b|fit for sale|\bdos(e|is)\b|mg/kg|antibioti|ivermect`)
	for _, language := range []string{"en", "de"} {
		for key, text := range texts(t, language) {
			if word := never.FindString(text); word != "" {
				t.Errorf("%s, %s: says %q", language, key, word)
			}
		}
	}
}
