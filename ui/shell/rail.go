package shell

import (
	"strconv"

	"fyne.io/fyne/v2"

	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// railWidth is the least width of the rail; it is wider where a place has a
// long name.
const railWidth = 96

// rail is the left edge of the window: the places, the chosen one a tab of the
// page's own paper.
type rail struct {
	object *fyne.Container
	items  map[place.Name]*railItem
}

type railItem struct {
	press *widgets.Press
	icon  *widgets.Icon
	word  *widgets.Text
	bar   *widgets.Box
	count *fyne.Container // how many things press there; hidden: none
	said  *widgets.Text
}

func newRail(s *Shell) *rail {
	r := &rail{items: map[place.Name]*railItem{}}
	var top, foot []fyne.CanvasObject
	width := float32(railWidth)
	for _, room := range s.o.Places {
		if !room.Rail && !room.Foot {
			continue
		}
		name := s.text.Say(room.Key)
		width = max(width, look.NoteBold.Width(name)+2*look.S8+2*look.S8)
		item := newRailItem(room.Icon, name, func() { s.Go(s.through(room)) })
		r.items[room.Name] = item
		if room.Foot {
			foot = append(foot, item.press)
		} else {
			top = append(top, item.press)
		}
	}
	column := widgets.Col(0, emblem(), widgets.Col(look.S8, top...), widgets.Fill(), widgets.Col(look.S8, foot...))
	r.object = widgets.Fix(width, 0, widgets.Filled(look.Rail, 0),
		widgets.RowFill(0, widgets.Grow(widgets.Scroll(widgets.Pad(column, look.S16, look.S8, look.S12, look.S8))), widgets.VLine()))
	return r
}

func emblem() fyne.CanvasObject {
	return widgets.Fix(0, 60, widgets.Middle(widgets.NewIcon("coil", 40, look.Accent)))
}

func newRailItem(icon, name string, tap func()) *railItem {
	i := &railItem{
		icon: widgets.NewIcon(icon, 24, look.Soft),
		word: widgets.Line(name, look.Note, look.Soft).Centred(),
		bar:  widgets.Filled(look.Clear, 1.5),
	}
	i.said = widgets.Line("", look.NoteBold, look.Paper).Centred()
	i.count = widgets.Stack(widgets.Filled(look.Today, 10), widgets.MiddleUpright(i.said))
	i.count.Hide()
	above := widgets.Stack(widgets.Middle(i.icon), widgets.Row(0, widgets.Fill(), i.count))
	column := widgets.Col(look.S4, above, i.word)
	content := widgets.Fix(0, 60, widgets.RowFill(0, widgets.Pad(widgets.Fix(3, 0, i.bar), look.S12, 0),
		widgets.Grow(widgets.MiddleUpright(column)), widgets.Space(3, 0)))
	i.press = widgets.NewPress(name, content, func(s widgets.State) widgets.Ground {
		switch {
		case s.On:
			return widgets.Ground{Fill: look.Paper, Line: look.Hair, Width: 1, Radius: look.RLarge}
		case s.Pointed:
			return widgets.Ground{Fill: look.Well, Radius: look.RLarge}
		}
		return widgets.Ground{Radius: look.RLarge}
	}, tap)
	return i
}

// badge shows how many things press at a place, up to 99.
func (r *rail) badge(name place.Name, n int) {
	i := r.items[name]
	if i == nil {
		return
	}
	said := strconv.Itoa(min(n, 99))
	if n > 99 {
		said += "+"
	}
	i.said.SetText(said)
	i.count.Layout = widgets.Fix(max(20, look.NoteBold.Width(said)+look.S8), 20).Layout
	i.count.Hidden = n == 0
	r.object.Refresh()
}

// choose shows where one is.
func (r *rail) choose(name place.Name) {
	for n, i := range r.items {
		tone, bar, kind := look.Soft, look.Clear, look.Note
		if n == name {
			tone, bar, kind = look.Ink, look.Accent, look.NoteBold
		}
		i.icon.SetTone(tone)
		i.word.SetTone(tone)
		i.word.SetKind(kind)
		i.bar.SetGround(widgets.Ground{Fill: bar, Radius: 1.5})
		i.press.SetOn(n == name)
	}
}
