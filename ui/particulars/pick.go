package particulars

import (
	"slices"

	"fyne.io/fyne/v2"

	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Pick is a choice of many by name: what is chosen stands in the form, pressing
// it lays the choices over the page.
type Pick struct {
	*fyne.Container
	window  place.Window
	label   string
	none    string // what an empty choice is called; "" lets none be chosen
	hint    string // what stands in the box as long as nothing is chosen
	values  []string
	choices []widgets.Choice
	value   string
	field   *widgets.Chosen
	// OnPicked is called after a person chose.
	OnPicked func()
}

// NewPick makes the choice among values, each with its words; none is what the
// choice of nothing is called.
func NewPick(w place.Window, label, none string, values []string, choices []widgets.Choice, value string) *Pick {
	p := &Pick{window: w, label: label, none: none, values: values, choices: choices, value: value}
	if none != "" {
		p.values = append([]string{""}, values...)
		p.choices = append([]widgets.Choice{{Label: none}}, choices...)
	}
	p.field = widgets.NewChosen(label, p.words(), p.open)
	p.Container = widgets.Stack(p.field.Container)
	return p
}

// Value is the chosen value.
func (p *Pick) Value() string { return p.value }

// Set chooses a value. The field stays, and with it the keys.
func (p *Pick) Set(value string) {
	p.value = value
	p.field.Settle()
	p.field.SetWords(p.words())
}

// Refuse says below the choice why it cannot stand, and gives it the keys.
func (p *Pick) Refuse(reason string) {
	p.field.Refuse(reason)
	p.window.Focus(p.field.Focusable())
}

// Hint says in the box what to choose, as long as nothing is chosen.
func (p *Pick) Hint(words string) *Pick {
	p.hint = words
	p.field.SetWords(p.words())
	return p
}

// words are what the chosen value is called; the hint for one that is not among them.
func (p *Pick) words() string {
	if i := slices.Index(p.values, p.value); i >= 0 {
		return p.choices[i].Label
	}
	return p.hint
}

func (p *Pick) open() {
	list := widgets.NewChoiceList(p.window.Text().Say("particulars.pick.search"), p.window.Text().Say("particulars.pick.none"), p.choices)
	list.Mark(slices.Index(p.values, p.value))
	var leave func()
	list.OnChosen = func(i int) {
		leave()
		p.Set(p.values[i])
		p.window.Focus(p.field.Focusable())
		if p.OnPicked != nil {
			p.OnPicked()
		}
	}
	leave = p.window.ShowSheet(widgets.Sheet{Title: p.label, Content: list.Container, Width: 440, Height: 420,
		Cancel: p.window.Text().Say("particulars.cancel"), First: list.Search().Focusable()})
}
