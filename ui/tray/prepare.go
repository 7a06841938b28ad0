package tray

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// whatFor asks of what a sample is, what is looked for in it, and who takes it;
// what hurts says so, and leaving it to the vet is an equal answer.
type whatFor struct {
	page     *Page
	material knowledge.MaterialID
	of       []knowledge.AgentID
	by       *particulars.Pick
	content  *fyne.Container
	caution  *fyne.Container
	silent   *fyne.Container
	asks     map[string]*asks // by the field of what is chosen
	changed  func()
}

// asks is a choice by chips, with room for why it cannot stand.
type asks struct {
	chips fyne.CanvasObject
	said  *fyne.Container
}

func newAsks(chips fyne.CanvasObject) (*asks, fyne.CanvasObject) {
	a := &asks{chips: chips, said: widgets.Stack()}
	a.said.Hide()
	return a, widgets.Col(look.S8, chips, a.said)
}

func newWhatFor(p *Page, s samples.Sample) *whatFor {
	f := &whatFor{page: p, material: s.Material, of: slices.Clone(s.For), caution: widgets.Stack(), silent: widgets.Stack(), asks: map[string]*asks{}, changed: func() {}}
	var values, names []string
	for _, m := range p.window.Tables().Materials() {
		values, names = append(values, string(m.ID)), append(names, p.words().material(m.ID))
	}
	material := particulars.NewFew(p.say("field.material"), values, names, string(s.Material), func(v string) {
		f.material = knowledge.MaterialID(v)
		if m, _ := p.window.Tables().Material(f.material); m.Takes == knowledge.ByVet && f.by.Value() == "" {
			f.leaveToVet()
		}
		f.accept("material")
	})
	f.by = p.personPick(p.say("field.taken-by"), particulars.Capital(p.say("particulars.unsaid")), p.takers(s.TakenBy), s.TakenBy)
	var materials, agents fyne.CanvasObject
	f.asks["material"], materials = newAsks(material.Container)
	f.asks["looked-for"], agents = newAsks(f.agents())
	f.content = widgets.Col(look.S16, materials, f.caution, agents, f.silent, f.by.Container)
	f.show()
	return f
}

// agents are the things that can be looked for. They stay as they are pressed, and
// with them the keys.
func (f *whatFor) agents() fyne.CanvasObject {
	chips := widgets.Wrap(look.S8)
	for _, a := range f.page.window.Tables().Agents() {
		var chip *widgets.Press
		chip = widgets.Chip("", f.page.words().agent(a.ID), slices.Contains(f.of, a.ID), func() {
			if i := slices.Index(f.of, a.ID); i >= 0 {
				f.of = slices.Delete(f.of, i, i+1)
			} else {
				f.of = append(f.of, a.ID)
			}
			chip.SetOn(slices.Contains(f.of, a.ID))
			f.accept("looked-for")
		})
		chips.Add(chip)
	}
	return widgets.Col(look.S8, widgets.Line(f.page.say("field.looked-for"), look.NoteBold, look.Soft), chips)
}

// accept takes back why a choice could not stand, and shows what follows from it now.
func (f *whatFor) accept(field string) {
	f.asks[field].said.Hide()
	f.show()
	f.changed()
}

// refuse says at a choice why it cannot stand; false: the field is none of them.
func (f *whatFor) refuse(field, why string) bool {
	a, ours := f.asks[field]
	if ours {
		a.said.Objects = []fyne.CanvasObject{widgets.Caution(why)}
		a.said.Show()
		f.content.Refresh()
	}
	return ours
}

// said is refuse, and brings the choice into sight.
func (f *whatFor) said(r *model.Refusal, why string) (shown fyne.CanvasObject) {
	if !f.refuse(r.Field, why) {
		return nil
	}
	return f.asks[r.Field].chips
}

// takers are those who may take a sample: who works here, the vets, and one who
// was named already.
func (p *Page) takers(named model.PersonID) (all []people.Stored) {
	for _, one := range p.tray.People {
		if one.Works() || one.Is(people.Vet) || one.ID == named {
			all = append(all, one)
		}
	}
	return all
}

// leaveToVet names the vet as who takes it.
func (f *whatFor) leaveToVet() {
	if vets := f.page.tray.with(people.Vet); len(vets) > 0 {
		f.by.Set(vets[0].ID.String())
	}
}

// cautionOf is what is to be minded when a material is taken; empty: nothing.
func cautionOf(t knowledge.Takes) string {
	return map[knowledge.Takes]string{knowledge.InMouth: "stop.mouth.caution", knowledge.ByVet: "tray.by-vet", knowledge.ByKeeper: "tray.gloves"}[t]
}

