package main

import (
	"coilward/export/paper"
	"coilward/model"
	"coilward/model/wording"
)

// printPowerCut writes the paper that hangs in the room before the power fails.
func (p *program) printPowerCut(w printing, size paper.Size) error {
	return p.printOf(w, func(v model.View, text *wording.Text) (printed, error) {
		plan, err := paper.GatherPowerCut(v, p.tables)
		if err != nil {
			return printed{}, err
		}
		called, err := w.calledIn(v, paper.SitterRoles())
		if err != nil {
			return printed{}, err
		}
		return printed{paper.PowerCutPaper(plan, called, text, size), plan.Issued, "ctl.print.power-cut", gaps{"File": w.out, "Day": plan.Issued.Day()}}, nil
	})
}
