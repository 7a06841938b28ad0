package movein

import (
	"context"
	"errors"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"coilward/assets"
	"coilward/export/table"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Page is the place. It is used on Fyne's goroutine only.
type Page struct {
	w       place.Window
	content *fyne.Container
	words   *table.Words

	bring *bring // nil: no spreadsheet is open
	seen  *seen  // nil: its rows are not looked at yet
	sheet int    // in sight
	bad   bool   // the rows that cannot be brought in are in sight
	asked int    // counts what was asked for, so that only the last answer is shown
	shown bool
	enter func() // what Enter does: the first act in sight; nil: nothing
	// leaving: the page from which the collection goes out is in sight.
	leaving bool
}

var (
	_ place.Place   = (*Page)(nil)
	_ place.Dropper = (*Page)(nil)
	_ place.Keys    = (*Page)(nil)
)

// New makes the place.
func New(w place.Window) *Page { return &Page{w: w, content: widgets.Stack()} }

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.content }

// Show implements place.Place; a route's page is the path of a file to begin with,
// or place.TablesOut.
func (p *Page) Show(r place.Route) {
	p.shown, p.leaving = true, r.Page == place.TablesOut
	if p.words == nil {
		languages, err := wording.Load(assets.Text())
		if err != nil {
			p.w.Fault("movein.fault", err)
			return
		}
		p.words = table.NewWords(languages, p.w.Tables())
	}
	switch {
	case r.Page == place.TablesOut:
		p.out()
	case r.Page != "":
		p.open(r.Page)
	case p.bring != nil:
		p.look()
	default:
		p.empty()
	}
}

// Hide implements place.Place.
func (p *Page) Hide() {
	p.shown = false
	p.asked++ // what is being read is no longer wanted
}

// Changed implements place.Place: what is there already is looked at anew.
func (p *Page) Changed(collection.Change) {
	if p.shown && p.bring != nil && !p.leaving {
		p.look()
	}
}

// Dropped implements place.Dropper.
func (p *Page) Dropped(paths []string) { p.open(paths[0]) }

// endings are those of files that can be brought.
func endings() []string { return []string{".csv", ".xlsx", ".tsv", ".txt"} }

func (p *Page) choose() { p.w.ChooseFile(endings(), p.open) }

// TypedKey implements place.Keys: Enter does the first act in sight.
func (p *Page) TypedKey(k *fyne.KeyEvent) {
	if (k.Name == fyne.KeyReturn || k.Name == fyne.KeyEnter) && p.enter != nil {
		p.enter()
	}
}

// TypedRune implements place.Keys.
func (p *Page) TypedRune(rune) {}

// say shows one sentence in the place of everything, with what can be done; Enter
// does the first.
func (p *Page) say(title, detail string, act widgets.Act, more ...widgets.Act) {
	if p.enter = act.Do; act.Do != nil {
		act.Key = "Enter"
	}
	p.content.Objects = []fyne.CanvasObject{widgets.EmptyPage(nil, title, detail, act, more...)}
	p.content.Refresh()
}

// empty is the page before a file is chosen.
func (p *Page) empty() {
	text := p.w.Text()
	p.bring, p.seen = nil, nil
	p.say(text.Say("movein.title"), text.Say("movein.none.what")+"\n\n"+text.Say("movein.drop"), widgets.Act{Label: text.Say("movein.choose"), Icon: "folder", Do: p.choose})
}

// again shows the spreadsheet that is open, with its answers; without one, the page
// before a file is chosen.
func (p *Page) again() {
	if p.bring == nil {
		p.empty()
		return
	}
	p.look()
}

// open reads a file off Fyne's goroutine and looks at its rows.
func (p *Page) open(path string) {
	p.asked++
	asked, text := p.asked, p.w.Text()
	name := text.Say("movein.reading", wording.Gaps{"File": filepath.Base(path)})
	p.say(name, "", widgets.Act{})
	var book table.Book
	p.w.Task(name, func(context.Context, func(float64)) (err error) {
		book, err = table.Open(path)
		return err
	}, func(err error) {
		switch {
		case asked != p.asked:
		case err != nil:
			p.again()
			p.w.Fault("movein.fault.read", err)
		default:
			p.bring, p.seen, p.sheet, p.bad = begun(book, p.words, table.ReadMemory(p.w.Settings().Columns)), nil, 0, false
			p.look()
		}
	})
}

