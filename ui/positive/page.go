package positive

import (
	"errors"
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/contact"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Page is the place. It is used on Fyne's goroutine only.
type Page struct {
	window place.Window
	all    []positives.Trace // the open ones, and a closed one that was asked for
	chosen contact.PositiveID
	unread bool
	whole  bool // all that were near are shown
	thumbs particulars.Thumbs

	root, head, body *fyne.Container
	scroll           *fyne.Container
	ticks            []tick // of the acts, in their order
	next             int    // the first of them that is not done
	at               int    // the one that the keys are at
}

// tick is the press of an act.
type tick struct {
	*widgets.Press
	act knowledge.PositiveActID
}

var (
	_ place.Place = (*Page)(nil)
	_ place.Actor = (*Page)(nil)
	_ place.Keys  = (*Page)(nil)
)

// New makes the place.
func New(w place.Window) *Page {
	p := &Page{window: w, thumbs: particulars.Thumbs{}}
	p.head, p.body = widgets.Stack(), widgets.Stack()
	p.root = widgets.Col(look.S12, widgets.Pad(p.head, look.S24, look.S24, 0, look.S24), widgets.Grow(p.body))
	return p
}

func (p *Page) say(key string, gaps ...map[string]any) string {
	return p.window.Text().Say(key, gaps...)
}

func (p *Page) words() words { return words{p.window.Text(), p.window.Tables()} }

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.root }

// Show implements place.Place. A route about a positive shows it; one about an animal
// shows the one that is open for it, and with the page "open" opens one for what was
// detected in it last, where none was.
func (p *Page) Show(to place.Route) {
	animal := model.AnimalID{ID: to.Subject}
	if to.Page == "open" {
		if d, there := p.unopened(animal); there {
			particulars.OpenPositive(p.window, d.Sample, d.Agent)
			return
		}
	}
	if !to.Subject.IsZero() {
		p.chosen = contact.PositiveID{ID: to.Subject}
	}
	p.read()
	if i := slices.IndexFunc(p.all, func(t positives.Trace) bool { return slices.Contains(t.Animals, animal) }); i >= 0 {
		p.choose(p.all[i].ID)
	}
	p.focus(p.next)
}

// focus gives the keys to the tick of an act, which comes into sight.
func (p *Page) focus(i int) {
	if i < 0 || i >= len(p.ticks) || p.ticks[i].Disabled() {
		return
	}
	p.at = i
	p.window.Focus(p.ticks[i].Press)
	widgets.Reveal(p.scroll, p.ticks[i].Press)
}

// TypedKey implements place.Keys: up and down go through the acts, Escape back to where
// one came from.
func (p *Page) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyUp:
		p.focus(p.at - 1)
	case fyne.KeyDown:
		p.focus(p.at + 1)
	case fyne.KeyEscape:
		p.window.Back()
	}
}

// TypedRune implements place.Keys: no letter means anything here.
func (p *Page) TypedRune(rune) {}

// unopened is the newest of what was detected in an animal without a positive.
func (p *Page) unopened(animal model.AnimalID) (d positives.Detected, there bool) {
	err := p.window.Collection().View(func(v model.View) error {
		all, err := positives.Unopened(v, animal)
		if len(all) > 0 {
			d, there = all[0], true
		}
		return err
	})
	if err != nil {
		p.window.Fault("positive.fault", err)
	}
	return d, there
}

// Hide implements place.Place.
func (p *Page) Hide() {}

// Changed implements place.Place: what no positive rests on is left alone. No press has
// the keys then, so that a key held down does nothing more; the arrows go on from the act
// that they were at.
func (p *Page) Changed(c collection.Change) {
	if slices.ContainsFunc(c.Types, func(t model.DocumentType) bool { return slices.Contains(rested, t) }) {
		p.read()
		p.window.Focus(nil)
		if p.at < len(p.ticks) {
			widgets.Reveal(p.scroll, p.ticks[p.at])
		}
	}
}

// rested are the types of document that a positive rests on.
var rested = []model.DocumentType{model.TypePositive, model.TypeSample, model.TypeAnimal, model.TypeStay, model.TypePlace, model.TypeProblem, model.TypeEntry, model.TypeQuarantine}

func (p *Page) read() {
	err := p.window.Collection().View(func(v model.View) (err error) {
		if p.all, err = positives.All(v, p.window.Tables()); err != nil || p.has(p.chosen) || p.chosen.IsZero() {
			return err
		}
		d, err := v.Document(p.chosen.ID)
		if errors.Is(err, model.ErrNotFound) || err == nil && d.Type != model.TypePositive {
			return nil // it is an animal, or was undone
		}
		if err != nil {
			return err
		}
		closed, err := positives.Of(v, p.window.Tables(), p.chosen)
		p.all = append(p.all, closed)
		return err
	})
	if p.unread = err != nil; p.unread {
		p.all = nil
		p.window.Fault("positive.fault", err)
	}
	if !p.has(p.chosen) && len(p.all) > 0 {
		p.chosen = p.all[0].ID
	}
	p.build()
}

