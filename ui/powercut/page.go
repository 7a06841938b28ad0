package powercut

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/due"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/people"
	"coilward/model/powercut"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// The widths of the column of looks and past power cuts, and of a form, which stands in its
// place.
const (
	sideWidth float32 = 340
	formWidth float32 = 360
)

// Page is the place. It is used on Fyne's goroutine only.
type Page struct {
	window place.Window
	plan   paper.PowerCutPlan
	people []people.Stored
	house  *husbandry.House
	cuts   []past
	unread int // power cuts that cannot be read
	looks  []owing
	alike  []string // what is said of every one of them
	// chilled are the names of those of whom the vet is to be called, as it was so cold.
	chilled []string
	ticked  map[model.AnimalID]bool // who was looked at, as far as it is not noted
	form    *particulars.SideForm
	open    model.EntryID // the power cut whose form it is; zero: a new one

	root, head, body, side *fyne.Container
	scrolled               [2]*fyne.Container // the columns that scroll; nil until they are built
}

// past is a power cut with how far its watch has come.
type past struct {
	powercut.Stored
	over, all int // of those who are here
	next      model.Day
}

// owing is one that is to be looked at.
type owing struct {
	id      model.AnimalID
	name    string
	said    []string // why
	checked bool     // only a check will do
}

var (
	_ place.Place = (*Page)(nil)
	_ place.Actor = (*Page)(nil)
	_ place.Keys  = (*Page)(nil)
)

// New makes the place.
func New(w place.Window) *Page {
	p := &Page{window: w, ticked: map[model.AnimalID]bool{}, head: widgets.Stack(), body: widgets.Stack(), side: widgets.Stack()}
	p.root = widgets.RowFill(0, widgets.Grow(widgets.Pad(widgets.Col(look.S12, p.head, widgets.Grow(p.body)), look.S24, look.S24, look.S8, look.S24)), p.side)
	return p
}

func (p *Page) say(key string, gaps ...map[string]any) string {
	return p.window.Text().Say(key, gaps...)
}

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.root }

// Show implements place.Place.
func (p *Page) Show(place.Route) { p.read() }

func (p *Page) holds() bool { return p.form != nil && p.form.Holds() }

// Hide implements place.Place.
func (p *Page) Hide() {}

// Changed implements place.Place.
func (p *Page) Changed(collection.Change) { p.read() }

// read reads everything anew.
func (p *Page) read() {
	var list due.List
	p.window.Task(p.say("due.page.reading"), func(ctx context.Context, progress func(float64)) (err error) {
		list, err = p.window.Due().Bring(ctx, p.window.Collection(), progress)
		return err
	}, func(err error) {
		if err == nil {
			err = p.window.Collection().View(func(v model.View) error { return p.take(v, list) })
		}
		if err != nil {
			p.window.Fault("power-cut.fault", err)
			return
		}
		p.build()
	})
}

func (p *Page) take(v model.View, list due.List) (err error) {
	t := p.window.Tables()
	if p.plan, err = paper.GatherPowerCut(v, t); err != nil {
		return err
	}
	if p.people, err = people.All(v); err != nil {
		return err
	}
	if p.house, err = husbandry.ReadHouse(v); err != nil {
		return err
	}
	p.looks, p.chilled = nil, nil
	for _, i := range list.Items {
		if i.Job == due.SeeVet && strings.HasPrefix(i.Cause, due.Chilled) && i.State.Presses() && !slices.Contains(p.chilled, i.Of.Name) {
			p.chilled = append(p.chilled, i.Of.Name)
		}
		if i.Job != due.ColdLook || !i.State.Presses() {
			continue
		}
		id := model.AnimalID{ID: i.Subject.ID}
		problems, _, err := exam.LegibleProblems(v, id)
		if err != nil {
			return err
		}
		one := owing{id: id, name: i.Of.Name, checked: powercut.OpenAtRest(p.window.Tables(), problems)}
		for _, reason := range i.Reasons[1:] {
			one.said = append(one.said, p.window.Text().Label(reason))
		}
		p.looks = append(p.looks, one)
	}
	p.alike = p.inCommon()
	walk := map[model.AnimalID]int{}
	for _, turn := range p.plan.House.Turns {
		walk[turn.ID] = turn.Walk
	}
	slices.SortStableFunc(p.looks, func(a, b owing) int { return cmp.Compare(walk[a.id], walk[b.id]) })
	p.cuts = nil
	all, unread, err := powercut.All(v)
	if err != nil {
		return err
	}
	p.unread = unread
	for _, cut := range all {
		one := past{Stored: cut}
		for _, id := range cut.Animals {
			a, err := animals.Find(v, id)
			if err != nil || !a.Status.Here() || a.Status == animals.OnLoan {
				continue // gone or away, and watched by nobody here
			}
			w, err := powercut.Of(v, t, cut, id)
			if one.all++; err != nil {
				continue // its looks cannot be read: it is not watched to the end
			}
			if w.Over() {
				one.over++
			} else if one.next == 0 || w.Next < one.next {
				one.next = w.Next
			}
		}
		p.cuts = append(p.cuts, one)
	}
	return nil
}