// look looks at every row off Fyne's goroutine; an answer to an older question is
// dropped.
func (p *Page) look() {
	p.asked++
	asked, b, text := p.asked, p.bring.copied(), p.w.Text()
	c, tables, by := p.w.Collection(), p.w.Tables(), p.w.By()
	var result *seen
	name := text.Say("movein.judging", wording.Gaps{"File": b.book.Name})
	if p.seen == nil {
		p.say(name, "", widgets.Act{})
	}
	p.w.Task(name, func(ctx context.Context, progress func(float64)) (err error) {
		result, err = b.look(ctx, c, p.words, tables, by, progress)
		return err
	}, func(err error) {
		switch {
		case asked != p.asked:
		case errors.Is(err, context.Canceled):
			p.say(text.Say("movein.stopped"), "", widgets.Act{Label: text.Say("movein.again"), Do: p.look}, widgets.Act{Label: text.Say("movein.another"), Do: p.choose})
		case err != nil:
			p.empty()
			p.w.Fault("movein.fault", err)
		default:
			p.seen = result
			p.build()
		}
	})
}

// take changes how the sheet in sight is taken.
func (p *Page) take(t table.Taking) {
	p.bring.takings[p.sheet], p.bring.recalled[p.sheet] = t, false
	p.look()
}

// remember keeps how the columns were matched by hand, for the next time.
func (p *Page) remember(b *bring) {
	before := p.w.Settings().Columns
	if now := b.remembered(p.words, table.ReadMemory(before)).String(); now != before {
		p.w.Change(func(s *place.Preferences) { s.Columns = now })
	}
}

func (p *Page) build() {
	text := p.w.Text()
	head := widgets.Header(text.Say("movein.title"), p.bring.book.Name,
		widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("movein.another"), Icon: "folder", Do: p.choose}))
	right := widgets.Fix(360, 0, widgets.Col(look.S16, widgets.Grow(widgets.Scroll(widgets.Col(look.S16, append(p.questions(), p.result()...)...))), p.confirm()))
	middle := widgets.Col(look.S12, p.tabs(), widgets.Grow(p.table()))
	p.content.Objects = []fyne.CanvasObject{widgets.Pad(widgets.Col(look.S16, head,
		widgets.Grow(widgets.RowFill(look.S24, widgets.Fix(290, 0, p.columns()), widgets.Grow(middle), right))), look.S24, look.S32)}
	p.content.Refresh()
}

// columns are what each column of the sheet in sight is taken for.
func (p *Page) columns() fyne.CanvasObject {
	text, t := p.w.Text(), p.bring.takings[p.sheet]
	sheet := p.bring.book.Sheets[p.sheet]
	listed := text.Say("movein.left-out")
	if t.Lists != table.NotListed {
		listed = text.Say("movein.lists." + string(t.Lists))
	}
	var parts []fyne.CanvasObject
	for i, c := range t.Columns {
		heading := c.Heading
		if heading == "" {
			heading = text.Say("movein.column", wording.Gaps{"Number": i + 1})
		}
		parts = append(parts, widgets.ChoiceField(heading, p.fieldName(c), func() { p.chooseField(i, heading) }))
	}
	var last fyne.CanvasObject = widgets.Col(0)
	if p.bring.recalled[p.sheet] {
		last = widgets.Col(look.S4, widgets.Para(text.Say("movein.last-time"), look.Note, look.Soft),
			widgets.Row(0, widgets.Button(widgets.Quiet, widgets.Act{Label: text.Say("movein.last-time.leave"), Do: func() { p.take(p.bring.guessed[p.sheet]) }})))
	}
	if placed := p.words.Placed(t); len(placed) > 0 {
		last = widgets.Col(look.S8, last, widgets.Para(text.Say("movein.placed", wording.Gaps{"Columns": plain(strings.Join(placed, ", "))}), look.Note, look.Soft))
	}
	return widgets.Col(look.S12,
		widgets.ChoiceField(text.Say("movein.this-sheet"), listed, func() {
			options := []widgets.Choice{{Label: text.Say("movein.left-out")}}
			for _, l := range table.Listings() {
				options = append(options, widgets.Choice{Label: text.Say("movein.lists." + string(l))})
			}
			p.pick(text.Say("movein.this-sheet"), options, func(i int) {
				p.take(p.words.At(sheet, t, append([]table.Listing{table.NotListed}, table.Listings()...)[i]))
			})
		}),
		last,
		widgets.Line(text.Say("movein.columns"), look.Section, look.Ink),
		widgets.Para(text.Say("movein.columns.what"), look.Note, look.Soft),
		widgets.Grow(widgets.Scroll(widgets.Pad(widgets.Col(look.S8, parts...), 0, look.S12, look.S8, 0))))
}

