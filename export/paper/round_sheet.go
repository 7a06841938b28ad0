package paper

import (
	"fmt"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/label"
	"coilward/model/round"
	"coilward/model/written"
)

// RoundSheet is what the sheet for a round says before anything is written on it.
type RoundSheet struct {
	Issued model.Moment
	Order  knowledge.RoundOrder
	House  round.House
	Parts  []RoundPart
	tables *knowledge.Tables
}

// RoundPart is what is gone through in one round, with the code of its sheet.
type RoundPart struct {
	round.Part
	Code label.Written
}

// GatherRoundSheet reads in which order all who are here are gone through today; an
// empty order is that of the last round.
func GatherRoundSheet(v model.View, t *knowledge.Tables, order knowledge.RoundID) (RoundSheet, error) {
	last, err := round.Last(v, 1)
	if err != nil {
		return RoundSheet{}, err
	}
	s := RoundSheet{Issued: v.Now(), Order: round.Chosen(t, last), tables: t}
	if o, known := t.Round(order); known {
		s.Order = o
	}
	if s.House, err = round.ReadHouse(v, t); err != nil {
		return RoundSheet{}, fmt.Errorf("gather a sheet for a round: %w", err)
	}
	for _, part := range round.Parts(s.Order, round.Stops(t, s.House.Dwellers)) {
		s.Parts = append(s.Parts, RoundPart{part, label.Written{Kind: label.RoundSheet, ID: v.NewID(), Day: s.Issued.Day(), Order: written.OrderOfStops(part.Stops)}})
	}
	return s, nil
}

// RoundSheetPaper is the sheet for a round: the boxes in their order with as what they
// count and why, what lies between them, and room to tick and to write. Who is gone
// through apart stands on a page of its own.
func RoundSheetPaper(s RoundSheet, text Text, size Size) (Document, error) {
	say := text.Say
	d := Document{Title: say("paper.round.kicker"), Subject: say("round.order." + string(s.Order.ID)), Language: text.Language(), Size: size,
		FootLeft: say("paper.round.kicker"), FootMiddle: say("paper.record.issued", gaps{"Day": s.Issued.Day()}),
		PageOf: func(page, total int) string { return say("paper.page-of", gaps{"Page": page, "Total": total}) }}
	for _, part := range s.Parts {
		code, err := codeOf(part.Code.Text())
		if err != nil {
			return Document{}, fmt.Errorf("the sheet for a round: %w", err)
		}
		title := say("paper.round.all")
		switch {
		case part.Apart:
			title = say("round.part.apart")
		case len(s.Parts) > 1:
			title = say("round.part.others")
		}
		words := []Block{Paragraph{say("paper.round.kicker"), smallBold.In(Accent)}, Paragraph{title, titleStyle}, Space(1),
			Paragraph{say("round.order."+string(s.Order.ID)) + " (" + text.Source(s.Order.Source) + ")", smallInk}, Paragraph{say("paper.round.how"), smallStyle}}
		blocks := []Block{
			Columns{Shares: []float64{size.W - size.Left - size.Right - codeSide - 4, codeSide}, Gap: 4, Parts: [][]Block{words, {codeFigure(code, part.Code, text)}}},
			writeFields([]writeField{{say("paper.check-sheet.day"), text.Day(part.Code.Day), 3}, {say("field.person"), "", 3}}),
		}
		for _, name := range s.House.Unread {
			blocks = append(blocks, Paragraph{say("due.page.unread", gaps{"Name": Clean(name)}), textStyle})
		}
		d.Sections = append(d.Sections, Section{Name: title, Blocks: append(blocks, s.through(part, text)...)})
	}
	if len(d.Sections) == 0 {
		d.Sections = []Section{{Name: say("paper.round.kicker"), Blocks: []Block{Paragraph{say("paper.round.kicker"), titleStyle}, Paragraph{say("refusal.round.nobody"), textStyle}}}}
	}
	return d.tellingMissing(text), nil
}

// through are the boxes of a part, with what lies between them.
func (s RoundSheet) through(part RoundPart, text Text) (blocks []Block) {
	say := text.Say
	columns := []Column{{Fixed: 7}, {Fixed: 6}, {Title: say("field.place"), Share: 2.2, Style: smallInk}, {Title: say("paper.sitter.whom"), Share: 1.9, Style: roundStyle},
		{Title: say("field.class"), Share: 4.3, Style: smallInk}, {Title: say("paper.table.note"), Share: 1.8}}
	barriers := round.Barriers(s.tables, s.Order, part.Stops)
	var table Table
	flush := func() {
		if len(table.Rows) > 0 {
			blocks = append(blocks, table)
		}
		table = Table{Columns: columns}
	}
	flush()
	for i, stop := range part.Stops {
		if words := BarrierWords(text, barriers[i]); len(words) > 0 {
			flush()
			blocks = append(blocks, Keep{Space(1), Paragraph{Strong(words[0]) + " " + strings.Join(words[1:], " "), smallInk}})
		}
		box := say("shelf.loose")
		if title, known := s.House.Boxes[stop.Place]; known {
			box = Clean(title)
		}
		var names []string
		for _, a := range stop.Animals {
			names = append(names, cut(Clean(s.House.Names[a]), longestTitle))
		}
		rules := round.Rules(s.Order, stop.Classes)
		class := say("round.class." + rules.String())
		if why := RoundReasons(text, stop, rules, func(id model.AnimalID) string { return Clean(s.House.Names[id]) }); why != "" {
			class += ": " + why
		}
		table.Rows = append(table.Rows, []Cell{numberCell(i+1, false), {Draw: toTick, Words: "[ ]"}, {Text: box}, {Text: strings.Join(names, ", ")}, {Text: class}, {Draw: noteLine, Words: "____"}})
	}
	flush()
	if sources := s.sources(barriers, text); len(sources) > 0 {
		blocks = append(blocks, Heading{Level: 3, Text: say("paper.power-cut.sources")}, List{Dot, sources, smallStyle})
	}
	return blocks
}

