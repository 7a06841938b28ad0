package people

import (
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model/people"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
)

// rowHeight is the height of one person in the list.
const rowHeight float32 = 56

// row is the empty row that is filled with one person after another.
type row struct {
	*fyne.Container
	icon                                 *widgets.Icon
	name, roles, phone, more, place, how *widgets.Text
}

func newRow() *row {
	note := func() *widgets.Text { return widgets.Line("", look.Note, look.Soft).Cuts() }
	r := &row{
		icon: widgets.NewIcon("person", 24, look.Soft),
		name: widgets.Line("", look.BodyBold, look.Ink).Cuts(), roles: note(),
		phone: widgets.Line("", look.Body, look.Ink).Cuts(), more: note(),
		place: note(), how: note(),
	}
	r.Container = widgets.MiddleUpright(widgets.Pad(widgets.Row(look.S12, r.icon,
		widgets.GrowBy(5, widgets.Col(0, r.name, r.roles)),
		widgets.GrowBy(5, widgets.Col(0, r.phone, r.more)),
		widgets.GrowBy(4, widgets.Col(0, r.place, r.how))), 0, look.S12))
	return r
}

// Object implements widgets.RollRow.
func (r *row) Object() fyne.CanvasObject { return r.Container }

// show fills the row; writes says that new entries are this person's.
func (r *row) show(t *wording.Text, p people.Stored, writes bool) {
	icon := "person"
	switch {
	case p.Is(people.OutOfHours):
		icon = "phone"
	case p.Is(people.Vet):
		icon = "vet"
	}
	r.icon.SetName(icon)
	r.name.SetText(p.Name)
	r.roles.SetText(rolesOf(t, p.Person))
	phone, more := "", ""
	if len(p.Phones) > 0 {
		phone, more = p.Phones[0], strings.Join(p.Phones[1:], ", ")
	}
	r.phone.SetText(phone)
	r.more.SetText(more)
	r.place.SetText(strings.Join(strings.Split(p.Address, "\n"), ", "))
	var how []string
	if writes {
		how = append(how, t.Say("people.page.writes"))
	}
	if p.Private {
		how = append(how, t.Say("people.page.private"))
	}
	r.how.SetText(strings.Join(how, ", "))
	for _, line := range []*widgets.Text{r.roles, r.phone, r.more, r.place, r.how} {
		if line.Text() == "" {
			line.Hide()
		} else {
			line.Show()
		}
	}
	r.Container.Refresh()
}

// rolesOf are the words of what somebody is.
func rolesOf(t *wording.Text, p people.Person) string {
	var words []string
	for _, r := range p.Roles {
		words = append(words, t.Say("people.role."+string(r)))
	}
	return particulars.Capital(strings.Join(words, ", "))
}
