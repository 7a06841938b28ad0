package particulars

import (
	"coilward/model"
	"coilward/model/people"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// NewHandPick asks who of those who help with the animals did something; the person at the
// window is always among them.
func NewHandPick(w place.Window, chosen model.PersonID) *Pick {
	t := w.Text()
	var ids []string
	var choices []widgets.Choice
	value := ""
	err := w.Collection().View(func(v model.View) error {
		all, err := people.All(v)
		for _, one := range all {
			if !one.Is(people.Hand) && one.ID != w.By() && one.ID != chosen {
				continue
			}
			ids, choices = append(ids, one.ID.String()), append(choices, widgets.Choice{Label: one.Name})
			if one.ID == chosen {
				value = one.ID.String()
			}
		}
		return err
	})
	if err != nil {
		w.Fault("window.fault.read", err)
	}
	return NewPick(w, t.Say("field.person"), Capital(t.Say("particulars.unsaid")), ids, choices, value)
}

// PickedHand is the person that was picked; zero: none.
func PickedHand(p *Pick) model.PersonID {
	id, err := model.ParseID(p.Value())
	if err != nil {
		return model.PersonID{}
	}
	return model.PersonID{ID: id}
}
