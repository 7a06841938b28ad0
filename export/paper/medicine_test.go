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
	"coilward/model/medicine"
	"coilward/model/people"
)

// A course stands in the record as it was declared, on the emergency card while it goes
// on, and for the sitter on each day with its volume and what is never to be done.
func TestACourseStandsOnThePapers(t *testing.T) {
	k := keep(t)
	k.do(care.Weigh{About: k.about(), Weight: care.Weight{Mass: model.Grams(1450), Gut: care.GutEmpty}})
	vet := k.do(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}}})
	id := medicine.PrescriptionID{ID: k.do(medicine.Prescribe{Tables: k.tables, Animal: k.animal, At: k.now(), Prescription: medicine.Prescription{Medicine: "Brown solution", Vet: model.PersonID{ID: vet}, Form: medicine.PerKilogram,
		Measure: medicine.Milligrams, Concentration: medicine.Amount{Millionths: 50_000_000}, Route: medicine.ByMouth, Begins: k.now(), Recheck: model.Date{Day: k.now().Day() + 4, Precision: model.ToDay}, Steps: []medicine.Step{{Day: 1, Times: 4, Every: 24, Dose: medicine.Amount{Millionths: 20_000_000}}}}})}
	k.do(medicine.Tell{Tables: k.tables, ID: id, Base: 1, Number: 1, Did: medicine.Given, At: k.now()})
	k.clock.Pass(24 * time.Hour)
	card := func() string {
		var f paper.Facts
		k.view(func(v model.View) error {
			g, err := paper.Gather(v, paper.Gathering{Animal: k.animal, Tables: k.tables})
			f = g.Facts()
			return err
		})
		if record := paper.Plain(paper.HealthRecord(f, papertest.Keys{}, paper.A4)); !strings.Contains(record, "Brown solution") || !strings.Contains(record, "Dr Ada Fern") || !strings.Contains(record, "medicine.tally{Given=1 Planned=4}") {
			t.Errorf("the record says nothing of the course:\n%s", record)
		}
		return paper.Plain(paper.EmergencyCard(f, nil, papertest.Keys{}))
	}
	if said := card(); !strings.Contains(said, "paper.medicine.current{") {
		t.Errorf("the card:\n%s", said)
	}
	plain := paper.Plain(paper.SitterPaper(k.sitting(7), nil, k.tables, papertest.Keys{}, paper.A4))
	if n := strings.Count(plain, "paper.medicine.dose{"); n != 3 || strings.Count(plain, "paper.medicine.never") != n || strings.Count(plain, "580µl: medicine.worked-out{") != n {
		t.Errorf("%d doses for the sitter:\n%s", n, plain)
	}
	if strings.Count(plain, "due.job.vet-visit") != 1 || strings.Contains(plain, "medicine.inject-caution") || strings.Contains(plain, "medicine.expired") {
		t.Errorf("the sitter is not told when the vet wants to see it, or of a needle that there is none of:\n%s", plain)
	}
	k.do(medicine.End{ID: id, Base: 2, At: k.now(), Why: medicine.VetsWord, Note: "as the vet said"})
	if said := card(); strings.Contains(said, "paper.medicine.current{") {
		t.Error("the card names a course that is over")
	}
	if plain := paper.Plain(paper.SitterPaper(k.sitting(7), nil, k.tables, papertest.Keys{}, paper.A4)); strings.Contains(plain, "paper.medicine.dose{") {
		t.Error("the sitter is to give what is over")
	}
	k.do(medicine.Prescribe{Tables: k.tables, Animal: k.animal, At: k.now(), Prescription: medicine.Prescription{Medicine: "Clear solution", Vet: model.PersonID{ID: vet}, Form: medicine.InWords, Route: medicine.UnderSkin,
		Pack: medicine.Pack{Expires: model.Date{Day: k.now().Day() - 1, Precision: model.ToDay}}, Begins: k.now(), Steps: []medicine.Step{{Day: 1, Times: 2, Every: 24, Words: "as shown"}}}})
	plain = paper.Plain(paper.SitterPaper(k.sitting(7), nil, k.tables, papertest.Keys{}, paper.A4))
	if strings.Count(plain, "medicine.inject-caution") != 2 || strings.Count(plain, "medicine.expired{") != 2 {
		t.Errorf("the sitter injects without a caution, or from a pack that has expired:\n%s", plain)
	}
	if strings.Contains(plain, "paper.medicine.weight-old") {
		t.Errorf("a weight that no dose goes by is to be taken again:\n%s", plain)
	}
	k.do(medicine.Prescribe{Tables: k.tables, Animal: k.animal, At: k.now(), Prescription: medicine.Prescription{Medicine: "Grey solution", Vet: model.PersonID{ID: vet}, Form: medicine.PerKilogram,
		Measure: medicine.Milligrams, Concentration: medicine.Amount{Millionths: 50_000_000}, Route: medicine.ByMouth, Begins: k.now(), Steps: []medicine.Step{{Day: 1, Times: 9, Every: 24, Dose: medicine.Amount{Millionths: 20_000_000}}}}})
	plain = paper.Plain(paper.SitterPaper(k.sitting(14), nil, k.tables, papertest.Keys{}, paper.A4))
	if n := strings.Count(plain, "paper.medicine.weight-old{Days=7}"); n != 2 { // weighed the day before the first: those of days 8 and 9
		t.Errorf("%d doses go by a weight that is too old, want 2:\n%s", n, plain)
	}
}

