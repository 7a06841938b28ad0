package paper_test

import (
	"errors"
	"fmt"
	"image/color"
	"slices"
	"strings"
	"sync"
	"testing"

	"coilward/assets"
	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/drawing"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/label"
	"coilward/model/people"
	"coilward/model/storetest"
)

func allSheets(t testing.TB) []label.Sheet {
	t.Helper()
	all, err := label.Sheets(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return label.Cards(all)
}

func sheetNamed(t testing.TB, id label.SheetID) label.Sheet {
	t.Helper()
	for _, s := range allSheets(t) {
		if s.ID == id {
			return s
		}
	}
	t.Fatalf("no sheet %s", id)
	return label.Sheet{}
}

// rack is a room with a rack of two boxes, of which one is lived in, a closed box,
// and an animal that lives nowhere.
func rack(t *testing.T) (view func(func(model.View) error), ids map[string]model.PlaceID) {
	t.Helper()
	c, _ := storetest.New(t)
	do := func(command model.Command) {
		t.Helper()
		if _, err := c.Do(command); err != nil {
			t.Fatal(err)
		}
	}
	box := func(name, code string) husbandry.Branch {
		return husbandry.Branch{Place: husbandry.Place{Name: name, Code: code, Kind: husbandry.Tub}}
	}
	do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Loft", Kind: husbandry.Room, Note: "the key hangs left"}, Below: []husbandry.Branch{
		{Place: husbandry.Place{Name: "Rack", Kind: husbandry.Rack}, Below: []husbandry.Branch{box("Box 1", "R-1"), box("Box 2", "R-2")}}, box("Old box", "")}}}})
	for _, a := range []animals.Animal{
		{Name: "Bramble", Code: "M-09", Species: "python-regius", Sex: animals.Female, Hatched: model.Date{Day: model.NewDay(2023, 6, 1), Precision: model.ToMonth}, From: "somebody else", Status: animals.Kept},
		{Name: "Alder", Species: "python-regius", Status: animals.Kept}, {Name: "Gone", Species: "python-regius", Status: animals.Sold},
	} {
		do(animals.Add{Animal: a})
	}
	do(people.Add{Person: people.Person{Name: "Mira Lock", Roles: []people.Role{people.Hand}}})
	view = func(see func(model.View) error) {
		t.Helper()
		if err := c.View(see); err != nil {
			t.Fatal(err)
		}
	}
	ids = map[string]model.PlaceID{}
	var bramble model.AnimalID
	var now model.Moment
	view(func(v model.View) error {
		h, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		for _, p := range h.Places() {
			ids[p.Name] = p.ID
		}
		all, err := animals.All(v)
		for _, a := range all {
			if a.Name == "Bramble" {
				bramble = a.ID
			}
		}
		now = v.Now()
		return err
	})
	do(husbandry.Move{Animal: bramble, Place: ids["Box 2"], At: now})
	old := husbandry.Place{Name: "Old box", Kind: husbandry.Tub, Parent: ids["Loft"], Order: 1, Closed: model.Date{Day: now.Day(), Precision: model.ToDay}}
	do(husbandry.ChangePlace{ID: ids["Old box"], Base: 1, Place: old})
	return view, ids
}

func titles(cards []paper.Card) string {
	var all []string
	for _, c := range cards {
		all = append(all, c.Title)
	}
	return strings.Join(all, ", ")
}

func TestWhichBoxesHaveACard(t *testing.T) {
	view, ids := rack(t)
	view(func(v model.View) error {
		for place, want := range map[string]string{"": "Box 1, Box 2", "Loft": "Box 1, Box 2", "Rack": "Box 1, Box 2", "Box 2": "Box 2", "Old box": ""} {
			cards, err := paper.GatherCards(v, ids[place])
			if err != nil {
				return err
			}
			if got := titles(cards); got != want {
				t.Errorf("in %q: %s, want %s", place, got, want)
			}
			for _, c := range cards {
				if id, is := c.Names.Place(); !is || id != ids[c.Title] {
					t.Errorf("%s names %v", c.Title, c.Names)
				}
			}
		}
		for _, c := range []struct {
			places []model.PlaceID
			want   string
		}{
			{nil, "Box 1, Box 2"}, {[]model.PlaceID{ids["Box 2"], ids["Old box"]}, "Box 2"}, {[]model.PlaceID{ids["Box 2"], ids["Box 1"]}, "Box 1, Box 2"},
		} {
			if cards, err := paper.GatherCards(v, c.places...); err != nil || titles(cards) != c.want {
				t.Errorf("in %v: %s, %v, want %s", c.places, titles(cards), err, c.want)
			}
		}
		if cards, err := paper.GatherAnimalCards(v, ids["Box 1"], ids["Box 2"]); err != nil || titles(cards) != "Bramble" {
			t.Errorf("animals in two boxes: %s, %v", titles(cards), err)
		}
		for place, want := range map[string]string{"": "Bramble, Alder", "Rack": "Bramble", "Box 1": ""} {
			cards, err := paper.GatherAnimalCards(v, ids[place])
			if err != nil {
				return err
			}
			if got := titles(cards); got != want {
				t.Errorf("animals in %q: %s, want %s", place, got, want)
			}
		}
		return nil
	})
}

