package shelf_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/samples"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// tubes are the samples of an animal, the first prepared first.
func (h *hand) tubes(name string) (of []samples.Stored) {
	h.T.Helper()
	id := h.Animal(name).ID
	if err := h.Collection().View(func(v model.View) error {
		all, err := samples.All(v)
		for _, s := range all {
			if s.Animals[0] == id {
				of = append(of, s)
			}
		}
		return err
	}); err != nil {
		h.T.Fatal(err)
	}
	return of
}

// kit prepares a sample of some animals with the kit of that number.
func (h *hand) kit(number string, of knowledge.MaterialID, names ...string) {
	h.T.Helper()
	var ids []model.AnimalID
	for _, name := range names {
		ids = append(ids, h.Animal(name).ID)
	}
	do(h.T, h.Collection(), samples.Prepare{Tables: h.Tables(), Each: []samples.New{{Animals: ids,
		Sample: samples.Sample{Material: of, For: []knowledge.AgentID{"serpentovirus"}, Kit: samples.Kit{Number: number, Lot: "L7"}}}}})
	h.Clock.Pass(time.Minute)
}

func (h *hand) vet() model.PersonID {
	h.T.Helper()
	c := do(h.T, h.Collection(), people.Add{Person: people.Person{Name: "Practice at the mill", Roles: []people.Role{people.Vet}}})
	return model.PersonID{ID: c.Documents[0]}
}

// Eight swabs are noted with at most 20 acts from the start of the job, with nothing
// prepared before: each with its own number, in the order of the boxes.
func TestSwabEightWithFewActs(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 2, 4, many(8)...) })
	h.keys = 0
	tap := func(what string) { h.keys++; uitest.Tap(t, h.Content(), what) }
	h.press("6W-41")
	tap(h.Text().Say("material.choanal-swab"))
	if !h.Shows("Leaving it to the vet is a full answer") {
		t.Errorf("the caution is not said: %q", uitest.Texts(h.Content()))
	}
	tap(h.Text().Say("agent.serpentovirus"))
	tap("Begin")
	h.press(strings.Repeat("\n", 8))
	if h.keys > 20 {
		t.Errorf("%d acts", h.keys)
	}
	if !h.Shows("8 noted") {
		t.Fatalf("at the end: %q", uitest.Texts(h.Content()))
	}
	for i, name := range many(8) {
		of := h.tubes(name)
		if len(of) != 1 || of[0].Kit.Number != fmt.Sprintf("W-%d", 41+i) || of[0].Stage() != samples.Taken || of[0].Material != "choanal-swab" || len(of[0].For) != 1 {
			t.Errorf("%s: %+v", name, of)
		}
	}
	h.press("\n")
	if last := h.Went[len(h.Went)-1]; last.To != place.Tray {
		t.Errorf("from the end one goes to %+v", last)
	}
}

// A kit that waits is taken as it was prepared; those are walked to that a kit waits
// for, and a pool once; one that waits for the vet is not due.
func TestSwabTakesTheKitsThatWait(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) {
		room(t, c, "Loft", 1, 5, "Ash", "Brook", "Clover", "Dill", "Elder")
	})
	h.vet()
	h.kit("W-3", "oral-swab", "Clover")
	h.kit("W-1", "faeces", "Ash", "Brook")
	h.kit("B-9", "blood", "Dill")
	h.press("6")
	if !h.Shows("2 due") || !h.Shows("all 5") {
		t.Fatalf("%q", uitest.Texts(h.Content()))
	}
	h.press("\n")
	if !h.Shows("Ash, Brook") || !h.Shows("W-1") {
		t.Fatalf("the pool: %q", uitest.Texts(h.Content()))
	}
	h.press("\n7\n") // Clover's kit was changed for number 7
	if a, c := h.tubes("Ash"), h.tubes("Clover"); a[0].Stage() != samples.Taken || len(c) != 1 || c[0].Kit.Number != "W-7" || c[0].Stage() != samples.Taken || c[0].Kit.Lot != "L7" {
		t.Errorf("%+v, %+v", a, c)
	}
	if d := h.tubes("Dill"); d[0].Stage() != samples.ToTake || !h.Shows("2 noted") {
		t.Errorf("%+v; shown %q", d, uitest.Texts(h.Content()))
	}
	h.Undo()
	if c := h.tubes("Clover"); c[0].Stage() != samples.ToTake || c[0].Kit.Number != "W-3" || !h.Shows("W-3") {
		t.Errorf("taken back: %+v; shown %q", c, uitest.Texts(h.Content()))
	}
	h.press("\n")
	if c := h.tubes("Clover"); c[0].Stage() != samples.Taken || !h.Shows("2 noted") {
		t.Errorf("taken after all: %+v", c)
	}
}

