package tray

import (
	"context"
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/chances"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// effects show what answers that are not kept yet would make of each animal's chance. They
// are worked out off Fyne's goroutine, for they rest on the whole collection; what is asked
// meanwhile is worked out next.
type effects struct {
	*fyne.Container
	page    *Page
	asked   func() []chances.Supposed
	shown   func() // called when others are shown
	last    []chances.Supposed
	working bool
}

func newEffects(p *Page, asked func() []chances.Supposed, shown func()) *effects {
	e := &effects{Container: widgets.Stack(), page: p, asked: asked, shown: shown}
	e.Hide()
	return e
}

// ask works the effects out anew where other answers are asked about.
func (e *effects) ask() {
	asked := e.asked()
	if e.working || slices.Equal(asked, e.last) {
		return
	}
	e.last = asked
	if len(asked) == 0 {
		e.show(nil, nil)
		return
	}
	e.working = true
	w := e.page.window
	var all []chances.Effect
	w.Task(e.page.say("chance.would.reading"), func(context.Context, func(float64)) error {
		return w.Collection().View(func(v model.View) error {
			return w.Chances().Ask(v, func(r *chances.Reader) (err error) {
				all, err = r.If(v, asked)
				return err
			})
		})
	}, func(err error) {
		e.working = false
		e.show(all, err)
		e.ask()
	})
}

// show shows the effects, each animal a line.
func (e *effects) show(all []chances.Effect, fault error) {
	w := e.page.words()
	var rows []fyne.CanvasObject
	if fault != nil {
		rows = append(rows, widgets.Caution(w.Say("chance.would.fault")))
	}
	for _, one := range all {
		rows = append(rows, e.row(one))
	}
	e.Objects = nil
	if len(rows) > 0 {
		e.Objects = []fyne.CanvasObject{widgets.Col(look.S8, append([]fyne.CanvasObject{widgets.Line(w.Say("chance.would"), look.NoteBold, look.Soft)}, rows...)...)}
	}
	e.Hidden = len(rows) == 0
	e.Refresh()
	e.shown()
}

func (e *effects) row(one chances.Effect) fyne.CanvasObject {
	w := e.page.words()
	name := func(id model.AnimalID) string { return w.names([]model.AnimalID{id}) }
	said := widgets.Col(0, widgets.Para(w.Say("chance.would.of", map[string]any{"Name": name(one.Animal), "Agent": w.agent(one.After.Of)}), look.NoteBold, look.Ink))
	for i, l := range one.Says(chances.Named{Name: name(one.Animal), Others: name}) {
		kind := look.Note
		if i == 0 {
			kind = look.Body
		}
		said.Add(widgets.Para(w.Say(l.Key, l.Gaps), kind, look.Ink))
	}
	return said
}
