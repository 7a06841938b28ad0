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
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// cards is which cards are asked for, and on what.
type cards struct {
	ofAnimals bool            // else of boxes
	some      bool            // of those boxes, or of those who live in them; else the whole house
	boxes     []model.PlaceID // never changed in place: what makes a paper reads them meanwhile
	laying    paper.Laying
}

// lay reads the sheets, and chooses the first of the usual paper where none is
// chosen yet; it is false where they cannot be read.
func (p *Page) lay() bool {
	if len(p.sheets) > 0 {
		return true
	}
	all, err := label.Sheets(assets.Knowledge())
	if err != nil {
		p.w.Fault("papers.failed", err)
		return false
	}
	p.sheets = label.Cards(all)
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

// boxes are the enclosures of the house that are in use, in the order of a walk.
func (p *Page) boxes() []husbandry.StoredPlace {
	return slices.DeleteFunc(slices.Clone(p.house.Places()), func(one husbandry.StoredPlace) bool {
		_, closed := p.house.Closed(one.ID)
		return closed || !one.Kind.Houses()
	})
}

// cardPlaces is the choice of the whole house or of some boxes, which are ticked
// singly, or all that stand in a room or a rack at once.
func (p *Page) cardPlaces() fyne.CanvasObject {
	text := p.w.Text()
	const everywhere, some = "everywhere", "some"
	chosen := everywhere
	if p.wanted.cards.some {
		chosen = some
	}
	where := particulars.NewFew(text.Say("papers.cards.where"), []string{everywhere, some},
		[]string{text.Say("papers.cards.everywhere"), text.Say("papers.cards.some")}, chosen, func(value string) {
			p.wanted.cards.some = value == some
			p.again()
		})
	parts := []fyne.CanvasObject{where.Container}
	if p.wanted.cards.some {
		parts = append(parts, p.ticks())
	}
	return widgets.Col(look.S8, parts...)
}

// ticks are the boxes to be ticked, under the places that they stand in.
func (p *Page) ticks() fyne.CanvasObject {
	standing := map[model.PlaceID][]model.PlaceID{} // the boxes of a place, itself among them if it is one
	for _, box := range p.boxes() {
		for _, outer := range p.house.Path(box.ID) {
			standing[outer.ID] = append(standing[outer.ID], box.ID)
		}
	}
	rows := widgets.Col(0)
	for _, one := range p.house.Places() {
		inside := standing[one.ID]
		if len(inside) == 0 {
			continue
		}
		all := !slices.ContainsFunc(inside, func(box model.PlaceID) bool { return !slices.Contains(p.wanted.cards.boxes, box) })
		row := widgets.CheckRow(all, one.Name, "", one.Code, func(on bool) {
			p.wanted.cards.boxes = slices.DeleteFunc(slices.Clone(p.wanted.cards.boxes), func(box model.PlaceID) bool { return slices.Contains(inside, box) })
			if on {
				p.wanted.cards.boxes = append(p.wanted.cards.boxes, inside...)
			}
			p.again()
		})
		rows.Add(widgets.Pad(row, 0, 0, 0, look.S16*float32(len(p.house.Path(one.ID))-1)))
	}
	return rows
}

// cardSheets is the choice of the sheet, by its paper and its measures.
func (p *Page) cardSheets() fyne.CanvasObject {
	text := p.w.Text()
	kinds, now := []label.Paper{label.A4, label.Letter}, p.wanted.cards.laying.Sheet.Paper
	size := widgets.NewSegments(36, slices.Index(kinds, now), func(i int) {
		first := slices.IndexFunc(p.sheets, func(s label.Sheet) bool { return s.Paper == kinds[i] })
		p.wanted.cards.laying.Sheet, p.wanted.cards.laying.First = p.sheets[first], 1
		p.again()
	}, widgets.Choice{Label: string(label.A4)}, widgets.Choice{Label: string(label.Letter)})
	rows := widgets.Col(0)
	for _, s := range p.sheets {
		if s.Paper != now {
			continue
		}
		key := "papers.cards.sheet"
		if s.Cut {
			key = "papers.cards.sheet-cut"
		}
		words := text.Say(key, map[string]any{"Width": text.Decimal(int64(s.Width), 1), "Height": text.Decimal(int64(s.Height), 1),
			"Columns": strconv.Itoa(s.Columns), "Rows": strconv.Itoa(s.Rows), "Paper": string(s.Paper)})
		rows.Add(widgets.CheckRow(s.ID == p.wanted.cards.laying.Sheet.ID, words, "", "", func(bool) {
			p.wanted.cards.laying.Sheet, p.wanted.cards.laying.First = s, 1
			p.again()
		}))
	}
	return widgets.Col(look.S4, widgets.Line(text.Say("field.ctl.sheet"), look.NoteBold, look.Soft), size.Container, rows)
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

// nothing says why the paper has no page.
func (p *Page) nothing() string {
	text := p.w.Text()
	switch {
	case p.wanted.cards.some && len(p.wanted.cards.boxes) == 0 && len(p.boxes()) > 0:
		return text.Say("papers.cards.none")
	case p.wanted.cards.ofAnimals:
		return text.Say("papers.cards.none-animals")
	}
	return text.Say("papers.cards.no-house")
}