func (p *Page) fieldName(c table.Column) string {
	text := p.w.Text()
	if c.Field == table.NotTaken {
		return text.Say("movein.left-out")
	}
	name := text.Say("field." + string(c.Field))
	if c.Unit != "" {
		name += " · " + c.Unit
	}
	return name
}

func (p *Page) chooseField(column int, heading string) {
	text, t := p.w.Text(), p.bring.takings[p.sheet]
	fields := append([]table.Field{table.NotTaken}, t.Lists.Fields()...)
	options := make([]widgets.Choice, len(fields))
	for i, f := range fields {
		options[i] = widgets.Choice{Label: p.fieldName(table.Column{Field: f})}
	}
	p.pick(text.Say("movein.field.title", wording.Gaps{"Column": heading}), options, func(i int) { p.take(t.Choose(column, fields[i])) })
}

// pick lets one of many be chosen on a sheet.
func (p *Page) pick(title string, options []widgets.Choice, chosen func(int)) {
	text := p.w.Text()
	list := widgets.NewChoiceList(text.Say("movein.field.search"), text.Say("movein.field.none"), options)
	var leave func()
	list.OnChosen = func(i int) { leave(); chosen(i) }
	leave = p.w.ShowSheet(widgets.Sheet{Title: title, Content: list.Container, Height: 480, Cancel: text.Say("movein.cancel"), First: list.Search().Focusable()})
}

// questions are those that must be answered before anything can be brought in.
func (p *Page) questions() []fyne.CanvasObject {
	text := p.w.Text()
	var parts []fyne.CanvasObject
	for _, q := range p.seen.open {
		parts = append(parts, p.question(q))
	}
	if p.seen.askPlaces(p.bring.places) {
		parts = append(parts, p.askPlaces())
	}
	for _, reason := range p.seen.reasons() {
		raised := p.seen.doubts[reason]
		answer := func(yes bool) func() { return func() { p.bring.doubts[reason] = yes; p.look() } }
		parts = append(parts, widgets.Card(look.S16, widgets.Col(look.S12, widgets.Para(text.Count("movein.doubt."+reason, len(raised)), look.Body, look.Ink),
			widgets.Wrap(look.S8, widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("movein.doubt.yes"), Do: answer(true)}),
				widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("movein.doubt.no"), Do: answer(false)}),
				widgets.Button(widgets.Quiet, widgets.Act{Label: text.Say("movein.doubt.see"), Do: func() { p.see(reason) }})))))
	}
	if len(parts) > 0 {
		parts = append([]fyne.CanvasObject{widgets.Line(text.Say("movein.questions"), look.Section, look.Ink)}, parts...)
	}
	if answered := p.bring.standing(); len(answered) > 0 {
		parts = append(parts, widgets.Line(text.Say("movein.answered"), look.Section, look.Ink))
		for _, q := range answered {
			parts = append(parts, p.question(q))
		}
	}
	return parts
}

