package animals

import (
	"fyne.io/fyne/v2"

	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
)

// tile is the empty picture that is filled with one animal after another.
type tile struct {
	*fyne.Container
	portrait         *particulars.Portrait
	name, sign, note *widgets.Text
	open             *widgets.Text
	mark             *widgets.Icon
}

func newTile() *tile {
	t := &tile{
		portrait: particulars.NewPortrait(104, look.RBase),
		name:     widgets.Line("", look.Name, look.Ink).Cuts(), sign: widgets.Line("", look.Body, look.Soft),
		note: widgets.Line("", look.Note, look.Soft).Cuts(), open: widgets.Line("", look.Note, look.Faint).Cuts(),
		mark: widgets.NewSign("often!", 14, look.Often, look.Sheet),
	}
	t.Container = widgets.Pad(widgets.Col(look.S4, widgets.Middle(t.portrait),
		widgets.Row(look.S8, widgets.Grow(t.name), t.sign),
		t.note,
		widgets.Row(look.S4, t.mark, widgets.Grow(t.open))), look.S12)
	return t
}

// Object implements widgets.RollRow.
func (t *tile) Object() fyne.CanvasObject { return t.Container }

// show fills the tile.
func (t *tile) show(row *Row, s said, photo fyne.Resource) {
	t.portrait.Set(row.Name, row.Coat, photo)
	t.name.SetText(s.name)
	t.sign.SetText(s.sign)
	note := s.weight
	if s.code != "" && note != "" {
		note = s.code + " · " + note
	} else if s.code != "" {
		note = s.code
	}
	t.note.SetText(note)
	t.open.SetText(s.open)
	sign, tone := row.sign()
	setVisible(t.mark, sign != "")
	if sign != "" {
		t.mark.SetName(sign)
		t.mark.SetTone(tone)
	}
	t.open.SetTone(tone)
	t.Refresh()
}
