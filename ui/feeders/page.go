package feeders

import (
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/feeders"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// formWidth is the column that a form opens in.
const formWidth float32 = 360

// Page is the place. It is used on Fyne's goroutine only.
type Page struct {
	window place.Window
	all    []feeders.Standing
	today  model.Day
	unread bool // the batches could not be read
	form   *particulars.SideForm
	open   model.BatchID // whose form it is; zero: another

	root, head, body, side *fyne.Container
}

var (
	_ place.Place = (*Page)(nil)
	_ place.Actor = (*Page)(nil)
	_ place.Keys  = (*Page)(nil)
)

// New makes the place.
func New(w place.Window) *Page {
	p := &Page{window: w, head: widgets.Stack(), body: widgets.Stack(), side: widgets.Stack()}
	p.side.Hide()
	p.root = widgets.RowFill(0, widgets.Grow(widgets.Pad(widgets.Col(look.S12, p.head, widgets.Grow(p.body)), look.S24, look.S24, look.S8, look.S24)), p.side)
	return p
}

func (p *Page) say(key string, gaps ...map[string]any) string {
	return p.window.Text().Say(key, gaps...)
}

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.root }

// Show implements place.Place. The route's subject is a batch, whose form opens.
func (p *Page) Show(to place.Route) {
	p.read()
	if i := slices.IndexFunc(p.all, func(s feeders.Standing) bool { return s.ID.ID == to.Subject }); i >= 0 && !p.holds() {
		p.edit(p.all[i])
	}
}

func (p *Page) holds() bool { return p.form != nil && p.form.Holds() }

// Hide implements place.Place.
func (p *Page) Hide() {}

// Changed implements place.Place.
func (p *Page) Changed(c collection.Change) {
	if slices.Contains(c.Types, model.TypeBatch) || slices.Contains(c.Types, model.TypeEntry) {
		p.read()
	}
}

// read reads the stock anew. A form that nothing was typed in is filled anew; that of
// one that is no longer there goes.
func (p *Page) read() {
	p.today = p.window.Now().Day()
	err := p.window.Collection().View(func(v model.View) (err error) {
		p.all, err = feeders.All(p.window.Tables(), v)
		return err
	})
	if p.unread = err != nil; p.unread {
		p.window.Fault("feeders.fault", err)
	}
	if p.form != nil && !p.open.IsZero() {
		i := slices.IndexFunc(p.all, func(s feeders.Standing) bool { return s.ID == p.open })
		switch {
		case i < 0:
			p.close()
			return
		case !p.form.Touched():
			p.edit(p.all[i])
			return
		}
	}
	p.build()
}

func (p *Page) build() {
	acts := []fyne.CanvasObject{}
	if len(p.all) > 0 {
		rank := widgets.Primary
		if p.form != nil {
			rank = widgets.Plain
		}
		acts = append(acts, widgets.Button(widgets.Plain, widgets.Act{Label: p.say("feeders.fail"), Icon: "caution", Do: p.fail}),
			widgets.Button(rank, widgets.Act{Label: p.say("feeders.add"), Icon: "plus", Do: p.add}))
	}
	left := 0
	for _, s := range p.all {
		left += s.Left
	}
	p.head.Objects = []fyne.CanvasObject{widgets.Header(p.say("feeders.title"), p.window.Text().Count("feeders.left-all", left), acts...)}
	switch {
	case p.unread:
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(nil, p.say("feeders.unread"), p.say("feeders.unread-what"), widgets.Act{})}
	case len(p.all) == 0 && p.form != nil:
		p.body.Objects = nil
	case len(p.all) == 0:
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(widgets.NewIcon("feed", 48, look.Accent), p.say("feeders.empty"), p.say("feeders.empty-what"),
			widgets.Act{Label: p.say("feeders.add"), Icon: "plus", Do: p.add})}
	default:
		rows := widgets.Col(0, widgets.Caution(p.say(feeders.RefreezeCaution)))
		for _, s := range p.all {
			rows.Add(p.row(s))
		}
		p.body.Objects = []fyne.CanvasObject{widgets.Scroll(rows)}
	}
	p.root.Refresh()
	p.window.ActionsChanged()
}

