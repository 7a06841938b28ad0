package instruments

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// form asks for something in the side column.
type form struct {
	*particulars.SideForm
	id    model.ID // of what it is about; zero: something new
	again bool     // it is filled anew when what it is about changes
}

func newForm(p *Page, id model.ID) *form {
	return &form{SideForm: particulars.NewSideForm(p.window), id: id}
}

func (f *form) settle(title, act string, leave func(), parts ...fyne.CanvasObject) *form {
	f.Build(title, act, leave, parts...)
	return f
}

// wherePick asks for a place; none is what no place is called.
func wherePick(p *Page, none string, chosen model.PlaceID) *particulars.Pick {
	var ids []string
	var choices []widgets.Choice
	for _, one := range p.kit.House.Places() {
		if _, closed := p.kit.House.Closed(one.ID); !closed || one.ID == chosen {
			ids, choices = append(ids, one.ID.String()), append(choices, widgets.Choice{Label: p.kit.House.Title(one.ID)})
		}
	}
	value := ""
	if !chosen.IsZero() {
		value = chosen.String()
	}
	return particulars.NewPick(p.window, p.say("instruments.where"), none, ids, choices, value)
}

// placeOf is the place that was picked.
func placeOf(p *Page, pick *particulars.Pick) model.PlaceID {
	for _, one := range p.kit.House.Places() {
		if one.ID.String() == pick.Value() {
			return one.ID
		}
	}
	return model.PlaceID{}
}

// kinds are the kinds of something, in words.
func kinds[K ~string](p *Page, all []K, family string) (values, words []string) {
	for _, k := range all {
		values, words = append(values, string(k)), append(words, particulars.Capital(p.say(family+string(k))))
	}
	return values, words
}

// newInstrumentForm asks what is known of an instrument; of one that is there it
// also shows the checks.
func newInstrumentForm(p *Page, before *husbandry.Standing) *form {
	i, title := husbandry.Instrument{}, p.say("instruments.add")
	f := newForm(p, model.ID{})
	if before != nil {
		i, title, f.id, f.again = before.Instrument, before.Name, before.ID.ID, true
	}
	where := wherePick(p, particulars.Capital(p.say("particulars.unsaid")), i.Place)
	every := ""
	if i.CheckEvery > 0 {
		every = strconv.Itoa(i.CheckEvery)
	}
	kind := i.Kind
	parts := []fyne.CanvasObject{}
	if before != nil {
		parts = append(parts, p.checksOf(f, *before)...)
	}
	parts = append(parts, f.Field("instrument-name", i.Name, widgets.FieldOptions{}))
	if before == nil {
		values, words := kinds(p, husbandry.InstrumentKinds(), "husbandry.instrument-kind.")
		parts = append(parts, particulars.NewFew(p.say("field.instrument-kind"), values, words, "", func(v string) { kind = husbandry.InstrumentKind(v) }).Container)
	}
	closed := !i.Closed.IsZero()
	parts = append(parts, where.Container, f.Field("in-use", particulars.Typed(p.window, i.InUse), widgets.FieldOptions{Hint: p.say("particulars.hint.date")}),
		f.Field("check-every", every, widgets.FieldOptions{Unit: p.say("shelf.unit.days"), Hint: p.usual(kind)}),
		f.Field("place-code", i.Code, widgets.FieldOptions{}), f.Field("note", i.Note, widgets.FieldOptions{Rows: 2}))
	if before != nil {
		row := widgets.Stack()
		parts = append(parts, p.usedRow(row, &closed))
		parts = append(parts, widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("instruments.remove"), Icon: "bin", Do: func() {
			f.Do(husbandry.RemoveInstrument{ID: before.ID}, func() { p.kept("") })
		}}))
	}
	f.Chosen = func() string { return fmt.Sprint(kind, where.Value(), closed) }
	f.Command = func(place.Answer) (model.Command, error) {
		after := i
		after.Name, after.Kind, after.Place, after.Code, after.Note = f.Text("instrument-name"), kind, placeOf(p, where), f.Text("place-code"), f.Text("note")
		after.Closed = p.closedOn(closed, i.Closed)
		var err error
		if after.InUse, err = particulars.ReadDate(p.window, "in-use", f.Text("in-use")); err != nil {
			return nil, err
		}
		if after.CheckEvery = 0; f.Text("check-every") != "" {
			if after.CheckEvery, err = p.window.Text().ParseCount(f.Text("check-every"), husbandry.MaxEvery); err != nil {
				return nil, particulars.At("check-every", err)
			}
		}
		if before == nil {
			return husbandry.AddInstrument{Instrument: after}, nil
		}
		return husbandry.ChangeInstrument{ID: before.ID, Base: before.Revision, Instrument: after}, nil
	}
	f.Done = func() { p.kept(strings.Join(strings.Fields(f.Text("instrument-name")), " ")) }
	return f.settle(title, p.say("particulars.keep"), p.closeForm, parts...)
}

