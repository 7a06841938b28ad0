package animal

import (
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/due"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
	"coilward/model/welfare"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// formWidth is the column beside the page, for forms and for what is due.
const formWidth float32 = 352

// The pages of an animal; a route names them.
const (
	PageDays   = "days"
	PageBody   = "body"
	PageWeight = "weights"
)

// pages are the pages of an animal, in order.
func pages() []string { return []string{PageDays, PageBody, PageWeight, PageVet, PageTests, PageEase} }

// Page is one animal's page.
type Page struct {
	window place.Window
	id     model.AnimalID
	life   *Life
	open   string // the page in sight
	today  model.Day
	thumbs particulars.Thumbs

	root, head, body, side *fyne.Container
	days                   *daysView
	bodyView               *bodyView
	weight                 *weightView
	vet                    *vetView
	tests                  *testsView
	ease                   *easeView
	form                   *entryForm
	who                    *particulars.Form
	reading                *checkColumn
	owes                   []due.Item                    // by the list of what is due, other than what stands
	answered               []due.Item                    // to see the vet, of which it was answered
	asked                  bool                          // for an entry, from another place
	returns                bool                          // to there, once what is asked for is kept
	left                   map[left]*entryForm           // new entries that were typed but not kept, by kind
	corrections            map[model.AnimalID]correction // of other animals, not kept
}

// correction is what is being put right beside the page.
type correction struct {
	form *entryForm
	who  *particulars.Form
}

// shifted is Ctrl or Cmd with Shift: the figures alone belong to the rail.
const shifted = fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift

var (
	_ place.Place   = (*Page)(nil)
	_ place.Actor   = (*Page)(nil)
	_ place.Keys    = (*Page)(nil)
	_ place.Dropper = (*Page)(nil)
)

// New makes the place.
func New(w place.Window) *Page {
	p := &Page{window: w, open: PageDays, thumbs: particulars.Thumbs{}, left: map[left]*entryForm{}, corrections: map[model.AnimalID]correction{}}
	p.head, p.body, p.side = widgets.Stack(), widgets.Stack(), widgets.Stack()
	p.days, p.bodyView, p.weight, p.vet, p.tests, p.ease = newDaysView(p), newBodyView(p), newWeightView(p), newVetView(p), newTestsView(p), newEaseView(p)
	below := widgets.RowFill(0, widgets.Grow(p.body), p.side)
	p.root = widgets.Col(0, p.head, widgets.Grow(below))
	return p
}

func (p *Page) say(key string, gaps ...map[string]any) string {
	return p.window.Text().Say(key, gaps...)
}

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.root }

// Show implements place.Place. The route's page may also be a kind of entry, whose
// form is opened, or the id of an entry, which is opened among the days.
func (p *Page) Show(r place.Route) {
	id := model.AnimalID{ID: r.Subject}
	if id != p.id {
		p.leave()
		p.vet.turn(p.id, id)
		p.corrections[p.id] = p.correction()
		p.id, p.form, p.who, p.reading, p.open = id, p.corrections[id].form, p.corrections[id].who, nil, PageDays
		p.days.forget()
		p.bodyView.forget()
	}
	p.today = p.window.Now().Day()
	if slices.Contains(pages(), r.Page) {
		p.open = r.Page
	}
	p.load()
	p.asked, p.returns = false, false
	if slices.Contains(care.Kinds(), r.Page) {
		p.asked = true
		p.note(r.Page)
		p.returns = p.form != nil && p.form.before == nil
	} else if r.Page == welfare.KindObservation && p.life != nil {
		p.asked = true
		p.turn(PageEase)
		p.ease.tally(nil)
		p.returns = p.ease.form != nil
	} else if entry, err := model.ParseID(r.Page); err == nil && !entry.IsZero() && !p.window.ReadOnly() {
		p.open, p.asked = PageDays, true
		p.edit(model.EntryID{ID: entry})
		p.returns = p.form != nil && p.form.before != nil && p.form.before.ID.ID == entry
	}
}

// Hide implements place.Place.
func (p *Page) Hide() {}

