package particulars

import (
	"errors"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/assumed"
	"coilward/model/knowledge"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Assumed are the figures that chances of a thing are worked out from, each row of the
// tables as it holds, and how to change it. It stands in the column beside a page, as
// forms do.
type Assumed struct {
	window place.Window
	of     knowledge.AgentID
	show   func(content *fyne.Container, form *SideForm)
	leave  func()
	done   func()
}

// NewAssumed shows the figures of a thing: show lays them, and the form of a row, beside
// the page; form is nil where there is none. leave takes them away, done is called once
// something was changed.
func NewAssumed(w place.Window, of knowledge.AgentID, show func(content *fyne.Container, form *SideForm), leave, done func()) *Assumed {
	a := &Assumed{window: w, of: of, show: show, leave: leave, done: done}
	a.list()
	return a
}

func (a *Assumed) say(key string, gaps ...map[string]any) string {
	return a.window.Text().Say(key, gaps...)
}

func (a *Assumed) title() string {
	return a.say("assumed.title", map[string]any{"Agent": a.say("agent." + string(a.of))})
}

// read are the figures as they hold now; nil where they cannot be read, which is said.
func (a *Assumed) read() (f *assumed.Figures) {
	if err := a.window.Collection().View(func(v model.View) (err error) {
		f, err = assumed.ReadFigures(v, a.window.Tables())
		return err
	}); err != nil {
		a.window.Fault("chance.fault", err)
		return nil
	}
	return f
}

// list shows the rows.
func (a *Assumed) list() {
	f := a.read()
	if f == nil {
		return
	}
	parts := []fyne.CanvasObject{widgets.Para(a.say("assumed.caution"), look.Note, look.Soft)}
	if len(f.Unread()) > 0 {
		parts = append(parts, widgets.Caution(a.say("assumed.unread")))
	}
	for _, row := range assumed.RowsOf(a.window.Tables(), a.of) {
		parts = append(parts, a.card(f, row))
	}
	foot := widgets.Button(widgets.Plain, widgets.Act{Label: a.say("assumed.close"), Key: "Esc", Do: a.leave})
	a.show(Column(a.title(), a.leave, widgets.Col(look.S16, parts...), foot), nil)
}

// name is what a row is called: its table, and what of it the row is of.
func (a *Assumed) name(row assumed.Row) string {
	table, t := a.say("assumed.table."+string(row.Table)), a.window.Tables()
	var of string
	key, gaps := "assumed.row", map[string]any{"Table": table}
	for _, p := range t.Priors() {
		if row.Table == assumed.Priors && p.ID == row.ID {
			of = a.say("assumed.origin." + string(p.Origin))
		}
	}
	for _, s := range t.Sights() {
		if row.Table == assumed.Sights && s.ID == row.ID {
			var all []string
			for _, m := range s.Materials {
				all = append(all, a.say("material."+string(m)))
			}
			of = strings.Join(append(all, a.say("method."+string(s.By))), ", ")
			if s.Species != "" {
				key, gaps["Species"] = "assumed.row-species", a.say("species."+string(s.Species))
			}
		}
	}
	if of == "" {
		return table
	}
	gaps["Of"] = of
	return a.say(key, gaps)
}

// source is where the table has a row from.
func (a *Assumed) source(row assumed.Row) string {
	t := a.window.Tables()
	for _, p := range t.Priors() {
		if row.Table == assumed.Priors && p.ID == row.ID {
			return p.Source
		}
	}
	for _, s := range t.Sights() {
		if row.Table == assumed.Sights && s.ID == row.ID {
			return s.Source
		}
	}
	c, _ := t.Carrier(knowledge.AgentID(row.ID))
	return c.Source
}

// card is a row with its figures as they hold, whose they are and why.
func (a *Assumed) card(f *assumed.Figures, row assumed.Row) fyne.CanvasObject {
	t := a.window.Text()
	rows := widgets.Col(look.S4, widgets.Para(a.name(row), look.BodyBold, look.Ink))
	own, changed := f.Own(row)
	spoilt, broken := f.Spoilt(row)
	switch {
	case broken:
		rows.Add(widgets.Caution(a.say("assumed.spoilt")))
	case changed:
		rows.Add(widgets.Para(a.changed(own), look.NoteBold, look.Accent))
	}
	values, _ := f.Values(row)
	for _, asked := range row.Table.Figures() {
		rows.Add(widgets.Col(0, widgets.Para(a.say("assumed.figure."+string(asked.Figure)), look.Note, look.Soft), widgets.Para(a.told(asked, values[asked.Figure]), look.Body, look.Ink)))
	}
	if !changed {
		rows.Add(widgets.Para(t.Source(a.source(row)), look.Note, look.Faint))
	}
	if !a.window.ReadOnly() {
		acts := widgets.Wrap(look.S8, widgets.Button(widgets.Quiet, widgets.Act{Label: a.say("assumed.change"), Icon: "note", Do: func() { a.form(row) }}))
		if document := own.Document; changed || broken {
			if broken {
				document = spoilt.Document
			}
			acts.Add(widgets.Button(widgets.Quiet, widgets.Act{Label: a.say("assumed.reset"), Icon: "undo", Do: func() {
				a.window.Do(func(place.Answer) model.Command {
					return assumed.Reset{Tables: a.window.Tables(), Document: document}
				}, func(err error) {
					if err == nil {
						a.done()
						a.list()
					}
				})
			}}))
		}
		rows.Add(acts)
	}
	return widgets.Card(look.S12, rows)
}

// changed says whose a figure is, since when and why.
func (a *Assumed) changed(own assumed.Stored) string {
	key := "assumed.changed"
	if own.By == assumed.Vet {
		key = "assumed.changed-vet"
	}
	return a.say(key, map[string]any{"Day": a.window.Text().DayShort(own.At.Day()), "Why": own.Why})
}

// typed is a value as a person types it.
func (a *Assumed) typed(asked assumed.Asked, value int) string {
	if asked.In == 0 {
		return strconv.Itoa(value)
	}
	return a.window.Text().Decimal(int64(value), asked.Places())
}

func (a *Assumed) told(asked assumed.Asked, s knowledge.Span) string {
	if asked.One() {
		return a.typed(asked, s.Assumed)
	}
	return a.say("assumed.range", map[string]any{"Low": a.typed(asked, s.Low), "Mid": a.typed(asked, s.Assumed), "High": a.typed(asked, s.High)})
}

// form asks for the figures of a row.
func (a *Assumed) form(row assumed.Row) {
	all := a.read()
	if all == nil {
		return
	}
	f := NewSideForm(a.window)
	own, changed := all.Own(row)
	if !changed {
		own, _ = all.Spoilt(row)
		own.Row = row
	}
	values, _ := all.Values(row)
	parts := []fyne.CanvasObject{widgets.Para(a.name(row), look.BodyBold, look.Ink), widgets.Para(a.say("assumed.caution"), look.Note, look.Soft)}
	for _, asked := range row.Table.Figures() {
		s := values[asked.Figure]
		ends := []string{a.say("assumed.low"), a.say("assumed.mid"), a.say("assumed.high")}
		fields := []fyne.CanvasObject{}
		for i, value := range []int{s.Low, s.Assumed, s.High} {
			if asked.One() && i > 0 {
				break
			}
			if asked.One() {
				ends[i] = a.say("assumed.mid")
			}
			fields = append(fields, widgets.Grow(f.Field(asked.Fields[i], a.typed(asked, value), widgets.FieldOptions{Label: Capital(ends[i])})))
		}
		parts = append(parts, widgets.Col(look.S4, widgets.Para(a.say("assumed.figure."+string(asked.Figure)), look.Body, look.Ink), widgets.RowTop(look.S8, fields...)))
	}
	by := own.By
	if by == "" {
		by = assumed.Keeper
	}
	var tellers, said []string
	for _, one := range assumed.Tellers() {
		tellers, said = append(tellers, string(one)), append(said, Capital(a.say("assumed.by."+string(one))))
	}
	parts = append(parts, NewFew(a.say("assumed.by"), tellers, said, string(by), func(v string) { by = assumed.Teller(v) }).Container,
		f.Field("why", own.Why, widgets.FieldOptions{Rows: 2}), widgets.Para(a.window.Text().Source(a.source(row)), look.Note, look.Faint))
	f.Chosen = func() string { return string(by) }
	f.Command = func(place.Answer) (model.Command, error) {
		o := assumed.Own{Row: row, Values: map[assumed.Figure]knowledge.Span{}, By: by, Why: f.Text("why")}
		for _, asked := range row.Table.Figures() {
			var v [3]int
			for i, name := range asked.Fields {
				var err error
				if v[i], err = a.number(f, asked, name); err != nil {
					return nil, err
				}
			}
			o.Values[asked.Figure] = knowledge.Span{Low: v[0], Assumed: v[1], High: v[2]}
		}
		if r := o.Check(a.window.Tables()); r != nil {
			if typed := f.Text(r.Field); typed != "" {
				r.Value = typed
			}
			return nil, r
		}
		return assumed.Change{Tables: a.window.Tables(), Own: o, Base: own.Revision}, nil
	}
	f.Done = func() {
		a.done()
		a.list()
	}
	f.Build(a.title(), a.say("particulars.keep"), a.list, parts...)
	a.show(f.Content, f)
	a.window.Focus(f.First())
}

// number is what was typed in a field, in the figure's own unit.
func (a *Assumed) number(f *SideForm, asked assumed.Asked, name string) (int, error) {
	typed := f.Text(name)
	if asked.In == 0 {
		n, err := strconv.Atoi(typed)
		if err != nil {
			return 0, &model.Refusal{Field: name, Value: typed, Reason: "assumed.days", Answer: model.Mend}
		}
		return n, nil
	}
	hundredths, err := a.window.Text().ParsePercent(typed)
	fine := 10_000 / asked.In // hundredths of a percent in one of the figure's unit
	if asked.In == assumed.Tenths {
		fine = 100 / assumed.Tenths // cycles are typed as such
	}
	var r *model.Refusal
	tooFine := errors.As(err, &r) && r.Reason == "percent.fine" || err == nil && hundredths%fine != 0
	switch {
	case tooFine:
		return 0, &model.Refusal{Field: name, Value: typed, Reason: "percent.fine", Answer: model.Mend, Gaps: map[string]model.Gap{"Places": model.CountGap(asked.Places())}}
	case err != nil && asked.In == assumed.Tenths && r.Reason != "text.empty":
		return 0, &model.Refusal{Field: name, Value: typed, Reason: "assumed.spread", Answer: model.Mend}
	case err != nil:
		return 0, At(name, err)
	}
	return hundredths / fine, nil
}
