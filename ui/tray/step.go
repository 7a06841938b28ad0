package tray

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/people"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// many are samples with which one thing is done together: they are listed, and each
// can be left out.
type many struct {
	*fyne.Container
	page    *Page
	all     []Sample
	on      map[model.SampleID]bool
	rows    []*widgets.Press
	changed func()
}

func newMany(p *Page, some []Sample, beside []Sample) *many {
	m := &many{Container: widgets.Stack(), page: p, on: map[model.SampleID]bool{}, changed: func() {}}
	for _, s := range p.tray.Samples {
		is := func(o Sample) bool { return o.ID == s.ID }
		if slices.ContainsFunc(some, is) || slices.ContainsFunc(beside, is) {
			m.all = append(m.all, s)
			m.on[s.ID] = slices.ContainsFunc(some, is)
		}
	}
	m.show()
	return m
}

func (m *many) show() {
	w := m.page.words()
	rows := widgets.Col(0)
	m.rows = nil
	for i, s := range m.all {
		if len(m.all) == 1 {
			rows.Add(widgets.Col(0, widgets.Para(w.called(s), look.BodyBold, look.Ink), widgets.Para(w.material(s.Material)+", "+w.agents(s.For), look.Note, look.Soft)))
			break
		}
		detail := w.material(s.Material) + ", " + w.agents(s.For)
		if m.twice(s) {
			detail += "\n" + w.Say("tray.twice", map[string]any{"Stage": w.Say("samples.stage." + string(s.Way.Stage)), "Day": w.DayShort(s.Way.Since)})
		}
		row := widgets.CheckRow(m.on[s.ID], w.called(s), detail, "", func(on bool) {
			m.on[s.ID] = on
			m.show()
			m.changed()
			m.page.window.Focus(m.rows[i])
		})
		m.rows = append(m.rows, row)
		rows.Add(row)
	}
	m.Objects = []fyne.CanvasObject{rows}
	m.Refresh()
}

// twice reports whether an animal of a sample stands in the list once more.
func (m *many) twice(one Sample) bool {
	return slices.ContainsFunc(m.all, func(s Sample) bool {
		return s.ID != one.ID && slices.ContainsFunc(s.Animals, func(a model.AnimalID) bool { return slices.Contains(one.Animals, a) })
	})
}

// some are the samples that are not left out.
func (m *many) some() (all []Sample) {
	for _, s := range m.all {
		if m.on[s.ID] {
			all = append(all, s)
		}
	}
	return all
}

func (m *many) of() (all []samples.On) {
	for _, s := range m.some() {
		all = append(all, samples.On{ID: s.ID, Base: s.Revision})
	}
	return all
}

// newStepForm asks for one step of samples' way: that they were taken, posted or
// arrived, or that the lab was asked.
func newStepForm(p *Page, a samples.Act, some []Sample) *form {
	f := newForm(p).about(some)
	beside := p.tray.Samples.Together(some[0])
	if some[0].Way.Next != a {
		beside = nil
	}
	m := newMany(p, some, beside)
	today := p.tray.Today
	var parts []fyne.CanvasObject
	var lab, by *particulars.Pick
	switch a {
	case samples.ActTake:
		cautions := widgets.Stack()
		show := func() {
			said := p.cautions(m)
			cautions.Objects, cautions.Hidden = []fyne.CanvasObject{widgets.Col(look.S16, said...)}, len(said) == 0
			cautions.Refresh()
		}
		show()
		m.changed = func() {
			show()
			f.Content.Refresh()
		}
		parts = append(parts, cautions)
		by = p.personPick(p.say("field.taken-by"), particulars.Capital(p.say("particulars.unsaid")), p.takers(some[0].TakenBy), p.taker(some[0]))
		parts = append(parts, f.dayField("taken", today), by.Container, f.Field("sample-site", some[0].Site, widgets.FieldOptions{Hint: p.say("tray.site-hint")}),
			f.Field("storage", some[0].Storage, widgets.FieldOptions{Hint: p.say("tray.storage-hint")}))
	case samples.ActPost:
		pick, shown := p.labPick(some[0].Lab)
		lab = pick
		parts = append(parts, f.dayField("posted", today), shown, f.Field("courier", p.tray.Samples.LastCourier(), widgets.FieldOptions{}), f.Field("tracking", "", widgets.FieldOptions{}),
			widgets.RowTop(look.S8, widgets.NewIcon("source", 18, look.Soft), widgets.Grow(widgets.Para(p.say("tray.packing"), look.Note, look.Soft))))
	case samples.ActArrive:
		parts = append(parts, f.dayField("arrived", today))
	case samples.ActAskLab:
		parts = append(parts, p.phones(some[0].Lab)...)
		parts = append(parts, f.dayField("asked", today), f.Field("note", "", widgets.FieldOptions{Rows: 2, Label: p.say("tray.answer")}))
	}
	f.Chosen = func() string {
		said := fmt.Sprint(m.some() == nil)
		for _, pick := range []*particulars.Pick{lab, by} {
			if pick != nil {
				said += pick.Value()
			}
		}
		return said
	}
	f.Command = func(answer place.Answer) (model.Command, error) { return f.step(a, m, lab, by, answer) }
	f.Done = func() { p.kept(idsOf(m.some())...) }
	return f.settle(p.say("tray.do."+string(a)), p.say("tray.keep."+string(a)), append([]fyne.CanvasObject{m.Container}, parts...)...)
}