// Changed implements place.Place.
func (p *Page) Changed(c collection.Change) {
	about := slices.Contains(c.Subjects, p.id.Subject()) || slices.Contains(c.Documents, p.id.ID) || slices.Contains(c.Types, model.TypePerson) || slices.Contains(c.Types, model.TypePlace) ||
		p.open == PageTests && slices.Contains(c.Types, model.TypeFigures) ||
		slices.Contains(c.Types, model.TypePositive) || slices.Contains(c.Types, model.TypeSample) || slices.Contains(c.Types, model.TypeStay) || // it may have been near
		slices.ContainsFunc(c.Subjects, func(s model.Subject) bool { return s.Kind == model.SubjectInstrument }) ||
		p.life != nil && (p.life.newcomer != nil || p.life.unsure != nil) // others of its room, and the protocol, have to do with it
	if about {
		p.load()
	}
}

func (p *Page) load() {
	err := p.window.Collection().View(func(v model.View) (err error) {
		p.life, err = LoadLife(v, p.window.Tables(), p.id)
		return err
	})
	if err != nil {
		p.life = nil
		p.head.Objects, p.side.Objects = nil, nil
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(nil, p.say("animal.gone.title"), p.say("animal.gone.what"),
			widgets.Act{Label: p.say("animal.gone.back"), Do: func() { p.window.Go(place.Route{To: place.Animals}) }})}
		p.root.Refresh()
		return
	}
	p.days.load()
	p.bodyView.load()
	p.weight.load()
	p.vet.load()
	p.tests.load()
	p.ease.load()
	p.build()
	p.readOwed()
}

// build shows everything anew.
func (p *Page) build() {
	if p.life == nil {
		return
	}
	p.head.Objects = []fyne.CanvasObject{p.buildHead()}
	switch p.open {
	case PageBody:
		p.body.Objects = []fyne.CanvasObject{p.bodyView.content()}
	case PageWeight:
		p.body.Objects = []fyne.CanvasObject{p.weight.content()}
	case PageVet:
		p.body.Objects = []fyne.CanvasObject{p.vet.content()}
		defer p.vet.settle()
	case PageTests:
		p.body.Objects = []fyne.CanvasObject{p.tests.content()}
		defer p.tests.settle()
	case PageEase:
		p.body.Objects = []fyne.CanvasObject{p.ease.content()}
		defer p.ease.settle()
	default:
		p.body.Objects = []fyne.CanvasObject{p.days.content()}
	}
	p.buildSide()
	p.root.Refresh()
	p.window.ActionsChanged()
}

// turn goes to another page of the animal.
func (p *Page) turn(page string) {
	p.open = page
	if page == PageTests {
		p.tests.turned()
	}
	if page == PageEase {
		p.ease.load()
	}
	p.build()
}

// buildSide puts the open form beside the page; without one, what is due stands
// there beside the days, so that the list keeps its width.
func (p *Page) buildSide() {
	var inside fyne.CanvasObject
	switch {
	case p.form != nil:
		inside = p.form.content
	case p.who != nil:
		inside = p.who.Content()
	case p.reading != nil:
		inside = p.reading.content()
	case p.vet.form != nil && p.open == PageVet:
		inside = p.vet.form.Content
	case p.ease.form != nil && p.open == PageEase:
		inside = p.ease.form.Content
	case p.tests.beside != nil && p.open == PageTests:
		inside = p.tests.beside
	case p.open == PageDays:
		inside = p.dueColumn()
	}
	p.side.Objects = nil
	setVisible(p.side, inside != nil)
	if inside != nil {
		p.side.Objects = []fyne.CanvasObject{widgets.RowFill(0, widgets.VLine(), widgets.Fix(formWidth, 0, inside))}
	}
}

// SlideTo shows the body as it stood on a day.
func (p *Page) SlideTo(day model.Day) { p.bodyView.toDay(day) }

// note opens the form of a new entry; one that was left before it was kept comes
// back as it was.
func (p *Page) note(kind string) {
	if p.life == nil || p.window.ReadOnly() || p.holds() {
		return
	}
	p.leave()
	form, there := p.left[left{p.id, kind}]
	if !there {
		form = newEntryForm(p, kind, nil)
	}
	form.freshen()
	p.form, p.who, p.reading = form, nil, nil
	p.build()
	p.window.Focus(form.first())
}