// askPlaces asks whether the places that stays name are to be made.
func (p *Page) askPlaces() fyne.CanvasObject {
	text, n := p.w.Text(), len(p.seen.taken.Places)
	answer := func(a table.NewPlaces) func() { return func() { p.bring.places = a; p.look() } }
	return widgets.Card(look.S16, widgets.Col(look.S12, widgets.Para(text.Count("movein.places", n), look.Body, look.Ink),
		widgets.Wrap(look.S8,
			widgets.Button(widgets.Plain, widgets.Act{Label: text.Count("movein.places.make", n), Do: answer(table.PlacesMade)}),
			widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("movein.places.leave"), Do: answer(table.PlacesLeft)}),
			widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("movein.doubt.see"), Do: p.seePlaces}))))
}

// seePlaces shows the places that would be made, each with what it would be.
func (p *Page) seePlaces() {
	text, places := p.w.Text(), p.seen.taken.Places
	rows := widgets.NewRows(40, func() fyne.CanvasObject { return widgets.MiddleUpright(widgets.Line("", look.Note, look.Ink).Cuts()) }, func(i int, o fyne.CanvasObject) {
		o.(*fyne.Container).Objects[0].(*widgets.Text).SetText(plain(places[i].Path) + " · " + text.Say("husbandry.place-kind."+string(places[i].Kind)))
	})
	rows.SetCount(len(places))
	p.w.ShowSheet(widgets.Sheet{Title: text.Say("movein.places.title"), Content: rows, Width: 640, Height: 480, Cancel: text.Say("movein.cancel")})
}

// see shows the rows that raise a question, each with what is asked of it.
func (p *Page) see(reason string) {
	text, raised := p.w.Text(), p.seen.doubts[reason]
	rows := widgets.NewRows(40, func() fyne.CanvasObject { return widgets.MiddleUpright(widgets.Line("", look.Note, look.Ink).Cuts()) }, func(i int, o fyne.CanvasObject) {
		o.(*fyne.Container).Objects[0].(*widgets.Text).SetText(text.Say("movein.line.number", wording.Gaps{"Line": raised[i].Line}) + "   " + text.Refusal(raised[i].Refusal))
	})
	rows.SetCount(len(raised))
	p.w.ShowSheet(widgets.Sheet{Title: text.Count("movein.doubt."+reason, len(raised)), Content: rows, Width: 860, Height: 520, Cancel: text.Say("movein.cancel")})
}

func (p *Page) question(q table.Question) fyne.CanvasObject {
	if q.Asks == table.AsksWeighed || q.Asks == table.AsksHoused {
		return p.dayQuestion(q)
	}
	text := p.w.Text()
	column := p.bring.book.Sheets[q.Sheet].Name
	if q.Column >= 0 {
		column = p.bring.takings[q.Sheet].Columns[q.Column].Heading
	}
	taken := p.bring.takings[q.Sheet].Answered(q)
	var buttons []fyne.CanvasObject
	for _, o := range p.answers(q) {
		buttons = append(buttons, widgets.Button(widgets.Plain, widgets.Act{Label: o.label, Icon: chosen(taken == o.value), Do: func() {
			p.bring.answer(q, o.value)
			p.look()
		}}))
	}
	with := wording.Gaps{"Column": column, "Example": q.Example}
	if q.Asks == table.AsksTwin {
		taking := p.bring.takings[q.Sheet]
		with["Other"], with["Field"] = taking.Columns[taking.TwinOf(q.Column)].Heading, text.Say("field."+string(taking.Columns[q.Column].Twin))
	}
	return widgets.Card(look.S16, widgets.Col(look.S12,
		widgets.Para(text.Say("movein.asks."+string(q.Asks), with), look.Body, look.Ink), widgets.Wrap(look.S8, buttons...)))
}

