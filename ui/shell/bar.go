package shell

import (
	"fyne.io/fyne/v2"

	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// bar is the foot of the window: what was last noted and how to take it back,
// work that goes on, and whose collection this is.
type bar struct {
	s      *Shell
	object *fyne.Container
	inside *fyne.Container
}

func newBar(s *Shell) *bar {
	b := &bar{s: s, inside: widgets.Stack()}
	b.object = widgets.Fix(0, 41, widgets.Filled(look.Rail, 0),
		widgets.Col(0, widgets.HLine(), widgets.Fix(0, 40, widgets.MiddleUpright(widgets.Pad(b.inside, 0, look.S24)))))
	return b
}

// update says anew what stands in the bar.
func (b *bar) update() {
	icon, line, acts := b.noted()
	var row []fyne.CanvasObject
	if icon != nil {
		row = append(row, icon)
	}
	if line != nil {
		row = append(row, widgets.GrowBy(2, widgets.RowHug(look.S12, line, acts...)))
	}
	row = append(row, widgets.Grow(widgets.Line(b.name(), look.Note, look.Soft).Right().Cuts()))
	b.inside.Objects = []fyne.CanvasObject{widgets.Row(look.S12, row...)}
	b.inside.Refresh()
}

// noted is what the bar says last happened: a sign and a line, which may be none, and
// what one can do about it.
func (b *bar) noted() (sign fyne.CanvasObject, said *widgets.Text, acts []fyne.CanvasObject) {
	s := b.s
	undo := b.undo()
	if undo != nil {
		acts = []fyne.CanvasObject{undo}
	}
	if len(s.tasks.running) > 0 {
		name, parts := s.tasks.shown()
		return widgets.NewIcon("clock", 16, look.Accent), name, append(parts, acts...)
	}
	if s.session == nil {
		return nil, nil, nil
	}
	if s.ReadOnly() {
		return widgets.NewIcon("lock", 16, look.Days), widgets.Line(s.text.Say(s.reading().bar), look.Note, look.Ink), nil
	}
	if s.undone != nil {
		said := s.text.Say("window.undone", wording.Gaps{"What": s.text.Label(*s.undone)})
		return widgets.NewIcon("undo", 16, look.Accent), widgets.Line(said, look.Note, look.Ink), append([]fyne.CanvasObject{b.act("window.redo", "", keyName("Y"), s.Redo)}, acts...)
	}
	label, ok := s.undoable()
	if !ok {
		return nil, widgets.Line(s.text.Say("window.bar.nothing"), look.Note, look.Soft), nil
	}
	return widgets.NewIcon("tick", 16, look.Accent), widgets.Line(s.text.Label(label), look.Note, look.Ink), acts
}

// undo takes back what was last noted; nil where nothing was.
func (b *bar) undo() fyne.CanvasObject {
	s := b.s
	if _, ok := s.undoable(); !ok || s.ReadOnly() {
		return nil
	}
	return b.act("window.undo", "undo", keyName("Z"), s.Undo)
}

// act is something to press in the bar, with its keys; an empty icon is none.
func (b *bar) act(key, icon, keys string, do func()) fyne.CanvasObject {
	word := b.s.text.Say(key)
	parts := []fyne.CanvasObject{widgets.Line(word, look.NoteBold, look.Accent), widgets.KeyCap(keys)}
	if icon != "" {
		parts = append([]fyne.CanvasObject{widgets.NewIcon(icon, 16, look.Accent)}, parts...)
	}
	return widgets.NewPress(word, widgets.Fix(0, 28, widgets.MiddleUpright(widgets.Pad(widgets.Row(look.S8, parts...), 0, look.S8))), func(st widgets.State) widgets.Ground {
		g := widgets.Ground{Radius: 6}
		if st.Pointed {
			g.Fill = look.Well
		}
		return g
	}, do)
}

func (b *bar) name() string {
	switch s := b.s; {
	case s.session == nil:
		return ""
	case s.session.Sample:
		return s.text.Say("window.sample.name")
	default:
		return s.session.Name
	}
}
