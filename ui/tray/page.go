package tray

import (
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
	"coilward/ui/widgets/tubes"
)

// The columns that forms and the result sheet open in.
const (
	formWidth   float32 = 396
	reportWidth float32 = 600
)

// Page is the place. It is used on Fyne's goroutine only.
type Page struct {
	window place.Window
	tray   Tray
	unread bool // the samples could not be read
	chosen map[model.SampleID]bool
	fresh  []model.SampleID // just laid into the tray: what is next is done with them alone
	thumbs particulars.Thumbs

	root, head, body, foot, side *fyne.Container
	tubes                        *tubes.Tray
	form                         *form
	report                       *reportForm // what files that are dropped are attached to; nil: no sheet is open
	again                        func()      // opens anew what the side column shows of a sample; nil: it shows a form
}

var (
	_ place.Place = (*Page)(nil)
	_ place.Actor = (*Page)(nil)
	_ place.Keys  = (*Page)(nil)

	_ place.Dropper = (*Page)(nil)
)

// New makes the place.
func New(w place.Window) *Page {
	p := &Page{window: w, chosen: map[model.SampleID]bool{}, thumbs: particulars.Thumbs{}}
	p.tubes = tubes.New(tubes.Words{
		Days:   func(n int) string { return w.Text().Count("tray.days", n) },
		Many:   func(n int) string { return w.Text().Count("tray.count", n) },
		Choose: w.Text().Say("tray.choose"),
	})
	p.tubes.OnOpen = func(keys []string) { p.open(p.ids(keys)) }
	p.tubes.OnAct = func(keys []string) { p.act(p.withChosen(p.ids(keys))) }
	p.tubes.OnChoose = p.choose
	p.head, p.body, p.foot, p.side = widgets.Stack(), widgets.Stack(), widgets.Stack(), widgets.Stack()
	p.side.Hide()
	p.root = widgets.RowFill(0, widgets.Grow(widgets.Pad(widgets.Col(look.S12, p.head, widgets.Grow(p.body), p.foot), look.S24, look.S24, look.S12, look.S24)), p.side)
	return p
}

func (p *Page) say(key string, gaps ...map[string]any) string {
	return p.window.Text().Say(key, gaps...)
}

func (p *Page) words() words { return words{p.window.Text(), p.window.Tables(), &p.tray} }

// ids are the samples of some keys of tubes.
func (p *Page) ids(keys []string) (all []model.SampleID) {
	for _, s := range p.tray.Samples {
		if slices.Contains(keys, s.ID.String()) {
			all = append(all, s.ID)
		}
	}
	return all
}

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.root }

// Show implements place.Place. A route about a sample opens it, with the page "act"
// what is to be done with it next; one about an animal opens what is to be done
// with its samples, and begins one where nothing is, or with the page "new". One that
// asks for a sample (particulars.Sampling) goes on with the kits laid out for it.
func (p *Page) Show(to place.Route) {
	p.read()
	if to.Subject.IsZero() && to.Page == "" || p.holds() {
		if p.form == nil && len(p.tray.Samples) > 0 {
			p.window.Focus(p.tubes)
		}
		return
	}
	id := model.SampleID{ID: to.Subject}
	asked, asks := particulars.SamplingOf(to.Page)
	switch _, there := p.tray.Samples.Of(id); {
	case asks:
		if out := p.tray.Samples.LaidOut(model.AnimalID{ID: to.Subject}, asked.Material, asked.For); len(out) > 0 {
			p.tubes.SetCurrent(out[0].ID.String())
			p.act(idsOf(out))
			return
		}
		p.prepareAs(model.AnimalID{ID: to.Subject}, asked)
	case there && to.Page == "act":
		p.tubes.SetCurrent(id.String())
		p.act([]model.SampleID{id})
	case there:
		p.tubes.SetCurrent(id.String())
		p.open([]model.SampleID{id})
	case to.Page == "new" || len(p.tray.Samples.Owed(model.AnimalID{ID: to.Subject})) == 0:
		p.prepare(model.AnimalID{ID: to.Subject})
	default:
		owed := idsOf(p.tray.Samples.Owed(model.AnimalID{ID: to.Subject}))
		p.tubes.SetCurrent(owed[0].String())
		p.act(owed)
	}
}

// holds reports whether a form holds something that was typed: its keys are given
// back to it then.
func (p *Page) holds() bool { return p.form != nil && p.form.Holds() }

// Hide implements place.Place.
func (p *Page) Hide() {}