// read shows a check beside the page.
func (p *Page) read(d model.Document) {
	check, err := exam.ReadCheck(d)
	if err != nil {
		p.window.Tell(p.say("kind.check"), p.say("animal.day.newer"))
		return
	}
	if p.holds() {
		return
	}
	p.leave()
	p.form, p.who, p.reading = nil, nil, &checkColumn{page: p, doc: d, check: check}
	p.build()
}

// edit opens an entry beside the page.
func (p *Page) edit(id model.EntryID) {
	at := slices.IndexFunc(p.life.Days.Entries, func(d model.Document) bool { return d.ID == id.ID })
	if at < 0 {
		return
	}
	d := p.life.Days.Entries[at]
	switch d.Kind {
	case exam.KindCheck:
		p.read(d)
		return
	case kindSample:
		p.window.Go(place.Route{To: place.Tray, Subject: d.ID})
		return
	case kindStay:
		p.changeStay(d)
		return
	case kindCourse, kindDose, kindVisit:
		p.turn(PageVet)
		return
	}
	if isEase(d.Kind) {
		p.editEase(d)
		return
	}
	e, known, err := care.Decode(d)
	if err != nil || !known || p.window.ReadOnly() {
		p.window.Tell(kindName(p.window.Text(), d.Kind), p.say("animal.day.newer"))
		return
	}
	if p.holds() {
		return
	}
	p.leave()
	p.form, p.who, p.reading = newEntryForm(p, d.Kind, &e), nil, nil
	p.build()
	p.window.Focus(p.form.first())
}

// closeForm takes the form away. A new entry stays as it was typed, for when the
// form is opened again.
func (p *Page) closeForm() {
	p.leave()
	p.form, p.who, p.reading, p.returns = nil, nil, nil, false
	p.build()
	p.window.Focus(nil)
}

// left names a form that was left before it was kept.
type left struct {
	animal model.AnimalID
	kind   string
}

// leave keeps what was typed in the form of a new entry, for when it is opened
// again.
func (p *Page) leave() {
	if p.form != nil && p.form.before == nil {
		p.left[left{p.id, p.form.kind}] = p.form
	}
}

// correction is what is being put right and holds something that is not kept.
func (p *Page) correction() (c correction) {
	if p.form != nil && p.form.before != nil && p.form.unkept.Touched() {
		c.form = p.form
	}
	if p.who != nil && p.who.Touched() {
		c.who = p.who
	}
	return c
}

// holds reports whether what is being put right holds something that is not kept, which no
// other act throws away; that is said then, and the keys go back to it.
func (p *Page) holds() bool {
	if c := p.correction(); c.form != nil {
		c.form.warn(p.say("particulars.holds"))
		p.window.Focus(c.form.first())
		return true
	}
	return p.who != nil && p.who.Holds()
}

// kept is called when a form's entry is stored: where another place asked for it, one
// is back there.
func (p *Page) kept(f *entryForm) {
	if f.before == nil {
		delete(p.left, left{p.id, f.kind})
	}
	p.form = nil
	if p.returns {
		p.returns = false
		p.window.Back()
		return
	}
	p.load()
	p.window.Focus(nil)
}

// change opens the form of who the animal is.
func (p *Page) change() {
	if p.life == nil || p.window.ReadOnly() || p.holds() {
		return
	}
	p.leave()
	p.form, p.reading = nil, nil
	p.who = particulars.NewForm(p.window, &p.life.Stored, func(model.AnimalID) { p.who = nil; p.load() }, p.closeForm)
	p.build()
	p.window.Focus(p.who.First())
}

func (p *Page) check() {
	p.window.Go(place.Route{To: place.Check, Subject: p.id.ID})
}

// fromPaper types in a check that was written on paper.
func (p *Page) fromPaper() {
	p.window.Go(place.Route{To: place.Check, Subject: p.id.ID, Page: place.FromPaper})
}

// checkSheet goes to the paper on which a check of the animal is written.
func (p *Page) checkSheet() {
	p.window.Go(place.Route{To: place.Papers, Subject: p.id.ID, Page: place.CheckSheet})
}

