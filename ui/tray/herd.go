package tray

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// Narrowed are the animals whose name or home has what was typed in it; those that
// begin with it come first, else they stay in shelf order.
func Narrowed(all []Animal, typed string) []Animal {
	typed = animals.Fold(typed)
	var begin, within []Animal
	for _, a := range all {
		name := animals.Fold(a.Name)
		switch {
		case strings.HasPrefix(name, typed):
			begin = append(begin, a)
		case strings.Contains(name, typed) || strings.Contains(animals.Fold(a.Home), typed):
			within = append(within, a)
		}
	}
	return append(begin, within...)
}

// named reports whether the animal's name has what was typed in it.
func (a Animal) named(typed string) bool {
	return strings.Contains(animals.Fold(a.Name), animals.Fold(typed))
}

// herd chooses animals, by typing names or from the list; what is chosen stands in
// shelf order, whatever order it was chosen in.
type herd struct {
	*fyne.Container
	page   *Page
	all    []Animal
	chosen map[model.AnimalID]bool
	shown  []Animal
	search *widgets.Field
	rows   *widgets.Rows
	said   *widgets.Text
	// changed is called when others are chosen; enter when Enter was pressed with
	// nothing typed.
	changed, enter func()
}

const herdRow = 32

func newHerd(p *Page, of []model.AnimalID) *herd {
	h := &herd{page: p, all: p.tray.Animals, chosen: map[model.AnimalID]bool{}, said: widgets.Para("", look.Note, look.Soft)}
	for _, id := range of {
		h.chosen[id] = true
		if !slices.ContainsFunc(h.all, func(a Animal) bool { return a.ID == id }) {
			h.all = append(slices.Clip(h.all), Animal{ID: id, Name: p.words().names([]model.AnimalID{id})})
		}
	}
	h.search = widgets.NewField("", widgets.FieldOptions{Label: p.say("tray.animals"), Hint: p.say("tray.animals-hint")})
	h.search.OnTyped = func(string) { h.search.Accept(); h.narrow() }
	h.search.OnEnter = func() {
		if strings.TrimSpace(h.search.Text()) == "" {
			h.enter()
			return
		}
		switch {
		case len(h.shown) == 0:
			return
		case h.shown[0].named(h.search.Text()):
			h.turn(h.shown[0].ID)
		default: // it is a home that was typed: all that live there
			h.allShown()
		}
		h.search.SetText("")
		h.narrow()
	}
	h.rows = widgets.NewRows(herdRow, func() fyne.CanvasObject {
		return widgets.Pad(widgets.Row(look.S8, widgets.Fix(18, 18, widgets.NewBox(widgets.Ground{}), widgets.Middle(widgets.NewIcon("tick", 16, look.OnAccent))), widgets.GrowBy(2, widgets.Line("", look.Body, look.Ink).Cuts()), widgets.GrowBy(3, widgets.Line("", look.Note, look.Soft).Cuts())), 0, look.S8)
	}, h.fill)
	h.rows.OnOpen = func(i int) {
		if i < len(h.shown) {
			h.turn(h.shown[i].ID)
		}
	}
	all := widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("tray.all-shown"), Do: h.allShown})
	h.Container = widgets.Col(look.S4, h.search.Container,
		widgets.Stack(widgets.NewBox(widgets.Ground{Fill: look.Sheet, Line: look.Hair, Width: 1, Radius: look.RBase}), widgets.Fix(0, 5*(herdRow+4)+8, widgets.Pad(h.rows, 2))),
		widgets.Row(look.S8, widgets.Grow(h.said), all))
	h.narrow()
	return h
}

// allShown chooses all animals that are in the list, or none of them where all
// are chosen.
func (h *herd) allShown() {
	on := slices.ContainsFunc(h.shown, func(a Animal) bool { return !h.chosen[a.ID] })
	for _, a := range h.shown {
		if on {
			h.chosen[a.ID] = true
		} else {
			delete(h.chosen, a.ID)
		}
	}
	h.show()
	h.changed()
}

func (h *herd) fill(i int, o fyne.CanvasObject) {
	row := o.(*fyne.Container).Objects[0].(*fyne.Container)
	a := h.shown[i]
	row.Objects[1].(*fyne.Container).Objects[0].(*widgets.Text).SetText(a.Name)
	home := row.Objects[2].(*fyne.Container)
	home.Objects[0].(*widgets.Text).SetText(ending(a.Home, home.Size().Width))
	tick := row.Objects[0].(*fyne.Container)
	if box := tick.Objects[0].(*widgets.Box); h.chosen[a.ID] {
		box.SetGround(widgets.Ground{Fill: look.Accent, Radius: look.RSmall})
		tick.Objects[1].Show()
	} else {
		box.SetGround(widgets.Ground{Fill: look.Sheet, Line: look.Edge, Width: 1, Radius: look.RSmall})
		tick.Objects[1].Hide()
	}
}

// ending is a home in so much room: where it is too long, what it lies in is left out
// first, so that the box is read.
func ending(home string, most float32) string {
	const apart = ", "
	short := home
	for most > 0 && look.Note.Width(short) > most {
		_, after, more := strings.Cut(strings.TrimPrefix(short, "…"+apart), apart)
		if !more {
			break
		}
		short = "…" + apart + after
	}
	return short
}

func (h *herd) narrow() {
	h.shown = Narrowed(h.all, h.search.Text())
	h.show()
}

func (h *herd) show() {
	h.rows.SetCount(len(h.shown))
	h.said.SetText(h.page.window.Text().Count("tray.animals-chosen", len(h.chosen)))
	if names := h.page.words().names(h.ids()); names != "" {
		h.said.SetText(h.said.Text() + ": " + names)
	}
}

func (h *herd) turn(id model.AnimalID) {
	if h.chosen[id] {
		delete(h.chosen, id)
	} else {
		h.chosen[id] = true
	}
	h.show()
	h.changed()
}

// ids are the chosen animals in shelf order.
func (h *herd) ids() (ids []model.AnimalID) {
	for _, a := range h.all {
		if h.chosen[a.ID] {
			ids = append(ids, a.ID)
		}
	}
	return ids
}