func (p *Page) has(id contact.PositiveID) bool {
	return slices.ContainsFunc(p.all, func(t positives.Trace) bool { return t.ID == id })
}

func (p *Page) choose(id contact.PositiveID) {
	p.chosen, p.whole = id, false
	p.build()
	p.window.ActionsChanged()
}

// trace is the chosen one.
func (p *Page) trace() (t positives.Trace, there bool) {
	i := slices.IndexFunc(p.all, func(t positives.Trace) bool { return t.ID == p.chosen })
	if i < 0 {
		return t, false
	}
	return p.all[i], true
}

func (p *Page) build() {
	t, there := p.trace()
	p.ticks, p.next = nil, 0
	switch {
	case p.unread:
		p.head.Objects = []fyne.CanvasObject{widgets.Header(p.say("positive.page.title"), "")}
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(nil, p.say("positive.page.unread"), p.say("positive.page.unread-what"), widgets.Act{})}
	case !there:
		p.head.Objects = []fyne.CanvasObject{widgets.Header(p.say("positive.page.title"), "")}
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(widgets.NewIcon("tube", 48, look.Accent), p.say("positive.page.empty"), p.say("positive.page.empty-what"),
			widgets.Act{Label: p.say("positive.page.to-tray"), Icon: "tube", Do: func() { p.window.Go(place.Route{To: place.Tray}) }})}
	default:
		p.head.Objects = []fyne.CanvasObject{widgets.Header(p.words().title(t), p.words().below(t), p.acts(t)...)}
		before := p.scroll
		p.scroll = widgets.Scroll(widgets.Pad(widgets.Col(look.S16, p.parts(t)...), 0, look.S24, look.S24, look.S24))
		p.body.Objects = []fyne.CanvasObject{p.scroll}
		p.body.Refresh()
		widgets.Resume(before, p.scroll)
	}
	p.head.Refresh()
	p.body.Refresh()
	p.root.Refresh()
}

// acts are the acts of the head.
func (p *Page) acts(t positives.Trace) []fyne.CanvasObject {
	acts := []fyne.CanvasObject{widgets.Button(widgets.Plain, widgets.Act{Label: p.say("positive.page.papers"), Icon: "print", Do: func() { p.papers(t) }})}
	if t.Open() {
		acts = append(acts, p.off(widgets.Button(widgets.Plain, widgets.Act{Label: p.say("positive.page.close"), Icon: "tick", Do: func() { p.close(t) }})))
	}
	return acts
}

// off disables a press while nothing can be noted.
func (p *Page) off(b *widgets.Press) *widgets.Press {
	if p.window.ReadOnly() {
		b.Disable()
	}
	return b
}

func (p *Page) papers(t positives.Trace) {
	p.window.Go(place.Route{To: place.Papers, Subject: t.Animals[0].ID})
}

func (p *Page) parts(t positives.Trace) (parts []fyne.CanvasObject) {
	if len(p.all) > 1 {
		row := widgets.Wrap(look.S8)
		for _, o := range p.all {
			row.Add(widgets.Chip("", p.words().title(o), o.ID == p.chosen, func() { p.choose(o.ID); p.focus(p.next) }))
		}
		parts = append(parts, row)
	}
	parts = append(parts, widgets.Para(p.say("positive.page.not-said"), look.Body, look.Soft))
	switch {
	case !t.Open():
		parts = append(parts, widgets.Tinted(look.Well, look.S12, look.S16, widgets.Para(p.words().closed(t), look.Body, look.Ink)))
	case !t.Stands:
		parts = append(parts, widgets.Caution(p.say("positive.page.corrected")))
	case t.Pool():
		parts = append(parts, widgets.Caution(p.say("positive.page.pool")))
	case t.MayBeFalse:
		parts = append(parts, widgets.Caution(p.say("positive.page.doubt")))
	}
	left := widgets.Col(look.S24, p.chart(t), p.near(t))
	return append(parts, widgets.RowTop(look.S24, widgets.GrowBy(1.5, left), widgets.GrowBy(1, p.todo(t))))
}

// Actions implements place.Actor.
func (p *Page) Actions() []place.Action {
	t, there := p.trace()
	return []place.Action{
		{Label: p.say("positive.page.close"), Menu: place.MenuEntry, Off: !there || !t.Open() || p.window.ReadOnly(), Do: func() { p.close(t) }},
	}
}
