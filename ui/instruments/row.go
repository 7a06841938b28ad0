package instruments

import (
	"fyne.io/fyne/v2"

	"coilward/ui/look"
	"coilward/ui/widgets"
)

// rowHeight is the height of one row of the list.
const rowHeight float32 = 60

// row is the empty row that is filled with one instrument or tool after another.
type row struct {
	*fyne.Container
	icon                                             *widgets.Icon
	name, kind, where, age, check, ago, next, change *widgets.Text
}

func newRow() *row {
	note := func() *widgets.Text { return widgets.Line("", look.Note, look.Soft).Cuts() }
	r := &row{icon: widgets.NewIcon("gauge", 24, look.Soft), name: widgets.Line("", look.BodyBold, look.Ink).Cuts(), kind: note(),
		where: widgets.Line("", look.Body, look.Ink).Cuts(), age: note(), check: widgets.Line("", look.Body, look.Ink).Cuts(), ago: note(), next: widgets.Line("", look.NoteBold, look.Soft).Cuts(),
		change: widgets.Line("", look.NoteBold, look.Soft).Cuts()}
	r.Container = widgets.MiddleUpright(widgets.Pad(widgets.Row(look.S12, r.icon,
		widgets.GrowBy(5, widgets.Col(0, r.name, r.kind)),
		widgets.GrowBy(4, widgets.Col(0, r.where, r.age)),
		widgets.GrowBy(6, widgets.Col(0, r.check, r.ago)),
		widgets.GrowBy(5, widgets.Col(0, r.next, r.change))), 0, look.S12))
	return r
}

// Object implements widgets.RollRow.
func (r *row) Object() fyne.CanvasObject { return r.Container }

func (r *row) show(l line) {
	r.icon.SetName(l.icon)
	for text, said := range map[*widgets.Text]string{r.name: l.name, r.kind: l.kind, r.where: l.where, r.age: l.age, r.check: l.check, r.ago: l.checkMore, r.next: l.next, r.change: l.change} {
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