// A card says what a visitor may see, and nobody but the keeper where that is asked for.
func TestWhatACardSays(t *testing.T) {
	view, ids := rack(t)
	view(func(v model.View) error {
		cards, err := paper.GatherCards(v, ids["Loft"])
		if err != nil {
			return err
		}
		for _, keeper := range []string{"", "Mira Lock"} {
			d, err := paper.CardsPaper(cards, paper.Laying{Sheet: sheetNamed(t, "a4-70x37"), First: 1, Keeper: keeper}, papertest.Tables(t), papertest.Text(t, "en"), v.Now())
			if err != nil {
				return err
			}
			plain := paper.Plain(d)
			for _, want := range []string{"Box 1", "empty", "Box 2", "Loft, Rack", "R-2", "Bramble M-09", "Python regius", "♀ female", "hatched 2023"} {
				if !strings.Contains(plain, want) {
					t.Errorf("the cards do not say %q:\n%s", want, plain)
				}
			}
			for _, not := range []string{"somebody else", "the key hangs left", "Gone"} {
				if strings.Contains(plain, not) {
					t.Errorf("the cards say %q", not)
				}
			}
			if got := strings.Contains(plain, "Mira"); got != (keeper != "") {
				t.Errorf("asked for %q: the keeper is named: %v", keeper, got)
			}
		}
		return nil
	})
}

// texts is a canvas that keeps the texts with the ends of each, and the bounds of
// what is filled.
type texts struct {
	paper.Canvas
	all   []set
	paths []drawing.Rectangle
}

type set struct {
	text   string
	x0, x1 float64
	y, pt  float64
}

func (c *texts) Text(x, y float64, f paper.Face, pt float64, _ color.NRGBA, s string) {
	c.all = append(c.all, set{s, x, x + paper.Width(f, pt, s), y, pt})
}
func (c *texts) Path(p drawing.Path, _ paper.Paint) { c.paths = append(c.paths, p.Bounds()) }
func (c *texts) Mark(int, string, float64)          {}

func drawn(t testing.TB, cards []paper.Card, on paper.Laying) []*texts {
	t.Helper()
	german.Do(func() { tables, text = papertest.Tables(t), papertest.Text(t, "de") })
	d, err := paper.CardsPaper(cards, on, tables, text, model.Moment{})
	if err != nil {
		t.Fatal(err)
	}
	var all []*texts
	pages := paper.Layout(d)
	for n, p := range pages {
		c := &texts{}
		paper.DrawPage(c, d, p, n+1, len(pages))
		all = append(all, c)
	}
	return all
}

// What all cards of these tests are worded with; read once.
var (
	german sync.Once
	tables *knowledge.Tables
	text   paper.Text
)

func longCard(n int) paper.Card {
	return paper.Card{Names: label.OfPlace(model.PlaceID{ID: model.ID{15: byte(n + 1)}}), Title: strings.Repeat("Schleusenwärter ", 5), Code: strings.Repeat("K-0123456789/", 6) + "XX",
		Within: strings.Repeat("Langes Regal, ", 9), Lives: []paper.Living{{Name: strings.Repeat("Wacholder", 8), Code: "L-" + strings.Repeat("77", 39), Species: "python-regius", Sex: animals.Female, Hatched: model.Date{Day: 9000, Precision: model.ToYear}},
			{Name: "Zweite", Code: "L-08", Species: "antaresia-childreni"}, {Name: "Dritte", Code: "L-09"}}}
}

