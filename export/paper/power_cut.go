package paper

import (
	"fmt"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/rescue"
)

// PowerCutPlan is what the paper for a power cut says.
type PowerCutPlan struct {
	Issued model.Moment
	House  rescue.House
	tables *knowledge.Tables
}

// GatherPowerCut reads in which order all who are here are brought to the warm.
func GatherPowerCut(v model.View, t *knowledge.Tables) (PowerCutPlan, error) {
	p := PowerCutPlan{Issued: v.Now(), tables: t}
	var err error
	if p.House, err = rescue.Read(v, t); err != nil {
		return p, fmt.Errorf("gather the order of rescue: %w", err)
	}
	return p, nil
}

// RescueWhys are why an animal has its turn, in words.
func RescueWhys(text Text, turn rescue.Turn) string {
	var words []string
	for _, why := range turn.Why {
		words = append(words, text.Say("rescue.why."+string(why)))
	}
	return strings.Join(words, ", ")
}

// PowerCutPaper is the paper that hangs in the room before the power fails: whom to call,
// what is never done and what is, and the animals in the order in which they are brought to
// the warm, with why, where and as what they count, and room to tick.
func PowerCutPaper(p PowerCutPlan, called []people.Stored, text Text, size Size) Document {
	say := text.Say
	blocks := []Block{
		Paragraph{say("paper.power-cut.kicker"), titleStyle}, Space(1),
		Paragraph{say("paper.power-cut.when", gaps{"Set": say("paper.power-cut.usual", gaps{"From": p.degrees(text, knowledge.ValueCoolLeast), "To": p.degrees(text, knowledge.ValueCoolMost)}),
			"Least": p.degrees(text, knowledge.ValueColdRoom)}), textStyle},
		Paragraph{say("paper.power-cut.lawful"), textStyle},
		Columns{Shares: []float64{1, 1}, Gap: 8, Parts: [][]Block{
			{Heading{Level: 2, Text: say("paper.power-cut.never")}, List{Triangle, p.acts(text, true), textStyle}},
			{Heading{Level: 2, Text: say("paper.power-cut.do")}, List{Ring, p.acts(text, false), textStyle}},
		}},
		Heading{Level: 2, Text: say("paper.power-cut.call")},
		Columns{Shares: []float64{1, 1}, Gap: 8, Parts: halves(calls(text, called))},
		Heading{Level: 2, Text: say("paper.power-cut.noted")},
		Paragraph{say("paper.power-cut.noted-what", gaps{"Days": p.days()}), textStyle},
	}
	list := []Block{Heading{Level: 1, Text: say("paper.power-cut.order-head"), Aside: text.Count("power-cut.turns", len(p.House.Turns))}}
	var criteria []string
	for _, c := range p.tables.Rescue() {
		criteria = append(criteria, say("rescue.why."+string(c.ID)))
	}
	list = append(list, Paragraph{say("paper.power-cut.order", gaps{"Criteria": strings.Join(criteria, " → ")}), smallInk}, Paragraph{say("paper.power-cut.eggs"), smallInk})
	list = append(list, p.through(text)...)
	list = append(list, Heading{Level: 3, Text: say("paper.power-cut.sources")}, List{Dot, p.sources(text), smallStyle})
	return Document{
		Title: say("paper.power-cut.kicker"), Subject: say("paper.record.issued", gaps{"Day": p.Issued.Day()}), Language: text.Language(), Size: size,
		FootLeft: say("paper.power-cut.kicker"), FootMiddle: say("paper.power-cut.foot", gaps{"Day": p.Issued.Day()}),
		PageOf:   func(page, total int) string { return say("paper.page-of", gaps{"Page": page, "Total": total}) },
		Sections: []Section{{Name: say("paper.power-cut.kicker"), Fit: true, Blocks: blocks}, {Name: say("paper.power-cut.order-head"), Fit: true, Blocks: list}},
	}.tellingMissing(text)
}

// degrees is a temperature of the tables.
func (p PowerCutPlan) degrees(text Text, id knowledge.ValueID) string {
	return text.Temperature(model.Temperature{Hundredths: int64(p.tables.Value(id))})
}

// commonPractice is the source of what has none.
const commonPractice = "common practice, no source"

func (p PowerCutPlan) acts(text Text, never bool) (words []string) {
	for _, a := range p.tables.ColdActs() {
		if a.Never == never {
			words = append(words, text.Say("rescue.act."+a.ID))
		}
	}
	return words
}

// days are the days of the watch, one after the other.
func (p PowerCutPlan) days() string {
	var days []string
	for _, look := range p.tables.ColdLooks() {
		days = append(days, strconv.Itoa(look.Day))
	}
	return strings.Join(days, ", ")
}

// sources are what each criterion rests on, those that rest on the same together, and
// what the acts rest on.
func (p PowerCutPlan) sources(text Text) (words []string) {
	add := func(name, source string) {
		said := text.Source(source)
		for i, w := range words {
			if strings.HasSuffix(w, ": "+said) {
				words[i] = strings.TrimSuffix(w, ": "+said) + ", " + name + ": " + said
				return
			}
		}
		words = append(words, name+": "+said)
	}
	for _, c := range p.tables.Rescue() {
		add(text.Say("rescue.why."+string(c.ID)), c.Source)
	}
	for _, a := range p.tables.ColdActs() { // the usual source is named once, behind the others
		if a.Source == commonPractice {
			continue
		}
		name, _, _ := strings.Cut(text.Say("rescue.act."+a.ID), ":")
		add(name, a.Source)
	}
	add(text.Say("paper.power-cut.acts"), commonPractice)
	return words
}

// through are the animals in their turns.
func (p PowerCutPlan) through(text Text) (blocks []Block) {
	say := text.Say
	if len(p.House.Turns) == 0 {
		return []Block{Paragraph{say("paper.power-cut.nobody"), textStyle}}
	}
	columns := []Column{{Fixed: 7}, {Fixed: 6}, {Title: say("paper.power-cut.whom"), Share: 2, Style: roundStyle}, {Title: say("field.place"), Share: 2.6, Style: smallInk},
		{Title: say("paper.power-cut.mass"), Share: 1.5, Style: smallInk}, {Title: say("paper.power-cut.first"), Share: 2.6, Style: smallInk}, {Title: say("field.class"), Share: 1.6, Style: smallInk}}
	table := Table{Columns: columns}
	for i, turn := range p.House.Turns {
		if p.House.Washed(i) {
			blocks = append(blocks, table, Keep{Space(1), Paragraph{Strong(say("paper.power-cut.hygiene")), smallInk}})
			table = Table{Columns: columns}
		}
		box := say("shelf.loose")
		if title, known := p.House.Boxes[turn.Place]; known {
			box = Clean(title)
		}
		mass := say("paper.power-cut.mass-unknown")
		if w, weighed := p.House.Weight[turn.ID]; weighed {
			mass = say("paper.power-cut.mass-of", gaps{"Mass": text.Mass(w.Mass), "Day": text.DayShort(w.At.Day())})
		}
		table.Rows = append(table.Rows, []Cell{numberCell(i+1, false), {Draw: toTick, Words: "[ ]"}, {Text: cut(Clean(turn.Name), longestTitle)}, {Text: box}, {Text: mass},
			{Text: RescueWhys(text, turn)}, {Text: say("round.class." + p.House.Counts(i).String())}})
	}
	return append(blocks, table)
}