// usual is the interval of the tables for a kind, as a hint.
func (p *Page) usual(k husbandry.InstrumentKind) string {
	due := husbandry.CheckDue(p.window.Tables(), husbandry.StoredInstrument{Instrument: husbandry.Instrument{Kind: k}}, nil)
	if due.Every == 0 {
		return ""
	}
	return p.window.Text().Number(int64(due.Every))
}

// usedRow asks whether something is still used.
func (p *Page) usedRow(row *fyne.Container, closed *bool) fyne.CanvasObject {
	row.Objects = []fyne.CanvasObject{widgets.CheckRow(!*closed, p.say("instruments.used"), p.say("instruments.used-what"), "", func(on bool) {
		*closed = !on
		p.usedRow(row, closed)
	})}
	row.Refresh()
	return row
}

// closedOn is since when something is no longer used.
func (p *Page) closedOn(closed bool, before model.Date) model.Date {
	switch {
	case !closed:
		return model.Date{}
	case before.IsZero():
		return model.Date{Day: p.today, Precision: model.ToDay}
	}
	return before
}

// checksShown is how many checks a form shows.
const checksShown = 6

// checksOf are what is said of an instrument's readings, its last checks and the
// act that notes another.
func (p *Page) checksOf(f *form, s husbandry.Standing) []fyne.CanvasObject {
	w := p.words()
	var parts []fyne.CanvasObject
	for _, said := range w.doubtful(s.Doubtful) {
		parts = append(parts, widgets.Caution(said))
	}
	for _, said := range []string{w.nextCheck(s), w.nextLamp(s)} {
		if said != "" && s.Closed.IsZero() {
			parts = append(parts, widgets.Para(said, look.Body, look.Ink))
		}
	}
	if s.Closed.IsZero() {
		parts = append(parts, widgets.Button(widgets.Plain, widgets.Act{Label: p.say("instruments.check"), Icon: "check", Do: func() {
			if !p.holds() {
				p.show(newCheckForm(p, s, nil))
			}
		}}))
	}
	list := widgets.Col(0)
	for n, c := range slices.Backward(s.Checks) {
		if len(s.Checks)-n > checksShown {
			list.Add(widgets.Line(p.window.Text().Count("instruments.more-checks", n+1), look.Note, look.Soft))
			break
		}
		tone := look.Ink
		if !c.Good {
			tone = look.Days
		}
		words := widgets.Col(0, widgets.Para(w.result(c), look.Body, tone), widgets.Line(w.DayShort(c.At.Day()), look.Note, look.Soft))
		list.Add(widgets.RowPress(w.DayShort(c.At.Day()), widgets.Pad(words, look.S4, look.S8), func() {
			if !p.holds() {
				p.show(newCheckForm(p, s, &c))
			}
		}))
	}
	if len(s.Checks) > 0 {
		parts = append(parts, widgets.Col(look.S4, widgets.Line(p.say("instruments.checks"), look.NoteBold, look.Soft), list))
	}
	return append(parts, widgets.HLine())
}

// The results of a check, as they are chosen.
const (
	passed = "good"
	failed = "failed"
)

