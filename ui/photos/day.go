package photos

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/photo"
	"coilward/ui/look"
	"coilward/ui/place"
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
	refuseDay(p.window, p.day, err)
	return err == nil
}

// unsure is the question whether shots were taken when their files were written; nil:
// there is no such question.
func unsure(w place.Window, shots []care.Shot) *model.Refusal {
	err := w.Collection().View(func(v model.View) error {
		_, err := addPhotos(w, shots, nil).Plan(v)
		return err
	})
	var r *model.Refusal
	if errors.As(err, &r) && (r.Reason == care.FileDay || r.Reason == care.FileDays) {
		return r
	}
	return nil
}

// askDay asks whether the days of the files are right, with a field for the right one,
// so that nobody has to go back for it.
func (p *Page) askDay(asks *model.Refusal, shots []care.Shot) {
	w, text := p.window, p.window.Text()
	proposed := ""
	if asks.Reason == care.FileDay {
		proposed = text.DayShort(shots[slices.IndexFunc(shots, func(s care.Shot) bool { return s.Dated == care.ByFile })].At.Day())
	}
	field := widgets.NewField(proposed, widgets.FieldOptions{Label: p.say("photos.taken-on"), Hint: p.say("photos.days-of-files")})
	field.OnTyped = func(string) { field.Accept() }
	shown := w.Now()
	steady := func() bool { return w.Now().UTC > shown.UTC }
	var leave func()
	keep := func() {
		dated, confirmed := shots, model.Confirmed{asks.Reason}
		if typed := field.Text(); strings.TrimSpace(typed) != proposed {
			day, err := text.ParseDay(typed, w.Now().Day())
			if err != nil {
				refuseDay(w, field, err)
				return
			}
			dated, confirmed = onDay(shots, model.MomentOn(w.Now(), day, model.Noon, model.ToDay)), nil
		}
		w.Do(func(a place.Answer) model.Command {
			return addPhotos(w, dated, append(slices.Clone(a.Confirmed), confirmed...))
		}, func(err error) {
			if err == nil {
				leave()
				return
			}
			refuseDay(w, field, err)
		})
	}
	field.OnEnter = func() {
		if steady() {
			keep()
		}
	}
	leave = w.ShowSheet(widgets.Sheet{Title: p.say("window.ask.title"), Content: widgets.Col(look.S16, widgets.Para(text.Why(asks), look.Body, look.Ink), field.Container),
		Acts: []widgets.Act{{Label: p.say("particulars.keep"), Key: "Enter", Do: keep}}, Cancel: p.say("window.ask.no"), First: field.Focusable(), Steady: steady})
}

// refuseDay says at a field why its day is none, or why nothing was noted.
func refuseDay(w place.Window, field *widgets.Field, err error) {
	var r *model.Refusal
	if errors.As(err, &r) {
		field.Refuse(w.Text().Why(r))
		w.Focus(field.Focusable())
	}
}

// onDay are shots, those of which only the file says a day on one that the keeper said.
func onDay(shots []care.Shot, at model.Moment) []care.Shot {
	all := slices.Clone(shots)
	for i := range all {
		if all[i].Dated == care.ByFile {
			all[i].At, all[i].Dated = at, care.ByKeeper
		}
	}
	return all
}