// dayQuestion asks for the one day of all weights or stays of a sheet.
func (p *Page) dayQuestion(q table.Question) fyne.CanvasObject {
	text, today, taking := p.w.Text(), p.w.Now().Day(), p.bring.takings[q.Sheet]
	answer := func(value string) { p.bring.answer(q, value); p.look() }
	given := today
	said := taking.Answered(q)
	answered := given.UnmarshalText([]byte(said)) == nil
	day := widgets.NewField(text.DayShort(given), widgets.FieldOptions{Label: text.Say("field.day"), Hint: text.Say("particulars.hint.date")})
	take := func() {
		on, err := text.ParseDay(day.Text(), today)
		var r *model.Refusal
		switch {
		case errors.As(err, &r):
			day.Refuse(text.Why(r))
			p.w.Focus(day.Focusable())
		case on > today:
			day.Refuse(text.Why(&model.Refusal{Reason: "day.future", Gaps: map[string]model.Gap{"Today": model.DayGap(today)}}))
			p.w.Focus(day.Focusable())
		default:
			answer(on.String())
		}
	}
	day.OnTyped, day.OnEnter = func(string) { day.Accept() }, take
	buttons := []fyne.CanvasObject{widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("movein.day.take"), Icon: chosen(answered), Do: take})}
	if taking.Lists == table.Animals {
		leave := "movein.weights.leave"
		if q.Asks == table.AsksHoused {
			leave = "movein.stays.leave"
		}
		buttons = append(buttons, widgets.Button(widgets.Plain, widgets.Act{Label: text.Say(leave), Icon: chosen(said == table.LeaveOut), Do: func() { answer(table.LeaveOut) }}))
	}
	return widgets.Card(look.S16, widgets.Col(look.S12,
		widgets.Para(text.Say("movein.asks."+string(q.Asks), wording.Gaps{"Column": taking.Columns[q.Column].Heading, "Example": q.Example}), look.Body, look.Ink),
		day.Container, widgets.Wrap(look.S8, buttons...)))
}

// chosen is the sign of an answer that was given.
func chosen(given bool) string {
	if given {
		return "tick"
	}
	return ""
}

type answerTo struct{ value, label string }

// answers are what a question can be answered with, worded by its example.
func (p *Page) answers(q table.Question) (all []answerTo) {
	text := p.w.Text()
	switch q.Asks {
	case table.AsksNumbers:
		for _, style := range []table.Numbers{table.Point, table.Comma} {
			all = append(all, answerTo{string(style), table.Meant(q.Example, style, q.Unit, text)})
		}
	case table.AsksDays:
		for _, style := range []table.Days{table.DayFirst, table.MonthFirst} {
			if day, ok := table.DayMeant(q.Example, style); ok {
				all = append(all, answerTo{string(style), text.Day(day)})
			}
		}
	case table.AsksSerials:
		for _, from := range []table.Serials{table.From1900, table.From1904} {
			if day, ok := table.SerialMeant(q.Example, from); ok {
				all = append(all, answerTo{string(from), text.Day(day)})
			}
		}
	case table.AsksTwin:
		taking := p.bring.takings[q.Sheet]
		for value, column := range map[string]int{table.TakeFirst: taking.TwinOf(q.Column), table.TakeThis: q.Column} {
			all = append(all, answerTo{value, p.columnAt(q.Sheet, column)})
		}
		slices.SortFunc(all, func(a, b answerTo) int { return strings.Compare(a.value, b.value) })
	case table.AsksOutcome:
		for _, o := range care.Outcomes() {
			all = append(all, answerTo{string(o), text.Say("care.outcome." + string(o))})
		}
	}
	return all
}

// columnAt is a column by its number and its first value: two may have one heading.
func (p *Page) columnAt(sheet, column int) string {
	text, t := p.w.Text(), p.bring.takings[sheet]
	said := text.Say("movein.column", wording.Gaps{"Number": column + 1})
	for _, r := range t.Below(p.bring.book.Sheets[sheet]) {
		if column < len(r.Cells) && plain(r.Cells[column]) != "" {
			return said + ": " + short(plain(r.Cells[column]))
		}
	}
	return said
}