// newCheckForm asks what an instrument showed against what is known, and whether
// that is good enough; before is a check that is put right.
func newCheckForm(p *Page, s husbandry.Standing, before *husbandry.Checked) *form {
	f := newForm(p, s.ID.ID)
	t := p.window.Text()
	c, at, day, result := husbandry.InstrumentCheck{}, model.Moment{}, p.today, ""
	if before != nil {
		c, at, day, result = before.InstrumentCheck, before.At, before.At.Day(), failed
		if c.Good {
			result = passed
		}
	}
	back := func() { p.show(p.formOf(s.ID.ID)) }
	few := particulars.NewFew(p.say("field.check-result"), []string{passed, failed}, []string{particulars.Capital(p.say("husbandry.check.good")), particulars.Capital(p.say("husbandry.check.failed"))},
		result, func(v string) { result = v })
	unit := particulars.ShownUnit(t, s.Kind)
	shown := func(name, kept string) fyne.CanvasObject {
		return f.Field(name, particulars.ShownAgain(t, s.Kind, kept), widgets.FieldOptions{Unit: unit})
	}
	// what was kept before and is not changed stays as it is
	read := func(name, kept string) (string, error) {
		if typed := f.Text(name); typed != particulars.ShownAgain(t, s.Kind, kept) {
			return particulars.ReadShown(t, s.Kind, name, typed)
		}
		return kept, nil
	}
	parts := []fyne.CanvasObject{widgets.Para(p.say("instruments.how."+string(s.Kind)), look.Body, look.Ink), widgets.Para(p.say("instruments.how"), look.Note, look.Soft),
		shown("reference", c.Reference), shown("reading", c.Reading), few.Container,
		f.Day("day", "", day), f.Field("note", c.Note, widgets.FieldOptions{Rows: 2})}
	if before != nil {
		parts = append(parts, widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("instruments.remove-check"), Icon: "bin", Do: func() {
			f.Do(husbandry.RemoveEntry{Entry: before.Entry}, func() { p.backTo(s.ID.ID) })
		}}))
	}
	f.Chosen = func() string { return result }
	f.Command = func(a place.Answer) (model.Command, error) {
		check := husbandry.InstrumentCheck{Good: result == passed, Note: f.Text("note")}
		var err error
		if check.Reference, err = read("reference", c.Reference); err != nil {
			return nil, err
		}
		if check.Reading, err = read("reading", c.Reading); err != nil {
			return nil, err
		}
		if result == "" {
			return nil, &model.Refusal{Field: "check-result", Reason: "instrument.result", Answer: model.Mend}
		}
		when, err := f.Moment("day", at)
		if err != nil {
			return nil, err
		}
		if before != nil {
			return husbandry.ChangeEntry{Tables: p.window.Tables(), Entry: before.Entry, Base: before.Revision, At: when, By: p.window.By(), Check: &check, Confirmed: a.Confirmed}, nil
		}
		return husbandry.CheckInstrument{Instrument: s.ID, At: when, By: p.window.By(), Check: check}, nil
	}
	f.Done = func() { p.backTo(s.ID.ID) }
	return f.settle(p.say("instruments.check-of", wording.Gaps{"Name": s.Name}), p.say("instruments.note-check"), back, parts...)
}

// backTo reads anew and shows the form of what was noted about, so that what
// follows is seen.
func (p *Page) backTo(id model.ID) {
	p.form = nil
	p.read()
	if f := p.formOf(id); f != nil {
		p.show(f)
		return
	}
	p.closeForm()
}