// Actions implements place.Actor.
func (p *Page) Actions() []place.Action {
	if p.life == nil {
		return nil
	}
	off := p.window.ReadOnly()
	acts := []place.Action{{Label: p.say("animal.act.check"), Menu: place.MenuEntry, Key: fyne.KeyK, Off: off, Do: p.check}}
	acts = append(acts, place.Action{Label: p.say("animal.act.from-paper"), Menu: place.MenuEntry, Key: fyne.KeyK, Modifier: shifted, Off: off, Do: p.fromPaper},
		place.Action{Label: p.say("animal.act.sheet"), Menu: place.MenuEntry, Do: p.checkSheet})
	keys := map[string]fyne.KeyName{care.KindWeight: fyne.KeyG, care.KindMeal: fyne.KeyL, care.KindShed: fyne.KeyD,
		care.KindWaste: fyne.KeyU, care.KindMiteLook: fyne.KeyM, care.KindNote: fyne.KeyT, care.KindPhoto: fyne.KeyB}
	for _, kind := range care.Kinds() {
		acts = append(acts, place.Action{Label: p.say("kind." + kind), Menu: place.MenuEntry, Key: keys[kind], Off: off, Do: func() { p.note(kind) }})
	}
	acts = append(acts, place.Action{Label: p.say("animal.act.change"), Menu: place.MenuEntry, Key: fyne.KeyE, Off: off, Do: p.change},
		place.Action{Label: p.say("animal.act.remove"), Menu: place.MenuEntry, Key: fyne.KeyBackspace, Modifier: shifted, Off: off, Do: p.remove})
	for i, page := range pages() {
		key := []fyne.KeyName{fyne.Key1, fyne.Key2, fyne.Key3, fyne.Key4, fyne.Key5, fyne.Key6}[i]
		acts = append(acts, place.Action{Label: p.pageName(page), Menu: place.MenuView, Key: key, Modifier: shifted, Do: func() { p.turn(page) }})
	}
	return append(acts, place.Action{Label: p.say("animal.act.paper"), Menu: place.MenuView, Key: fyne.KeyP, Do: p.paper})
}

func (p *Page) paper() { p.window.Go(place.Route{To: place.Papers, Subject: p.id.ID}) }

// TypedKey implements place.Keys.
func (p *Page) TypedKey(k *fyne.KeyEvent) {
	switch {
	case k.Name == fyne.KeyEscape && p.form != nil:
		p.form.leave()
	case k.Name == fyne.KeyEscape && p.who != nil:
		p.who.Leave()
	case k.Name == fyne.KeyEscape && p.reading != nil:
		p.closeForm()
	case k.Name == fyne.KeyEscape && p.vet.form != nil && p.open == PageVet:
		p.vet.form.Leave()
	case k.Name == fyne.KeyEscape && p.ease.form != nil && p.open == PageEase:
		p.ease.form.Leave()
	case k.Name == fyne.KeyEscape && p.tests.escape():
	case k.Name == fyne.KeyEscape:
		p.window.Back()
	case (k.Name == fyne.KeyReturn || k.Name == fyne.KeyEnter) && p.form != nil:
		p.form.keep()
	case (k.Name == fyne.KeyReturn || k.Name == fyne.KeyEnter) && p.vet.form != nil && p.open == PageVet:
		p.vet.form.Keep()
	case (k.Name == fyne.KeyReturn || k.Name == fyne.KeyEnter) && p.tests.form != nil && p.open == PageTests:
		p.tests.form.Keep()
	case (k.Name == fyne.KeyReturn || k.Name == fyne.KeyEnter) && p.ease.form != nil && p.open == PageEase:
		p.ease.form.Keep()
	case (k.Name == fyne.KeyDown || k.Name == fyne.KeyUp) && p.open == PageDays && p.life != nil:
		p.window.Focus(p.days.list)
	}
}

// TypedRune implements place.Keys: figures answer the first question of the form.
func (p *Page) TypedRune(sign rune) {
	if p.form == nil && p.open == PageEase && p.ease.keys != nil {
		p.ease.keys(sign)
		return
	}
	if p.form == nil || sign < '0' || sign > '9' {
		return
	}
	if part, figures := p.form.part.(figured); figures {
		part.figure(int(sign - '0'))
	}
}