// row is one batch: its name and what is left, what it is, and what speaks against it.
func (p *Page) row(s feeders.Standing) fyne.CanvasObject {
	left := p.window.Text().Say("feeders.left", wording.Gaps{"Left": s.Left, "Count": s.Count})
	words := widgets.Col(2, widgets.RowTop(look.S8, widgets.Grow(widgets.Para(s.Name, look.BodyBold, look.Ink)), widgets.Line(left, look.BodyBold, look.Ink)),
		widgets.Para(p.what(s.Batch), look.Note, look.Soft))
	for _, said := range p.against(s) {
		words.Add(widgets.Para(said, look.NoteBold, look.Days))
	}
	if s.Thawed > 0 {
		words.Add(widgets.Para(p.window.Text().Count("feeders.thawed", s.Thawed), look.NoteBold, look.Accent))
	}
	return widgets.Col(0, widgets.RowPress(s.Name+", "+left, widgets.Pad(words, look.S8, look.S8), func() {
		if !p.holds() {
			p.edit(s)
		}
	}), widgets.HLine())
}

// what is what a batch is, in words.
func (p *Page) what(b feeders.Batch) string {
	t := p.window.Text()
	said := particulars.Capital(t.Say("care.prey." + string(b.Prey)))
	add := func(s string) {
		if s != "" {
			said += " · " + s
		}
	}
	if b.Size != "" {
		add(t.Say("care.prey-size." + string(b.Size)))
	}
	if !b.Each.IsZero() {
		add(t.Mass(b.Each))
	}
	add(b.Freezer)
	if !b.Best.IsZero() {
		add(t.Say("feeders.best", wording.Gaps{"Day": t.Date(b.Best)}))
	}
	return said
}

// against is what speaks against offering prey of a batch.
func (p *Page) against(s feeders.Standing) (all []string) {
	t := p.window.Text()
	if s.Doubtful != 0 {
		all = append(all, t.Say("feeders.doubtful", wording.Gaps{"Day": t.DayShort(s.Doubtful)}))
	}
	if s.Over(p.today) && s.Left > 0 {
		all = append(all, t.Say("feeders.over"))
	}
	if n := len(s.Up); n > 0 {
		all = append(all, t.Count("feeders.up", n))
	}
	return all
}

func (p *Page) show(f *particulars.SideForm, of model.BatchID) {
	p.form, p.open = f, of
	p.side.Objects = []fyne.CanvasObject{widgets.RowFill(0, widgets.VLine(), widgets.Fix(formWidth, 0, f.Content))}
	p.side.Show()
	p.build()
	p.window.Focus(f.First())
}

func (p *Page) close() {
	p.form, p.open, p.side.Objects = nil, model.BatchID{}, nil
	p.side.Hide()
	p.build()
	p.window.Focus(nil)
}

// kept is called when something was kept.
func (p *Page) kept() {
	p.form, p.open = nil, model.BatchID{}
	p.read()
	p.close()
}

// Actions implements place.Actor.
func (p *Page) Actions() []place.Action {
	off := p.window.ReadOnly()
	return []place.Action{
		{Label: p.say("feeders.add"), Menu: place.MenuEntry, Key: fyne.KeyN, Off: off, Do: p.add},
		{Label: p.say("feeders.fail"), Menu: place.MenuEntry, Off: off || len(p.all) == 0, Do: p.fail},
	}
}

// TypedRune implements place.Keys.
func (p *Page) TypedRune(rune) {}

// TypedKey implements place.Keys: Escape leaves the form, Enter keeps it.
func (p *Page) TypedKey(k *fyne.KeyEvent) {
	if p.form != nil {
		p.form.TypedKey(k)
	}
}