// inCommon takes out of what is said of each what is said of all, so that it stands once.
func (p *Page) inCommon() (alike []string) {
	if len(p.looks) < 2 {
		return nil
	}
	for _, said := range p.looks[0].said {
		if !slices.ContainsFunc(p.looks, func(o owing) bool { return !slices.Contains(o.said, said) }) {
			alike = append(alike, said)
		}
	}
	for i := range p.looks {
		p.looks[i].said = slices.DeleteFunc(p.looks[i].said, func(said string) bool { return slices.Contains(alike, said) })
	}
	return alike
}

func (p *Page) build() {
	rank := widgets.Primary
	if p.form != nil {
		rank = widgets.Plain
	}
	note := widgets.Button(rank, widgets.Act{Label: p.say("power-cut.add"), Icon: "plus", Do: p.add})
	if p.window.ReadOnly() {
		note.Disable()
	}
	p.head.Objects = []fyne.CanvasObject{widgets.Header(p.say("power-cut.title"), p.window.Text().Count("power-cut.turns", len(p.plan.House.Turns)),
		widgets.Button(widgets.Plain, widgets.Act{Label: p.say("power-cut.print"), Icon: "papers", Do: p.print}), note)}
	before := p.scrolled
	p.scrolled[0] = widgets.Scroll(widgets.Pad(p.order(), 0, look.S12, look.S24, 0))
	p.body.Objects = []fyne.CanvasObject{p.scrolled[0]}
	widgets.Resume(before[0], p.scrolled[0])
	if p.form != nil {
		p.side.Objects = []fyne.CanvasObject{widgets.RowFill(0, widgets.VLine(), widgets.Fix(formWidth, 0, p.form.Content))}
	} else {
		p.scrolled[1] = widgets.Scroll(widgets.Pad(p.after(), look.S24, look.S16, look.S24, look.S16))
		p.side.Objects = []fyne.CanvasObject{widgets.RowFill(0, widgets.VLine(), widgets.Fix(sideWidth, 0, p.scrolled[1]))}
		widgets.Resume(before[1], p.scrolled[1])
	}
	p.root.Refresh()
	p.window.ActionsChanged()
}

func (p *Page) print() { p.window.Go(place.Route{To: place.Papers, Page: place.PowerCutPaper}) }