// Changed implements place.Place.
func (p *Page) Changed(c collection.Change) {
	for _, t := range []model.DocumentType{model.TypeSample, model.TypeAnimal, model.TypePerson, model.TypePlace, model.TypeStay} {
		if slices.Contains(c.Types, t) {
			p.read()
			return
		}
	}
}

// read reads the samples anew. What the side column shows of a sample is shown anew. A
// form about samples that were changed meanwhile is closed, unless something was typed:
// then it says so and keeps it.
func (p *Page) read() {
	err := p.window.Collection().View(func(v model.View) (err error) {
		p.tray, err = Load(v, p.window.Tables())
		return err
	})
	if p.unread = err != nil; p.unread {
		p.tray = Tray{}
		p.window.Fault("tray.fault", err)
	}
	for id := range p.chosen {
		if s, there := p.tray.Samples.Of(id); !there || !s.Lies(p.tray.Today) {
			delete(p.chosen, id)
		}
	}
	if p.again != nil {
		p.again()
		return
	}
	if p.form != nil && p.form.outdated() {
		if !p.form.Touched() {
			p.close()
			return
		}
		p.form.Warn(p.say("tray.outdated"))
	}
	p.build()
}

// build shows the page anew.
func (p *Page) build() {
	w := p.words()
	p.head.Objects = []fyne.CanvasObject{widgets.Header(p.say("tray.title"), p.below(), p.acts()...)}
	p.foot.Objects = nil
	switch {
	case p.unread:
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(nil, p.say("tray.unread"), p.say("tray.unread-what"), widgets.Act{})}
	case len(p.tray.Samples) == 0 && p.form != nil:
		p.body.Objects = []fyne.CanvasObject{widgets.Middle(widgets.Fix(420, 0, widgets.Para(p.say("tray.way"), look.Body, look.Soft).Centred()))}
	case len(p.tray.Samples) == 0 && len(p.tray.Animals) == 0:
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(widgets.NewIcon("tube", 48, look.Accent), p.say("tray.empty.nobody"), p.say("tray.empty.nobody-what"),
			widgets.Act{Label: p.say("tray.add-animal"), Icon: "plus", Do: func() { p.window.Go(place.Route{To: place.Animals, Page: "new"}) }})}
	case len(p.tray.Samples) == 0:
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(widgets.NewIcon("tube", 48, look.Accent), p.say("tray.empty"), p.say("tray.empty-what"),
			widgets.Act{Label: p.say("tray.new"), Icon: "plus", Do: func() { p.prepare(model.AnimalID{}) }},
			widgets.Act{Label: p.say("tray.plan"), Icon: "calendar", Do: func() { p.window.Go(place.Route{To: place.Plan}) }})}
	default:
		p.body.Objects = []fyne.CanvasObject{p.tubes}
		p.tubes.Set(w.bands(p.chosen))
		p.foot.Objects = []fyne.CanvasObject{p.footLine()}
	}
	if said := w.unread(); len(said) > 0 {
		var cautions []fyne.CanvasObject
		for _, one := range said {
			cautions = append(cautions, widgets.Caution(one))
		}
		p.foot.Objects = []fyne.CanvasObject{widgets.Col(look.S8, append(cautions, p.foot.Objects...)...)}
	}
	p.root.Refresh()
	p.window.ActionsChanged()
}

// below is the line below the title.
func (p *Page) below() string {
	t := p.window.Text()
	if len(p.chosen) > 0 {
		return t.Count("tray.chosen", len(p.chosen))
	}
	if len(p.tray.Samples) == 0 {
		return ""
	}
	all, late := p.tray.Samples.OnWay()
	said := p.say("tray.on-way-none")
	if all > 0 {
		said = t.Count("tray.on-way", all)
	}
	if late > 0 {
		said += ", " + t.Count("tray.late", late)
	}
	if p.form != nil || p.again != nil {
		return said
	}
	return said + " · " + p.say("tray.how")
}

