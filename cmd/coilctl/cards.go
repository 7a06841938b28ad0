package main

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"coilward/assets"
	"coilward/export/paper"
	"coilward/export/pdf"
	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/label"
	"coilward/model/wording"
)

// printCards writes the cards of boxes, or of animals, on a sheet of labels.
func (p *program) printCards(w printing) (err error) {
	sheet, err := sheetOf(w.sheet, label.Cards)
	if err != nil {
		return err
	}
	first, err := strconv.Atoi(w.first)
	if err != nil {
		first = 0 // no label
	}
	on := paper.Laying{Sheet: sheet, First: first, Keeper: w.keeper}
	if r := on.Check(); r != nil {
		r.Value = w.first
		return r
	}
	c, shut, err := p.read(w.folder)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, shut()) }()
	var cards []paper.Card
	var issued model.Moment
	err = c.View(func(v model.View) error {
		issued = v.Now()
		place, err := findPlace(v, w.place)
		if err != nil {
			return err
		}
		gather := paper.GatherCards
		if w.ofAnimals {
			gather = paper.GatherAnimalCards
		}
		cards, err = gather(v, place)
		return err
	})
	if err != nil {
		return err
	}
	if len(cards) == 0 {
		return refuse("ctl.place", w.place, "ctl.place.no-card")
	}
	d, err := paper.CardsPaper(cards, on, p.tables, p.languages.In(w.language, wording.Units{}), issued)
	if err != nil {
		return err
	}
	if err := pdf.WriteFile(w.out, d.By(version()), issued.Time()); err != nil {
		return refuseFile(w.out, "ctl.file.unwritable", err)
	}
	p.counted("ctl.print.cards", len(cards), gaps{"File": w.out})
	return nil
}

// sheetOf is the sheet of that id, among those that fit.
func sheetOf(wanted string, fit func([]label.Sheet) []label.Sheet) (label.Sheet, error) {
	all, err := label.Sheets(assets.Knowledge())
	if err != nil {
		return label.Sheet{}, err
	}
	var ids []string
	for _, s := range fit(all) {
		if strings.EqualFold(string(s.ID), wanted) {
			return s, nil
		}
		ids = append(ids, string(s.ID))
	}
	return label.Sheet{}, &model.Refusal{Field: "ctl.sheet", Value: wanted, Reason: "ctl.sheet.unknown", Answer: model.Mend,
		Gaps: map[string]model.Gap{"Which": model.TextGap(strings.Join(ids, ", "))}}
}

// findPlace is the place of that name, code or id; empty is the whole house.
func findPlace(v model.View, wanted string) (model.PlaceID, error) {
	if wanted == "" {
		return model.PlaceID{}, nil
	}
	house, err := husbandry.ReadHouse(v)
	if err != nil {
		return model.PlaceID{}, err
	}
	found := slices.DeleteFunc(slices.Clone(house.Places()), func(s husbandry.StoredPlace) bool {
		_, closed := house.Closed(s.ID)
		named := strings.EqualFold(s.Name, wanted) || s.Code != "" && strings.EqualFold(s.Code, wanted)
		return s.ID.String() != wanted && (closed || !named)
	})
	switch len(found) {
	case 0:
		return model.PlaceID{}, refuse("ctl.place", wanted, "ctl.place.none")
	case 1:
		return found[0].ID, nil
	}
	var which []string
	for _, s := range found {
		which = append(which, house.Title(s.ID)+" ("+s.ID.String()+")")
	}
	return model.PlaceID{}, &model.Refusal{Field: "ctl.place", Value: wanted, Reason: "ctl.place.several", Answer: model.Mend,
		Gaps: map[string]model.Gap{"Which": model.TextGap(strings.Join(which, "; "))}}
}
