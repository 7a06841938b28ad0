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
	values  []string
	choices []widgets.Choice
	value   string
	// OnPicked is called after a person chose.
	OnPicked func()
}

// NewPick makes the choice among values, each with its words; none is what the
// choice of nothing is called.
func NewPick(w place.Window, label, none string, values []string, choices []widgets.Choice, value string) *Pick {
	p := &Pick{window: w, label: label, none: none, values: values, choices: choices, value: value, Container: widgets.Stack()}
	if none != "" {
		p.values = append([]string{""}, values...)
		p.choices = append([]widgets.Choice{{Label: none}}, choices...)
	}
	p.show()
	return p
}

// Value is the chosen value.
func (p *Pick) Value() string { return p.value }

// Set chooses a value.
func (p *Pick) Set(value string) {
	p.value = value
	p.show()
}

func (p *Pick) show() {
	words := ""
	for i, v := range p.values {
		if v == p.value {
			words = p.choices[i].Label
		}
	}
	p.Objects = []fyne.CanvasObject{widgets.ChoiceField(p.label, words, p.open)}
	p.Refresh()
}

func (p *Pick) open() {
	list := widgets.NewChoiceList(p.window.Text().Say("particulars.pick.search"), p.window.Text().Say("particulars.pick.none"), p.choices)
	list.Mark(slices.Index(p.values, p.value))
	var leave func()
	list.OnChosen = func(i int) {
		leave()
		p.Set(p.values[i])
		if p.OnPicked != nil {
			p.OnPicked()
		}
	}
	leave = p.window.ShowSheet(widgets.Sheet{Title: p.label, Content: list.Container, Width: 440, Height: 420,
		Cancel: p.window.Text().Say("particulars.cancel"), First: list.Search().Focusable()})
}
