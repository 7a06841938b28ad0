package paper

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/label"
)

// Card is what the card of one place or animal says: no more than a visitor may
// see.
type Card struct {
	Names  label.Label // what its code names
	Title  string      // the place's name, or the animal's
	Code   string      // the place's, or the animal's; empty: none
	Within string      // what the place stands in, outermost first; empty: nothing
	Lives  []Living    // of a place: who lives there; of an animal: itself
}

// Living is an animal as a card names it.
type Living struct {
	Name, Code string
	Species    knowledge.SpeciesID
	Sex        animals.Sex
	Hatched    model.Date
}

func living(a animals.Animal) Living {
	return Living{Name: a.Name, Code: a.Code, Species: a.Species, Sex: a.Sex, Hatched: a.Hatched}
}

// GatherCards reads the cards of the enclosures that are one of the given places or
// stand in one (none or zero: of all), in the order of a walk through the house; an
// empty one has a card too. A closed one has none.
func GatherCards(v model.View, in ...model.PlaceID) ([]Card, error) {
	house, kept, err := housed(v)
	if err != nil {
		return nil, err
	}
	residents := house.Residents(v.Now())
	var cards []Card
	for _, p := range within(house, in) {
		c := Card{Names: label.OfPlace(p.ID), Title: p.Name, Code: p.Code, Within: house.Title(p.Parent)}
		for _, id := range residents[p.ID] {
			c.Lives = append(c.Lives, living(kept[id]))
		}
		cards = append(cards, c)
	}
	return cards, nil
}

// GatherAnimalCards reads the cards of the animals that live in the given places or
// in what stands in them, in the order of a walk through the house. With none or the
// zero place they are those of every animal that is here, those in no place last.
func GatherAnimalCards(v model.View, in ...model.PlaceID) ([]Card, error) {
	house, kept, err := housed(v)
	if err != nil {
		return nil, err
	}
	residents := house.Residents(v.Now())
	var cards []Card
	add := func(id model.AnimalID) {
		if a, there := kept[id]; there {
			cards = append(cards, Card{Names: label.OfAnimal(id), Title: a.Name, Code: a.Code, Lives: []Living{living(a)}})
			delete(kept, id)
		}
	}
	for _, p := range within(house, in) {
		for _, id := range residents[p.ID] {
			add(id)
		}
	}
	if !everywhere(in) {
		return cards, nil
	}
	all, err := animals.All(v)
	if err != nil {
		return nil, fmt.Errorf("gather cards: %w", err)
	}
	for _, a := range all {
		add(a.ID)
	}
	return cards, nil
}

// housed reads the house, and the animals that are here.
func housed(v model.View) (*husbandry.House, map[model.AnimalID]animals.Animal, error) {
	house, err := husbandry.ReadHouse(v)
	if err != nil {
		return nil, nil, fmt.Errorf("gather cards: %w", err)
	}
	all, err := animals.All(v)
	if err != nil {
		return nil, nil, fmt.Errorf("gather cards: %w", err)
	}
	kept := map[model.AnimalID]animals.Animal{}
	for _, a := range all {
		if a.Status.Here() {
			kept[a.ID] = a.Animal
		}
	}
	return house, kept, nil
}

// within are the enclosures in use that are the place or stand in it.
func within(house *husbandry.House, in []model.PlaceID) []husbandry.StoredPlace {
	var found []husbandry.StoredPlace
	for _, p := range house.Places() {
		if _, closed := house.Closed(p.ID); closed || !p.Kind.Houses() {
			continue
		}
		stands := everywhere(in)
		for _, outer := range house.Path(p.ID) {
			stands = stands || slices.Contains(in, outer.ID)
		}
		if stands {
			found = append(found, p)
		}
	}
	return found
}

// everywhere reports whether the places stand for the whole house.
func everywhere(in []model.PlaceID) bool { return len(in) == 0 || slices.Contains(in, model.PlaceID{}) }

// Laying is how cards are laid on sheets.
type Laying struct {
	Sheet label.Sheet
	// First is the label of the first sheet that is printed on, counted from 1: those
	// before it are used up.
	First int
	// Keeper stands on every card; empty: nobody does.
	Keeper string
}

// Check tells whether the first label is none of the sheet's; nil if it is one.
func (l Laying) Check() *model.Refusal {
	if l.First >= 1 && l.First <= l.Sheet.Count() {
		return nil
	}
	return &model.Refusal{Field: "cards.first", Value: strconv.Itoa(l.First), Reason: "cards.first.range", Answer: model.Mend,
		Gaps: map[string]model.Gap{"Most": model.CountGap(l.Sheet.Count())}}
}