// result is what would be made, in numbers.
func (p *Page) result() []fyne.CanvasObject {
	text, s := p.w.Text(), p.seen
	parts := []fyne.CanvasObject{widgets.Line(text.Say("movein.result"), look.Section, look.Ink)}
	line := func(key string, n int, tone look.Tone) {
		if n > 0 {
			parts = append(parts, widgets.Para(text.Count(key, n), look.Body, tone))
		}
	}
	line("movein.made.animals", s.j.Animals, look.Ink)
	line("movein.made.named", min(s.taken.Named, s.j.Animals), look.Soft)
	for _, kind := range []string{care.KindWeight, care.KindMeal, care.KindShed, care.KindWaste, care.KindNote} {
		line("movein.made."+kind, s.j.ByKind[kind], look.Ink)
	}
	line("movein.made.stays", s.j.Stays, look.Ink)
	line("movein.made.samples", s.j.Samples, look.Ink)
	line("movein.made.people", s.j.People, look.Soft)
	line("movein.made.places", s.j.Places, look.Soft)
	if s.j.Made() == 0 {
		parts = append(parts, widgets.Para(text.Say("movein.nothing"), look.Body, look.Soft))
	}
	line("movein.known", s.taken.Known, look.Soft)
	line("movein.there", s.j.There, look.Soft)
	line("movein.unread", s.j.Unread, look.Days)
	line("movein.waiting", s.taken.Waiting, look.Soft)
	line("movein.bad", len(s.bad), look.Days)
	if s.taken.Named > 0 || !p.bring.strangers {
		chosen := 0
		if !p.bring.strangers {
			chosen = 1
		}
		parts = append(parts, widgets.Col(look.S4, widgets.Line(text.Say("movein.strangers"), look.NoteBold, look.Soft),
			widgets.NewSegments(32, chosen, func(i int) { p.bring.strangers = i == 0; p.look() },
				widgets.Choice{Label: text.Say("movein.strangers.make")}, widgets.Choice{Label: text.Say("movein.strangers.leave")}).Container))
	}
	if len(s.taken.Places) > 0 && p.bring.places != table.PlacesOpen {
		chosen := 0
		if p.bring.places == table.PlacesLeft {
			chosen = 1
		}
		parts = append(parts, widgets.Col(look.S4, widgets.Line(text.Say("movein.places.which"), look.NoteBold, look.Soft),
			widgets.NewSegments(32, chosen, func(i int) {
				p.bring.places = []table.NewPlaces{table.PlacesMade, table.PlacesLeft}[i]
				p.look()
			}, widgets.Choice{Label: text.Say("movein.strangers.make")}, widgets.Choice{Label: text.Say("movein.strangers.leave")}).Container))
	}
	return []fyne.CanvasObject{widgets.Col(look.S8, parts...)}
}

func (p *Page) confirm() fyne.CanvasObject {
	text, n := p.w.Text(), p.seen.j.Made()
	button := widgets.Button(widgets.Primary, widgets.Act{Label: text.Count("movein.confirm", n), Icon: "tick", Key: "Enter", Do: p.do})
	p.enter = p.do
	if !p.seen.ready(p.bring.places) || p.w.ReadOnly() {
		button.Disable()
	}
	return button
}

// do brings the good rows in, by one command, off Fyne's goroutine.
func (p *Page) do() {
	if !p.seen.ready(p.bring.places) || p.w.ReadOnly() {
		return
	}
	p.asked++
	text, c, rows, made := p.w.Text(), p.w.Collection(), p.seen.j.Good(), p.seen.j.Made()
	name := text.Say("movein.bringing", wording.Gaps{"File": p.bring.book.Name})
	p.say(name, "", widgets.Act{})
	asked := p.bring
	p.bring, p.seen = nil, nil // what this makes is not to be judged again
	p.w.Task(name, func(ctx context.Context, _ func(float64)) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		_, err := c.Do(rows)
		return err
	}, func(err error) {
		if err != nil {
			p.bring = asked // with every answer that was given
			p.again()
			if !errors.Is(err, context.Canceled) {
				p.w.Fault("movein.fault", err)
			}
			return
		}
		p.remember(asked)
		done := text.Label(model.Label{Key: "movein.done", Gaps: map[string]model.Gap{
			"Count": model.CountGap(made), "File": model.TextGap(rows.File)}})
		p.say(text.Say("movein.brought.title"), done, widgets.Act{Label: text.Say("movein.brought.see"), Icon: "animals", Do: func() { p.w.Go(place.Route{To: place.Animals}) }},
			widgets.Act{Label: text.Say("movein.brought.shelf"), Icon: "shelf", Do: func() { p.w.Go(place.Route{To: place.Shelf}) }},
			widgets.Act{Label: text.Say("movein.another"), Do: p.choose})
	})
}