// step is the command of a step.
func (f *form) step(a samples.Act, m *many, lab, by *particulars.Pick, answer place.Answer) (model.Command, error) {
	p := f.page
	t := p.window.Tables()
	field := map[samples.Act]string{samples.ActTake: "taken", samples.ActPost: "posted", samples.ActArrive: "arrived", samples.ActAskLab: "asked"}[a]
	at, err := f.moment(field, model.Moment{})
	if err != nil {
		return nil, err
	}
	switch a {
	case samples.ActTake:
		return samples.Take{Tables: t, Of: m.of(), At: at, By: p.picked(by), Site: f.Text("sample-site"), Storage: f.Text("storage"), Confirmed: answer.Confirmed}, nil
	case samples.ActPost:
		return samples.Post{Tables: t, Of: m.of(), At: at, Lab: p.picked(lab), Courier: f.Text("courier"), Tracking: f.Text("tracking"), Country: p.window.Settings().Country, Confirmed: answer.Confirmed}, nil
	case samples.ActArrive:
		return samples.Arrive{Tables: t, Of: m.of(), At: at, Confirmed: answer.Confirmed}, nil
	}
	return samples.Ask{Tables: t, Of: m.of(), Asked: samples.Asked{At: at, By: p.window.By(), Note: f.Text("note")}}, nil
}

// taker is who takes a sample: who was named, else who writes.
func (p *Page) taker(s Sample) model.PersonID {
	if !s.TakenBy.IsZero() {
		return s.TakenBy
	}
	return p.window.By()
}

// cautions are those of the materials of the samples that are not left out, each once, and
// that of pools, with leaving it to the vet as an equal answer.
func (p *Page) cautions(m *many) (parts []fyne.CanvasObject) {
	var said []string
	hurts := false
	for _, s := range m.some() {
		of, _ := p.window.Tables().Material(s.Material)
		key := cautionOf(of.Takes)
		hurts = hurts || forVet(of.Takes)
		if key != "" && !slices.Contains(said, key) {
			said, parts = append(said, key), append(parts, widgets.Caution(p.say(key)))
		}
	}
	if slices.ContainsFunc(m.some(), func(s Sample) bool { return len(s.Animals) > 1 }) {
		parts = append(parts, widgets.Caution(p.say("samples.pool-how")))
	}
	vets := p.tray.with(people.Vet)
	if !hurts || len(vets) == 0 || !slices.ContainsFunc(m.some(), func(s Sample) bool { return s.TakenBy != vets[0].ID }) {
		return parts
	}
	return append(parts, widgets.Row(0, widgets.Button(widgets.Plain, widgets.Act{Label: p.say("tray.leave-to-vet"), Icon: "vet", Do: func() { p.leaveToVet(m, vets[0]) }}), widgets.Fill()))
}

// leaveToVet notes that the vet takes the samples that are not left out.
func (p *Page) leaveToVet(m *many, vet people.Stored) {
	p.window.Do(func(place.Answer) model.Command {
		return samples.Leave{Tables: p.window.Tables(), Of: m.of(), To: vet.ID}
	}, func(err error) {
		if err == nil {
			p.kept(idsOf(m.some())...)
			return
		}
		if p.form != nil {
			p.form.Refuse(err)
		}
	})
}

// phones are the numbers of a lab, to be called.
func (p *Page) phones(lab model.PersonID) []fyne.CanvasObject {
	one, known := p.tray.person[lab]
	if !known {
		return nil
	}
	parts := []fyne.CanvasObject{widgets.Para(one.Name, look.BodyBold, look.Ink)}
	for _, phone := range one.Phones {
		parts = append(parts, widgets.Row(look.S8, widgets.NewIcon("phone", 16, look.Soft), widgets.Grow(widgets.Para(phone, look.Body, look.Ink))))
	}
	return []fyne.CanvasObject{widgets.Col(look.S4, parts...)}
}
