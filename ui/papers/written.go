package papers

import (
	"slices"

	"fyne.io/fyne/v2"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
)

// toWrite is which sheets to be written on in the room are asked for.
type toWrite struct {
	of      whose
	in      model.PlaceID // whose boxes; zero: the whole house
	keyless bool          // without the list of what is looked for
}

// whose is of whom the sheets for checks are. Its values are those of the choice.
type whose string

// Of whom the sheets are.
const (
	ofOne  whose = "one"  // the animal that is chosen
	ofMany whose = "many" // each in some place
	ofAny  whose = "any"  // one without an animal
)

// kinds are the papers that are written on and typed in, which a route may ask for by name.
func kinds() []kind { return []kind{checkSheets, weighSheet, roundSheet} }

// ofAll tells whether the paper is about all animals, or about none that is chosen.
func (w wanted) ofAll() bool {
	return slices.Contains([]kind{sitterPaper, boxCards, roundSheet, powerCut, weighSheet, collectionOf, stockOn, doorSheet}, w.kind) || w.kind == checkSheets && w.write.of != ofOne
}

// gatherCheckSheets reads the sheets for checks, where somebody lives in the place.
func (d desk) gatherCheckSheets(v model.View, w wanted) (gathered, error) {
	of, issued := []model.AnimalID{w.animal}, v.Now()
	switch w.write.of {
	case ofAny:
		of = []model.AnimalID{{}}
	case ofMany:
		var err error
		if of, err = paper.SheetAnimals(v, w.write.in); err != nil {
			return gathered{}, err
		}
	}
	sheets, err := paper.GatherCheckSheets(v, of, issued.Day())
	if err != nil || len(sheets) == 0 {
		return gathered{}, err
	}
	g := about(issued, "paper.check-sheet.kicker", func(text *wording.Text) (paper.Document, error) {
		return paper.CheckSheetsPaper(sheets, d.tables, text, w.size, !w.write.keyless)
	})
	if w.write.of == ofOne {
		g.named = []string{sheets[0].Animal.Name, issued.Day().String()}
	}
	return g, nil
}

// gatherWeighSheet reads the sheet for a day of weighing, where somebody lives in the place.
func (d desk) gatherWeighSheet(v model.View, w wanted) (gathered, error) {
	issued := v.Now()
	s, err := paper.GatherWeighSheet(v, w.write.in, issued.Day())
	if err != nil || len(s.Rows) == 0 {
		return gathered{}, err
	}
	return about(issued, "paper.weigh-sheet.kicker", func(text *wording.Text) (paper.Document, error) {
		return paper.WeighSheetPaper(s, text, w.size)
	}), nil
}

// writeChoices are of whom the sheets are.
func (p *Page) writeChoices() []fyne.CanvasObject {
	text := p.w.Text()
	var parts []fyne.CanvasObject
	if p.wanted.kind == checkSheets {
		values := []string{string(ofOne), string(ofMany), string(ofAny)}
		few := particulars.NewFew(text.Say("papers.write.of"), values,
			[]string{text.Say("papers.write.one"), text.Say("papers.write.many"), text.Say("papers.write.any")}, string(p.wanted.write.of), func(value string) {
				p.wanted.write.of = whose(value)
				p.again()
			})
		parts = append(parts, few.Container)
	}
	if p.wanted.kind == weighSheet || p.wanted.write.of == ofMany {
		parts = append(parts, p.writePlace())
	}
	if p.wanted.kind == checkSheets {
		listed := !p.wanted.write.keyless
		parts = append(parts, widgets.CheckRow(listed, text.Say("papers.write.key"), "", "", func(on bool) {
			p.wanted.write.keyless = !on
			p.again()
		}))
	}
	return parts
}

// writePlace is the choice of a place in which boxes stand.
func (p *Page) writePlace() fyne.CanvasObject {
	text := p.w.Text()
	var ids []string
	var choices []widgets.Choice
	boxes := p.boxes()
	for _, one := range p.house.Places() {
		if _, closed := p.house.Closed(one.ID); closed {
			continue
		}
		holds := slices.ContainsFunc(boxes, func(box husbandry.StoredPlace) bool {
			return slices.ContainsFunc(p.house.Path(box.ID), func(outer husbandry.StoredPlace) bool { return outer.ID == one.ID })
		})
		if holds {
			ids, choices = append(ids, one.ID.String()), append(choices, widgets.Choice{Label: p.house.Title(one.ID), Detail: one.Code})
		}
	}
	chosen := ""
	if !p.wanted.write.in.IsZero() {
		chosen = p.wanted.write.in.String()
	}
	pick := particulars.NewPick(p.w, text.Say("papers.cards.where"), text.Say("papers.cards.everywhere"), ids, choices, chosen)
	pick.OnPicked = func() {
		id, err := model.ParseID(pick.Value())
		if err != nil {
			p.w.Fault("papers.failed", err)
			return
		}
		p.wanted.write.in = model.PlaceID{ID: id}
		p.again()
	}
	return widgets.Col(look.S4, pick.Container)
}
