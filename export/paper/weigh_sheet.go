package paper

import (
	"fmt"
	"strconv"

	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/label"
	"coilward/model/written"
)

// WeighSheet is what the sheet for a day of weighing says before anything is written on it.
type WeighSheet struct {
	Code  label.Written
	Where string // whose boxes; empty: all
	Rows  []written.Row
}

// GatherWeighSheet reads the sheet of a place's boxes, zero for the whole house, for a day.
func GatherWeighSheet(v model.View, in model.PlaceID, day model.Day) (WeighSheet, error) {
	rows, err := written.Rows(v, in, written.On(v.Now(), min(day, v.Now().Day())))
	if err != nil {
		return WeighSheet{}, err
	}
	s := WeighSheet{Code: label.Written{Kind: label.WeighSheet, ID: v.NewID(), Of: in.ID, Day: day, Order: written.OrderOf(rows)}, Rows: rows}
	if !in.IsZero() {
		house, err := husbandry.ReadHouse(v)
		if err != nil {
			return WeighSheet{}, fmt.Errorf("gather a sheet for weighing: %w", err)
		}
		s.Where = house.Title(in)
	}
	return s, nil
}

// WeighSheetPaper is the sheet for a day of weighing: the boxes in the order of a walk with
// the last weight of each animal and room for this day's.
func WeighSheetPaper(s WeighSheet, text Text, size Size) (Document, error) {
	code, err := codeOf(s.Code.Text())
	if err != nil {
		return Document{}, fmt.Errorf("the sheet for weighing: %w", err)
	}
	say := text.Say
	d := Document{Title: say("paper.weigh-sheet.kicker"), Subject: say("paper.check-sheet.what"), Language: text.Language(), Size: size,
		FootLeft: say("paper.weigh-sheet.kicker"), FootMiddle: say("paper.check-sheet.foot"),
		PageOf: func(page, total int) string { return say("paper.page-of", gaps{"Page": page, "Total": total}) }}
	where := say("paper.weigh-sheet.all")
	if s.Where != "" {
		where = Clean(s.Where)
	}
	words := []Block{Paragraph{say("paper.weigh-sheet.kicker"), smallBold.In(Accent)}, Paragraph{where, titleStyle},
		Space(1), Paragraph{say("paper.weigh-sheet.how", written.GutLetters(text.Say)), smallStyle}}
	blocks := []Block{
		Columns{Shares: []float64{size.W - size.Left - size.Right - codeSide - 4, codeSide}, Gap: 4, Parts: [][]Block{words, {codeFigure(code, s.Code, text)}}},
		writeFields([]writeField{{say("paper.check-sheet.day"), text.Day(s.Code.Day), 3}, {say("field.person"), "", 3}}),
		writeFields([]writeField{{say("field.weighed-with"), "", 3}, {say("field.reference"), "", 2}, {say("field.reading"), "", 2}, {say("paper.weigh-sheet.good"), "", 1}}),
	}
	t := Table{Columns: []Column{{Fixed: 7}, {Title: say("paper.weigh-sheet.box"), Share: 3, Style: smallInk}, {Title: say("paper.weigh-sheet.animal"), Share: 3, Style: rowStyle},
		{Title: say("paper.weigh-sheet.last"), Fixed: 34, Style: smallInk}, {Title: say("field.mass"), Share: 2}, {Title: say("field.gut"), Share: 2}}}
	for i, r := range s.Rows {
		name := cut(Clean(r.Animal.Name), longestTitle)
		if r.Animal.Code != "" {
			name += "\u00a0· " + cut(Clean(r.Animal.Code), longestCode)
		}
		last := say("paper.weigh-sheet.never")
		if !r.Last.Mass.IsZero() {
			last = say("paper.check-sheet.last", gaps{"Mass": r.Last.Mass, "Day": text.DayShort(r.Last.At.Day())})
		}
		t.Rows = append(t.Rows, []Cell{numberCell(i+1, false), {Text: Clean(r.Box)}, {Text: name}, {Text: last}, {Draw: toWrite, Words: "____"}, {Draw: toWrite, Words: "____"}})
	}
	if len(s.Rows) == 0 {
		blocks = append(blocks, Paragraph{say("paper.weigh-sheet.nobody"), textStyle})
	} else {
		blocks = append(blocks, t)
	}
	blocks = append(blocks, Paragraph{say("paper.weigh-sheet.caution", gaps{"Count": strconv.Itoa(len(s.Rows))}), smallInk})
	d.Sections = []Section{{Name: where, Blocks: blocks}}
	return d.tellingMissing(text), nil
}

// rowStyle has room to write beside it.
var rowStyle = Style{Bold, 8.6, 6.2, Ink}

// toWrite is a line to write on.
func toWrite(c Canvas, b Box) {
	c.Path(segment(b.X0, b.Y1-1.4, b.X1, b.Y1-1.4), Paint{Stroke: Ink2, Width: .2})
}