// CardsPaper lays cards on sheets, in their order. The error is that of
// Laying.Check, or names the card whose code cannot be made.
func CardsPaper(cards []Card, on Laying, tables *knowledge.Tables, text Text, issued model.Moment) (Document, error) {
	if r := on.Check(); r != nil {
		return Document{}, r
	}
	title := "paper.cards.kicker"
	if len(cards) > 0 && cards[0].Names.Kind == model.SubjectAnimal {
		title = "paper.cards.kicker-animals"
	}
	d := Document{Title: text.Say(title), Subject: text.Say("paper.record.issued", gaps{"Day": issued.Day()}),
		Language: text.Language(), Size: sheetSize(on.Sheet), Footless: true}
	noted := marginBelow(on.Sheet) >= leastMargin // what the box sign stands for, under the cards
	var drawn []drawnCard
	for _, c := range cards {
		code, err := codeOf(c.Names.Text())
		if err != nil {
			return Document{}, fmt.Errorf("the card of %s: %w", c.Title, err)
		}
		drawn = append(drawn, drawnCard{cardLines{Card: c, keeper: on.Keeper, tables: tables, text: text, tells: !noted}, code})
	}
	for from := on.First - 1; len(drawn) > 0; from = 0 {
		n := min(on.Sheet.Count()-from, len(drawn))
		d.Sections = append(d.Sections, sheetOf(on.Sheet, from, drawn[:n]))
		drawn = drawn[n:]
	}
	if noted && strings.ContainsRune(Plain(d), missing) {
		last := &d.Sections[len(d.Sections)-1]
		figure := last.Blocks[0].(Figure)
		last.Blocks[0] = below(on.Sheet, figure, text.Say("paper.record.unprintable", gaps{"Box": string(missing)}))
	}
	return d, nil
}

// below is a sheet of cards with a note in the margin under them, where none of the
// cards is cut from.
func below(s label.Sheet, cards Figure, note string) Figure {
	under := sheetSize(s).H - marginBelow(s)
	draw := cards.Draw
	cards.Words += "; " + note
	cards.Draw = func(canvas Canvas, page Box) {
		draw(canvas, page)
		margin := Box{page.X0 + noteInset, page.Y0 + under, page.X1 - noteInset, page.Y0 + sheetSize(s).H}
		st, said := narrowed(smallStyle.scaled(min(1, margin.H()/2/smallStyle.Lead)), note, margin.W())
		put(canvas, margin.X0, margin.Y0+(margin.H()/2-st.Lead)/2+st.baseline(), AlignLeft, st, said)
	}
	return cards
}

// leastMargin has room for a line and the edge that printers leave white. A sheet
// with less, whose cards reach its edge, has no place for a note: each card with the
// sign says itself what it stands for.
const leastMargin = 6

// marginBelow is how far the last cards of a sheet are from its edge.
func marginBelow(s label.Sheet) float64 {
	_, y := s.At(s.Count() - 1)
	return sheetSize(s).H - millimetres(y+s.Height)
}

// noteInset keeps the note from the edges of the sheet, which printers leave white.
const noteInset = 10

// sheetSize is the sheet's paper, without margins: the labels have their own.
func sheetSize(s label.Sheet) Size {
	w, h := s.Paper.Size()
	return Size{W: millimetres(w), H: millimetres(h)}
}

func millimetres(tenths int) float64 { return float64(tenths) / 10 }

// sheetOf is one page of cards, from label number from on.
func sheetOf(s label.Sheet, from int, cards []drawnCard) Section {
	var words []string
	for _, c := range cards {
		words = append(words, c.words())
	}
	draw := func(canvas Canvas, page Box) {
		for i, c := range cards {
			box := labelBox(s, page, from+i)
			if s.Cut {
				cutMarks(canvas, box)
			}
			c.draw(canvas, box)
		}
	}
	return Section{Name: firstToLast(Clean(cards[0].Title), Clean(cards[len(cards)-1].Title)), Blocks: []Block{Figure{H: sheetSize(s).H, Draw: draw, Words: strings.Join(words, "; ")}}}
}

// firstToLast names a sheet of labels by the first and the last of them.
func firstToLast(first, last string) string {
	if first = cut(first, longestTitle); first == cut(last, longestTitle) {
		return first
	}
	return first + " – " + cut(last, longestTitle)
}

// labelBox is where label n of a sheet lies on its page.
func labelBox(s label.Sheet, page Box, n int) Box {
	x, y := s.At(n)
	box := Box{X0: page.X0 + millimetres(x), Y0: page.Y0 + millimetres(y)}
	box.X1, box.Y1 = box.X0+millimetres(s.Width), box.Y0+millimetres(s.Height)
	return box
}

// cutArm is how far a cut mark reaches from a corner of a card.
const cutArm = 2

// cutMarks are crosses at the corners of a card.
func cutMarks(c Canvas, b Box) {
	for _, x := range []float64{b.X0, b.X1} {
		for _, y := range []float64{b.Y0, b.Y1} {
			c.Path(segment(x-cutArm, y, x+cutArm, y), Paint{Stroke: Line, Width: .15})
			c.Path(segment(x, y-cutArm, x, y+cutArm), Paint{Stroke: Line, Width: .15})
		}
	}
}