// forVet reports whether leaving a material to the vet is an answer to its caution.
func forVet(t knowledge.Takes) bool { return t == knowledge.InMouth || t == knowledge.ByVet }

func (f *whatFor) show() {
	p := f.page
	f.caution.Objects, f.silent.Objects = nil, nil
	m, _ := p.window.Tables().Material(f.material)
	if key := cautionOf(m.Takes); key != "" {
		parts := []fyne.CanvasObject{widgets.Caution(p.say(key))}
		switch {
		case !forVet(m.Takes):
		case len(p.tray.with(people.Vet)) == 0:
			parts = append(parts, widgets.Para(p.say("tray.no-vet"), look.Note, look.Soft))
		default:
			parts = append(parts, widgets.Row(0, widgets.Button(widgets.Plain, widgets.Act{Label: p.say("tray.leave-to-vet"), Icon: "vet", Do: func() {
				f.leaveToVet()
				f.changed()
			}}), widgets.Fill()))
		}
		f.caution.Objects = []fyne.CanvasObject{widgets.Col(look.S8, parts...)}
	}
	f.caution.Hidden = len(f.caution.Objects) == 0
	var silent []fyne.CanvasObject
	for _, of := range f.lookedFor() {
		if said := p.words().reach(of, f.material); said != "" {
			silent = append(silent, widgets.Caution(said))
		}
	}
	if f.silent.Hidden = len(silent) == 0; !f.silent.Hidden {
		f.silent.Objects = []fyne.CanvasObject{widgets.Col(look.S8, silent...)}
	}
	f.content.Refresh()
}

// lookedFor are the things that are looked for, in the order of their table.
func (f *whatFor) lookedFor() (all []knowledge.AgentID) {
	for _, a := range f.page.window.Tables().Agents() {
		if slices.Contains(f.of, a.ID) {
			all = append(all, a.ID)
		}
	}
	return all
}

// prepareForm asks for new samples: of whom, of what, for what, and with which kits.
type prepareForm struct {
	*form
	herd    *herd
	what    *whatFor
	lab     *particulars.Pick
	pooled  bool
	ways    *fyne.Container
	tubes   *fyne.Container
	numbers []*widgets.Field
	before  map[model.SampleID]bool // the samples that lay there when these were laid in
}

const (
	oneEach = "each"
	onePool = "pool"
)

func newPrepareForm(p *Page, of model.AnimalID, asked particulars.Sampling) *form {
	f := &prepareForm{form: newForm(p), ways: widgets.Stack(), tubes: widgets.Stack()}
	before, _ := p.tray.Samples.Last()
	var chosen []model.AnimalID
	if !of.IsZero() {
		chosen = append(chosen, of)
	}
	f.herd = newHerd(p, chosen)
	f.herd.changed, f.herd.enter = f.arrange, f.Keep
	f.what = newWhatFor(p, samples.Sample{Material: asked.Material, For: asked.For})
	lab, labShown := p.labPick(before.Lab)
	f.lab = lab
	parts := []fyne.CanvasObject{f.herd.Container, f.ways, f.what.content, f.tubes,
		widgets.RowTop(look.S12, widgets.Grow(f.Field("kit-lot", before.Kit.Lot, widgets.FieldOptions{})),
			widgets.Grow(f.Field("kit-expires", particulars.Typed(p.window, before.Kit.Expires), widgets.FieldOptions{}))),
		f.Field("sample-site", "", widgets.FieldOptions{Hint: p.say("tray.site-hint")}), labShown,
		f.Field("note", "", widgets.FieldOptions{Rows: 2})}
	f.Keys = f.herd.search.Focusable
	f.arrange()
	f.Chosen = func() string {
		said := fmt.Sprint(f.herd.ids(), f.pooled, f.what.material, f.what.of, f.what.by.Value(), f.lab.Value())
		for _, n := range f.numbers {
			said += "\x00" + n.Text()
		}
		return said
	}
	f.Command = f.make
	f.At, f.Refused = f.at, f.what.said
	f.Done = func() { p.keptNew(f.before) }
	return f.settle(p.say("tray.new"), p.say("tray.prepare"), parts...)
}

// keptNew goes to the samples that were just prepared, which were not there before:
// what is next is done with them, whatever lies beside them.
func (p *Page) keptNew(before map[model.SampleID]bool) {
	p.kept()
	for _, s := range p.tray.Samples {
		if !before[s.ID] {
			p.fresh = append(p.fresh, s.ID)
		}
	}
	if len(p.fresh) > 0 {
		p.tubes.SetCurrent(p.fresh[0].String())
	}
}

