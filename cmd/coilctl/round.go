package main

import (
	"errors"

	"coilward/export/paper"
	"coilward/export/pdf"
	"coilward/model"
	"coilward/model/wording"
)

// printRound writes the sheet for today's round.
func (p *program) printRound(w printing, size paper.Size) (err error) {
	c, shut, err := p.read(w.folder)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, shut()) }()
	var s paper.RoundSheet
	if err := c.View(func(v model.View) (err error) { s, err = paper.GatherRoundSheet(v, p.tables, ""); return err }); err != nil {
		return err
	}
	d, err := paper.RoundSheetPaper(s, p.languages.In(w.language, wording.Units{}), size)
	if err != nil {
		return err
	}
	if err := pdf.WriteFile(w.out, d.By(version()), s.Issued.Time()); err != nil {
		return refuseFile(w.out, "ctl.file.unwritable", err)
	}
	p.line("ctl.print.round", gaps{"File": w.out, "Day": s.Issued.Day()})
	return nil
}