// newToolForm asks what is known of a tool; of one that is there it also says when
// it was cleaned, and between whom it may carry something.
func newToolForm(p *Page, before *husbandry.ToolStanding) *form {
	one, title := husbandry.Tool{}, p.say("instruments.add-tool")
	f := newForm(p, model.ID{})
	var parts []fyne.CanvasObject
	if before != nil {
		one, title, f.id, f.again = before.Tool, before.Name, before.ID.ID, true
		w := p.words()
		if said := w.mixed(*before); said != "" {
			parts = append(parts, widgets.Caution(said))
		}
		l := w.tool(*before)
		parts = append(parts, widgets.Col(0, widgets.Para(l.check, look.Body, look.Ink), widgets.Para(l.checkMore, look.Note, look.Soft)))
		for _, target := range before.Cleaned.Against {
			if said, known := husbandry.Best(before.Cleaned.Said, target); known && said.Does != husbandry.DoesWork {
				parts = append(parts, widgets.Caution(particulars.Worked(p.window.Text(), said)))
			}
		}
		if one.Closed.IsZero() {
			parts = append(parts, widgets.Button(widgets.Plain, widgets.Act{Label: p.say("instruments.clean"), Icon: "clean", Do: func() {
				if !p.holds() {
					p.show(newCleanForm(p, *before))
				}
			}}))
		}
		parts = append(parts, widgets.HLine())
	}
	where := wherePick(p, particulars.Capital(p.say("instruments.everywhere")), one.Place)
	kind, closed := one.Kind, !one.Closed.IsZero()
	values, words := kinds(p, husbandry.ToolKinds(), "husbandry.tool-kind.")
	parts = append(parts, f.Field("tool-name", one.Name, widgets.FieldOptions{}),
		particulars.NewFew(p.say("field.tool-kind"), values, words, string(kind), func(v string) { kind = husbandry.ToolKind(v) }).Container,
		where.Container, widgets.Para(p.say("instruments.where-tool"), look.Note, look.Soft), f.Field("place-code", one.Code, widgets.FieldOptions{}), f.Field("note", one.Note, widgets.FieldOptions{Rows: 2}))
	if before != nil {
		parts = append(parts, p.usedRow(widgets.Stack(), &closed), widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("instruments.remove"), Icon: "bin", Do: func() {
			f.Do(husbandry.RemoveTool{ID: before.ID}, func() { p.kept("") })
		}}))
	}
	f.Chosen = func() string { return fmt.Sprint(kind, where.Value(), closed) }
	f.Command = func(place.Answer) (model.Command, error) {
		after := one
		after.Name, after.Kind, after.Place, after.Code, after.Note = f.Text("tool-name"), kind, placeOf(p, where), f.Text("place-code"), f.Text("note")
		after.Closed = p.closedOn(closed, one.Closed)
		if before == nil {
			return husbandry.AddTool{Tool: after}, nil
		}
		return husbandry.ChangeTool{ID: before.ID, Base: before.Revision, Tool: after}, nil
	}
	f.Done = func() { p.kept(strings.Join(strings.Fields(f.Text("tool-name")), " ")) }
	return f.settle(title, p.say("particulars.keep"), p.closeForm, parts...)
}

// newCleanForm asks with what a tool was cleaned.
func newCleanForm(p *Page, one husbandry.ToolStanding) *form {
	f := newForm(p, one.ID.ID)
	last := husbandry.Cleaning{Uses: one.Cleaned.Uses, Against: one.Cleaned.Against}
	means := particulars.NewMeans(p.window, last, f.Keep)
	f.Keys, f.Settled = means.First, means.Settle
	f.At = func(r *model.Refusal) *widgets.Field {
		if r.Field == "minutes" {
			return means.Refused()
		}
		return nil
	}
	parts := []fyne.CanvasObject{widgets.Caution(p.say("husbandry.clean.caution")), means.Container,
		f.Day("day", "", p.today), f.Field("note", "", widgets.FieldOptions{Rows: 2})}
	f.Chosen = means.Typed
	f.Command = func(a place.Answer) (model.Command, error) {
		c := husbandry.Cleaning{Extent: husbandry.Full, Note: f.Text("note")}
		if err := means.Put(&c); err != nil {
			return nil, err
		}
		at, err := f.Moment("day", model.Moment{})
		if err != nil {
			return nil, err
		}
		return husbandry.Clean{Tables: p.window.Tables(), Tools: []model.ToolID{one.ID}, At: at, By: p.window.By(), Cleaning: c, Confirmed: a.Confirmed}, nil
	}
	f.Done = func() { p.backTo(one.ID.ID) }
	return f.settle(p.say("instruments.clean-of", wording.Gaps{"Name": one.Name}), p.say("instruments.note-clean"), func() { p.show(p.formOf(one.ID.ID)) }, parts...)
}
