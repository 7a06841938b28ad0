package shelf_test

import (
	"slices"
	"testing"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/due"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/round"
	"coilward/ui/shelf"
	"coilward/ui/uitest"
)

// arranged is the house as the shelf shows it.
func arranged(t *testing.T, h *hand) *shelf.House {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	var house *shelf.House
	if err := h.Collection().View(func(v model.View) error {
		all, err := shelf.LoadAnimals(v, tables, v.Now(), nil)
		if err != nil {
			return err
		}
		places, err := husbandry.ReadHouse(v)
		if err == nil {
			house = shelf.Arrange(tables, places, husbandry.Scales{}, all, due.List{}, v.Now())
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return house
}

// One that came from elsewhere counts as a newcomer for 90 days (seen: hobby
// quarantine pages; others name 30 to 365 days), one that hatched here does not;
// the room counts as its latest class.
func TestNewcomersAreOnTheShelf(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 4, "Ash") })
	today := model.MomentOf(h.Clock.Now()).Day()
	day := func(ago int) model.Date { return model.Date{Day: today - model.Day(ago), Precision: model.ToDay} }
	for _, a := range []animals.Animal{{Name: "Brook", Since: day(89)}, {Name: "Fern", Since: day(90)}, {Name: "Wren", Since: day(20), Hatched: day(20)}} {
		a.Status, a.Species = animals.Kept, "python-regius"
		do(t, h.Collection(), animals.Add{Animal: a})
	}
	house := arranged(t, h)
	for name, want := range map[string]round.Class{"Ash": round.Resident, "Brook": round.Newcomer, "Fern": round.Resident, "Wren": round.Resident} {
		if a := house.Animal(h.Animal(name).ID); a.Class() != want || !slices.Contains(a.Classes, want) {
			t.Errorf("%s counts as %v, want %v", name, a.Classes, want)
		}
	}
}

// What a vet should hear of beside every finding makes an animal ill on the shelf
// too: a loss of a tenth of the weight, and a young one without a meal for 28 days
// (common practice, no source). The feed walk says so before food is offered.
func TestWhatIsForTheVetIsIllOnTheShelf(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook", "Wren") })
	h.Clock.Pass(30 * 24 * time.Hour) // nobody was fed in this time
	at := func(name string, ago int, mass int64) {
		do(t, h.Collection(), care.Weigh{About: care.About{Animal: h.Animal(name).ID, At: model.MomentOf(h.Clock.Now().AddDate(0, 0, -ago))}, Weight: care.Weight{Mass: model.Grams(mass)}})
	}
	for _, ago := range []int{100, 80, 60} {
		at("Ash", ago, 1400)
		at("Wren", ago, 1400)
	}
	at("Ash", 1, 1250)
	at("Wren", 1, 1390)
	at("Brook", 40, 90)
	at("Brook", 1, 90)
	house := arranged(t, h)
	for name, want := range map[string]round.Class{"Ash": round.Ill, "Brook": round.Ill, "Wren": round.Resident} {
		if a := house.Animal(h.Animal(name).ID); a.Class() != want {
			t.Errorf("%s counts as %v, want %v", name, a.Classes, want)
		}
	}
	h.press("1\n") // nobody was ever offered food: Wren, who is not ill, comes first
	if h.Shows("Something is for the vet") {
		t.Errorf("it is said of Wren: %q", uitest.Texts(h.Content()))
	}
	h.press("3")
	if !h.Shows("Something is for the vet") {
		t.Errorf("the feed walk says nothing of it: %q", uitest.Texts(h.Content()))
	}
}

// Mites that stand make an animal ill, and two looks of one minute that see none
// change nothing of it. None seen a week apart end that; it is near a positive
// until the watch is over, after 77 days where how warm it lives is not known
// (computed, the worst case of published spans).
func TestMitesHoldTheClass(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 2, "Ash") })
	look := func(g care.MiteGrade) {
		do(t, h.Collection(), care.LookForMites{About: care.About{Animal: h.Animal("Ash").ID, At: model.MomentOf(h.Clock.Now())}, MiteLook: care.MiteLook{Grade: g, Where: []care.MiteWhere{care.OnAnimal}}})
	}
	class := func(want round.Class) {
		t.Helper()
		if a := arranged(t, h).Animal(h.Animal("Ash").ID); a.Class() != want {
			t.Errorf("counts as %v, want %v", a.Classes, want)
		}
	}
	look(care.SeveralMites)
	class(round.Ill)
	for range 2 {
		h.Clock.Pass(20 * time.Second)
		look(care.NoMites)
	}
	class(round.Ill)
	for day := 7; day <= 77; day += 7 {
		h.Clock.Pass(7 * 24 * time.Hour)
		look(care.NoMites)
		switch day {
		case 7:
			class(round.Ill)
		case 77:
			class(round.Resident)
		default:
			class(round.NearPositive)
		}
	}
}
