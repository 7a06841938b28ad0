package settings

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/people"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// who is the group about who writes: chosen from the people of the collection,
// or added to them.
func (p *Page) who() fyne.CanvasObject {
	text := p.w.Text()
	var all []people.Stored
	err := p.w.Collection().View(func(v model.View) (err error) {
		all, err = people.All(v)
		return err
	})
	if err != nil {
		p.w.Fault("window.fault.read", err)
	}
	present := text.Say("window.settings.nobody")
	for _, one := range all {
		if one.ID == p.w.By() {
			present = one.Person.Name
		}
	}
	add := widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("window.settings.addperson"), Icon: "plus", Do: p.addPerson})
	return widgets.Card(look.S24, widgets.Group(text.Say("window.settings.who"), text.Say("window.settings.who.why"),
		widgets.RowBottom(look.S8, widgets.Grow(widgets.ChoiceField(text.Say("window.settings.writes"), present, func() { p.choosePerson(all) })), add)))
}

func (p *Page) choosePerson(all []people.Stored) {
	text := p.w.Text()
	choices := []widgets.Choice{{Label: text.Say("window.settings.nobody")}}
	all = slices.DeleteFunc(slices.Clone(all), func(one people.Stored) bool { return !one.Works() && one.ID != p.w.By() })
	for _, one := range all {
		choices = append(choices, widgets.Choice{Label: one.Person.Name})
	}
	list := widgets.NewChoiceList(text.Say("window.search"), text.Say("window.search.none"), choices)
	var leave func()
	list.OnChosen = func(i int) {
		leave()
		var by model.PersonID
		if i > 0 {
			by = all[i-1].ID
		}
		p.again(func(s *place.Preferences) { s.By = by })
	}
	leave = p.w.ShowSheet(widgets.Sheet{Title: text.Say("window.settings.writes"), Content: list.Container, Cancel: text.Say("window.cancel"), First: list.Search().Focusable()})
}

func (p *Page) addPerson() {
	text := p.w.Text()
	name := widgets.NewField("", widgets.FieldOptions{Label: text.Say("window.settings.name")})
	var leave func()
	keep := func() {
		p.w.Do(func(place.Answer) model.Command {
			return people.Add{Person: people.Person{Name: strings.TrimSpace(name.Text())}}
		}, func(err error) {
			if refusal := (*model.Refusal)(nil); errors.As(err, &refusal) {
				name.Refuse(text.Why(refusal))
				return
			}
			if err == nil {
				leave()
			}
		})
	}
	name.OnEnter = keep
	leave = p.w.ShowSheet(widgets.Sheet{Title: text.Say("window.settings.addperson"), Content: name.Container,
		Acts: []widgets.Act{{Label: text.Say("window.settings.keep"), Key: "Enter", Do: keep}}, Cancel: text.Say("window.cancel"), First: name.Focusable()})
}
