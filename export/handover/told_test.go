package handover_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"coilward/assets"
	"coilward/export/handover"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/body"
	"coilward/model/exam"
	record "coilward/model/handover"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// on is a day of 2027 of which no time is known.
func on(month time.Month, day int) record.When {
	return record.When{Day: model.NewDay(2027, month, day), Precision: model.ToDay}
}

// ofOne is a record in which each kind of line stands.
func ofOne(t *testing.T, tables *knowledge.Tables) record.Record {
	t.Helper()
	mira := model.PersonID{ID: model.ID{2}}
	ids := byte(10)
	entry := func(kind string, w record.When, by model.PersonID, body string) record.Entry {
		ids++
		return record.Entry{ID: model.EntryID{ID: model.ID{ids}}, Kind: kind, When: w, By: by, Body: []byte(body)}
	}
	var all, most []record.Stop
	for i, s := range tables.Stops() {
		look := exam.Seen
		if s.ID == "mouth" {
			look = exam.LeftToVet
		}
		all = append(all, record.Stop{Stop: s.ID, Look: look})
		if i > 0 && s.ID != "mouth" && s.Way != knowledge.Noted {
			most = append(most, record.Stop{Stop: s.ID, Look: look})
		}
	}
	taken := on(2, 3)
	return record.Record{
		Form:   1,
		Animal: record.Animal{ID: model.AnimalID{ID: model.ID{1}}, Name: "Juno", Species: "python-regius", Sex: animals.Female},
		Issued: record.Issued{UTC: 1, Day: model.NewDay(2027, 3, 20), Program: "0.8.0", Tables: "ab"},
		Hands:  []record.Hand{{ID: mira, Name: "Mira"}},
		Entries: []record.Entry{
			entry("weight", on(1, 2), mira, `{"mass":{"mg":1400000}}`),
			entry("weight", on(3, 4), model.PersonID{}, `{"mass":{"mg":1432000}}`),
			entry("meal", on(1, 3), mira, `{"prey":"rat","outcome":"refused"}`),
			entry("meal", on(1, 9), mira, `{"prey":"rat","outcome":"regurgitated"}`),
			entry("meal", on(3, 5), mira, `{"prey":"rat","outcome":"took"}`),
			entry("shed", on(2, 7), mira, `{"skin":"whole"}`),
			entry("shed", on(3, 8), mira, `{}`),
			entry("mite-look", on(3, 9), mira, `{"grade":0,"where":["animal"]}`),
		},
		Checks: []record.Check{
			{ID: model.EntryID{ID: model.ID{5}}, When: on(1, 10), By: mira, Extent: exam.FullCheck, Stops: all},
			{ID: model.EntryID{ID: model.ID{6}}, When: on(2, 11), By: mira, Extent: exam.PartCheck, Stops: most, Level: knowledge.VetWithinDays, VetBy: model.NewDay(2027, 2, 14)},
			{ID: model.EntryID{ID: model.ID{7}}, When: on(3, 12), Extent: exam.BriefLook, Stops: all, Level: knowledge.EmergencyToday},
		},
		Problems: []record.Problem{
			{Found: record.Found{What: "mucus", Stop: "mouth", Standing: exam.Same, Place: body.Place{Part: body.Mouth, View: body.OpenMouth, Region: "mouth"}}, Since: on(1, 10), Last: on(2, 11)},
			{Found: record.Found{What: "mucus", Stop: "mouth", Standing: exam.Gone}, Since: on(1, 11), Last: on(1, 12)},
		},
		Samples: []record.Sample{
			{ID: model.SampleID{ID: model.ID{8}}, Taken: &taken, Material: "oral-swab", For: []knowledge.AgentID{"serpentovirus"}, Lab: "Weir", Others: 1,
				Results: []record.Result{{Of: "serpentovirus", Outcome: samples.NotDetected, When: on(2, 20), Report: "W-1"}}},
			{ID: model.SampleID{ID: model.ID{9}}, Taken: &taken, Material: "oral-swab", For: []knowledge.AgentID{"serpentovirus"}},
			{ID: model.SampleID{ID: model.ID{10}}, Material: "blood", For: []knowledge.AgentID{"serpentovirus"}},
		},
		Quarantines: []record.Quarantine{
			{Arrived: on(1, 1), Protocol: "python", Released: &taken, Lines: []record.Line{{Item: "days", State: quarantine.Met}, {Item: "weights", State: quarantine.Met}, {Item: "mites", State: quarantine.NotMet}, {Item: "meals", State: quarantine.CannotTell}}},
			{Arrived: on(3, 1), Protocol: "python"},
		},
		Courses: 2, Visits: 1, Unread: 3,
	}
}

