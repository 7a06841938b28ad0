package papers

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// The papers that list who is here, and the one for the doors.
const (
	collectionOf kind = "collection-list"
	stockOn      kind = "stock"
	doorSheet    kind = "door-sheet"
)

// gatherStock reads the stock on a day; without one on this day.
func (d desk) gatherStock(v model.View, w wanted) (gathered, error) {
	day := v.Now().Day()
	if w.stockDay != 0 {
		day = w.stockDay
	}
	s, err := paper.GatherStock(v, d.tables, day)
	s.Version, s.Told = d.version, w.told
	return gathered{s.Issued, "paper.stock.kicker", []string{day.String()}, surely(func(text *wording.Text) paper.Document {
		return paper.StockPaper(s, text, w.size)
	})}, err
}

// gatherDoorSheet reads what hangs on the doors, where somebody lives in the place.
func (d desk) gatherDoorSheet(v model.View, w wanted) (gathered, error) {
	s, err := paper.GatherDoorSheet(v, d.tables, w.write.in)
	if err != nil || len(s.Rooms) == 0 {
		return gathered{}, err
	}
	return about(s.Issued, "paper.door.kicker", surely(func(text *wording.Text) paper.Document {
		return paper.DoorSheetPaper(s, w.called, text, w.size)
	})), nil
}

// stockChoices are of which day the stock is, and whether it says from whom the animals
// came.
func (p *Page) stockChoices() fyne.CanvasObject {
	text := p.w.Text()
	today := p.w.Now().Day()
	shown := p.wanted.stockDay
	if shown == 0 {
		shown = today
	}
	field := widgets.NewField(text.Day(shown), widgets.FieldOptions{Label: text.Say("papers.stock.day")})
	field.OnCommit = func(typed string) {
		day, err := today, error(nil)
		if strings.TrimSpace(typed) != "" {
			day, err = text.ParseDay(typed, today)
		}
		if err == nil && day > today {
			err = &model.Refusal{Field: "day", Value: typed, Reason: "day.future", Answer: model.Mend, Gaps: map[string]model.Gap{"Today": model.DayGap(today)}}
		}
		if r := (*model.Refusal)(nil); errors.As(err, &r) {
			field.Refuse(text.Why(r))
			return
		} else if err != nil {
			p.w.Fault("papers.failed", err)
			return
		}
		p.wanted.stockDay = day
		p.again()
	}
	p.day = field
	return widgets.Col(look.S16, field.Container, p.tick(&p.wanted.told, "papers.stock.from"))
}