// order is what is never done, whom to call, who comes first and why, and what is done.
func (p *Page) order() fyne.CanvasObject {
	t := p.window.Text()
	column := widgets.Col(look.S12)
	for _, a := range p.window.Tables().ColdActs() {
		if a.First {
			column.Add(widgets.Caution(p.say("rescue.act." + a.ID)))
		}
	}
	column.Add(widgets.Para(p.call(), look.BodyBold, look.Ink))
	column.Add(widgets.Row(0, widgets.Button(widgets.Plain, widgets.Act{Label: p.say("power-cut.climate"), Icon: "gauge", Do: func() { p.window.Go(place.Route{To: place.Climate}) }}), widgets.Fill()))
	column.Add(widgets.Line(p.say("paper.power-cut.order-head"), look.Section, look.Ink))
	column.Add(widgets.Para(p.say("paper.power-cut.lawful"), look.Note, look.Soft))
	if len(p.plan.House.Turns) == 0 {
		column.Add(widgets.Para(p.say("paper.power-cut.nobody"), look.Body, look.Soft))
	}
	rows := widgets.Col(0)
	for i, turn := range p.plan.House.Turns {
		if p.plan.House.Washed(i) {
			rows.Add(widgets.Pad(widgets.Para(p.say("paper.power-cut.hygiene"), look.NoteBold, look.Days), look.S4, look.S4))
		}
		box := p.say("shelf.loose")
		if title, known := p.plan.House.Boxes[turn.Place]; known {
			box = title
		}
		mass := p.say("paper.power-cut.mass") + " " + p.say("paper.power-cut.mass-unknown")
		if w, weighed := p.plan.House.Weight[turn.ID]; weighed {
			mass = t.Mass(w.Mass)
		}
		words := widgets.Col(0,
			widgets.RowTop(look.S8, widgets.Fix(28, 0, widgets.Line(t.Number(int64(i+1)), look.BodyBold, look.Accent)), widgets.Grow(widgets.Para(turn.Name, look.BodyBold, look.Ink)), widgets.Line(mass, look.Note, look.Soft)),
			widgets.RowTop(look.S8, widgets.Fix(28, 0, widgets.Space(28, 0)), widgets.Grow(widgets.Para(paper.RescueWhys(t, turn), look.Body, look.Ink))),
			widgets.RowTop(look.S8, widgets.Fix(28, 0, widgets.Space(28, 0)), widgets.Grow(widgets.Para(box+" · "+particulars.Capital(p.say("round.class."+p.plan.House.Counts(i).String())), look.Note, look.Soft))))
		rows.Add(widgets.RowPress(turn.Name, widgets.Pad(words, look.S4, look.S4), func() { p.window.Go(place.Route{To: place.Animal, Subject: turn.ID.ID}) }))
		rows.Add(widgets.HLine())
	}
	column.Add(rows)
	for _, never := range []bool{false, true} {
		head := "paper.power-cut.do"
		if never {
			head = "paper.power-cut.never"
		}
		column.Add(widgets.Line(p.say(head), look.Section, look.Ink))
		for _, a := range p.window.Tables().ColdActs() {
			if a.Never == never {
				column.Add(widgets.Para("• "+p.say("rescue.act."+a.ID), look.Body, look.Ink))
			}
		}
	}
	return column
}

// call is whom to call: those who stand on the paper too.
func (p *Page) call() string {
	var who []string
	for _, one := range paper.Open(paper.Callable(p.people, paper.SitterRoles())) {
		who = append(who, strings.Join(append([]string{one.Name}, one.Phones...), " "))
	}
	if len(who) == 0 {
		return p.say("power-cut.nobody-to-call")
	}
	return p.say("power-cut.call", wording.Gaps{"Who": strings.Join(who, "; ")})
}

// after is what comes after a power cut: the looks that are due, and those that were.
func (p *Page) after() fyne.CanvasObject {
	t := p.window.Text()
	column := widgets.Col(look.S8, widgets.Line(p.say("power-cut.look"), look.Section, look.Ink))
	if len(p.chilled) > 0 {
		column.Add(widgets.Caution(p.say("power-cut.chilled", wording.Gaps{"Names": strings.Join(p.chilled, ", ")})))
	}
	if len(p.looks) == 0 {
		column.Add(widgets.Para(p.say("power-cut.look-none"), look.Body, look.Soft))
	} else {
		column.Add(widgets.Para(p.say("power-cut.look-what"), look.Body, look.Ink))
		column.Add(widgets.Caution(p.say("due.caution.power-cut")))
		for _, said := range p.alike {
			column.Add(widgets.Para(said, look.Body, look.Ink))
		}
		column.Add(p.lookRows())
	}
	column.Add(widgets.Space(0, look.S8))
	column.Add(widgets.Line(p.say("power-cut.past"), look.Section, look.Ink))
	if p.unread > 0 {
		column.Add(widgets.Para(t.Count("power-cut.unread", p.unread), look.Body, look.Today))
	}
	if len(p.cuts) == 0 && p.unread == 0 {
		column.Add(widgets.Para(p.say("power-cut.none"), look.Body, look.Soft))
	}
	for _, cut := range p.cuts {
		when := p.say("power-cut.at", wording.Gaps{"From": p.moment(cut.From), "Until": p.moment(cut.Until)})
		cold := p.say("power-cut.unmeasured")
		if cut.Coldest != nil {
			cold = p.say("power-cut.coldest", wording.Gaps{"Temperature": t.Temperature(*cut.Coldest)})
		}
		watch := p.say("power-cut.watched", wording.Gaps{"Over": cut.over, "All": cut.all})
		if cut.next != 0 {
			watch += ", " + p.say("power-cut.next", wording.Gaps{"Day": t.DayShort(cut.next)})
		}
		words := widgets.Col(0, widgets.Para(when, look.BodyBold, look.Ink), widgets.Para(p.rooms(cut.Stored)+" · "+cold, look.Note, look.Soft), widgets.Para(watch, look.Note, look.Soft))
		column.Add(widgets.RowPress(when, widgets.Pad(words, look.S4, look.S4), func() {
			if !p.holds() {
				p.edit(&cut.Stored)
			}
		}))
		column.Add(widgets.HLine())
	}
	return column
}

