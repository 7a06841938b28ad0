package papers

import (
	"context"
	"errors"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/export/paper"
	"coilward/model"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// The papers that list who is here, and the one for the doors.
const (
	collectionOf kind = "collection-list"
	stockOn      kind = "stock"
	doorSheet    kind = "door-sheet"
)

// makeCollection makes the list of all who are here.
func (d desk) makeCollection(ctx context.Context, w wanted, width int, progress func(float64)) (*made, error) {
	var c paper.Collection
	if err := d.collection.View(func(v model.View) (err error) { c, err = paper.GatherCollection(v, d.tables); return err }); err != nil {
		return nil, err
	}
	c.Version = d.version
	text := d.languages.In(w.language, d.units)
	m := &made{issued: c.Issued, document: paper.CollectionList(c, text, w.size)}
	m.name = paper.FileName(".pdf", text.Say("paper.collection.kicker"), c.Issued.Day().String())
	return m, d.draw(ctx, m, width, progress)
}

// makeStock makes the stock on a day; without one on this day.
func (d desk) makeStock(ctx context.Context, w wanted, width int, progress func(float64)) (*made, error) {
	var s paper.Stock
	err := d.collection.View(func(v model.View) (err error) {
		day := v.Now().Day()
		if w.stockDay != 0 {
			day = w.stockDay
		}
		s, err = paper.GatherStock(v, d.tables, day)
		return err
	})
	if err != nil {
		return nil, err
	}
	s.Version, s.Told = d.version, w.told
	text := d.languages.In(w.language, d.units)
	m := &made{issued: s.Issued, document: paper.StockPaper(s, text, w.size)}
	m.name = paper.FileName(".pdf", text.Say("paper.stock.kicker"), s.Day.String())
	return m, d.draw(ctx, m, width, progress)
}

// makeDoorSheet makes what hangs on the doors; where nobody lives in the place it has no
// pages.
func (d desk) makeDoorSheet(ctx context.Context, w wanted, width int, progress func(float64)) (*made, error) {
	var s paper.DoorSheet
	err := d.collection.View(func(v model.View) (err error) { s, err = paper.GatherDoorSheet(v, d.tables, w.write.in); return err })
	if err != nil || len(s.Rooms) == 0 {
		return &made{issued: s.Issued}, err
	}
	text := d.languages.In(w.language, d.units)
	m := &made{issued: s.Issued, document: paper.DoorSheetPaper(s, w.called, text, w.size)}
	m.name = paper.FileName(".pdf", text.Say("paper.door.kicker"), s.Issued.Day().String())
	return m, d.draw(ctx, m, width, progress)
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
