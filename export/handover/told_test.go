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
			{Found: record.Found{What: "mucus", Stop: "mouth", Standing: exam.Same}, Since: on(1, 10), Last: on(2, 11)},
			{Found: record.Found{What: "mucus", Stop: "mouth", Standing: exam.Gone}, Since: on(1, 11), Last: on(1, 12)},
		},
		Samples: []record.Sample{
			{ID: model.SampleID{ID: model.ID{8}}, Taken: &taken, Material: "oral-swab", For: []knowledge.AgentID{"serpentovirus"}, Lab: "Weir", Others: 1,
				Results: []record.Result{{Of: "serpentovirus", Outcome: samples.NotDetected, When: on(2, 20), Report: "W-1"}}},
			{ID: model.SampleID{ID: model.ID{9}}, Taken: &taken, Material: "oral-swab", For: []knowledge.AgentID{"serpentovirus"}},
			{ID: model.SampleID{ID: model.ID{10}}, Material: "blood", For: []knowledge.AgentID{"serpentovirus"}},
		},
		Quarantines: []record.Quarantine{
			{Arrived: on(1, 1), Protocol: "python", Released: &taken, Lines: []record.Line{{Item: "days", State: quarantine.Met}, {Item: "mites", State: quarantine.NotMet}, {Item: "meals", State: quarantine.CannotTell}}},
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
		"After the last check the tables of that day asked for: Vet within days. A vet by 14 February 2027.",
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
		"Not tested for, or without an answer that says anything: Ferlavirus; Cryptosporidium serpentis; Cryptosporidium, species not told; Worms and protozoa in faeces.",
		"No answer that stands of what was taken on 3 February 2027: Mouth swab.",
		"When the animal hatched is not known.",
		"The sex is not known, or not how it is known.",
		"No source code is noted: ask for the proof of legal origin that your law asks for.",
		"Records that could not be read when the file was made: 3.",
		"What nobody noted is not here. Notes, and from whom the animal came, do not go with this file. Ask about them.",
	}, "de": {
		"Python regius · weiblich",
		"Kontrollen: 2 vom 10. Januar 2027 bis zum 11. Februar 2027, davon ganz von der Schnauze bis zum Schwanz: 1. Die letzte: Teil einer Kontrolle, 18 von 18 Stellen angesehen oder abgetastet, von: Mira.",
		"Nach der letzten Kontrolle verlangten die Tabellen jenes Tages: Tierarzt, nächste Tage. Tierarzt bis zum 14. Februar 2027.",
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
		"Nicht darauf getestet, oder ohne Antwort, die etwas sagt: Ferlavirus; Cryptosporidium serpentis; Kryptosporidien, Art nicht genannt; Würmer und Einzeller im Kot.",
		"Keine gültige Antwort auf das, was am 3. Februar 2027 genommen wurde: Maultupfer.",
		"Wann das Tier geschlüpft ist, weiß niemand.",
		"Das Geschlecht ist nicht bekannt, oder nicht, woher man es weiß.",
		"Es ist kein Herkunftscode notiert: bitte nach dem Nachweis der legalen Herkunft fragen, den das Recht verlangt.",
		"Aufzeichnungen, die nicht zu lesen waren, als die Datei gemacht wurde: 3.",
		"Was niemand notiert hat, steht nicht hier. Notizen, und von wem das Tier kam, gehen mit dieser Datei nicht mit. Bitte danach fragen.",
	}} {
		told := handover.Tell(p, tables, papertest.Text(t, language))
		if got := slices.Concat([]string{told.Who}, told.Checked.Lines, told.Not.Lines); !slices.Equal(got, want) {
			t.Errorf("%s: told is\n%s\nwant\n%s", language, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
}
