package due

import (
	"context"
	"errors"
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/due"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// The widths of the columns beside the one of what is due.
const (
	alertsWidth float32 = 312
	undoneWidth float32 = 288
)

// most is how many items are shown before the rest is folded.
const most = 60

// Page is the place of what is due.
type Page struct {
	window place.Window
	list   due.List
	loaded bool
	byJob  bool
	month  int // of what was not done: 0 this one, 1 the last
	open   map[fold]bool
	shown  int // how many items are shown

	root   *fyne.Container
	rows   []row
	at     due.Key // of the row that the keys are at
	thumbs particulars.Thumbs
}

// fold is a part of the list that can be opened.
type fold string

const (
	later    fold = "later"
	answered fold = "answered"
)

// row is one item in sight.
type row struct {
	item  due.Item
	press *widgets.Press
}

var (
	_ place.Place = (*Page)(nil)
	_ place.Actor = (*Page)(nil)
	_ place.Keys  = (*Page)(nil)
)

// New makes the place.
func New(w place.Window) *Page {
	return &Page{window: w, root: widgets.Stack(), open: map[fold]bool{}, shown: most, thumbs: particulars.Thumbs{}}
}

func (p *Page) say(key string, gaps ...map[string]any) string {
	return p.window.Text().Say(key, gaps...)
}

func (p *Page) words() words { return words{p.window.Text(), p.list.Day} }

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.root }

// Show implements place.Place.
func (p *Page) Show(place.Route) {
	p.shown = most
	p.load(true)
}

// Hide implements place.Place.
func (p *Page) Hide() {}

// Changed implements place.Place.
func (p *Page) Changed(collection.Change) { p.load(p.holdsKeys()) }

// load finds out what is due, beside the window's thread where that takes long.
func (p *Page) load(focus bool) {
	book, c := p.window.Due(), p.window.Collection()
	if book.Near(p.window.Now().Day()) {
		list, err := book.Bring(context.Background(), c, nil)
		p.show(list, err, focus)
		return
	}
	var list due.List
	p.window.Task(p.say("due.page.reading"), func(ctx context.Context, progress func(float64)) (err error) {
		list, err = book.Bring(ctx, c, progress)
		return err
	}, func(err error) { p.show(list, err, focus) })
}

func (p *Page) show(list due.List, err error, focus bool) {
	if errors.Is(err, context.Canceled) {
		return
	}
	if err != nil {
		p.window.Fault("due.page.fault", err)
		return
	}
	p.list, p.loaded = list, true
	p.build()
	if focus {
		p.focus()
	}
}

// build shows everything anew.
func (p *Page) build() {
	p.rows = nil
	if len(p.list.Owners) == 0 && len(p.list.Unread) == 0 {
		p.root.Objects = []fyne.CanvasObject{widgets.EmptyPage(nil, p.say("due.page.nobody"), p.say("due.page.nobody-what"),
			widgets.Act{Label: p.say("due.page.add"), Icon: "plus", Do: func() { p.window.Go(place.Route{To: place.Animals, Page: "new"}) }})}
		p.root.Refresh()
		return
	}
	column := func(o fyne.CanvasObject) fyne.CanvasObject { // the keys' ring and the scroller's bar have room in it
		return widgets.Scroll(widgets.Pad(o, look.S4, look.S12, look.S24, look.S4))
	}
	alerts := column(p.alerts()) // first, since its rows come first
	columns := widgets.RowFill(look.S16, widgets.Fix(alertsWidth, 0, alerts), widgets.Grow(column(p.due())), widgets.Fix(undoneWidth, 0, column(p.undone())))
	p.root.Objects = []fyne.CanvasObject{widgets.Pad(widgets.Col(look.S16, p.header(), widgets.Grow(columns)), look.S24, look.S24, 0, look.S24)}
	p.root.Refresh()
	p.window.ActionsChanged()
}

func (p *Page) header() fyne.CanvasObject {
	t := p.window.Text()
	day := t.Weekday(p.list.Day) + ", " + t.Day(p.list.Day)
	below := day
	if n := p.list.Pressing(); n > 0 { // as the rail counts
		below += " · " + t.Count("due.page.pressing", n)
	}
	if n := len(p.list.In(due.Today)); n > 0 {
		below += " · " + t.Count("due.page.today", n)
	}
	if below == day {
		below += " · " + p.say("due.page.nothing-short")
	}
	chosen := 0
	if p.byJob {
		chosen = 1
	}
	by := widgets.NewSegments(36, chosen, func(i int) { p.arrange(i == 1) },
		widgets.Choice{Label: p.say("due.page.by-animal")}, widgets.Choice{Label: p.say("due.page.by-job")})
	save := widgets.Button(widgets.Plain, widgets.Act{Label: p.say("calendar.save"), Icon: "calendar", Do: p.saveCalendar})
	cut := widgets.Button(widgets.Plain, widgets.Act{Label: p.say("power-cut.title"), Icon: "caution", Do: func() { p.window.Go(place.Route{To: place.PowerCut}) }})
	return widgets.Header(p.say("due.page.title"), below, cut, save, by.Container)
}