// tabs choose between the sheets and the rows that cannot be brought in.
func (p *Page) tabs() fyne.CanvasObject {
	text := p.w.Text()
	var tabs []fyne.CanvasObject
	for i, s := range p.bring.book.Sheets {
		tabs = append(tabs, widgets.Tab(short(s.Name), text.Number(int64(len(p.bring.takings[i].Below(s)))), !p.bad && i == p.sheet, func() { p.sheet, p.bad = i, false; p.build() }))
	}
	if n := len(p.seen.bad); n > 0 {
		tabs = append(tabs, widgets.Tab(text.Say("movein.bad.tab"), text.Number(int64(n)), p.bad, func() { p.bad = true; p.build() }))
	} else {
		p.bad = false
	}
	return widgets.Wrap(look.S16, tabs...)
}

// short is a name for a tab.
func short(name string) string {
	if r := []rune(name); len(r) > 24 {
		return string(r[:23]) + "…"
	}
	return name
}

// shownColumns is how many columns of a sheet the preview shows; where its room does
// not hold them it scrolls sideways, and a column of words keeps leastWords.
const (
	shownColumns = 24
	leastWords   = 120
	numberWide   = 44  // of the column of lines
	shownRows    = 100 // all of them are read
)

func (p *Page) table() fyne.CanvasObject {
	if p.bad {
		return p.badTable()
	}
	sheet, t := p.bring.book.Sheets[p.sheet], p.bring.takings[p.sheet]
	columns := min(len(t.Columns), shownColumns)
	wide, least := make([]float32, columns), float32(numberWide+look.S8)
	for c := range wide {
		wide[c] = narrow(t.Below(sheet), c)
		if least += look.S8 + wide[c]; wide[c] == 0 {
			least += leastWords
		}
	}
	row := func() *fyne.Container {
		cells := []fyne.CanvasObject{widgets.Fix(numberWide, 0, widgets.Line("", look.Note, look.Soft).Right())}
		for _, w := range wide {
			if line := widgets.Line("", look.Note, look.Ink).Cuts(); w > 0 {
				cells = append(cells, widgets.Fix(w, 0, line))
			} else {
				cells = append(cells, widgets.Grow(line))
			}
		}
		return widgets.Pad(widgets.Row(look.S8, cells...), 0, look.S8)
	}
	fill := func(o fyne.CanvasObject, number string, cell func(int) string) {
		cells := o.(*fyne.Container).Objects[0].(*fyne.Container).Objects
		for i, c := range cells {
			said := number
			if i > 0 {
				said = cell(i - 1)
			}
			c.(*fyne.Container).Objects[0].(*widgets.Text).SetText(plain(said))
		}
	}
	first := min(t.Heading+1, len(sheet.Rows))
	var rows []fyne.CanvasObject // of Texts alone: what can be pressed must not scroll sideways over its neighbours
	for _, r := range sheet.Rows[first:min(first+shownRows, len(sheet.Rows))] {
		o := row()
		rows = append(rows, widgets.Fix(0, 30, o))
		fill(o, p.w.Text().Number(int64(r.Line)), func(c int) string {
			if c < len(r.Cells) {
				return r.Cells[c]
			}
			return ""
		})
	}
	if more := len(sheet.Rows) - first - shownRows; more > 0 {
		rows = append(rows, widgets.Para(p.w.Text().Count("movein.more-rows", more), look.Note, look.Soft))
	}
	head := row()
	fill(head, p.w.Text().Say("movein.line"), func(c int) string { return t.Columns[c].Heading })
	return widgets.Card(look.S8, container.NewHScroll(widgets.Stack(widgets.Space(least, 0), widgets.Col(look.S8, head, widgets.HLine(), widgets.Grow(widgets.Scroll(widgets.Col(0, rows...)))))))
}

