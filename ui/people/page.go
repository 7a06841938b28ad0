package people

import (
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/people"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// formWidth is the column that a person's form opens in.
const formWidth float32 = 360

// Page is the place. It is used on Fyne's goroutine only.
type Page struct {
	window place.Window
	people []people.Stored
	shown  []int // indexes into people that the search has left
	unread bool  // the people could not be read

	root, head, body, side *fyne.Container
	search                 *widgets.Field
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
	p.search = widgets.NewField("", widgets.FieldOptions{Hint: p.say("people.page.search"), Icon: "search"})
	p.search.OnTyped = func(string) { p.choose() }
	p.search.OnEnter = func() { p.open(0) }
	p.list = widgets.NewRoll(0, 0, widgets.RollKind{Height: rowHeight})
	p.list.Make = func(int) widgets.RollRow { return newRow() }
	p.list.FillCell = func(i int, cell widgets.RollRow) {
		one := p.people[p.shown[i]]
		cell.(*row).show(w.Text(), one, one.ID == w.By())
	}
	p.list.Name = func(i int) string { return p.people[p.shown[i]].Name }
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

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.root }

// Show implements place.Place. The page "new" opens the form of a new person.
func (p *Page) Show(to place.Route) {
	p.read()
	if to.Page == "new" {
		p.add()
	} else if p.form == nil && len(p.people) > 0 {
		p.window.Focus(p.list)
	}
}

// Hide implements place.Place.
func (p *Page) Hide() {}

// Changed implements place.Place.
func (p *Page) Changed(c collection.Change) {
	if slices.Contains(c.Types, model.TypePerson) {
		p.read()
	}
}

// read reads the people anew. The form of one who is no longer there goes.
func (p *Page) read() {
	err := p.window.Collection().View(func(v model.View) (err error) {
		p.people, err = Load(v)
		return err
	})
	if p.unread = err != nil; p.unread {
		p.people = nil
		p.window.Fault("people.page.fault", err)
	}
	if p.form != nil && p.form.before != nil && !slices.ContainsFunc(p.people, func(one people.Stored) bool { return one.ID == p.form.before.ID }) {
		p.closeForm()
		return
	}
	p.build()
}

func (p *Page) build() {
	below, acts := "", []fyne.CanvasObject(nil)
	if len(p.people) > 0 {
		below = p.window.Text().Count("people.page.count", len(p.people))
		rank := widgets.Primary
		if p.form != nil {
			rank = widgets.Plain
		}
		acts = append(acts, widgets.Button(rank, widgets.Act{Label: p.say("people.page.add"), Icon: "plus", Do: p.add}))
	}
	parts := []fyne.CanvasObject{widgets.Header(p.say("people.page.title"), below, acts...)}
	if len(p.people) > 0 {
		parts = append(parts, widgets.Row(0, widgets.Fix(248, 0, p.search.Container), widgets.Fill()))
	}
	p.head.Objects = []fyne.CanvasObject{widgets.Col(look.S12, parts...)}
	p.choose()
	p.root.Refresh()
}

// choose shows those whom the search leaves.
func (p *Page) choose() {
	p.shown = Found(p.people, p.search.Text())
	switch {
	case p.unread:
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(nil, p.say("people.page.unread"), p.say("people.page.unread-what"), widgets.Act{})}
	case len(p.people) == 0 && p.form != nil:
		p.body.Objects = nil
	case len(p.people) == 0:
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(widgets.NewIcon("phone", 48, look.Accent), p.say("people.page.empty"), p.say("people.page.empty-what"),
			widgets.Act{Label: p.say("people.page.add"), Icon: "plus", Do: p.add})}
	case len(p.shown) == 0:
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(nil, p.say("people.page.none"), p.say("people.page.none-what", map[string]any{"Search": p.search.Text()}),
			widgets.Act{Label: p.say("people.page.all"), Do: p.showAll})}
	default:
		p.body.Objects = []fyne.CanvasObject{p.list}
		p.list.SetCount(len(p.shown))
	}
	p.body.Refresh()
}

func (p *Page) showAll() {
	p.search.SetText("")
	p.choose()
}

// open opens the form of a person in the list; what is typed in another's stays
// where it is, and that person's form with it.
func (p *Page) open(i int) {
	if i < 0 || i >= len(p.shown) {
		return
	}
	one := p.people[p.shown[i]]
	if p.form != nil && (p.form.before != nil && p.form.before.ID == one.ID || p.form.Touched()) {
		p.window.Focus(p.form.First())
		return
	}
	p.show(newForm(p, &one))
}

// add opens the form of a new person beside the list.
func (p *Page) add() {
	if p.form == nil || p.form.before != nil && !p.form.Touched() {
		p.show(newForm(p, nil))
		return
	}
	p.window.Focus(p.form.First())
}

func (p *Page) show(f *form) {
	p.form = f
	p.side.Objects = []fyne.CanvasObject{widgets.RowFill(0, widgets.VLine(), widgets.Fix(formWidth, 0, f.Content))}
	p.side.Show()
	p.build()
	p.window.ActionsChanged()
	p.window.Focus(f.First())
}

func (p *Page) closeForm() {
	p.form = nil
	p.side.Objects = nil
	p.side.Hide()
	p.build()
	p.window.ActionsChanged()
	if len(p.shown) > 0 {
		p.window.Focus(p.list)
	}
}

// kept is called when a person was kept: the form goes, and the list stands at
// the person, who is read here because the change is told of only later.
func (p *Page) kept(name string) {
	p.form = nil
	p.read()
	p.closeForm()
	here := func(at int) bool { return p.people[at].Name == name }
	if !slices.ContainsFunc(p.shown, here) {
		p.showAll()
	}
	if i := slices.IndexFunc(p.shown, here); i >= 0 {
		p.list.SetCurrent(i)
	}
}

// Actions implements place.Actor.
func (p *Page) Actions() []place.Action {
	return []place.Action{
		{Label: p.say("people.page.add"), Menu: place.MenuEntry, Key: fyne.KeyN, Off: p.window.ReadOnly(), Do: p.add},
		{Label: p.say("people.page.remove"), Menu: place.MenuEntry, Key: fyne.KeyBackspace, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift, Off: p.form == nil || p.form.before == nil || p.window.ReadOnly(), Do: func() { p.form.remove() }},
		{Label: p.say("people.page.find"), Menu: place.MenuView, Key: fyne.KeyF, Off: len(p.people) == 0, Do: func() { p.window.Focus(p.search.Focusable()) }},
	}
}

// TypedRune implements place.Keys: letters go to the search.
func (p *Page) TypedRune(sign rune) {
	if len(p.people) == 0 || p.form != nil {
		return
	}
	p.window.Focus(p.search.Focusable())
	p.search.Type(p.search.Text() + string(sign))
	p.search.Focusable().TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
}

// TypedKey implements place.Keys: the arrows go to the list, Enter keeps the form,
// Escape closes it, or shows all again.
func (p *Page) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyEscape:
		if p.form != nil {
			p.form.Leave()
			return
		}
		p.showAll()
	case fyne.KeyReturn, fyne.KeyEnter:
		if p.form != nil {
			p.form.Keep()
		}
	case fyne.KeyDown, fyne.KeyUp:
		if len(p.shown) > 0 {
			p.window.Focus(p.list)
		}
	}
}
