package paper_test

import (
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/label"
)

// The sheet for a round: residents before the one for the vet, what lies between them by
// the tables, the newcomer on a sheet of its own with a code of its own.
func TestRoundSheet(t *testing.T) {
	k := keep(t)
	box := k.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Mill box", Kind: husbandry.Enclosure}}}})
	k.do(husbandry.Move{Animal: k.animal, Place: model.PlaceID{ID: box}, At: k.now()})
	old := func(name string) model.AnimalID {
		return model.AnimalID{ID: k.do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept, Since: model.Date{Day: k.now().Day() - 400, Precision: model.ToDay}}})}
	}
	ill := old("Sorrel")
	old("Ash")
	k.do(animals.Add{Animal: animals.Animal{Name: "Plover", Species: "python-regius", Status: animals.Kept, Since: model.Date{Day: k.now().Day() - 5, Precision: model.ToDay}}})
	k.do(animals.Add{Animal: animals.Animal{Name: "Quail", Species: "python-regius", Status: animals.Kept, Since: model.Date{Day: k.now().Day() - 4, Precision: model.ToDay}}})
	for _, a := range []model.AnimalID{ill, old("Tansy")} {
		k.do(care.RecordWaste{About: care.About{Animal: a, At: k.now()}, Waste: care.Waste{Faeces: []care.Trait{care.Blood}}})
	}
	var s paper.RoundSheet
	k.view(func(v model.View) (err error) { s, err = paper.GatherRoundSheet(v, k.tables, ""); return err })
	if len(s.Parts) != 2 || !s.Parts[1].Apart || s.Parts[0].Code.Kind != label.RoundSheet || s.Parts[0].Code.ID == s.Parts[1].Code.ID {
		t.Fatalf("parts %+v", s.Parts)
	}
	d, err := paper.RoundSheetPaper(s, papertest.Keys{}, paper.A4)
	if err != nil {
		t.Fatal(err)
	}
	plain := paper.Plain(d)
	for _, want := range []string{"Ash", "round.before", "round.measure.hands, round.measure.gloves, round.measure.tools", "Sorrel", "round.class.ill: round.why.noted", "round.gas{Means=means.hypochlorite-half With=round.gas-with.acid, round.gas-with.ammonia}", "Tansy",
		"paper.power-cut.sources", "paper.round.source{Means=means.hypochlorite-half Source=<common practice, no source: the usual working strength",
		"round.part.apart", "Plover", "round.class.newcomer: round.why-since.newcomer", "round.never-mixed", "round.gas{Means=means.peroxymonosulfate-1 With=round.gas-with.chlorine}", "round.vain{Means=means.hypochlorite-half Target=target.cryptosporidium}", "Quail",
		"paper.round.source{Means=means.hypochlorite-half Source=<common practice, no source: weaker than the 6 %"} {
		_, rest, found := strings.Cut(plain, want)
		if !found {
			t.Fatalf("%q is missing, or not in its place, in\n%s", want, paper.Plain(d))
		}
		plain = rest
	}
}
