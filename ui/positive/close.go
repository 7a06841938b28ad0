package positive

import (
	"errors"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/contact"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

func refusal(err error) (r *model.Refusal, is bool) { return r, errors.As(err, &r) }

// close asks why a positive is closed, and names what of its list was not done.
func (p *Page) close(t positives.Trace) {
	if !t.Open() || p.window.ReadOnly() {
		return
	}
	w := p.words()
	var why contact.Why // nobody's word is put in before somebody says it
	if !t.Stands {
		why = contact.Corrected
	}
	note := widgets.NewField("", widgets.FieldOptions{Label: p.say("field.note"), Rows: 2, Hint: p.say("positive.page.close-hint")})
	note.OnTyped = func(string) { note.Accept() }
	rows, problem := widgets.Stack(), widgets.Stack()
	var show func()
	show = func() {
		col := widgets.Col(look.S4)
		for _, one := range contact.Whys() {
			words := particulars.Capital(w.Say("positive.why." + string(one)))
			col.Add(widgets.Tile(words, widgets.Pad(widgets.Para(words, look.Body, look.Ink), look.S8, look.S12), one == why, func() { why = one; show() }))
		}
		rows.Objects = []fyne.CanvasObject{col}
		rows.Refresh()
	}
	show()
	var owed []knowledge.PositiveActID
	for _, s := range t.Acts {
		owed = append(owed, s.ID)
	}
	parts := []fyne.CanvasObject{problem, rows}
	if n := len(contact.Unmet(t.Acts)); n > 0 {
		parts = append(parts, widgets.Caution(w.Count("positive.page.close-unmet", n)))
	}
	parts = append(parts, note.Container, widgets.Para(p.say("positive.page.close-says"), look.Note, look.Soft))
	var leave func()
	keep := func() {
		if why == "" {
			problem.Objects = []fyne.CanvasObject{widgets.Caution(p.say("positive.page.close-why"))}
			problem.Refresh()
			return
		}
		p.window.Do(func(place.Answer) model.Command {
			return contact.Close{ID: t.ID, Base: t.Revision, Why: why, Note: note.Text(), Owed: owed, At: p.window.Now(), By: p.window.By()}
		}, func(err error) {
			r, is := refusal(err)
			switch {
			case err == nil:
				leave()
			case is && r.Field == "note":
				note.Refuse(w.Why(r))
				p.window.Focus(note.Focusable())
			case is:
				problem.Objects = []fyne.CanvasObject{widgets.Caution(w.Refusal(r))}
				problem.Refresh()
			}
		})
	}
	leave = p.window.ShowSheet(widgets.Sheet{Title: p.say("positive.page.close-title", gaps{"Animals": t.Names()}), Content: widgets.Col(look.S16, parts...),
		Acts: []widgets.Act{{Label: p.say("positive.page.close"), Icon: "tick", Do: keep}}, Cancel: p.say("window.cancel"), First: note.Focusable()})
}