// One key leaves a sample to the vet, as good an answer as any: its kit waits. Where
// nobody is the vet, it is said and nothing is noted.
func TestSwabLeftToTheVet(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook", "Clover") })
	h.kit("W-1", "oral-swab", "Ash")
	h.press("6")
	uitest.Tap(t, h.Content(), "all 3")
	h.press("\n.")
	if !h.Shows("No vet is among the people") || h.tubes("Ash")[0].TakenBy != (model.PersonID{}) {
		t.Fatalf("%q", uitest.Texts(h.Content()))
	}
	vet := h.vet()
	h.press(".")
	if s := h.tubes("Ash")[0]; s.TakenBy != vet || s.Stage() != samples.ToTake {
		t.Errorf("a kit that waited: %+v", s)
	}
	h.press(".")
	if s := h.tubes("Brook"); len(s) != 1 || s[0].TakenBy != vet || s[0].Stage() != samples.ToTake || s[0].Kit.Number != "W-2" {
		t.Errorf("with a new kit: %+v", s)
	}
	h.press("-\n") // taken after all
	if s := h.tubes("Brook"); len(s) != 1 || s[0].Stage() != samples.Taken || s[0].Kit.Number != "W-2" {
		t.Errorf("one back: %+v", s)
	}
	h.press("/")
	if !h.Shows("2 noted, 1 of them left to the vet, 1 left out") {
		t.Errorf("at the end: %q", uitest.Texts(h.Content()))
	}
	h.key(fyne.KeyEscape)
	h.press("6")
	if !h.Shows("0 due") || !h.Shows("1 kit waits") {
		t.Errorf("what waits for the vet is due: %q", uitest.Texts(h.Content()))
	}
}

// A kit that was used is refused in the walk with its number; what was typed stays,
// and the next digits begin anew.
func TestSwabRefusesAUsedKit(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		h := open(t, uitest.Looks()[0], language, func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook") })
		h.kit("W-1", "oral-swab", "Ash")
		h.press("6")
		uitest.Tap(t, h.Content(), h.Text().Count("shelf.walk.all", 2))
		h.press("\n\n1\n")
		if h.Canvas().Overlays().Top() != nil || !h.Shows("W-1") || len(h.tubes("Brook")) != 0 {
			t.Fatalf("%s: %q", language, uitest.Texts(h.Content()))
		}
		if clipped := uitest.Clipped(h.Content(), h.Canvas().Size()); len(clipped) > 0 {
			t.Errorf("%s: clipped: %q", language, clipped)
		}
		h.press("15\n")
		if s := h.tubes("Brook"); len(s) != 1 || s[0].Kit.Number != "W-15" {
			t.Errorf("%s: %+v", language, s)
		}
	}
}

// A kit past its day asks, once in a walk for the kits of one day.
func TestSwabAsksOfAnExpiredKit(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook") })
	h.press("6")
	uitest.Tap(t, h.Content(), h.Text().Say("material.faeces"))
	uitest.Tap(t, h.Content(), h.Text().Say("agent.cryptosporidium"))
	h.Focus(uitest.Entries(h.Content())[3]) // behind the line, the number and the lot
	uitest.Type(h.Canvas(), "2020-01-31")
	uitest.Tap(t, h.Content(), "Begin")
	h.press("\n")
	if h.Canvas().Overlays().Top() == nil || len(h.tubes("Ash")) != 0 {
		t.Fatalf("it is not asked: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.top(), h.Text().Say("window.ask.yes"))
	h.press("\n")
	if a, b := h.tubes("Ash"), h.tubes("Brook"); len(a) != 1 || len(b) != 1 {
		t.Errorf("%+v, %+v; shown %q", a, b, uitest.Texts(h.top()))
	}
}

// What is missed often in the material that was chosen is said before the walk begins.
// Source: Flach et al. 2018 J Zoo Wildl Med 49(4), abstract.
func TestSwabSaysWhatIsMissedOften(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash") })
	h.press("6")
	uitest.Tap(t, h.Content(), h.Text().Say("material.oral-swab"))
	const often = "Ferlavirus: often missed in such samples"
	if h.Shows(often) {
		t.Error("it is said before it is looked for")
	}
	uitest.Tap(t, h.Content(), h.Text().Say("agent.ferlavirus"))
	if !h.Shows(often) {
		t.Errorf("it is not said: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), h.Text().Say("agent.ferlavirus"))
	if h.Shows(often) {
		t.Error("it stays when it is looked for no more")
	}
}

// What is looked for has to be said before the walk begins.
func TestSwabAsksWhatIsLookedFor(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash") })
	h.press("6")
	uitest.Tap(t, h.Content(), "Begin")
	if !h.Shows("Begin") {
		t.Fatal("it has begun with no material")
	}
	uitest.Tap(t, h.Content(), h.Text().Say("material.faeces"))
	uitest.Tap(t, h.Content(), "Begin")
	if !h.Shows("Begin") {
		t.Fatal("it has begun with nothing that is looked for")
	}
}

// Who may carry something comes last, in the order of the classes.
func TestSwabGoesByTheClasses(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook", "Clover") })
	do(t, h.Collection(), care.LookForMites{About: care.About{Animal: h.Animal("Ash").ID, At: model.MomentOf(h.Clock.Now())}, MiteLook: care.MiteLook{Grade: care.SeveralMites, Where: care.MiteWheres()[:1]}})
	for i, name := range []string{"Ash", "Brook", "Clover"} {
		h.kit(fmt.Sprintf("W-%d", i+1), "faeces", name)
	}
	h.press("6\n")
	for _, want := range []string{"W-2", "W-3", "W-1"} {
		if !h.Shows(want) {
			t.Errorf("%s is not next: %q", want, uitest.Texts(h.Content()))
		}
		h.press("/")
	}
}