// A column of cells this short, such as days, is shown whole; it is measured by its
// first rows.
const (
	shortCell    = len("2027-03-09")
	measuredRows = 200
)

// narrow is the width of a column of which no cell may be cut; 0: it takes what room
// there is.
func narrow(rows []table.Row, column int) (wide float32) {
	for _, r := range rows[:min(len(rows), measuredRows)] {
		if column >= len(r.Cells) {
			continue
		}
		said := plain(r.Cells[column])
		if len([]rune(said)) > shortCell {
			return 0
		}
		wide = max(wide, widgets.Line(said, look.Note, look.Ink).MinSize().Width)
	}
	if wide > 0 {
		wide = max(wide, leastColumn)
	}
	return wide
}

// leastColumn leaves room for the beginning of a heading.
const leastColumn = 56

// plain is a cell on one line.
func plain(cell string) string { return strings.Join(strings.Fields(cell), " ") }

// badShown is how many rows that cannot be brought in the page names whole; the list
// that is saved names all.
const badShown = 200

// badTable lists the rows that cannot be brought in: the line and the part, and of each
// fault the column, the value and why, on as many lines as it takes.
func (p *Page) badTable() fyne.CanvasObject {
	text, bad := p.w.Text(), p.seen.bad
	var rows []fyne.CanvasObject
	for _, b := range bad[:min(len(bad), badShown)] {
		parts := []fyne.CanvasObject{widgets.Para(text.Say("movein.line.number", wording.Gaps{"Line": b.Line})+" · "+partOf(b, text), look.NoteBold, look.Ink)}
		for _, f := range b.Faults() {
			parts = append(parts, widgets.Para(faultOf(f, text), look.Note, look.Ink))
		}
		rows = append(rows, widgets.Col(0, parts...))
	}
	if more := len(bad) - badShown; more > 0 {
		rows = append(rows, widgets.Para(text.Count("movein.bad.more", more), look.Note, look.Soft))
	}
	save := widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("movein.bad.save"), Icon: "folder", Do: p.save})
	list := widgets.Scroll(widgets.Pad(widgets.Col(look.S12, rows...), 0, look.S16, look.S8, look.S8))
	return widgets.Card(look.S8, widgets.Col(look.S8, widgets.Grow(list), widgets.Row(0, save)))
}

// faultOf says which cell is at fault and why.
func faultOf(f table.Fault, t *wording.Text) string {
	var where []string
	switch field := "field." + f.Refusal.Field; {
	case f.Column != "":
		where = append(where, plain(f.Column))
	case t.Has(field): // no column holds it
		where = append(where, t.Say(field))
	}
	if f.Refusal.Value != "" {
		where = append(where, plain(f.Refusal.Value))
	}
	if len(where) == 0 {
		return t.Why(f.Refusal)
	}
	return t.Say("movein.fault-in", wording.Gaps{"Where": strings.Join(where, ": "), "Why": t.Why(f.Refusal)})
}

// save writes the list of rows that cannot be brought in.
func (p *Page) save() {
	text, bad := p.w.Text(), p.seen.bad
	name := strings.TrimSuffix(p.bring.book.Name, filepath.Ext(p.bring.book.Name))
	p.w.SaveAs(text.Say("movein.bad.name", wording.Gaps{"File": name})+".csv", func(path string) {
		p.w.Task(text.Say("movein.bad.save"), func(context.Context, func(float64)) error { return saveBad(path, bad, text) }, func(err error) {
			if err != nil {
				p.w.Fault("movein.fault.save", err)
				return
			}
			p.w.Tell(text.Say("movein.saved"), path)
		})
	})
}
