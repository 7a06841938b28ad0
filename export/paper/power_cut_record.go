package paper

import (
	"slices"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/powercut"
)

// addPowerCut takes a power cut that the animal lived through.
func (g *Gathered) addPowerCut(d model.Document) {
	cut, err := powercut.Read(d)
	if err != nil {
		g.facts.Unknown[d.Kind]++
		return
	}
	g.facts.PowerCuts = append(g.facts.PowerCuts, cut)
}

// powerCutTable are the power cuts that the animal lived through, the newest first, each
// with how cold it became and how far the watch after it has come.
func (r record) powerCutTable() Table {
	t := Table{Columns: []Column{r.column("paper.table.day", dayWidth), r.column("field.cut-until", dayWidth), {Title: r.say("field.coldest"), Share: 1, Style: smallInk},
		{Title: r.say("power-cut.watch"), Share: 1.4, Style: smallInk}, r.noteColumn()}}
	cuts := slices.Clone(r.PowerCuts)
	slices.SortStableFunc(cuts, func(a, b powercut.Stored) int { return int(b.From.Day() - a.From.Day()) })
	var checks []exam.StoredCheck
	for _, c := range r.Checks {
		checks = append(checks, exam.StoredCheck{Check: c.Check})
	}
	for _, cut := range cuts[:min(len(cuts), printedEntries)] {
		cold := r.say("power-cut.unmeasured")
		if cut.Coldest != nil {
			cold = r.text.Temperature(*cut.Coldest)
		}
		watch := r.say("power-cut.watch-over")
		if w := powercut.WatchAfter(r.Tables, cut.Until.Day(), powercut.Looks(checks)); !w.Over() {
			watch = r.say("power-cut.watch-open", gaps{"Looks": w.Looks, "Of": w.Of})
		}
		t.Rows = append(t.Rows, []Cell{{Text: r.text.Day(cut.From.Day())}, {Text: r.text.Day(cut.Until.Day())}, {Text: cold}, {Text: watch}, {Text: Clean(cut.Note)}})
	}
	return t
}
