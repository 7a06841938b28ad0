package paper_test

import (
	"fmt"
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/welfare"
)

// What was noted of how the animal is stands on the record and on the page for the vet with
// n and dates; a bite stands on neither; without any of it there is no such section.
func TestTheRecordSaysHowItIs(t *testing.T) {
	k := keep(t)
	en := papertest.Text(t, "en")
	if said := paper.Plain(paper.HealthRecord(k.facts(), en, paper.A4)); strings.Contains(said, "How it is") {
		t.Error("a section of nothing")
	}
	about := func(ago int) care.About {
		return care.About{Animal: k.animal, At: model.MomentOn(k.now(), k.now().Day()-model.Day(ago), model.Noon, model.ToDay), Confirmed: model.Confirmed{"day.before-arrival", "day.before-hatched"}}
	}
	var first model.Day
	for week := range 12 {
		o := welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"hissing", "restless"}}
		if week < 6 {
			o.Signs = []knowledge.SignID{"exploring"}
		}
		at := about(7*week + 1)
		first = at.At.Day()
		k.do(welfare.Observe{Tables: k.tables, About: at, Observation: o})
	}
	k.do(welfare.Observe{Tables: k.tables, About: about(0), Observation: welfare.Observation{Setting: knowledge.Untouched, Breaths: &welfare.Breaths{Count: 8, Seconds: 120}}})
	k.do(welfare.Handle{Tables: k.tables, About: about(2), Handling: welfare.Handling{Lifts: 2, Hand: 5, Container: 20}})
	k.do(welfare.Try{About: about(42), Change: welfare.Change{What: "Not lifted any more", Setting: knowledge.Untouched, Hoped: welfare.LessUnease}})
	who := model.PersonID{ID: k.do(people.Add{Person: people.Person{Name: "Ada Bitten"}})}
	k.do(welfare.NoteContact{Person: who, At: k.now(), PersonContact: welfare.PersonContact{What: welfare.Bite, Animal: k.animal, Note: "the thumb"}})
	f := k.facts()
	for language, want := range map[string][]string{
		"en": {"How it is: behaviour and handling", "12 visits noted, since " + en.Day(first), "Untouched visit", "0 of 4 visits", "6 of 8 visits", "4 breaths a minute", "1 handling · 2 lifts · 5 minutes in the hand · 20 minutes in a bag or tub",
			"Not lifted any more. Since ", "Helped: −2 signs a visit, 6 weeks against 6, p 0.002."},
		"de": {"Wie es dem Tier geht: Verhalten und Handling", "0 von 4 Besuchen", "4 Atemzüge in der Minute", "Hat geholfen: −2 Zeichen je Besuch, 6 Wochen gegen 6, p 0,002."},
	} {
		text := papertest.Text(t, language)
		record, vet := paper.Plain(paper.HealthRecord(f, text, paper.A4)), paper.Plain(paper.VetPage(f, text, paper.A4))
		for _, w := range want {
			if !strings.Contains(record, w) {
				_, said, _ := strings.Cut(record, want[0])
				t.Errorf("%s: it does not say %q:\n%.1500s", language, w, said)
			}
		}
		from, until := text.DayShort(f.Issued.Day()-29), text.DayShort(f.Issued.Day())
		if !strings.Contains(vet, map[string]string{"en": "Behaviour, " + from + " to " + until + ": Untouched visit: unease ", "de": "Verhalten, " + from + " bis " + until + ": Besuch ohne Anfassen: Unbehagen "}[language]) {
			t.Errorf("%s: the page for the vet does not say it:\n%s", language, vet)
		}
		for _, said := range []string{record, vet} {
			if strings.Contains(said, "Bitten") || strings.Contains(said, "thumb") {
				t.Errorf("%s: a bite stands on a paper", language)
			}
		}
	}
	if n := f.Unknown[welfare.KindObservation]; n > 0 {
		t.Errorf("%d visits are said to be of a kind that is not known", n)
	}
}

