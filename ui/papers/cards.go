package papers

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/assets"
	"coilward/export/paper"
	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/label"
	"coilward/model/people"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// cards is which cards are asked for, and on what.
type cards struct {
	ofAnimals bool          // else of boxes
	place     model.PlaceID // whose boxes; zero: all
	laying    paper.Laying
}

// lay reads the sheets, and chooses the first of the usual paper where none is
// chosen yet; it is false where they cannot be read.
func (p *Page) lay() bool {
	if len(p.sheets) > 0 {
		return true
	}
	var err error
	if p.sheets, err = label.Sheets(assets.Knowledge()); err != nil {
		p.w.Fault("papers.failed", err)
		return false
	}
	usual := label.A4
	if p.w.Settings().Paper == place.Letter {
		usual = label.Letter
	}
	for _, s := range p.sheets {
		if s.Paper == usual {
			p.wanted.cards.laying = paper.Laying{Sheet: s, First: 1}
			break
		}
	}
	return true
}

// cardChoices are whose cards, on which sheet, and who is named on them.
func (p *Page) cardChoices() fyne.CanvasObject {
	text := p.w.Text()
	chosen := 0
	if p.wanted.cards.ofAnimals {
		chosen = 1
	}
	of := widgets.NewSegments(36, chosen, func(i int) {
		p.wanted.cards.ofAnimals = i == 1
		p.again()
	}, widgets.Choice{Label: text.Say("papers.cards.places")}, widgets.Choice{Label: text.Say("papers.cards.animals")})
	parts := []fyne.CanvasObject{
		widgets.Col(look.S4, widgets.Line(text.Say("papers.cards.of"), look.NoteBold, look.Soft), of.Container),
		p.cardPlaces(), p.cardSheets(), p.firstLabel(),
	}
	if keepers := paper.Callable(p.people, []people.Role{people.Hand}); len(keepers) > 0 {
		parts = append(parts, p.keepers(keepers))
	}
	return widgets.Col(look.S16, append(parts, widgets.Para(text.Say("papers.cards.scale"), look.Note, look.Soft))...)
}

// listHeight is how high the lists of places and of sheets are.
const listHeight = 110

// cardPlaces is the choice of the whole house, a room, a rack or a box.
func (p *Page) cardPlaces() fyne.CanvasObject {
	text := p.w.Text()
	ids := []model.PlaceID{{}}
	list := []widgets.Choice{{Label: text.Say("papers.cards.everywhere")}}
	name := list[0].Label
	for _, one := range p.house.Places() {
		if _, closed := p.house.Closed(one.ID); closed {
			continue
		}
		ids = append(ids, one.ID)
		list = append(list, widgets.Choice{Label: p.placed(one)})
		if one.ID == p.wanted.cards.place {
			name = p.house.Title(one.ID)
		}
	}
	places := widgets.NewChoiceList(text.Say("papers.cards.search"), text.Say("papers.cards.search.none"), list)
	places.Least(listHeight)
	places.OnChosen = func(i int) {
		p.wanted.cards.place = ids[i]
		p.again()
	}
	return widgets.Col(look.S8, widgets.Line(text.Say("papers.cards.where"), look.NoteBold, look.Soft), widgets.Line(name, look.Section, look.Ink).Cuts(), places.Container)
}

// placed is a place by its name and code, with what it stands in.
func (p *Page) placed(one husbandry.StoredPlace) string {
	parts := slices.DeleteFunc([]string{one.Name, one.Code, p.house.Title(one.Parent)}, func(part string) bool { return part == "" })
	return strings.Join(parts, " · ")
}

// cardSheets is the choice of the sheet, by its measures.
func (p *Page) cardSheets() fyne.CanvasObject {
	text := p.w.Text()
	var list []widgets.Choice
	chosen := ""
	for _, s := range p.sheets {
		key := "papers.cards.sheet"
		if s.Cut {
			key = "papers.cards.sheet-cut"
		}
		words := text.Say(key, map[string]any{"Width": text.Decimal(int64(s.Width), 1), "Height": text.Decimal(int64(s.Height), 1),
			"Columns": strconv.Itoa(s.Columns), "Rows": strconv.Itoa(s.Rows), "Paper": string(s.Paper)})
		list = append(list, widgets.Choice{Label: words})
		if s.ID == p.wanted.cards.laying.Sheet.ID {
			chosen = words
		}
	}
	sheets := widgets.NewChoiceList(text.Say("papers.cards.sheet-search"), text.Say("papers.cards.sheet-none"), list)
	sheets.Least(listHeight)
	sheets.OnChosen = func(i int) {
		p.wanted.cards.laying.Sheet, p.wanted.cards.laying.First = p.sheets[i], 1
		p.again()
	}
	return widgets.Col(look.S8, widgets.Line(text.Say("field.ctl.sheet"), look.NoteBold, look.Soft), widgets.Para(chosen, look.Body, look.Ink), sheets.Container)
}

// firstLabel is the field for the first free label of a used sheet.
func (p *Page) firstLabel() fyne.CanvasObject {
	text := p.w.Text()
	field := widgets.NewField(strconv.Itoa(p.wanted.cards.laying.First), widgets.FieldOptions{Label: text.Say("papers.cards.first")})
	field.OnCommit = func(typed string) {
		n, err := strconv.Atoi(strings.TrimSpace(typed))
		if err != nil {
			n = 0 // no label, which the sheet refuses
		}
		next := p.wanted.cards.laying
		next.First = n
		if r := next.Check(); r != nil {
			field.Refuse(text.Why(r))
			return
		}
		p.wanted.cards.laying = next
		p.again()
	}
	p.first = field
	return field.Container
}

// keepers is who is named on every card: nobody, or the one that is ticked.
func (p *Page) keepers(all []people.Stored) fyne.CanvasObject {
	rows := widgets.Col(0)
	for _, one := range all {
		rows.Add(widgets.CheckRow(one.Name == p.wanted.cards.laying.Keeper, one.Name, "", "", func(on bool) {
			p.wanted.cards.laying.Keeper = ""
			if on {
				p.wanted.cards.laying.Keeper = one.Name
			}
			p.again()
		}))
	}
	return widgets.Col(look.S8, widgets.Line(p.w.Text().Say("papers.cards.keeper"), look.NoteBold, look.Soft), rows)
}

// noCards says why there is no card.
func (p *Page) noCards() string {
	text := p.w.Text()
	switch {
	case p.wanted.cards.ofAnimals:
		return text.Say("papers.cards.none-animals")
	case p.wanted.cards.place.IsZero():
		return text.Say("papers.cards.no-house")
	}
	return text.Say("papers.cards.none")
}
