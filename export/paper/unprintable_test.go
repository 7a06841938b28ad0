package paper_test

import (
	"strings"
	"testing"
	"time"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/medicine"
	"coilward/model/people"
)

// A sign that no face has is printed as a box, and every paper that has one says what the
// box stands for; no other does.
func TestABoxIsExplained(t *testing.T) {
	for name, boxed := range map[string]bool{"Merlin": false, "鷹": true} {
		k := keep(t)
		k.animal.ID = k.do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept}})
		k.do(care.Weigh{About: k.about(), Weight: care.Weight{Mass: model.Grams(1450), Gut: care.GutEmpty}})
		vet := k.do(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}}})
		k.do(medicine.Prescribe{Tables: k.tables, Animal: k.animal, At: k.now(), Prescription: medicine.Prescription{Medicine: name + " drops", Vet: model.PersonID{ID: vet}, Form: medicine.InWords, Route: medicine.ByMouth,
			Begins: k.now(), Steps: []medicine.Step{{Day: 1, Times: 4, Every: 24, Words: "as the label says"}}}})
		k.clock.Pass(time.Hour)
		var f paper.Facts
		var weights paper.WeighSheet
		k.view(func(v model.View) error {
			g, err := paper.Gather(v, paper.Gathering{Animal: k.animal, Tables: k.tables})
			if err != nil {
				return err
			}
			f = g.Facts()
			weights, err = paper.GatherWeighSheet(v, model.PlaceID{}, v.Now().Day())
			return err
		})
		text := papertest.Text(t, "en")
		papers := map[string]paper.Document{"record": paper.HealthRecord(f, text, paper.A4), "card": paper.EmergencyCard(f, nil, text), "vet": paper.VetPage(f, text, paper.A4),
			"sitter": paper.SitterPaper(k.sitting(7), nil, k.tables, text, paper.A4)}
		var err error
		if papers["weighing list"], err = paper.WeighSheetPaper(weights, text, paper.A4); err != nil {
			t.Fatal(err)
		}
		for which, d := range papers {
			if said := strings.Contains(paper.Plain(d), "□ stands for a sign"); said != boxed {
				t.Errorf("the %s of %s says what a box stands for: %v", which, name, said)
			}
		}
	}
}