// The sitter is told what there is against a dose as the keeper is: that it is too little to be
// measured, and that the weight has changed since a fixed volume was written. The smallest
// volume and the change: the table of values.
func TestTheSitterIsToldWhatIsAgainstADose(t *testing.T) {
	for name, c := range map[string]struct {
		mass  int64 // in grams, when it was prescribed and now
		now   int64
		form  medicine.Form
		dose  int64 // in millionths
		small bool
		apart bool
	}{
		"25 microlitres by weight":             {50, 50, medicine.PerKilogram, 25_000_000, true, false},
		"50 microlitres by weight":             {100, 100, medicine.PerKilogram, 25_000_000, false, false},
		"a fixed volume, a tenth heavier":      {100, 110, medicine.Volume, 100_000, false, false},
		"a fixed volume, a half heavier":       {100, 150, medicine.Volume, 100_000, false, true},
		"a fixed volume, lighter by a half":    {100, 50, medicine.Volume, 100_000, false, true},
		"in words, whatever the weight may be": {100, 50, medicine.InWords, 0, false, false},
	} {
		k := keep(t)
		k.do(care.Weigh{About: k.about(), Weight: care.Weight{Mass: model.Grams(c.mass), Gut: care.GutEmpty}})
		vet := k.do(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}}})
		p := medicine.Prescription{Medicine: "Brown solution", Vet: model.PersonID{ID: vet}, Form: c.form, Route: medicine.ByMouth, Begins: k.now(), Steps: []medicine.Step{{Day: 1, Times: 2, Every: 24, Dose: medicine.Amount{Millionths: c.dose}}}}
		switch c.form {
		case medicine.PerKilogram:
			p.Measure, p.Concentration = medicine.Milligrams, medicine.Amount{Millionths: 50_000_000}
		case medicine.Volume:
			p.Mass = model.Grams(c.mass)
		default:
			p.Steps[0].Words = "as shown"
		}
		k.do(medicine.Prescribe{Tables: k.tables, Animal: k.animal, At: k.now(), Prescription: p})
		if c.now != c.mass {
			k.clock.Pass(time.Minute)
			about := k.about()
			about.Confirmed = model.Confirmed{"mass.unlike"}
			k.do(care.Weigh{About: about, Weight: care.Weight{Mass: model.Grams(c.now), Gut: care.GutEmpty}})
		}
		plain := paper.Plain(paper.SitterPaper(k.sitting(7), nil, k.tables, papertest.Keys{}, paper.A4))
		doses := strings.Count(plain, "paper.medicine.dose{")
		count := func(said bool) int {
			if said {
				return doses
			}
			return 0
		}
		if n := strings.Count(plain, "medicine.too-small"); doses != 2 || n != count(c.small) {
			t.Errorf("%s: %d of %d are called too little:\n%s", name, n, doses, plain)
		}
		if n := strings.Count(plain, fmt.Sprintf("medicine.apart{Before=%dmg Now=%dmg}", c.mass*1000, c.now*1000)); n != count(c.apart) {
			t.Errorf("%s: of %d of %d it is told that the weight has changed:\n%s", name, n, doses, plain)
		}
	}
}