// Dropped implements place.Dropper: pictures go to the open form, or to a new
// entry of photos.
func (p *Page) Dropped(paths []string) {
	if p.life == nil || p.window.ReadOnly() || len(paths) == 0 {
		return
	}
	if p.who != nil {
		p.who.TakePortrait(paths[0])
		return
	}
	if p.form == nil {
		p.note(care.KindPhoto)
	}
	p.form.addPhotos(paths)
}

// dueColumn is what stands beside the days while no form is open.
func (p *Page) dueColumn() fyne.CanvasObject {
	parts := []fyne.CanvasObject{widgets.Line(p.say("animal.due.title"), look.Section, look.Ink)}
	standing := p.standing()
	owed := standing.Due()
	if n := p.life.Unread(); n > 0 {
		parts = append(parts, widgets.Caution(p.window.Text().Count("animal.unread", n)))
	}
	if len(owed) == 0 && len(p.owes) == 0 {
		nothing := p.say("stands.nothing")
		if len(p.life.Checks()) == 0 {
			nothing = p.say("animal.due.never")
		}
		parts = append(parts, widgets.Para(nothing, look.Body, look.Soft))
	}
	if standing.Apart() {
		parts = append(parts, widgets.Caution(p.say("stands.apart-how")))
	}
	if l := standing.Loss; l.Level > knowledge.Nothing {
		parts = append(parts, widgets.Caution(particulars.Loss(p.window.Text(), p.window.Tables(), l)))
	}
	for _, o := range owed {
		parts = append(parts, p.leads(p.say("due."+string(o.Kind)), p.owed(standing, o), due.Item{Obligation: due.Obligation{Key: due.Key{Subject: p.id.Subject()}, Act: due.ActOf(o.Kind), Level: o.Level}}))
	}
	for _, i := range p.owes {
		parts = append(parts, p.leads(p.say("due.job."+string(i.Job)), p.owedJob(i), i))
	}
	if left := p.leftToVet(); left != "" {
		parts = append(parts, widgets.RowTop(look.S8, widgets.NewIcon("person", 18, look.Soft),
			widgets.Grow(widgets.Para(p.say("animal.next-visit", map[string]any{"Stops": left}), look.Body, look.Soft))))
	}
	note := widgets.Fix(0, 40, widgets.Button(widgets.Plain, widgets.Act{Label: p.say("animal.act.new"), Icon: "plus", Do: func() { p.note(care.KindWeight) }}))
	parts = append(parts, widgets.Space(0, look.S8), note)
	return widgets.Scroll(widgets.Pad(widgets.Col(look.S12, parts...), look.S24, look.S24, look.S24, look.S16))
}

// owed is one thing due: how urgent, what to do, for what, by when, and who said
// so on which day.
func (p *Page) owed(s history.Standing, o history.Owed) fyne.CanvasObject {
	t := p.window.Text()
	urgency := urgencyOf(o.Level)
	tone := urgency.Tone()
	when := t.By(o.Day(p.today), p.today)
	if o.Day(p.today) < p.today {
		tone = look.Days
	}
	lines := widgets.Col(0, widgets.Para(p.say("due."+string(o.Kind)), look.BodyBold, look.Ink))
	if o.Level == knowledge.EmergencyToday {
		lines = widgets.Col(0, widgets.Para(p.say("urgency."+o.Level.String()), look.BodyBold, look.Today), widgets.Para(p.say("due."+string(o.Kind)), look.Body, look.Ink))
	}
	lines.Add(widgets.Para(p.dueFor(o), look.Note, look.Soft))
	if o.From == history.FromGone {
		lines.Add(widgets.Para(p.say("stands.gone-how"), look.Note, look.Soft))
	}
	lines.Add(widgets.Para(joined(when, p.said(o.Said, o.By)), look.Note, tone))
	if answered := p.answerTo(s, o); answered != "" {
		lines.Add(widgets.Para(answered, look.Note, look.Soft))
	}
	return widgets.RowTop(look.S8, widgets.Pad(widgets.NewSign(urgency.Sign(), 16, urgency.Tone(), look.Sheet), 2, 0, 0, 0), widgets.Grow(lines))
}

// dueFor names what an obligation is for.
func (p *Page) dueFor(o history.Owed) string {
	var names []string
	for _, what := range o.For {
		names = append(names, p.say("finding."+string(what)))
	}
	return joined(names...)
}
