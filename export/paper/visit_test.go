package paper_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/husbandry"
	"coilward/model/medicine"
	"coilward/model/people"
)

// Visits stand in the record as they were declared; the page for a vet has the last ones
// and the open questions in their exact words, and stays one page however many there are.
func TestVisitsStandOnThePapers(t *testing.T) {
	k := keep(t)
	vet := model.PersonID{ID: k.do(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}}})}
	ask := func(words string) medicine.QuestionID {
		return medicine.QuestionID{ID: k.do(medicine.AskQuestion{Animal: k.animal, At: k.now(), Words: words})}
	}
	bath, scab := ask("May she bathe?"), ask("Is the scab old skin, or does it grow?")
	k.do(due.HoldVisit{HoldVisit: medicine.HoldVisit{Animal: k.animal, At: k.now(), Visit: medicine.Visit{Vet: vet, Practice: "at the mill", Reason: "a scab", Held: &medicine.Held{Said: "Looked at under the lamp."}}, Answers: []medicine.Answered{{Question: bath, Base: 1, Said: "Not yet."}}}})
	k.do(medicine.PlanVisit{Animal: k.animal, At: model.MomentOn(k.now(), k.now().Day()+9, model.Noon, model.ToDay), Visit: medicine.Visit{Practice: "planned and not held"}})
	facts := func() (f paper.Facts) {
		k.view(func(v model.View) error {
			g, err := paper.Gather(v, paper.Gathering{Animal: k.animal, Tables: k.tables})
			f = g.Facts()
			return err
		})
		return f
	}
	record := paper.Plain(paper.HealthRecord(facts(), papertest.Keys{}, paper.A4))
	page := paper.Plain(paper.VetPage(facts(), papertest.Keys{}, paper.A4))
	for name, said := range map[string]string{"record": record, "page": page} {
		for _, want := range []string{"Dr Ada Fern", "at the mill", "Looked at under the lamp.", "paper.visit.answered{Question=May she bathe? Said=Not yet.}"} {
			if !strings.Contains(said, want) {
				t.Errorf("the %s does not say %q:\n%s", name, want, said)
			}
		}
		if strings.Contains(said, "planned and not held") {
			t.Errorf("the %s tells of a visit that was not held", name)
		}
	}
	if !strings.Contains(page, "Is the scab old skin, or does it grow?") || strings.Contains(record, "old skin") {
		t.Errorf("the open question:\n%s", page)
	}
	k.do(medicine.WithdrawQuestion{ID: scab, Base: 1, At: k.now()})
	if said := paper.Plain(paper.VetPage(facts(), papertest.Keys{}, paper.A4)); strings.Contains(said, "old skin") || strings.Contains(said, "paper.vet.keeper-asks") {
		t.Error("a question that was withdrawn is asked")
	}
	long := strings.Repeat("why does this go on so long, ", medicine.MaxQuestion/30)
	for i := range 12 {
		ask(fmt.Sprintf("%d: %s", i, long))
		k.do(due.HoldVisit{HoldVisit: medicine.HoldVisit{Animal: k.animal, At: k.now(), Confirmed: model.Confirmed{"visit.twice"}, Visit: medicine.Visit{Vet: vet, Reason: long[:190], Held: &medicine.Held{Said: strings.Repeat(long, 9)}}}})
	}
	for _, size := range []paper.Size{paper.A4, paper.Letter} {
		d := paper.VetPage(facts(), papertest.Text(t, "de"), size)
		if n := len(paper.Layout(d)); n != 1 {
			t.Errorf("%d pages", n)
		}
		if said := paper.Plain(d); !strings.Contains(said, strings.TrimSpace("0: "+long)) || !strings.Contains(said, "und noch 11") {
			t.Errorf("a question is cut, or the rest not counted:\n%s", said)
		}
	}
}

// Whether a volume stays is asked by a weight; where that is doubtful it is said there.
func TestAVolumeByADoubtfulWeightIsAskedSo(t *testing.T) {
	for _, good := range []bool{true, false} {
		k := keep(t)
		scale := model.InstrumentID{ID: k.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Kitchen scale", Kind: husbandry.Scale}})}
		about := func() care.About {
			a := k.about()
			a.Confirmed = model.Confirmed{"mass.unlike"}
			return a
		}
		weigh := func(grams int64) {
			k.do(care.Weigh{About: about(), Weight: care.Weight{Mass: model.Grams(grams), Gut: care.GutEmpty, With: scale}})
		}
		weigh(1000)
		vet := k.do(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}}})
		k.do(medicine.Prescribe{Tables: k.tables, Animal: k.animal, At: k.now(), Prescription: medicine.Prescription{Medicine: "Brown solution", Vet: model.PersonID{ID: vet}, Form: medicine.Volume,
			Route: medicine.ByMouth, Begins: k.now(), Steps: []medicine.Step{{Day: 1, Times: 40, Every: 24, Dose: medicine.Amount{Millionths: 300_000}}}}})
		k.clock.Pass(30 * 24 * time.Hour)
		weigh(1300)
		k.do(husbandry.CheckInstrument{Instrument: scale, At: k.now(), Check: husbandry.InstrumentCheck{Good: good}})
		var f paper.Facts
		k.view(func(v model.View) error {
			g, err := paper.Gather(v, paper.Gathering{Animal: k.animal, Tables: k.tables})
			f = g.Facts()
			return err
		})
		said := paper.Plain(paper.VetPage(f, papertest.Keys{}, paper.A4))
		_, asked, there := strings.Cut(said, "paper.vet.ask-volume{")
		if line, _, _ := strings.Cut(asked, "\n"); !there || strings.Contains(line, "instruments.doubtful-weight{Scale=Kitchen scale}") == good {
			t.Errorf("good %t: %q", good, line)
		}
	}
}
