package tray

import (
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
)

// methods are by which method the lab looked for each thing, where that makes a
// difference. It is rare that it is not the usual one, so that the choices are out of
// sight until they are asked for.
type methods struct {
	*fyne.Container
	page    *Page
	things  []knowledge.AgentID // that there is a choice of
	offered map[knowledge.AgentID][]knowledge.Method
	chosen  map[knowledge.AgentID]knowledge.Method
	changed func() // the form is larger now
}

// newMethods offers what makes a difference to some things in some samples; chosen is how
// it stands.
func newMethods(p *Page, some []Sample, things []knowledge.AgentID, chosen map[knowledge.AgentID]knowledge.Method) *methods {
	m := &methods{Container: widgets.Stack(), page: p, offered: map[knowledge.AgentID][]knowledge.Method{}, chosen: chosen, changed: func() {}}
	for _, of := range things {
		for _, s := range some {
			if !slices.Contains(s.For, of) {
				continue
			}
			for _, method := range append(samples.Methods(p.window.Tables(), of, s.Material), chosen[of]) {
				if method != "" && !slices.Contains(m.offered[of], method) {
					m.offered[of] = append(m.offered[of], method)
				}
			}
		}
		if len(m.offered[of]) > 0 {
			m.things = append(m.things, of)
		}
	}
	switch {
	case len(m.things) == 0:
	case len(chosen) > 0:
		m.unfold()
	default:
		m.Objects = []fyne.CanvasObject{widgets.Row(0, widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("tray.method"), Icon: "note", Do: m.unfold}), widgets.Fill())}
	}
	return m
}

// unfold brings the choices into sight.
func (m *methods) unfold() {
	rows := []fyne.CanvasObject{widgets.Para(m.page.say("tray.method-what"), look.Note, look.Soft)}
	for _, of := range m.things {
		values, said := []string{""}, []string{m.page.say("tray.method-usual")}
		for _, method := range m.offered[of] {
			values, said = append(values, string(method)), append(said, particulars.Capital(m.page.say("method."+string(method))))
		}
		rows = append(rows, particulars.NewFew(m.page.say("field.method")+": "+m.page.words().agent(of), values, said, string(m.chosen[of]), func(v string) {
			if m.chosen[of] = knowledge.Method(v); v == "" {
				delete(m.chosen, of)
			}
		}).Container)
	}
	m.Objects = []fyne.CanvasObject{widgets.Col(look.S12, rows...)}
	m.Refresh()
	m.changed()
}
