package particulars

import (
	"coilward/model"
	"coilward/model/husbandry"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// NewScalePick asks on which of the scales something was weighed.
func NewScalePick(w place.Window, scales []husbandry.Weigher, chosen model.InstrumentID) *Pick {
	t := w.Text()
	var ids []string
	var choices []widgets.Choice
	value := ""
	for _, one := range scales {
		ids, choices = append(ids, one.ID.String()), append(choices, widgets.Choice{Label: one.Name})
		if one.ID == chosen {
			value = one.ID.String()
		}
	}
	return NewPick(w, t.Say("field.weighed-with"), Capital(t.Say("particulars.unsaid")), ids, choices, value)
}

// PickedScale is the scale that was picked; zero: none.
func PickedScale(p *Pick, scales []husbandry.Weigher) model.InstrumentID {
	for _, one := range scales {
		if one.ID.String() == p.Value() {
			return one.ID
		}
	}
	return model.InstrumentID{}
}