// acts are the presses at the head of the page.
func (p *Page) acts() []fyne.CanvasObject {
	if len(p.tray.Samples) == 0 || p.unread {
		return nil
	}
	var acts []fyne.CanvasObject
	rank := widgets.Primary
	if p.form != nil || p.again != nil || len(p.chosen) > 0 {
		rank = widgets.Plain
	}
	if len(p.chosen) > 0 {
		acts = append(acts, widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("tray.choose-none"), Do: func() {
			p.chosen = map[model.SampleID]bool{}
			p.build()
		}}))
		for i, one := range p.kinds() {
			r := widgets.Plain
			if i == 0 && p.form == nil && p.again == nil {
				r = widgets.Primary
			}
			acts = append(acts, widgets.Button(r, widgets.Act{Label: p.say("tray.do."+string(one[0].Way.Next)) + " (" + p.window.Text().Number(int64(len(one))) + ")", Do: func() { p.act(idsOf(one)) }}))
		}
	}
	if len(p.tray.Samples.Before(samples.Sent)) > 0 || len(p.chosen) > 0 {
		acts = append(acts, widgets.Button(widgets.Plain, widgets.Act{Label: p.say("tray.print.short"), Icon: "print", Do: p.print}))
	}
	acts = append(acts, widgets.Button(widgets.Plain, widgets.Act{Label: p.say("tray.plan"), Icon: "calendar", Do: func() { p.window.Go(place.Route{To: place.Plan}) }}))
	return append(acts, widgets.Button(rank, widgets.Act{Label: p.say("tray.new"), Icon: "plus", Do: func() { p.prepare(model.AnimalID{}) }}))
}

// kinds are the chosen samples by what is to be done next with them, in the order
// of the stages.
func (p *Page) kinds() (all [][]Sample) {
	for _, s := range p.tray.Samples {
		if !p.chosen[s.ID] || s.Way.Next == "" {
			continue
		}
		i := slices.IndexFunc(all, func(one []Sample) bool { return one[0].Way.Next == s.Way.Next })
		if i < 0 {
			all = append(all, []Sample{s})
			continue
		}
		all[i] = append(all[i], s)
	}
	return all
}

func idsOf(all []Sample) (ids []model.SampleID) {
	for _, s := range all {
		ids = append(ids, s.ID)
	}
	return ids
}

// choose marks samples, or no longer.
func (p *Page) choose(keys []string, on bool) {
	p.fresh = nil
	for _, id := range p.ids(keys) {
		if on {
			p.chosen[id] = true
		} else {
			delete(p.chosen, id)
		}
	}
	p.build()
	p.window.Focus(p.tubes)
}

// footLine says which samples gave no result this year, and opens them.
func (p *Page) footLine() fyne.CanvasObject {
	w := p.words()
	year, _, _ := p.tray.Today.Date()
	void := p.tray.Samples.Voided(year)
	if len(void) == 0 {
		return widgets.Line(p.say("tray.void-none"), look.Note, look.Soft)
	}
	last := void[0]
	said := w.Count("tray.void", len(void), map[string]any{"Last": w.called(last) + ", " + w.Say("samples.why."+string(last.Void.Why)) + ", " + w.DayShort(last.Void.At.Day())})
	return widgets.RowPress(said, widgets.Pad(widgets.Row(look.S8, widgets.NewIcon("right", 16, look.Soft), widgets.Grow(widgets.Line(said, look.Note, look.Soft).Cuts())), look.S4, 0),
		func() { p.open(idsOf(void)) })
}

// show opens a form in the side column.
func (p *Page) show(f *form, width float32) {
	p.form, p.again, p.report = f, nil, nil
	p.side.Objects = []fyne.CanvasObject{widgets.RowFill(0, widgets.VLine(), widgets.Fix(width, 0, f.Content))}
	p.side.Show()
	p.build()
	p.window.Focus(f.First())
}

// look shows something of samples in the side column, which is made anew whenever
// they change; make gives nil where there is nothing to show any more.
func (p *Page) look(make func() *fyne.Container) {
	p.form = nil
	p.again = func() {
		content := make()
		if content == nil {
			p.close()
			return
		}
		p.side.Objects = []fyne.CanvasObject{widgets.RowFill(0, widgets.VLine(), widgets.Fix(formWidth, 0, content))}
		p.side.Show()
		p.build()
	}
	p.again()
}

// close closes the side column.
func (p *Page) close() {
	p.form, p.again = nil, nil
	p.side.Objects = nil
	p.side.Hide()
	p.build()
	if len(p.tray.Samples) > 0 {
		p.window.Focus(p.tubes)
	}
}

// kept is called when something was kept: the tray is read anew, and the keys are
// at a sample of what was kept.
func (p *Page) kept(ids ...model.SampleID) {
	p.form, p.again = nil, nil
	p.chosen, p.fresh = map[model.SampleID]bool{}, nil
	p.read()
	p.close()
	if len(ids) > 0 {
		p.tubes.SetCurrent(ids[0].String())
	}
}

