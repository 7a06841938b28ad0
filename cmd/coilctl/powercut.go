package main

import (
	"errors"

	"coilward/export/paper"
	"coilward/export/pdf"
	"coilward/model"
	"coilward/model/people"
	"coilward/model/wording"
)

// printPowerCut writes the paper that hangs in the room before the power fails.
func (p *program) printPowerCut(w printing, size paper.Size) (err error) {
	c, shut, err := p.read(w.folder)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, shut()) }()
	var plan paper.PowerCutPlan
	var all []people.Stored
	err = c.View(func(v model.View) (err error) {
		if all, err = people.All(v); err != nil {
			return err
		}
		plan, err = paper.GatherPowerCut(v, p.tables)
		return err
	})
	if err != nil {
		return err
	}
	called, err := w.called(all, paper.SitterRoles())
	if err != nil {
		return err
	}
	d := paper.PowerCutPaper(plan, called, p.languages.In(w.language, wording.Units{}), size)
	if err := pdf.WriteFile(w.out, d.By(version()), plan.Issued.Time()); err != nil {
		return refuseFile(w.out, "ctl.file.unwritable", err)
	}
	p.line("ctl.print.power-cut", gaps{"File": w.out, "Day": plan.Issued.Day()})
	return nil
}
