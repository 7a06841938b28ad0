package paper_test

import (
	"slices"
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

func (k *kept) powerCut() (p paper.PowerCutPlan) {
	k.t.Helper()
	k.view(func(v model.View) (err error) { p, err = paper.GatherPowerCut(v, k.tables); return err })
	return p
}

func TestThePaperForAPowerCut_SaysWhoFirstAndWhy(t *testing.T) {
	k := keep(t)
	room := k.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Mill box", Kind: husbandry.Enclosure}}}})
	k.do(husbandry.Move{Animal: k.animal, Place: model.PlaceID{ID: room}, At: k.now()})
	k.do(care.Weigh{About: k.about(), Weight: care.Weight{Mass: model.Grams(900), Gut: care.GutEmpty}})
	k.do(animals.Add{Animal: animals.Animal{Name: "Unweighed", Species: "python-regius"}})
	k.do(animals.Add{Animal: animals.Animal{Name: "Lent", Species: "python-regius", Status: animals.OnLoan}})
	k.do(animals.Add{Animal: animals.Animal{Name: "Hatchling", Species: "python-regius", Hatched: model.Date{Day: k.now().Day() - 20, Precision: model.ToDay}}})
	gone := k.do(animals.Add{Animal: animals.Animal{Name: "Gone", Species: "python-regius"}})
	k.do(animals.SetStatus{ID: model.AnimalID{ID: gone}, Base: 1, Status: animals.Died, Day: model.Date{Day: k.now().Day(), Precision: model.ToDay}})
	p := k.powerCut()
	var names []string
	for _, turn := range p.House.Turns {
		names = append(names, turn.Name)
	}
	if want := []string{"Hatchling", "Unweighed", "Kestrel"}; !slices.Equal(names, want) {
		t.Errorf("in the order %v, want %v", names, want)
	}
	for language, want := range map[string][]string{
		"en": {"Hatchling", "mass not known", "Mill box", "900", "carbon monoxide", "hot bottle", "Do not feed", "assumed", "1, 3, 7, 14", "Not by species", "Vet"},
		"de": {"Schlüpfling", "Gewicht nicht bekannt", "Mill box", "900", "Kohlenmonoxid", "heiße Flasche", "Nicht füttern", "angenommen", "1, 3, 7, 14", "Nicht nach Art"},
	} {
		said := paper.Plain(paper.PowerCutPaper(p, nil, papertest.Text(t, language), paper.A4))
		for _, w := range want {
			if !strings.Contains(said, w) {
				t.Errorf("%s: the paper does not say %q:\n%s", language, w, said)
			}
		}
		if warmth := papertest.Text(t, language).Temperature(model.Temperature{Hundredths: 2000}); !strings.Contains(said, warmth) {
			t.Errorf("%s: it does not say %s", language, warmth)
		}
		for _, not := range []string{"Lent", "Gone"} {
			if strings.Contains(said, not) {
				t.Errorf("%s: %s is on the paper", language, not)
			}
		}
		for _, c := range k.tables.Rescue() {
			if word := papertest.Text(t, language).Say("rescue.why." + string(c.ID)); !strings.Contains(said, word) {
				t.Errorf("%s: it does not say that %q has a turn", language, word)
			}
		}
	}
}

// Whoever carries an ill animal washes before the next; among residents nobody does.
func TestThePaperForAPowerCut_KeepsToTheOrderOfHands(t *testing.T) {
	k := keep(t)
	for _, name := range []string{"First", "Second"} {
		k.do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius"}})
	}
	if h := k.powerCut().House; h.Washed(0) || h.Washed(1) || h.Washed(2) {
		t.Errorf("washed among residents: %+v", h.Turns)
	}
	k.check("rest", "gaping")
	p := k.powerCut()
	if p.House.Turns[0].Name != "Kestrel" || !slices.Equal(p.House.Turns[0].Why[:2], []knowledge.RescueID{knowledge.RescueEmergency, knowledge.RescueAirway}) || !p.House.Washed(1) || p.House.Washed(2) {
		t.Errorf("got %+v, want the one with an emergency of the airways first, and hands washed behind it", p.House.Turns)
	}
}