// sources are where the tables have from what each means does that lies between the boxes.
func (s RoundSheet) sources(barriers []round.Barrier, text Text) (all []string) {
	add := func(e knowledge.Effect) {
		line := text.Say("paper.round.source", gaps{"Means": text.Say("means." + string(e.Means)), "Target": text.Say("target." + string(e.Target)), "Source": text.Source(e.Source)})
		if !slices.Contains(all, line) {
			all = append(all, line)
		}
	}
	for _, b := range barriers {
		for _, u := range b.Uses {
			for _, target := range u.Targets {
				if e, told := s.tables.Effect(u.Means, target); told {
					add(e)
				}
			}
		}
		for _, e := range b.Vain {
			add(e)
		}
	}
	return all
}

// roundStyle has room to write beside it.
var roundStyle = Style{Bold, 8.6, 6.2, Ink}

// noteLine is a line to write on.
func noteLine(c Canvas, b Box) {
	c.Path(segment(b.X0, b.Y1-1.4, b.X1, b.Y1-1.4), Paint{Stroke: Ink2, Width: .2})
}

// toTick is a box to tick.
func toTick(c Canvas, b Box) { drawBox(c, (b.X0+b.X1)/2, (b.Y0+b.Y1)/2, 3.6) }

// RoundReasons are why a box counts as more than resident, in words: those of the class that
// rules first, and of whom each is where more than one lives in it.
func RoundReasons(text Text, stop round.Stop, rules round.Class, called func(model.AnimalID) string) string {
	var words []string
	for _, r := range stop.Because(rules) {
		word := reasonWords(text, r.Reason)
		if len(stop.Animals) > 1 {
			word = text.Say("round.why.of", gaps{"Animal": called(r.Animal), "Why": word})
		}
		if !slices.Contains(words, word) {
			words = append(words, word)
		}
	}
	return strings.Join(words, "; ")
}

func reasonWords(text Text, r round.Reason) string {
	var what string
	switch {
	case r.Finding != "":
		what = text.Say("finding." + string(r.Finding))
	case r.Agent != "":
		what = text.Say("agent." + string(r.Agent))
	}
	word := text.Say("round.why."+string(r.Why), gaps{"What": what})
	switch {
	case r.Since.IsZero():
		return word
	case r.Noted:
		return text.Say("round.why.noted", gaps{"Why": word, "Day": r.Since})
	}
	return text.Say("round.why-since."+string(r.Why), gaps{"What": what, "Day": r.Since})
}

// BarrierWords say what lies between two boxes of a round, or between two rounds: first what is always done,
// then what several means do together, then what tools are put into.
func BarrierWords(text Text, b round.Barrier) []string {
	if b.IsZero() {
		return nil
	}
	var measures []string
	for _, m := range b.Measures {
		measures = append(measures, text.Say("round.measure."+string(m)))
	}
	before := "round.before"
	if b.Rounds {
		before = "round.before-round"
	}
	words := []string{text.Say(before, gaps{"Measures": strings.Join(measures, ", ")})}
	var into []string
	for _, u := range b.Uses {
		into = append(into, text.Count("round.use", u.Minutes, gaps{"Means": text.Say("means." + string(u.Means)), "Targets": targetWords(text, u.Targets)}))
	}
	if len(into) > 1 {
		words = append(words, text.Say("round.never-mixed"))
	}
	for _, g := range b.Gases {
		var with []string
		for _, class := range g.With {
			with = append(with, text.Say("round.gas-with."+string(class)))
		}
		words = append(words, text.Say("round.gas", gaps{"Means": text.Say("means." + string(g.Means)), "With": strings.Join(with, ", ")}))
	}
	if len(into) > 0 {
		words = append(words, text.Say("round.tools", gaps{"Uses": strings.Join(into, "; ")}))
	}
	for _, e := range b.Vain {
		words = append(words, text.Say("round.vain", gaps{"Means": text.Say("means." + string(e.Means)), "Target": text.Say("target." + string(e.Target))}))
	}
	if len(b.Untimed) > 0 {
		words = append(words, text.Say("round.untimed", gaps{"Targets": targetWords(text, b.Untimed)}))
	}
	return words
}

func targetWords(text Text, all []knowledge.TargetID) string {
	var words []string
	for _, target := range all {
		words = append(words, text.Say("target."+string(target)))
	}
	return strings.Join(words, ", ")
}
