package instruments

import (
	"fyne.io/fyne/v2"

	"coilward/ui/look"
	"coilward/ui/widgets"
)

// rowHeight is the height of one row of the list.
const rowHeight float32 = 64

// row is the empty row that is filled with one instrument or tool after another.
type row struct {
	*fyne.Container
	icon *widgets.Icon
	// kind also says where it is
	name, kind, age, check, reading, ago, next, change *widgets.Text
}

func newRow() *row {
	note := func() *widgets.Text { return widgets.Line("", look.Note, look.Soft).Cuts() }
	r := &row{icon: widgets.NewIcon("gauge", 24, look.Soft), name: widgets.Line("", look.BodyBold, look.Ink).Cuts(), kind: note(),
		age: note(), check: widgets.Line("", look.Body, look.Ink).Cuts(), reading: note(), ago: note(), next: widgets.Line("", look.NoteBold, look.Soft).Cuts(),
		change: widgets.Line("", look.NoteBold, look.Soft).Cuts()}
	r.Container = widgets.MiddleUpright(widgets.Pad(widgets.Row(look.S12, r.icon,
		widgets.GrowBy(11, widgets.Col(0, r.name, r.kind, r.age)),
		widgets.GrowBy(8, widgets.Col(0, r.check, r.reading, r.ago)),
		widgets.GrowBy(13, widgets.Col(0, r.next, r.change))), 0, look.S12))
	return r
}

// Object implements widgets.RollRow.
func (r *row) Object() fyne.CanvasObject { return r.Container }

func (r *row) show(l line) {
	r.icon.SetName(l.icon)
	kind := l.kind
	if l.where != "" {
		kind += " · " + l.where
	}
	for text, said := range map[*widgets.Text]string{r.name: l.name, r.kind: kind, r.age: l.age, r.check: l.check, r.reading: l.reading, r.ago: l.checkMore, r.next: l.next, r.change: l.change} {
		text.SetText(said)
		if said == "" {
			text.Hide()
		} else {
			text.Show()
		}
	}
	r.check.SetTone(l.checkTone)
	r.next.SetTone(l.nextTone)
	r.change.SetTone(l.changeTone)
	r.Container.Refresh()
}
