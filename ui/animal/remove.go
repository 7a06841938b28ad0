package animal

import (
	"errors"

	"coilward/model"
	"coilward/model/animals"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// remove asks, and takes an animal out that was entered by mistake. One that has
// entries stays: its status is what can be changed then.
func (p *Page) remove() {
	if p.life == nil || p.window.ReadOnly() {
		return
	}
	id := p.id
	p.askRemove(p.say("animal.remove.ask"), "animal.remove.yes", func() {
		p.window.Do(func(place.Answer) model.Command { return animals.Remove{ID: id} }, func(err error) {
			var refused *model.Refusal
			switch {
			case errors.As(err, &refused):
				p.askRemove(p.window.Text().Why(refused), "animal.act.change", p.change)
			case err == nil:
				p.window.Go(place.Route{To: place.Animals})
			}
		})
	})
}

// askRemove says a sentence about taking the animal out, with one act beside
// keeping it as it is.
func (p *Page) askRemove(sentence, act string, do func()) {
	var leave func()
	leave = p.window.ShowSheet(widgets.Sheet{
		Title:   p.say("animal.remove.title", map[string]any{"Name": p.life.Stored.Name}),
		Content: widgets.Para(sentence, look.Body, look.Ink),
		Width:   440,
		Cancel:  p.say("animal.remove.no"),
		Acts:    []widgets.Act{{Label: p.say(act), Do: func() { leave(); do() }}},
	})
}