// arrange shows a number for each tube; those that were counted on from the first
// follow it.
func (f *prepareForm) arrange() {
	p, ids := f.page, f.herd.ids()
	if len(f.ways.Objects) == 0 { // made once, so that the keys stay on it
		value := oneEach
		if f.pooled {
			value = onePool
		}
		f.ways.Objects = []fyne.CanvasObject{particulars.NewFew(p.say("tray.ways"), []string{oneEach, onePool}, []string{p.say("tray.ways.each"), p.say("tray.ways.pool")}, value, func(v string) {
			f.pooled = v == onePool
			f.arrange()
		}).Container}
	}
	f.ways.Hidden = len(ids) < 2
	var names []string
	switch {
	case len(ids) == 0:
	case f.pooled && len(ids) > 1:
		names = []string{p.say("tray.pool")}
	default:
		for _, id := range ids {
			names = append(names, p.words().names([]model.AnimalID{id}))
		}
	}
	typed := f.typed()
	f.numbers = nil
	rows := widgets.Col(look.S8)
	for i, name := range names {
		value := ""
		if i < len(typed) {
			value = typed[i]
		} else if i > 0 {
			value = samples.Following(f.numbers[i-1].Text())
		} else if last, ok := p.tray.Samples.Last(); ok {
			value = samples.Following(last.Kit.Number)
		}
		field := widgets.NewField(value, widgets.FieldOptions{Apart: true})
		field.OnTyped = func(string) { field.Accept() }
		field.OnEnter = f.Keep
		field.OnCommit = func(string) { f.countOn(i) }
		f.numbers = append(f.numbers, field)
		rows.Add(widgets.Col(0, widgets.Row(look.S12, widgets.GrowBy(3, widgets.Line(name, look.Body, look.Ink).Cuts()), widgets.GrowBy(2, field.Container)), field.Said()))
	}
	f.tubes.Objects = nil
	if f.pooled && len(ids) > 1 {
		rows.Add(widgets.Caution(p.say("samples.pool-how")))
	}
	if len(names) > 0 {
		f.tubes.Objects = []fyne.CanvasObject{widgets.Col(look.S8, widgets.Line(p.say("tray.numbers"), look.NoteBold, look.Soft), rows)}
	}
	f.tubes.Hidden = len(f.tubes.Objects) == 0
	if f.Content != nil {
		f.Content.Refresh()
	}
}

func (f *prepareForm) typed() (all []string) {
	for _, n := range f.numbers {
		all = append(all, n.Text())
	}
	return all
}

// countOn fills the numbers behind one that was typed, as they follow it.
func (f *prepareForm) countOn(from int) {
	number := f.numbers[from].Text()
	for _, field := range f.numbers[from+1:] {
		if number = samples.Following(number); number == "" {
			return
		}
		field.SetText(number)
	}
}

// make makes the command of all tubes.
func (f *prepareForm) make(a place.Answer) (model.Command, error) {
	p := f.page
	f.before = map[model.SampleID]bool{}
	for _, s := range p.tray.Samples {
		f.before[s.ID] = true
	}
	ids := f.herd.ids()
	if len(ids) == 0 {
		return nil, &model.Refusal{Field: "name", Reason: "sample.nobody", Answer: model.Mend}
	}
	expires, err := particulars.ReadDateInFull(p.window, "kit-expires", f.Text("kit-expires"))
	if err != nil {
		return nil, err
	}
	one := samples.Sample{Material: f.what.material, Site: f.Text("sample-site"), For: f.what.lookedFor(), TakenBy: p.picked(f.what.by), Lab: p.picked(f.lab), Note: f.Text("note")}
	one.Kit = samples.Kit{Lot: f.Text("kit-lot"), Expires: expires}
	c := samples.Prepare{Tables: p.window.Tables(), By: p.window.By(), Confirmed: a.Confirmed}
	for i, number := range f.typed() {
		each := []model.AnimalID{}
		if len(f.numbers) == 1 {
			each = ids
		} else {
			each = append(each, ids[i])
		}
		one.Kit.Number = number
		c.Each = append(c.Each, samples.New{Animals: each, Sample: one})
	}
	return c, nil
}

// at is the field of a refusal of the animals, or of a tube's number where it was typed.
func (f *prepareForm) at(r *model.Refusal) *widgets.Field {
	switch r.Field {
	case "name":
		return f.herd.search
	case "kit-number":
		for _, field := range slices.Backward(f.numbers) { // the later of two that are the same
			if field.Text() == r.Value {
				return field
			}
		}
		if len(f.numbers) > 0 {
			return f.numbers[0]
		}
	}
	return nil
}
