package main

import (
	"errors"

	"coilward/export/paper"
	"coilward/export/pdf"
	"coilward/model"
	"coilward/model/wording"
)

// printToWrite writes sheets that are written on in the room: for checks or for weighing.
func (p *program) printToWrite(w printing, size paper.Size) (err error) {
	c, shut, err := p.read(w.folder)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, shut()) }()
	text := p.languages.In(w.language, wording.Units{})
	var d paper.Document
	var issued model.Moment
	var count int
	err = c.View(func(v model.View) error {
		issued = v.Now()
		in, err := findPlace(v, w.place)
		if err != nil {
			return err
		}
		if w.paper == weighSheet {
			s, err := paper.GatherWeighSheet(v, in, issued.Day())
			if err != nil {
				return err
			}
			count = len(s.Rows)
			d, err = paper.WeighSheetPaper(s, text, size)
			return err
		}
		of, err := w.checked(v, in)
		if err != nil {
			return err
		}
		sheets, err := paper.GatherCheckSheets(v, of, issued.Day())
		if err != nil {
			return err
		}
		count = len(sheets)
		d, err = paper.CheckSheetsPaper(sheets, p.tables, text, size, !w.keyless)
		return err
	})
	if err != nil {
		return err
	}
	if count == 0 {
		return refuse("ctl.place", w.place, "ctl.place.nobody")
	}
	if err := pdf.WriteFile(w.out, d.By(version()), issued.Time()); err != nil {
		return refuseFile(w.out, "ctl.file.unwritable", err)
	}
	done := "ctl.print.check-sheet"
	if w.paper == weighSheet {
		done = "ctl.print.weigh-sheet"
	}
	p.counted(done, count, gaps{"File": w.out})
	return nil
}

// checked are the animals that get a sheet for a check: the one that is named, those of a
// place, or none in particular.
func (w printing) checked(v model.View, in model.PlaceID) ([]model.AnimalID, error) {
	switch {
	case w.anyone:
		return []model.AnimalID{{}}, nil
	case w.animal == "":
		return paper.SheetAnimals(v, in)
	}
	animal, err := find(v, w.animal)
	return []model.AnimalID{animal}, err
}
