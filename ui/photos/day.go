package photos

import (
	"errors"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/photo"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// said is when the keeper said that a shot was taken; ok is false where nothing was
// said.
func (p *Page) said(s photo.Shot) (at model.Moment, ok bool) {
	day, ok := p.days[s.ID]
	if !ok || s.Dated != photo.ByFile {
		return model.Moment{}, false
	}
	return model.MomentOn(p.window.Now(), day, model.Noon, model.ToDay), true
}

// dayField asks for the day of a shot of which the camera says none; the file's is
// proposed.
func (p *Page) dayField(g group, s photo.Shot) fyne.CanvasObject {
	text, proposed := p.window.Text(), s.At.Day()
	if at, ok := p.said(s); ok {
		proposed = at.Day()
	}
	p.day = widgets.NewField(text.DayShort(proposed), widgets.FieldOptions{Label: p.say("photos.taken-on")})
	if p.window.ReadOnly() {
		p.day.Disable()
	}
	p.day.OnTyped = func(string) {
		p.day.Accept()
		delete(p.days, s.ID)
		if day, err := p.typedDay(); err == nil {
			p.days[s.ID] = day
		}
		p.grid.Refresh()
	}
	p.day.OnEnter = func() {
		if p.dayStands() {
			p.days[s.ID], _ = p.typedDay()
			p.parted()
		}
	}
	parts := []fyne.CanvasObject{p.day.Container}
	var others []photo.Shot
	for _, one := range g.Shots {
		if one.Dated == photo.ByFile {
			others = append(others, one)
		}
	}
	if len(others) > 1 {
		parts = append(parts, widgets.Row(0, p.button(widgets.Quiet, widgets.Act{Label: text.Count("photos.day-for-all", len(others)), Icon: "tick", Do: func() {
			day, err := p.typedDay()
			if err != nil {
				p.dayStands()
				return
			}
			for _, one := range others {
				p.days[one.ID] = day
			}
			p.parted()
		}}), widgets.Fill()))
	}
	return widgets.Col(look.S4, parts...)
}

// parted shows the series anew after a day was said, and gives the keys back.
func (p *Page) parted() {
	p.sorted.part(p.own, p.said)
	p.build()
	p.window.Focus(p.list)
}

func (p *Page) typedDay() (model.Day, error) {
	return p.window.Text().ParseDay(p.day.Text(), p.window.Now().Day())
}

// dayStands tells whether what stands in the field of the day is one, and says at
// the field what it is not.
func (p *Page) dayStands() bool {
	if p.day == nil {
		return true
	}
	_, err := p.typedDay()
	var r *model.Refusal
	if errors.As(err, &r) {
		p.day.Refuse(p.window.Text().Why(r))
		p.window.Focus(p.day.Focusable())
	}
	return err == nil
}