// moment is a day with its hour.
func (p *Page) moment(m model.Moment) string {
	return p.window.Text().DayShort(m.Day()) + ", " + p.window.Text().Time(m)
}

// rooms are where a power cut was.
func (p *Page) rooms(cut powercut.Stored) string {
	if cut.Whole {
		return p.say("power-cut.all-rooms")
	}
	var names []string
	for _, id := range cut.Places {
		names = append(names, p.house.Title(id))
	}
	return strings.Join(names, ", ")
}

// lookRows are those to be looked at, to be ticked, and the act that notes it.
func (p *Page) lookRows() fyne.CanvasObject {
	rows := widgets.Col(0)
	open := slices.DeleteFunc(slices.Clone(p.looks), func(o owing) bool { return o.checked })
	all := len(open) > 0 && !slices.ContainsFunc(open, func(o owing) bool { return !p.ticked[o.id] })
	if len(open) > 1 {
		rows.Add(widgets.CheckRow(all, p.say("power-cut.every-one"), "", "", func(on bool) {
			for _, o := range open {
				p.ticked[o.id] = on
			}
			p.build()
		}))
	}
	for _, o := range p.looks {
		check := widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("power-cut.check"), Do: func() { p.window.Go(place.Route{To: place.Check, Subject: o.id.ID}) }})
		if o.checked {
			words := widgets.Col(0, widgets.Para(o.name, look.Body, look.Ink), widgets.Para(p.say("refusal.power-cut.open", wording.Gaps{"Name": o.name}), look.Note, look.Days))
			rows.Add(widgets.Row(0, widgets.Grow(widgets.Pad(widgets.RowTop(look.S12, widgets.Space(20, 0), widgets.Grow(words)), look.S8, look.S12)), check))
			continue
		}
		rows.Add(widgets.Row(0, widgets.Grow(widgets.CheckRow(p.ticked[o.id], o.name, strings.Join(o.said, " "), "", func(on bool) {
			p.ticked[o.id] = on
			p.build()
		})), check))
	}
	keep := widgets.Button(widgets.Primary, widgets.Act{Label: p.say("power-cut.quiet"), Icon: "check", Do: p.quiet})
	if p.window.ReadOnly() || !slices.ContainsFunc(open, func(o owing) bool { return p.ticked[o.id] }) {
		keep.Disable()
	}
	rows.Add(widgets.Pad(keep, look.S8, 0))
	return rows
}

// quiet notes the looks at those who are ticked.
func (p *Page) quiet() {
	c := powercut.LookedQuiet{Tables: p.window.Tables(), By: p.window.By()}
	for _, o := range p.looks {
		if p.ticked[o.id] && !o.checked {
			c.Animals = append(c.Animals, o.id)
		}
	}
	p.window.Do(func(place.Answer) model.Command { return c }, func(err error) {
		if err != nil {
			if r := (*model.Refusal)(nil); errors.As(err, &r) {
				p.window.Tell(p.say("power-cut.quiet"), p.window.Text().Refusal(r))
			}
			return
		}
		p.ticked = map[model.AnimalID]bool{}
		p.read()
	})
}

// Actions implements place.Actor.
func (p *Page) Actions() []place.Action {
	return []place.Action{
		{Label: p.say("power-cut.add"), Menu: place.MenuEntry, Key: fyne.KeyN, Off: p.window.ReadOnly() || p.form != nil, Do: p.add},
		{Label: p.say("power-cut.print"), Menu: place.MenuEntry, Key: fyne.KeyP, Do: p.print},
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