func (p *Page) arrange(byJob bool) {
	p.byJob = byJob
	p.build()
	p.focus()
}

// head is the head of a column.
func head(title, count string) fyne.CanvasObject {
	return widgets.Col(look.S8, widgets.Row(look.S8, widgets.Line(title, look.Section, look.Ink), widgets.Grow(widgets.Line(count, look.Note, look.Soft).Cuts())), widgets.HLine())
}

// alerts is the column of what asks for the vet.
func (p *Page) alerts() fyne.CanvasObject {
	items := p.list.In(due.Alert)
	count := ""
	if len(items) > 0 {
		count = p.window.Text().Number(int64(len(items)))
	}
	column := widgets.Col(look.S16, head(p.say("due.page.alerts"), count))
	for _, u := range p.list.Unread {
		said := p.say("due.page.unread", map[string]any{"Name": u.Of.Name})
		switch u.Of.Subject.Kind {
		case model.SubjectPlace:
			said = p.say("due.page.unread-places")
		case model.SubjectInstrument:
			said = p.say("due.page.unread-instruments")
		case "":
			said = p.say("due.page.unread-samples")
		}
		column.Add(widgets.Caution(said))
	}
	if len(items) == 0 {
		column.Add(widgets.Para(p.say("due.page.no-alerts"), look.Body, look.Soft))
	}
	for _, item := range items[:min(len(items), p.shown)] {
		column.Add(p.alert(item))
		column.Add(widgets.HLine())
	}
	if rest := len(items) - p.shown; rest > 0 {
		column.Add(p.foldRow(p.window.Text().Count("due.page.more", rest), "down", func() { p.shown += most }))
	}
	return column
}

// alert is one alert: whose and what, how urgent, why, and what answers it.
func (p *Page) alert(i due.Item) fyne.CanvasObject {
	w := p.words()
	u := particulars.Urgency(i.Level)
	title := i.Of.Name
	if len(i.For) > 0 {
		title = i.Of.Name + ": " + w.findings(i)
	}
	when, tone := w.when(i)
	parts := widgets.Col(look.S8,
		widgets.Para(title, look.Name, look.Ink),
		widgets.Wrap(look.S8, widgets.Step(u, p.say("urgency."+i.Level.String())), widgets.Fix(0, 28, widgets.MiddleUpright(widgets.Line(when, look.NoteBold, tone)))))
	for _, reason := range w.reasons(i) {
		parts.Add(widgets.Para(reason, look.Body, look.Soft))
	}
	if i.Caution != "" {
		parts.Add(widgets.Para(p.say(i.Caution), look.BodyBold, look.Ink))
	}
	if said := w.answered(i); said != "" {
		parts.Add(widgets.Para(said, look.Note, look.Soft))
	}
	act := widgets.Button(widgets.Plain, widgets.Act{Label: p.say("due.act." + string(i.Act)), Icon: Icon(i.Job), Do: func() { p.window.Go(particulars.Way(i)) }})
	answer := widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("due.page.answer"), Do: func() { p.ask(i) }})
	parts.Add(widgets.Wrap(look.S8, act, answer))
	p.rows = append(p.rows, row{i, act})
	return parts
}

// due is the column of what is due, with what is folded.
func (p *Page) due() fyne.CanvasObject {
	items := p.list.Due()
	title := p.say("due.page.due-animal")
	if p.byJob {
		title = p.say("due.page.due-job")
	}
	count := ""
	if len(items) > 0 {
		count = p.window.Text().Number(int64(len(items)))
	}
	column := widgets.Col(look.S8, head(title, count))
	if len(items) == 0 {
		column.Add(widgets.Para(p.say("due.page.nothing"), look.Say, look.Ink))
		column.Add(widgets.Para(p.say("due.page.nothing-what"), look.Body, look.Soft))
	}
	p.groups(column, items[:min(len(items), p.shown)])
	if rest := len(items) - p.shown; rest > 0 {
		column.Add(p.foldRow(p.window.Text().Count("due.page.more", rest), "down", func() { p.shown += most }))
	}
	p.folded(column, later, p.list.In(due.Later))
	p.folded(column, answered, p.list.In(due.Answered))
	return column
}