// Open mouth of yesterday stands on the record and on the page for the vet, and is asked
// there, though today's count is calm; a far count stands beside the signs of its visit.
func TestOpenMouthIsNotLostOnPaper(t *testing.T) {
	k := keep(t)
	observe := func(ago int, o welfare.Observation) {
		o.Setting = knowledge.Untouched
		k.do(welfare.Observe{Tables: k.tables, About: care.About{Animal: k.animal, At: model.MomentOn(k.now(), k.now().Day()-model.Day(ago), model.Noon, model.ToDay), Confirmed: model.Confirmed{"day.before-arrival", "day.before-hatched"}}, Observation: o})
	}
	for ago := range 3 {
		observe(ago+3, welfare.Observation{Breaths: &welfare.Breaths{Count: 8, Seconds: 120}})
	}
	observe(1, welfare.Observation{Signs: []knowledge.SignID{knowledge.OpenMouth}, Breaths: &welfare.Breaths{Count: 24, Seconds: 120}})
	observe(0, welfare.Observation{Breaths: &welfare.Breaths{Count: 8, Seconds: 120}})
	f := k.facts()
	for language, want := range map[string]struct{ said, calm, asked, nothing string }{
		"en": {"Breathing with open mouth. 12 breaths a minute, over twice its own 4 by 3 quiet counts.", "4 breaths a minute; its own is 4", " What is it, and what is to be done?", "ask nothing of a vet"},
		"de": {"Atmet mit offenem Maul. 12 Atemzüge in der Minute, mehr als das Doppelte der eigenen 4 aus 3 ruhigen Zählungen.", "4 Atemzüge in der Minute; der eigene Wert", " Was ist es, und was ist zu tun?", "keine Frage an den Tierarzt"},
	} {
		text := papertest.Text(t, language)
		record, vet := paper.Plain(paper.HealthRecord(f, text, paper.A4)), paper.Plain(paper.VetPage(f, text, paper.A4))
		for paper, said := range map[string]string{"record": record, "vet page": vet} {
			if !strings.Contains(said, want.said) || !strings.Contains(said, want.calm) {
				t.Errorf("%s, %s:\n%s", language, paper, said)
			}
		}
		if !strings.Contains(vet, want.said+want.asked) || strings.Contains(vet, want.nothing) {
			t.Errorf("%s: it is not asked:\n%s", language, vet)
		}
	}
}

// Whatever sign of heavy breathing was seen in the days that count as lately, the page for the vet asks
// of it and does not say that nothing is open; of one before them it does not ask, once a calm
// count followed.
func TestHeavyBreathingOfTheMonthIsAsked(t *testing.T) {
	for sign, said := range map[knowledge.SignID]string{"heavy-breathing": "Heavy, fast or noisy breathing.", knowledge.OpenMouth: "Breathing with open mouth."} {
		for ago, asked := range map[int]bool{0: true, 29: true, 30: false} {
			k := keep(t)
			observe := func(ago int, o welfare.Observation) {
				o.Setting = knowledge.Untouched
				k.do(welfare.Observe{Tables: k.tables, About: care.About{Animal: k.animal, At: model.MomentOn(k.now(), k.now().Day()-model.Day(ago), model.Noon, model.ToDay), Confirmed: model.Confirmed{"day.before-arrival", "day.before-hatched"}}, Observation: o})
			}
			before := paper.Plain(paper.VetPage(k.facts(), papertest.Text(t, "en"), paper.A4))
			observe(ago, welfare.Observation{Signs: []knowledge.SignID{sign}})
			observe(0, welfare.Observation{Breaths: &welfare.Breaths{Count: 8, Seconds: 120}})
			page := paper.Plain(paper.VetPage(k.facts(), papertest.Text(t, "en"), paper.A4))
			if strings.Contains(page, said+" What is it, and what is to be done?") != asked {
				t.Errorf("%s, %d days ago; asked, want %v:\n%s", sign, ago, asked, page)
			}
			if open := strings.Contains(page, "ask nothing of a vet"); open && asked || !asked && open != strings.Contains(before, "ask nothing of a vet") {
				t.Errorf("%s, %d days ago; nothing is open: %v", sign, ago, open)
			}
		}
	}
}

// That a count was stopped early is told wherever it is told; the keeper alone is asked to count anew.
func TestACountThatWasStoppedEarlyIsCalledSo(t *testing.T) {
	for seconds, short := range map[int]bool{20: true, 119: true, 120: false} {
		k := keep(t)
		k.do(welfare.Observe{Tables: k.tables, About: k.about(), Observation: welfare.Observation{Setting: knowledge.Untouched, Breaths: &welfare.Breaths{Count: 8, Seconds: seconds}}})
		text, f := papertest.Text(t, "en"), k.facts()
		said := fmt.Sprintf("Counted for %d seconds alone.", seconds)
		for name, page := range map[string]string{"record": paper.Plain(paper.HealthRecord(f, text, paper.A4)), "vet page": paper.Plain(paper.VetPage(f, text, paper.A4))} {
			if strings.Contains(page, said) != short || strings.Contains(page, "Please count") {
				t.Errorf("%s, %d seconds:\n%s", name, seconds, page)
			}
		}
		if own := paper.BreathsSaid(text, k.tables, f.Behaviour.Breaths[0]); strings.Contains(own, said) != short || strings.Contains(own, "Please count 120 seconds.") != short {
			t.Errorf("to the keeper, %d seconds: %s", seconds, own)
		}
	}
}