// On every sheet a card stays within its label, keeps off its code, and shows every
// code of what it names whole, however long all of it is.
func TestACardStaysWithinItsLabel(t *testing.T) {
	short := paper.Card{Names: label.OfAnimal(model.AnimalID{ID: model.ID{1}}), Title: "Bo", Code: "B-1", Lives: []paper.Living{{Name: "Bo", Code: "B-1", Species: "python-regius", Sex: animals.Male}}}
	for _, s := range allSheets(t) {
		for name, card := range map[string]paper.Card{"long": longCard(1), "short": short} {
			page := drawn(t, []paper.Card{card}, paper.Laying{Sheet: s, First: 1, Keeper: "Schleusenwärterin am Oberen Kanal mit einem langen Namen"})[0]
			x, y := s.At(0)
			box := drawing.Box(float64(x)/10, float64(y)/10, float64(x+s.Width)/10, float64(y+s.Height)/10)
			code := page.paths[len(page.paths)-2] // its white ground, the quiet zone
			dark := page.paths[len(page.paths)-1]
			if side := dark.Max.X - dark.Min.X; side < 15-1e-9 {
				t.Errorf("%s, %s: the code is %.2f mm wide", s.ID, name, side)
			}
			quiet := (code.Max.X - code.Min.X - (dark.Max.X - dark.Min.X)) / 2
			if module := (dark.Max.X - dark.Min.X) / 33; quiet < 4*module-.01 {
				t.Errorf("%s, %s: the quiet zone is %.2f mm, a module %.2f", s.ID, name, quiet, module)
			}
			if !box.Grow(1e-6).Contains(code.Min) || !box.Grow(1e-6).Contains(code.Max) {
				t.Errorf("%s, %s: the code lies at %v, the label at %v", s.ID, name, code, box)
			}
			joined := ""
			for _, text := range page.all {
				joined += text.text
				if text.x0 < box.Min.X || text.x1 > box.Max.X || text.y > box.Max.Y || text.y < box.Min.Y {
					t.Errorf("%s, %s: %q reaches out of the label", s.ID, name, text.text)
				}
				if text.x1 > code.Min.X+.01 && text.y > code.Min.Y+.5 {
					t.Errorf("%s, %s: %q reaches into the code", s.ID, name, text.text)
				}
			}
			if !strings.Contains(joined, card.Code) {
				t.Errorf("%s, %s: the code is cut: %s", s.ID, name, joined)
			}
		}
	}
}

// A used sheet is printed from its first free label on, and what does not fit it
// goes onto whole sheets.
func TestAUsedSheetGoesOn(t *testing.T) {
	s := sheetNamed(t, "a4-70x37")
	var cards []paper.Card
	for n := range 30 {
		cards = append(cards, paper.Card{Names: label.OfPlace(model.PlaceID{ID: model.ID{15: byte(n + 1)}}), Title: fmt.Sprintf("Box %d", n+1)})
	}
	pages := drawn(t, cards, paper.Laying{Sheet: s, First: 20})
	if len(pages) != 3 {
		t.Fatalf("%d pages", len(pages))
	}
	at := func(page *texts, title string) (x, y float64) {
		i := slices.IndexFunc(page.all, func(s set) bool { return s.text == title })
		if i < 0 {
			t.Fatalf("%q is not on the page", title)
		}
		return page.all[i].x0, page.all[i].y
	}
	if x, y := at(pages[0], "Box 1"); x < 70 || x > 140 || y < .5+6*37 || y > .5+7*37 {
		t.Errorf("the first lies at %.1f, %.1f; want label 20", x, y)
	}
	if x, y := at(pages[1], "Box 6"); x > 70 || y > 37 {
		t.Errorf("the sixth lies at %.1f, %.1f; want the first label", x, y)
	}
	at(pages[2], "Box 30")
	for _, first := range []int{0, 25, -1} {
		_, err := paper.CardsPaper(cards, paper.Laying{Sheet: s, First: first}, papertest.Tables(t), papertest.Text(t, "de"), model.Moment{})
		var refusal *model.Refusal
		if !errors.As(err, &refusal) || refusal.Field != "cards.first" {
			t.Errorf("from %d on: %v", first, err)
		}
	}
}