// folded is a part of the list that is shown where it was opened.
func (p *Page) folded(column *fyne.Container, f fold, items []due.Item) {
	if len(items) == 0 {
		return
	}
	icon := "right"
	if p.open[f] {
		icon = "down"
	}
	column.Add(p.foldRow(p.window.Text().Count("due.page.fold-"+string(f), len(items)), icon, func() { p.open[f] = !p.open[f] }))
	if p.open[f] {
		p.groups(column, items[:min(len(items), p.shown)])
		if rest := len(items) - p.shown; rest > 0 {
			column.Add(p.foldRow(p.window.Text().Count("due.page.more", rest), "down", func() { p.shown += most }))
		}
	}
}

func (p *Page) foldRow(label, icon string, change func()) fyne.CanvasObject {
	content := widgets.Fix(0, 40, widgets.MiddleUpright(widgets.Row(look.S8, widgets.Grow(widgets.Line(label, look.BodyBold, look.Accent).Cuts()), widgets.NewIcon(icon, 16, look.Accent))))
	return widgets.RowPress(label, content, func() {
		change()
		p.build()
		p.focus()
	})
}

func (p *Page) groups(column *fyne.Container, items []due.Item) {
	for _, g := range Groups(items, p.byJob) {
		column.Add(p.group(g))
		column.Add(widgets.HLine())
	}
}

// group is one animal or job at the left, its items at the right.
func (p *Page) group(g Group) fyne.CanvasObject {
	var of fyne.CanvasObject
	if g.Of != nil {
		of = widgets.Col(look.S4, widgets.Row(0, p.portrait(g.Of, 36)), widgets.Para(g.Of.Name, look.NoteBold, look.Ink))
	} else {
		of = widgets.Col(look.S4, widgets.Row(0, widgets.NewIcon(Icon(g.Job), 24, look.Accent)), widgets.Para(p.say("due.job."+string(g.Job)), look.NoteBold, look.Ink))
	}
	items := widgets.Col(0)
	for _, i := range g.Items {
		press := p.item(i)
		items.Add(press)
		p.rows = append(p.rows, row{i, press})
	}
	return widgets.RowTop(look.S12, widgets.Fix(116, 0, widgets.Pad(of, look.S8, 0)), widgets.Grow(items))
}

// item is one item as a row that can be pressed.
func (p *Page) item(i due.Item) *widgets.Press {
	w := p.words()
	title, sign := w.job(i), fyne.CanvasObject(widgets.NewIcon(Icon(i.Job), 20, look.Soft))
	if p.byJob {
		title, sign = i.Of.Name, p.portrait(i.Of, 24)
		if len(i.For) > 0 {
			title += ": " + w.findings(i)
		}
	}
	when, tone := w.when(i)
	under := widgets.Col(0)
	for _, reason := range w.reasons(i) {
		under.Add(widgets.Para(reason, look.Note, look.Soft))
	}
	if i.Caution != "" {
		under.Add(widgets.Para(p.say(i.Caution), look.NoteBold, look.Ink))
	}
	if said := w.answered(i); said != "" {
		under.Add(widgets.Para(said, look.Note, look.Soft))
	}
	words := widgets.Col(0, widgets.RowTop(look.S8, widgets.Grow(widgets.Para(title, look.BodyBold, look.Ink)), widgets.Line(when, look.NoteBold, tone)), under)
	return widgets.RowPress(i.Of.Name+", "+w.job(i), widgets.Pad(widgets.RowTop(look.S12, widgets.Fix(24, 24, widgets.Middle(sign)), widgets.Grow(words)), look.S8, look.S8), func() { p.ask(i) })
}

// portrait is how an animal looks; a place has the sign of the shelf, an
// instrument that of its checks.
func (p *Page) portrait(of *due.Owner, side float32) fyne.CanvasObject {
	if of.Subject.Kind == model.SubjectInstrument {
		return widgets.NewIcon("gauge", side*2/3, look.Soft)
	}
	if of.Subject.Kind != model.SubjectAnimal {
		return widgets.NewIcon("shelf", side*2/3, look.Soft)
	}
	o := particulars.NewPortrait(side, side/2)
	o.Set(of.Name, of.Animal.Coat, p.thumbs.Of(p.window, of.Animal.Portrait, particulars.Small))
	return o
}

// namesShown is how many names of those passed over are shown.
const namesShown = 8

// undone is the column of what was not done in a month.
func (p *Page) undone() fyne.CanvasObject {
	t := p.window.Text()
	y, m, _ := p.list.Day.Date()
	months := widgets.NewSegments(28, p.month, func(i int) {
		p.month = i
		p.build()
		p.focus()
	}, widgets.Choice{Label: t.MonthYear(p.list.Day)}, widgets.Choice{Label: t.MonthYear(model.NewDay(y, m, 0))})
	column := widgets.Col(look.S16, head(p.say("due.page.undone"), ""), months.Container)
	none := true
	for _, u := range p.list.Undone[p.month] {
		if len(u.With) == 0 {
			continue
		}
		none = false
		column.Add(p.passed(u))
		column.Add(widgets.HLine())
	}
	if none {
		column.Add(widgets.Para(p.say("due.page.all-done"), look.Body, look.Soft))
	}
	return column
}