// Everything of which papers tell stands in a line of its own: what was looked at with its
// days and by whom, and what was not.
func TestTold_EveryLine(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	p := &handover.Papers{Key: key(t).Public(), Record: ofOne(t, tables)}
	for language, want := range map[string][]string{"en": {
		"Python regius · female",
		"Checks: 2, from 10 January 2027 to 11 February 2027, whole from snout to tail: 1. The last one: Part of a check, 18 of 18 stops seen or felt, by: Mira.",
		"By what was seen on 11 February 2027 the tables of that day asked for: Vet within days. A vet by 14 February 2027.",
		"Finding that was still there: Ropy mucus, bubbles, Mouth, since 10 January 2027, last looked at on 11 February 2027.",
		"Weighings: 2, from 2 January 2027 to 4 March 2027. The last one: 1432 g, by: not said.",
		"Meals offered: 3, from 3 January 2027 to 5 March 2027. The last one: took, noted by: Mira. Of the last 3, not taken or not kept: 2.",
		"Sheds: 2, from 7 February 2027 to 8 March 2027. The last one: not looked, noted by: Mira.",
		"Looks for mites: 1, from 9 March 2027 to 9 March 2027. The last one: none seen, by: Mira.",
		"Test: Serpentovirus: not detected. Mouth swab taken on 3 February 2027. Lab: Weir. Report W-1. Tested together with others.",
		"“Not detected” does not exclude an infection.",
		"Quarantine from 1 January 2027 to 3 February 2027: 90 days, for pythons. Lines not met when it was released: 2.",
		"In quarantine since 1 March 2027, not released: 90 days, for pythons.",
		"Courses of medicine: 2, visits to a vet: 1. The printed record in the file tells of them.",
		"Never looked at in any check: Mouth.",
		"Not looked at in the last check: Before touching.",
		"Not tested for, or without an answer that says anything: Reptarenavirus; Ferlavirus; Cryptosporidium serpentis; Cryptosporidium, species not told; Worms and protozoa in faeces.",
		"No answer that stands of what was taken on 3 February 2027: Mouth swab.",
		"When the animal hatched is not known.",
		"The sex is not known, or not how it is known.",
		"No source code is noted: ask for the proof of legal origin that your law asks for.",
		"Records that could not be read when the file was made: 3.",
		"Only the printed record tells of contact with an animal in which something was detected, and of breathing and other signs seen on visits.",
		"What nobody noted is not here. Notes, and from whom the animal came, do not go with this file. Ask about them.",
	}, "de": {
		"Python regius · weiblich",
		"Kontrollen: 2 vom 10. Januar 2027 bis zum 11. Februar 2027, davon an allen Stationen: 1. Die letzte: Teil einer Kontrolle, 18 von 18 Stationen angesehen oder abgetastet, von: Mira.",
		"Nach dem, was am 11. Februar 2027 zu sehen war, verlangten die Tabellen jenes Tages: Tierarzt, nächste Tage. Tierarzt bis zum 14. Februar 2027.",
		"Befund, der noch da war: Zäher Schleim, Blasen, Maul, seit dem 10. Januar 2027, zuletzt angesehen am 11. Februar 2027.",
		"Wägungen: 2 vom 2. Januar 2027 bis zum 4. März 2027. Die letzte: 1432 g, von: nicht gesagt.",
		"Angebotene Mahlzeiten: 3 vom 3. Januar 2027 bis zum 5. März 2027. Die letzte: angenommen, notiert von: Mira. Von den letzten 3 nicht genommen oder nicht behalten: 2.",
		"Häutungen: 2 vom 7. Februar 2027 bis zum 8. März 2027. Die letzte: nicht angesehen, notiert von: Mira.",
		"Nach Milben gesehen: 1-mal vom 9. März 2027 bis zum 9. März 2027. Zuletzt: keine gesehen, von: Mira.",
		"Test: Serpentovirus: nicht nachgewiesen. Maultupfer, genommen am 3. Februar 2027. Labor: Weir. Bericht W-1. Zusammen mit anderen getestet.",
		"„Nicht nachgewiesen“ schließt eine Infektion nicht aus.",
		"Quarantäne vom 1. Januar 2027 bis zum 3. Februar 2027: 90 Tage, für Pythons. Zeilen, die bei der Entlassung nicht erfüllt waren: 2.",
		"In Quarantäne seit dem 1. März 2027, nicht entlassen: 90 Tage, für Pythons.",
		"Verordnungen: 2, Besuche beim Tierarzt: 1. Davon erzählt der gedruckte Bericht in der Datei.",
		"In keiner Kontrolle angesehen: Maul.",
		"In der letzten Kontrolle nicht angesehen: Vor dem Anfassen.",
		"Nicht darauf getestet, oder ohne Antwort, die etwas sagt: Reptarenavirus; Ferlavirus; Cryptosporidium serpentis; Kryptosporidien, Art nicht genannt; Würmer und Einzeller im Kot.",
		"Keine gültige Antwort auf das, was am 3. Februar 2027 genommen wurde: Maultupfer.",
		"Wann das Tier geschlüpft ist, weiß niemand.",
		"Das Geschlecht ist nicht bekannt, oder nicht, woher man es weiß.",
		"Es ist kein Herkunftscode notiert: bitte nach dem Nachweis der legalen Herkunft fragen, den das Recht verlangt.",
		"Aufzeichnungen, die nicht zu lesen waren, als die Datei gemacht wurde: 3.",
		"Nur der gedruckte Bericht sagt, ob das Tier Kontakt zu einem mit Nachweis hatte und welche Zeichen, auch der Atmung, bei Besuchen zu sehen waren.",
		"Was niemand notiert hat, steht nicht hier. Notizen, und von wem das Tier kam, gehen mit dieser Datei nicht mit. Bitte danach fragen.",
	}} {
		told := handover.Tell(p, tables, papertest.Text(t, language))
		if got := slices.Concat([]string{told.Who}, told.Checked.Lines, told.Not.Lines); !slices.Equal(got, want) {
			t.Errorf("%s: told is\n%s\nwant\n%s", language, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
}

// What a check asked for stays told while a finding of that day is still there: a calmer check
// after it that did not look at the finding takes nothing of it away, and a brief look asks for
// as much as any.
func TestTold_TheGravestThatStillHolds(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	text := papertest.Text(t, "en")
	check := func(day int, extent exam.Extent, level knowledge.Level, by model.Day) record.Check {
		return record.Check{When: on(3, day), Extent: extent, Level: level, VetBy: by}
	}
	finding := func(last int, standing exam.Standing) record.Problem {
		return record.Problem{Found: record.Found{What: "mucus", Stop: "mouth", Standing: standing}, Since: on(3, 1), Last: on(3, last)}
	}
	vetBy := model.NewDay(2027, 3, 9)
	for name, c := range map[string]struct {
		checks   []record.Check
		problems []record.Problem
		want     string
	}{
		"a calm part check after it": {[]record.Check{check(5, exam.FullCheck, knowledge.VetWithinDays, vetBy), check(8, exam.PartCheck, 0, 0)},
			[]record.Problem{finding(5, exam.New)}, "By what was seen on 5 March 2027 the tables of that day asked for: Vet within days. A vet by 9 March 2027."},
		"a brief look": {[]record.Check{check(5, exam.PartCheck, 0, 0), check(6, exam.BriefLook, knowledge.EmergencyToday, vetBy)},
			[]record.Problem{finding(6, exam.Worse)}, "By what was seen on 6 March 2027 the tables of that day asked for: Emergency today. A vet by 9 March 2027."},
		"the graver of one day": {[]record.Check{check(5, exam.BriefLook, knowledge.EmergencyToday, vetBy), check(5, exam.FullCheck, knowledge.VetWithinDays, 0)},
			[]record.Problem{finding(5, exam.Same)}, "By what was seen on 5 March 2027 the tables of that day asked for: Emergency today. A vet by 9 March 2027."},
		"the sooner of as grave ones": {[]record.Check{check(5, exam.FullCheck, knowledge.VetWithinDays, vetBy), check(8, exam.FullCheck, knowledge.VetWithinDays, vetBy+3)},
			[]record.Problem{finding(5, exam.Same)}, "By what was seen on 5 March 2027 the tables of that day asked for: Vet within days. A vet by 9 March 2027."},
		"the last check, with no finding": {[]record.Check{check(5, exam.FullCheck, knowledge.VetWithinDays, vetBy)},
			nil, "By what was seen on 5 March 2027 the tables of that day asked for: Vet within days. A vet by 9 March 2027."},
		"the finding is gone": {[]record.Check{check(5, exam.FullCheck, knowledge.VetWithinDays, vetBy), check(8, exam.PartCheck, 0, 0)},
			[]record.Problem{finding(5, exam.Gone)}, ""},
		"looked at again calmly": {[]record.Check{check(5, exam.FullCheck, knowledge.VetWithinDays, vetBy), check(8, exam.PartCheck, 0, 0)},
			[]record.Problem{finding(8, exam.Same)}, ""},
	} {
		p := &handover.Papers{Key: key(t).Public(), Record: record.Record{Checks: c.checks, Problems: c.problems}}
		asked := slices.DeleteFunc(handover.Tell(p, tables, text).Checked.Lines, func(line string) bool { return !strings.Contains(line, "the tables of that day") })
		if got := strings.Join(asked, "\n"); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// A finding of no place is of the whole animal, as the printed record has it; one that was not
// pointed to is told by its stop.
func TestTold_WhereAFindingIs(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	for language, want := range map[string][2]string{"en": {"whole animal", "Mouth"}, "de": {"ganzes Tier", "Maul"}} {
		for i, rough := range []bool{false, true} {
			found := record.Problem{Found: record.Found{What: "mucus", Stop: "mouth", Standing: exam.New, Rough: rough}, Since: on(3, 1), Last: on(3, 1)}
			p := &handover.Papers{Key: key(t).Public(), Record: record.Record{Problems: []record.Problem{found}}}
			if lines := handover.Tell(p, tables, papertest.Text(t, language)).Checked.Lines; !strings.Contains(lines[0], ", "+want[i]+", ") {
				t.Errorf("%s: told is %q, want %q", language, lines[0], want[i])
			}
		}
	}
}

// Nothing is told as not tested for in which it was detected, whatever the sample was; "not
// detected" in what it is not found in says nothing.
func TestTold_WhatWasNotTestedFor(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	text := papertest.Text(t, "en")
	for _, a := range tables.Agents() {
		for outcome, open := range map[samples.Outcome]bool{samples.Detected: false, samples.NotDetected: true, samples.Inconclusive: true} {
			taken := on(3, 1)
			s := record.Sample{Taken: &taken, Material: knowledge.Blood, For: []knowledge.AgentID{a.ID}, Results: []record.Result{{Of: a.ID, Outcome: outcome, When: taken}}}
			p := &handover.Papers{Key: key(t).Public(), Record: record.Record{Samples: []record.Sample{s}}}
			lines := handover.Tell(p, tables, text).Not.Lines
			i := slices.IndexFunc(lines, func(line string) bool { return strings.HasPrefix(line, "Not tested for") })
			if i < 0 {
				t.Fatalf("nothing is told as not tested for: %q", lines)
			}
			if named := strings.Contains(lines[i]+";", " "+text.Say("agent."+string(a.ID))+";") || strings.Contains(lines[i], " "+text.Say("agent."+string(a.ID))+"."); named != open {
				t.Errorf("%s %s in blood: told is %q", a.ID, outcome, lines[i])
			}
		}
	}
}

// A weight that is doubtful is told as papers tell it.
func TestTold_ADoubtfulWeight(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	for language, want := range map[string]string{"en": "The last one: 1432 g (doubtful), by: not said.", "de": "Die letzte: 1432 g (zweifelhaft), von: nicht gesagt."} {
		r := ofOne(t, tables)
		said := func() string {
			return strings.Join(handover.Tell(&handover.Papers{Key: key(t).Public(), Record: r}, tables, papertest.Text(t, language)).Checked.Lines, "\n")
		}
		r.Entries[0].Doubtful = true // not the last
		if strings.Contains(said(), " g (") {
			t.Errorf("%s: the last weight is told as doubtful: %s", language, said())
		}
		r.Entries[1].Doubtful = true
		if !strings.Contains(said(), want) {
			t.Errorf("%s: %q is not in %s", language, want, said())
		}
	}
}

// Whatever a signed record says that this version has no word for, no text is missing.
func TestTold_NoTextIsMissing(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	r := ofOne(t, tables)
	r.Animal.Species, r.Animal.Sex, r.Animal.SexHow, r.Animal.Source = "no-such", "no-such", "no-such", "no-such"
	for i := range r.Checks {
		r.Checks[i].Extent = "no-such"
	}
	for i := range r.Problems {
		r.Problems[i].What, r.Problems[i].Stop, r.Problems[i].Standing = "no-such", "no-such", exam.Same
	}
	for i := range r.Samples {
		r.Samples[i].Material = "no-such"
		r.Samples[i].Results = append(r.Samples[i].Results, record.Result{Of: "no-such", Outcome: "no-such", Method: "no-such", When: on(2, 20)}, record.Result{Of: "no-such", Outcome: samples.Detected, When: on(2, 20)})
	}
	for i := range r.Quarantines {
		r.Quarantines[i].Protocol = "no-such"
	}
	for _, language := range []string{"en", "de"} {
		told := handover.Tell(&handover.Papers{Key: key(t).Public(), Record: r}, tables, papertest.Text(t, language))
		if said := strings.Join(told.Lines(), "\n"); strings.ContainsAny(said, "⟦⟧") || strings.Count(said, "no-such") < 8 {
			t.Errorf("%s: told is\n%s", language, said)
		}
	}
}

// Where everything was tested for with an answer, nothing is told as not tested for.
func TestTold_EverythingWasTestedFor(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	taken := on(3, 1)
	s := record.Sample{Taken: &taken, Material: knowledge.Blood}
	for _, a := range tables.Agents() {
		s.For, s.Results = append(s.For, a.ID), append(s.Results, record.Result{Of: a.ID, Outcome: samples.Detected, When: taken})
	}
	p := &handover.Papers{Key: key(t).Public(), Record: record.Record{Samples: []record.Sample{s}}}
	for _, line := range handover.Tell(p, tables, papertest.Text(t, "en")).Not.Lines {
		if strings.HasPrefix(line, "Not tested for") {
			t.Errorf("told is %q", line)
		}
	}
}

// Of each kind of thing that nobody noted it is said that nobody did, and of nothing else.
func TestTold_WhatNobodyNoted(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	text := papertest.Text(t, "en")
	without := func(kind string) func(*record.Record) {
		return func(r *record.Record) {
			r.Entries = slices.DeleteFunc(r.Entries, func(e record.Entry) bool { return e.Kind == kind })
		}
	}
	for kind, take := range map[string]func(*record.Record){
		"weights": without("weight"), "meals": without("meal"), "sheds": without("shed"), "mites": without("mite-look"),
		"checks": func(r *record.Record) { r.Checks = nil }, "quarantine": func(r *record.Record) { r.Quarantines = nil },
	} {
		said := text.Say("handover.not." + kind)
		for _, missing := range []bool{false, true} {
			p := &handover.Papers{Key: key(t).Public(), Record: ofOne(t, tables)}
			if missing {
				take(&p.Record)
			}
			if told := handover.Tell(p, tables, text); slices.Contains(told.Not.Lines, said) != missing {
				t.Errorf("%s, missing %v: %q", kind, missing, told.Not.Lines)
			}
		}
	}
}