// current is the sample that the keys are at; zero: there is none.
func (p *Page) current() model.SampleID {
	if ids := p.ids([]string{p.tubes.Current()}); len(ids) > 0 {
		return ids[0]
	}
	return model.SampleID{}
}

// withChosen are the samples that the press on a tube is for. Where one of them is
// chosen, these are the chosen ones with which the same is to be done next; where one
// was just laid into the tray, those that were laid with it; else all in the tube.
func (p *Page) withChosen(ids []model.SampleID) []model.SampleID {
	for _, kind := range p.kinds() {
		if all := idsOf(kind); meet(ids, all) {
			return all
		}
	}
	if !meet(ids, p.fresh) {
		return ids
	}
	next := p.tray.Samples.Some(ids)[0].Way.Next
	return idsOf(slices.DeleteFunc(p.tray.Samples.Some(p.fresh), func(s Sample) bool { return s.Way.Next != next }))
}

// meet reports whether a sample is among both.
func meet(some, others []model.SampleID) bool {
	return slices.ContainsFunc(some, func(id model.SampleID) bool { return slices.Contains(others, id) })
}

// act opens what is to be done next with samples; what is typed in a form stays.
func (p *Page) act(ids []model.SampleID) {
	some := p.tray.Samples.Some(ids)
	if len(some) == 0 || p.window.ReadOnly() || p.holds() {
		return
	}
	if next := some[0].Way.Next; next == "" {
		p.open(ids)
	} else {
		p.do(next, some)
	}
}

// do opens the form of an act.
func (p *Page) do(a samples.Act, some []Sample) {
	if a == samples.ActEnter {
		r := newReportForm(p, some)
		p.show(r.form, reportWidth)
		p.report = r
		return
	}
	p.show(newStepForm(p, a, some), formWidth)
}

// prepare opens the form of new samples, of an animal if one is given.
func (p *Page) prepare(of model.AnimalID) { p.prepareAs(of, particulars.Sampling{}) }

// prepareAs opens the form of new samples in which what is asked for is chosen.
func (p *Page) prepareAs(of model.AnimalID, asked particulars.Sampling) {
	if !p.holds() && !p.window.ReadOnly() && len(p.tray.Animals) > 0 {
		p.show(newPrepareForm(p, of, asked), formWidth)
	}
}

// print opens the papers of the samples that are chosen, else of those that have not
// left yet.
func (p *Page) print() {
	some := p.tray.Samples.Before(samples.Sent)
	if len(p.chosen) > 0 {
		some = nil
		for _, s := range p.tray.Samples {
			if p.chosen[s.ID] {
				some = append(some, s)
			}
		}
	}
	if len(some) > 0 && !p.holds() {
		p.show(newPrintForm(p, some), formWidth)
	}
}

// Actions implements place.Actor.
func (p *Page) Actions() []place.Action {
	off := p.window.ReadOnly()
	waits := p.tray.Samples.Waiting(model.SampleID{})
	return []place.Action{
		{Label: p.say("tray.new"), Menu: place.MenuEntry, Key: fyne.KeyN, Off: off || len(p.tray.Animals) == 0, Do: func() { p.prepare(model.AnimalID{}) }},
		{Label: p.say("tray.enter-all"), Menu: place.MenuEntry, Key: fyne.KeyE, Off: off || len(waits) == 0, Do: func() {
			if !p.holds() {
				p.do(samples.ActEnter, p.tray.Samples.Waiting(p.current()))
			}
		}},
		{Label: p.say("tray.print"), Menu: place.MenuEntry, Key: fyne.KeyP, Off: len(p.tray.Samples.Before(samples.Sent)) == 0 && len(p.chosen) == 0, Do: p.print},
	}
}

// Dropped implements place.Dropper: files are attached to the report that is being
// entered.
func (p *Page) Dropped(paths []string) {
	if p.form != nil && p.report != nil && p.form == p.report.form {
		p.report.attach(paths...)
	}
}

// TypedRune implements place.Keys.
func (p *Page) TypedRune(rune) {}

// TypedKey implements place.Keys: Escape closes the side column, Enter keeps a form,
// the arrows go to the tray.
func (p *Page) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyEscape:
		switch {
		case p.form != nil:
			p.form.Leave()
		case p.again != nil:
			p.close()
		}
	case fyne.KeyReturn, fyne.KeyEnter:
		if p.form != nil {
			p.form.Keep()
		}
	case fyne.KeyDown, fyne.KeyUp, fyne.KeyLeft, fyne.KeyRight:
		if len(p.tray.Samples) > 0 {
			p.window.Focus(p.tubes)
		}
	}
}