// passed are those with whom one job was not done.
func (p *Page) passed(u due.Undone) fyne.CanvasObject {
	names := widgets.Wrap(look.S4)
	for _, of := range u.With[:min(len(u.With), namesShown)] {
		names.Add(p.name(of))
	}
	parts := widgets.Col(look.S4, widgets.Line(p.say("due.undone."+string(u.Doing)), look.Name, look.Ink),
		widgets.Line(p.say("due.page.of", map[string]any{"Count": len(u.With), "All": u.Of}), look.Note, look.Soft), names)
	if rest := len(u.With) - namesShown; rest > 0 {
		parts.Add(widgets.Line(p.window.Text().Count("due.page.and-more", rest), look.Note, look.Soft))
	}
	return parts
}

func (p *Page) name(of *due.Owner) fyne.CanvasObject {
	label := widgets.Fix(0, 28, widgets.MiddleUpright(widgets.Pad(widgets.Line(of.Name, look.NoteBold, look.Accent), 0, look.S8)))
	to := place.Route{To: place.Animal, Subject: of.Subject.ID}
	if of.Subject.Kind == model.SubjectPlace {
		to.To = place.Shelf
	}
	return widgets.RowPress(of.Name, label, func() { p.window.Go(to) })
}

// current is the row that the keys are at; −1: none.
func (p *Page) current() int {
	if i := slices.IndexFunc(p.rows, func(r row) bool { return r.press.State().Focused }); i >= 0 {
		p.at = p.rows[i].item.Key
		return i
	}
	return slices.IndexFunc(p.rows, func(r row) bool { return r.item.Key == p.at })
}

func (p *Page) holdsKeys() bool {
	return slices.ContainsFunc(p.rows, func(r row) bool { return r.press.State().Focused })
}

// focus brings the keys to the row where they were, or the first.
func (p *Page) focus() {
	if len(p.rows) == 0 {
		return
	}
	p.goTo(max(0, p.current()))
}

func (p *Page) goTo(i int) {
	i = max(0, min(i, len(p.rows)-1))
	p.at = p.rows[i].item.Key
	p.window.Focus(p.rows[i].press)
	widgets.Reveal(p.root, p.rows[i].press)
}

// TypedKey implements place.Keys.
func (p *Page) TypedKey(k *fyne.KeyEvent) {
	if len(p.rows) == 0 {
		return
	}
	switch at := p.current(); k.Name {
	case fyne.KeyDown:
		p.goTo(at + 1)
	case fyne.KeyUp:
		p.goTo(at - 1)
	case fyne.KeyHome:
		p.goTo(0)
	case fyne.KeyEnd:
		p.goTo(len(p.rows) - 1)
	}
}

// TypedRune implements place.Keys.
func (p *Page) TypedRune(rune) {}

// Actions implements place.Actor.
func (p *Page) Actions() []place.Action {
	on := func(do func(due.Item)) func() {
		return func() {
			if i := p.current(); i >= 0 {
				do(p.rows[i].item)
			}
		}
	}
	off := p.window.ReadOnly() || len(p.rows) == 0
	answer := func(what due.What) func() { return on(func(i due.Item) { p.respond(i, what) }) }
	return []place.Action{
		{Label: p.say("due.page.do"), Menu: place.MenuEntry, Key: fyne.KeyReturn, Off: off, Do: on(func(i due.Item) { p.window.Go(particulars.Way(i)) })},
		{Label: p.say("due.answer.done"), Menu: place.MenuEntry, Key: fyne.KeyD, Off: off, Do: answer(due.DoneElsewhere)},
		{Label: p.say("due.answer.later"), Menu: place.MenuEntry, Key: fyne.KeyL, Off: off, Do: answer(due.PutOff)},
		{Label: p.say("due.answer.not-needed"), Menu: place.MenuEntry, Key: fyne.KeyE, Off: off, Do: answer(due.NotNeeded)},
		{Label: p.say("due.page.by-animal"), Menu: place.MenuView, Key: fyne.Key1, Modifier: shifted, Do: func() { p.arrange(false) }},
		{Label: p.say("due.page.by-job"), Menu: place.MenuView, Key: fyne.Key2, Modifier: shifted, Do: func() { p.arrange(true) }},
	}
}

// shifted is Ctrl or Cmd with Shift: the figures alone belong to the rail.
const shifted = fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift
