package instruments

import (
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// formWidth is the column that a form opens in.
const formWidth float32 = 360

// Page is the place. It is used on Fyne's goroutine only.
type Page struct {
	window place.Window
	kit    Kit
	today  model.Day
	unread bool // the instruments could not be read
	tools  bool // the tools are in sight

	root, head, body, side *fyne.Container
	list                   *widgets.Roll
	form                   *form
}

var (
	_ place.Place = (*Page)(nil)
	_ place.Actor = (*Page)(nil)
	_ place.Keys  = (*Page)(nil)
)

// New makes the place.
func New(w place.Window) *Page {
	p := &Page{window: w}
	p.list = widgets.NewRoll(0, 0, widgets.RollKind{Height: rowHeight})
	p.list.Make = func(int) widgets.RollRow { return newRow() }
	p.list.FillCell = func(i int, cell widgets.RollRow) { cell.(*row).show(p.line(i)) }
	p.list.Name = func(i int) string { return p.line(i).name }
	p.list.OnOpen = p.open
	p.list.OnRune = p.TypedRune
	p.head, p.body, p.side = widgets.Stack(), widgets.Stack(), widgets.Stack()
	p.side.Hide()
	p.root = widgets.RowFill(0, widgets.Grow(widgets.Pad(widgets.Col(look.S12, p.head, widgets.Grow(p.body)), look.S24, look.S24, look.S8, look.S24)), p.side)
	return p
}

func (p *Page) say(key string, gaps ...map[string]any) string {
	return p.window.Text().Say(key, gaps...)
}

func (p *Page) words() words { return words{p.window.Text(), p.kit, p.today} }

func (p *Page) line(i int) line {
	if p.tools {
		return p.words().tool(p.kit.Tools[i])
	}
	return p.words().instrument(p.kit.Instruments[i])
}

func (p *Page) count() int {
	if p.tools {
		return len(p.kit.Tools)
	}
	return len(p.kit.Instruments)
}

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.root }

// Show implements place.Place. The route's subject opens with the check of an
// instrument, or the form of a tool; the page "tools" shows the tools.
func (p *Page) Show(to place.Route) {
	p.today = p.window.Now().Day()
	p.tools = to.Page == "tools" || to.Page == "" && to.Subject.IsZero() && p.tools
	p.read()
	if i := slices.IndexFunc(p.kit.Instruments, func(s husbandry.Standing) bool { return s.ID.ID == to.Subject }); i >= 0 && !p.holds() {
		p.tools = false
		p.build()
		p.list.SetCurrent(i)
		p.show(newInstrumentForm(p, &p.kit.Instruments[i]))
		return
	}
	if i := slices.IndexFunc(p.kit.Tools, func(one husbandry.ToolStanding) bool { return one.ID.ID == to.Subject }); i >= 0 && !p.holds() {
		p.tools = true
		p.build()
		p.list.SetCurrent(i)
		p.show(newToolForm(p, &p.kit.Tools[i]))
		return
	}
	if p.form == nil && p.count() > 0 {
		p.window.Focus(p.list)
	}
}

// holds reports whether a form holds something that was typed: its keys are given
// back to it then.
func (p *Page) holds() bool {
	return p.form != nil && p.form.Holds()
}

// Hide implements place.Place.
func (p *Page) Hide() {}

// Changed implements place.Place.
func (p *Page) Changed(c collection.Change) {
	for _, t := range []model.DocumentType{model.TypeInstrument, model.TypeTool, model.TypePlace, model.TypeStay, model.TypeAnimal, model.TypeEntry} {
		if slices.Contains(c.Types, t) {
			p.read()
			return
		}
	}
}

// read reads the instruments and tools anew. A form that nothing was typed in is
// filled anew; that of one that is no longer there goes.
func (p *Page) read() {
	err := p.window.Collection().View(func(v model.View) (err error) {
		p.kit, err = Load(v, p.window.Tables())
		return err
	})
	if p.unread = err != nil; p.unread {
		p.kit = Kit{}
		p.window.Fault("instruments.fault", err)
	}
	if p.form != nil && !p.form.id.IsZero() {
		if again := p.formOf(p.form.id); again == nil {
			p.closeForm()
			return
		} else if !p.form.Touched() && p.form.again {
			p.show(again)
			return
		}
	}
	p.build()
}

// formOf is the form of what is known by that id; nil where it is not there.
func (p *Page) formOf(id model.ID) *form {
	for i := range p.kit.Instruments {
		if p.kit.Instruments[i].ID.ID == id {
			return newInstrumentForm(p, &p.kit.Instruments[i])
		}
	}
	for i := range p.kit.Tools {
		if p.kit.Tools[i].ID.ID == id {
			return newToolForm(p, &p.kit.Tools[i])
		}
	}
	return nil
}

func (p *Page) build() {
	t := p.window.Text()
	chosen := 0
	if p.tools {
		chosen = 1
	}
	both := widgets.NewSegments(36, chosen, func(i int) { p.turn(i == 1) },
		widgets.Choice{Label: p.say("instruments.page.instruments")}, widgets.Choice{Label: p.say("instruments.page.tools")})
	var acts []fyne.CanvasObject
	if p.count() > 0 {
		rank := widgets.Primary
		if p.form != nil {
			rank = widgets.Plain
		}
		acts = append(acts, widgets.Button(rank, widgets.Act{Label: p.addLabel(), Icon: "plus", Do: p.add}))
	}
	below := t.Count("instruments.page.count", len(p.kit.Instruments)) + ", " + t.Count("instruments.page.count-tools", len(p.kit.Tools))
	p.head.Objects = []fyne.CanvasObject{widgets.Col(look.S12, widgets.Header(p.say("instruments.page.title"), below, acts...), widgets.Row(0, widgets.Fix(280, 0, both.Container), widgets.Fill()))}
	switch {
	case p.unread:
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(nil, p.say("instruments.page.unread"), p.say("instruments.page.unread-what"), widgets.Act{})}
	case p.count() == 0 && p.form != nil:
		p.body.Objects = nil
	case p.count() == 0:
		kind, icon := "instruments", "gauge"
		if p.tools {
			kind, icon = "tools", "clean"
		}
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(widgets.NewIcon(icon, 48, look.Accent), p.say("instruments.empty."+kind), p.say("instruments.empty-what."+kind),
			widgets.Act{Label: p.addLabel(), Icon: "plus", Do: p.add})}
	default:
		p.body.Objects = []fyne.CanvasObject{p.list}
		p.list.SetCount(p.count())
	}
	p.root.Refresh()
	p.window.ActionsChanged()
}

func (p *Page) addLabel() string {
	if p.tools {
		return p.say("instruments.add-tool")
	}
	return p.say("instruments.add")
}

// turn shows the tools, or the instruments; what was typed in a form keeps it.
func (p *Page) turn(tools bool) {
	if p.holds() {
		p.build()
		return
	}
	p.tools = tools
	p.list.SetCurrent(0)
	p.closeForm()
}

// open opens the form of a row; what is typed in another one stays.
func (p *Page) open(i int) {
	if i < 0 || i >= p.count() || p.holds() {
		return
	}
	if p.tools {
		p.show(newToolForm(p, &p.kit.Tools[i]))
		return
	}
	p.show(newInstrumentForm(p, &p.kit.Instruments[i]))
}

// add opens the form of a new instrument or tool.
func (p *Page) add() {
	if p.holds() {
		return
	}
	if p.tools {
		p.show(newToolForm(p, nil))
		return
	}
	p.show(newInstrumentForm(p, nil))
}

func (p *Page) show(f *form) {
	p.form = f
	p.side.Objects = []fyne.CanvasObject{widgets.RowFill(0, widgets.VLine(), widgets.Fix(formWidth, 0, f.Content))}
	p.side.Show()
	p.build()
	p.window.Focus(f.First())
}

func (p *Page) closeForm() {
	p.form = nil
	p.side.Objects = nil
	p.side.Hide()
	p.build()
	if p.count() > 0 {
		p.window.Focus(p.list)
	}
}

// kept is called when something was kept: the list stands at it.
func (p *Page) kept(name string) {
	p.form = nil
	p.read()
	p.closeForm()
	for i := range p.count() {
		if p.line(i).name == name {
			p.list.SetCurrent(i)
		}
	}
}

// Actions implements place.Actor.
func (p *Page) Actions() []place.Action {
	off := p.window.ReadOnly()
	return []place.Action{
		{Label: p.addLabel(), Menu: place.MenuEntry, Key: fyne.KeyN, Off: off, Do: p.add},
		{Label: p.say("instruments.check"), Menu: place.MenuEntry, Key: fyne.KeyK, Off: off || p.tools || p.count() == 0, Do: p.check},
		{Label: p.say("instruments.page.other"), Menu: place.MenuView, Key: fyne.KeyT, Do: func() { p.turn(!p.tools) }},
	}
}

// check opens the check of the instrument whose form is open, or that the list is
// at.
func (p *Page) check() {
	if p.holds() {
		return
	}
	i := p.list.Current()
	if p.form != nil {
		i = max(i, slices.IndexFunc(p.kit.Instruments, func(s husbandry.Standing) bool { return s.ID.ID == p.form.id }))
	}
	if i >= 0 && i < len(p.kit.Instruments) {
		p.show(newCheckForm(p, p.kit.Instruments[i], nil))
	}
}

// TypedRune implements place.Keys.
func (p *Page) TypedRune(rune) {}

// TypedKey implements place.Keys: the arrows go to the list, Escape closes the
// form.
func (p *Page) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyEscape:
		if p.form != nil {
			p.form.Leave()
		}
	case fyne.KeyReturn, fyne.KeyEnter:
		if p.form != nil {
			p.form.Keep()
		}
	case fyne.KeyDown, fyne.KeyUp:
		if p.count() > 0 {
			p.window.Focus(p.list)
		}
	}
}
