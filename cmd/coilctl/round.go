package main

import (
	"coilward/export/paper"
	"coilward/model"
	"coilward/model/wording"
)

// printRound writes the sheet for today's round.
func (p *program) printRound(w printing, size paper.Size) error {
	return p.printOf(w, func(v model.View, text *wording.Text) (printed, error) {
		s, err := paper.GatherRoundSheet(v, p.tables, "")
		if err != nil {
			return printed{}, err
		}
		d, err := paper.RoundSheetPaper(s, text, size)
		return printed{d, s.Issued, "ctl.print.round", gaps{"File": w.out, "Day": s.Issued.Day()}}, err
	})
}
