package papers

import (
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/label"
	"coilward/model/people"
	"coilward/ui/uitest"
)

// housed lays out a room with a rack of boxes, of one shelf.
func housed(t *testing.T, w *window, boxes int) {
	t.Helper()
	rack, refused := husbandry.RackOf(husbandry.RackPlan{Rack: husbandry.Place{Name: "Rack", Kind: husbandry.Rack}, Shelf: husbandry.Place{Name: "Shelf {letter}", Kind: husbandry.Shelf},
		Box: husbandry.Place{Name: "Box {count}", Kind: husbandry.Tub, Code: "B{count}"}, Shelves: 1, Boxes: boxes})
	if refused != nil {
		t.Fatal(refused)
	}
	room := husbandry.Branch{Place: husbandry.Place{Name: "Loft with a name that goes on and on", Kind: husbandry.Room}, Below: []husbandry.Branch{rack}}
	if _, err := w.collection.Do(husbandry.AddPlaces{Branches: []husbandry.Branch{room}}); err != nil {
		t.Fatal(err)
	}
	if _, err := w.collection.Do(people.Add{Person: people.Person{Name: "Mira Lock", Roles: []people.Role{people.Hand}}}); err != nil {
		t.Fatal(err)
	}
}

func TestCardsOfTheHouse(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en", "Kestrel")
	w.choose(p, "Cards for boxes")
	if p.paper != nil || !uitest.Shows(p.Content(), "There is no box yet") {
		t.Fatalf("a house without boxes has cards, or nothing is said of it; faults %v", w.faults)
	}
	housed(t, w, 26)
	p.Changed(collection.Change{})
	if p.paper == nil || len(p.paper.pages) != 3 {
		t.Fatalf("no three pages; faults %v", w.faults)
	}
	says := func(part string) bool { return strings.Contains(paper.Plain(p.paper.document), part) }
	if !says("Box 26") || says("Mira") {
		t.Errorf("the cards say:\n%s", paper.Plain(p.paper.document))
	}
	uitest.Tap(t, p.Content(), "Mira Lock")
	if !says("Mira Lock") {
		t.Error("the keeper is not named although ticked")
	}
	uitest.Tap(t, p.Content(), "Animals")
	if !says("Kestrel") || says("Box 26") {
		t.Errorf("the cards of animals say:\n%s", paper.Plain(p.paper.document))
	}
	w.saveTo = t.TempDir()
	uitest.Tap(t, p.Content(), "Save as a file …")
	if len(w.told) != 1 || len(w.faults) != 0 {
		t.Errorf("told %v, faults %v", w.told, w.faults)
	}
}

// Boxes are ticked singly, or all that stand in a rack at once; what is ticked alone
// has a card.
func TestCardsOfChosenBoxes(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en", "Kestrel")
	housed(t, w, 4)
	p.Changed(collection.Change{})
	w.choose(p, "Cards for boxes")
	uitest.Tap(t, p.Content(), "Chosen boxes")
	if p.paper != nil || !uitest.Shows(p.Content(), "No box is ticked, so no card.") {
		t.Fatalf("cards although no box is ticked, or nothing is said of it; faults %v", w.faults)
	}
	carded := func() (all []string) {
		t.Helper()
		if p.paper == nil {
			return nil
		}
		for _, name := range []string{"Box 1", "Box 2", "Box 3", "Box 4"} {
			if strings.Contains(paper.Plain(p.paper.document), name) {
				all = append(all, name)
			}
		}
		return all
	}
	for _, c := range []struct{ tap, want string }{
		{"Box 3", "Box 3"}, {"Box 1", "Box 1, Box 3"}, {"Rack", "Box 1, Box 2, Box 3, Box 4"}, {"Box 3", "Box 1, Box 2, Box 4"},
		{"Rack", "Box 1, Box 2, Box 3, Box 4"}, {"Rack", ""}, {"Box 2", "Box 2"}, {"The whole house", "Box 1, Box 2, Box 3, Box 4"},
	} {
		uitest.Tap(t, p.Content(), c.tap)
		if got := strings.Join(carded(), ", "); got != c.want {
			t.Errorf("%s tapped: cards of %q, want %q", c.tap, got, c.want)
		}
	}
}

// Without any animal the empty boxes have cards, and nothing else is offered.
func TestCardsOfEmptyBoxesWithoutAnAnimal(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en")
	if !uitest.Shows(p.Content(), "No animal yet, so no paper.") {
		t.Fatalf("without animal and box the page shows %q", uitest.Texts(p.Content()))
	}
	housed(t, w, 2)
	p.Changed(collection.Change{})
	if p.paper == nil || !strings.Contains(paper.Plain(p.paper.document), "Box 2") {
		t.Fatalf("empty boxes have no cards; faults %v", w.faults)
	}
	if uitest.Shows(p.Content(), "Health record") {
		t.Error("a health record of no animal is offered")
	}
}

// A label that the sheet does not have is refused at its field, and what was typed stays.
func TestTheFirstFreeLabel(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en", "Kestrel")
	housed(t, w, 3)
	w.choose(p, "Cards for boxes")
	before := p.wanted.cards.laying.Sheet.Count()
	for _, typed := range []string{"0", "eleven", "999", ""} {
		p.first.Type(typed)
		p.first.Enter()
		if p.wanted.cards.laying.First != 1 || !strings.Contains(p.first.Refusal(), "give a number from 1 to") || p.first.Text() != typed {
			t.Errorf("%q: first is %d, %q stays, and it is said %q", typed, p.wanted.cards.laying.First, p.first.Text(), p.first.Refusal())
		}
	}
	p.first.Type(" 2 ")
	p.first.Enter()
	if p.wanted.cards.laying.First != 2 || before != p.wanted.cards.laying.Sheet.Count() {
		t.Errorf("first is %d", p.wanted.cards.laying.First)
	}
}

// A telephone held to the screen reads the code of the shown page.
func TestTheCodeIsReadFromTheShownPage(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en", "Kestrel")
	housed(t, w, 1)
	w.choose(p, "Cards for boxes")
	if p.paper == nil {
		t.Fatalf("no paper; faults %v", w.faults)
	}
	pages := paper.Layout(p.paper.document)
	const dotsPerInch = 150
	picture := newSheets().draw(p.paper.document, pages, 1, int(p.paper.document.Size.W/25.4*dotsPerInch))
	bitmap, err := gozxing.NewBinaryBitmapFromImage(picture)
	if err != nil {
		t.Fatal(err)
	}
	read, err := qrcode.NewQRCodeReader().Decode(bitmap, nil)
	if err != nil {
		t.Fatal(err)
	}
	named, ours := label.Parse(read.GetText())
	id, isPlace := named.Place()
	var name string
	if err := w.collection.View(func(v model.View) error {
		house, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		one, _ := house.Place(id)
		name = one.Name
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	if !ours || !isPlace || name != "Box 1" {
		t.Errorf("%q leads to %q", read.GetText(), name)
	}
}