// Where a label has no room for all that live in a box, the others are counted.
func TestThoseWithoutRoomAreCounted(t *testing.T) {
	card := paper.Card{Names: label.OfPlace(model.PlaceID{ID: model.ID{1}}), Title: "Box"}
	for n := range 12 {
		card.Lives = append(card.Lives, paper.Living{Name: fmt.Sprintf("Tier %d", n), Code: fmt.Sprintf("T-%02d", n), Species: "python-regius"})
	}
	named := func(id label.SheetID) (n int, rest string) {
		for _, s := range drawn(t, []paper.Card{card}, paper.Laying{Sheet: sheetNamed(t, id), First: 1})[0].all {
			if strings.HasPrefix(s.text, "Tier ") {
				n++
			}
			if strings.HasPrefix(s.text, "und noch") {
				rest = s.text
			}
		}
		return n, rest
	}
	small, rest := named("a4-70x37")
	if small == 0 || small == 12 || rest != fmt.Sprintf("und noch %d", 12-small) {
		t.Errorf("%d are named, then %q", small, rest)
	}
	if all, rest := named("a4-105x148"); all != 12 || rest != "" {
		t.Errorf("on the large one %d are named, then %q", all, rest)
	}
}

// What the typeface has no sign for is told at the end of the last sheet, under the
// cards and on the paper, where its cards leave a margin, and only there. Where they
// reach the edge, each card with the sign tells it.
func TestASheetSaysWhatTheBoxStandsFor(t *testing.T) {
	for _, s := range allSheets(t) {
		cards := make([]paper.Card, s.Count()+1)
		for i := range cards {
			cards[i] = paper.Card{Names: label.OfAnimal(model.AnimalID{ID: model.ID{1}}), Title: "Juno", Lives: []paper.Living{{Name: "Juno"}}}
		}
		said := func() (found []set) {
			for n, page := range drawn(t, cards, paper.Laying{Sheet: s, First: 1}) {
				for _, one := range page.all {
					if strings.Contains(one.text, "steht für ein") {
						if n != 1 {
							t.Errorf("%s: on sheet %d", s.ID, n+1)
						}
						found = append(found, one)
					}
				}
			}
			return found
		}
		if found := said(); len(found) != 0 {
			t.Errorf("%s: without such a sign it says %v", s.ID, found)
		}
		cards[0].Title = "נחש 🐍"
		found := said()
		_, y := s.At(s.Count() - 1)
		w, h := s.Paper.Size()
		room := h-y-s.Height >= 60 // else the cards reach the edge
		if room != (len(found) == 1) {
			t.Errorf("%s: said %d times", s.ID, len(found))
		}
		if !room {
			var told []set
			for n, page := range drawn(t, cards, paper.Laying{Sheet: s, First: 1}) {
				for _, one := range page.all {
					if strings.Contains(one.text, "ein Zeichen") {
						told = append(told, one)
						if n != 0 {
							t.Errorf("%s: on sheet %d", s.ID, n+1)
						}
					}
				}
			}
			x, y := s.At(0)
			if len(told) != 1 || strings.TrimLeft(told[0].text, "□") != ": ein Zeichen, das die Schrift nicht hat" || told[0].pt < 3.5 ||
				told[0].x1 > float64(x+s.Width)/10 || told[0].y > float64(y+s.Height)/10 {
				t.Errorf("%s, %d × %d: the card tells %+v", s.ID, s.Width, s.Height, told)
			}
			continue
		}
		if one := found[0]; one.y < float64(y+s.Height)/10 || one.y > float64(h)/10-2 || one.x1 > float64(w)/10 || one.pt < 4 {
			t.Errorf("%s: at %.1f, cards end at %.1f of %.1f; to %.1f of %.1f; %.1f points", s.ID, one.y, float64(y+s.Height)/10, float64(h)/10, one.x1, float64(w)/10, one.pt)
		}
	}
}

// Whatever was typed is laid out.
func TestACardHoldsWhateverWasTyped(t *testing.T) {
	for name, typed := range papertest.Hostile() {
		card := paper.Card{Names: label.OfPlace(model.PlaceID{ID: model.ID{1}}), Title: typed, Code: typed, Within: typed, Lives: []paper.Living{{Name: typed, Code: typed, Species: "what is this"}}}
		if pages := drawn(t, []paper.Card{card}, paper.Laying{Sheet: sheetNamed(t, "a4-38x21"), First: 1, Keeper: typed}); len(pages) != 1 {
			t.Errorf("%s: %d pages", name, len(pages))
		}
	}
}
