package animal

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// wordSheet asks for a few words before an act: what a vet said, since when a
// finding is the animal's own, from when to when it lived somewhere.
type wordSheet struct {
	page    *Page
	fields  map[string]*widgets.Field
	problem *fyne.Container
	leave   func()
}

func newWordSheet(p *Page) *wordSheet {
	s := &wordSheet{page: p, fields: map[string]*widgets.Field{}, problem: widgets.Stack()}
	s.problem.Hide()
	return s
}

func (s *wordSheet) field(name, value, label string, rows int) *fyne.Container {
	f := widgets.NewField(value, widgets.FieldOptions{Label: label, Rows: rows})
	f.OnTyped = func(string) { f.Accept() }
	s.fields[name] = f
	return f.Container
}

// making makes the act of what stands in a sheet, with the answers to what was
// asked about it.
type making func(place.Answer) (model.Command, error)

// show opens the sheet; do makes its act.
func (s *wordSheet) show(title, how, keep string, first string, do making, fields ...fyne.CanvasObject) {
	parts := append([]fyne.CanvasObject{widgets.Para(how, look.Body, look.Soft), s.problem}, fields...)
	s.leave = s.page.window.ShowSheet(widgets.Sheet{Title: title, Content: widgets.Col(look.S16, parts...), Cancel: s.page.say("particulars.close"),
		First: s.fields[first].Focusable(), Acts: []widgets.Act{{Label: keep, Do: func() { s.keep(do) }}}})
}

func (s *wordSheet) keep(do making) {
	if _, err := do(place.Answer{}); err != nil {
		s.refuse(err)
		return
	}
	s.page.window.Do(func(a place.Answer) model.Command {
		command, _ := do(a) // it could be made above
		return command
	}, func(err error) {
		if err != nil {
			s.refuse(err)
			return
		}
		s.leave()
		s.page.load()
	})
}

// refuse says at its field what cannot stand.
func (s *wordSheet) refuse(err error) {
	var r *model.Refusal
	if !errors.As(err, &r) {
		return // shown by the window
	}
	if field, there := s.fields[r.Field]; there {
		field.Refuse(s.page.window.Text().Why(r))
		s.page.window.Focus(field.Focusable())
		return
	}
	s.problem.Objects = []fyne.CanvasObject{widgets.Caution(s.page.window.Text().Refusal(r))}
	s.problem.Show()
	s.problem.Refresh()
}

// closeByVet asks on which day a vet closed a problem, and what the vet said.
func (p *Page) closeByVet(problem exam.StoredProblem) {
	s := newWordSheet(p)
	day := s.field("day", p.window.Text().DayShort(p.today), p.say("field.day"), 1)
	said := s.field("note", "", p.say("stands.close.said"), 3)
	s.show(p.say("stands.close.title"), p.say("stands.close.how", map[string]any{"Finding": p.say("finding." + string(problem.What))}), p.say("stands.close.keep"), "note",
		func(place.Answer) (model.Command, error) {
			on, err := p.window.Text().ParseDay(s.fields["day"].Text(), p.today)
			if err != nil {
				return nil, particulars.At("day", err)
			}
			return exam.Close{Problem: problem.ID, At: p.closing(on, problem.Last().At), Note: strings.TrimSpace(s.fields["note"].Text())}, nil
		}, day, said)
}

// closing is the moment of a vet's word on a day: now on the very day, else its
// noon, but not before a look of that same day.
func (p *Page) closing(on model.Day, last model.Moment) model.Moment {
	now := p.window.Now()
	if on == now.Day() {
		return now
	}
	at := model.MomentOn(now, on, model.Noon, model.ToDay)
	if at.Before(last) && last.Day() == on {
		at.UTC = last.UTC
	}
	return at
}

// callOwn asks since when a problem is this animal's own.
func (p *Page) callOwn(problem exam.StoredProblem) {
	s := newWordSheet(p)
	word := s.field("note", problem.Word, p.say("stands.own.word"), 2)
	s.show(p.say("stands.own"), p.say("stands.own.how", map[string]any{"Finding": p.say("finding." + string(problem.What))}), p.say("stands.own.keep"), "note",
		func(place.Answer) (model.Command, error) {
			return exam.SetBaseline{Tables: p.window.Tables(), Problem: problem.ID, Baseline: true, Word: strings.TrimSpace(s.fields["note"].Text())}, nil
		}, word)
}

// notOwn takes back that a problem is the animal's own.
func (p *Page) notOwn(problem exam.StoredProblem) {
	p.window.Do(func(place.Answer) model.Command {
		return exam.SetBaseline{Tables: p.window.Tables(), Problem: problem.ID, Word: problem.Word}
	}, func(err error) {
		if err == nil {
			p.load()
		}
	})
}

// wordActs are the acts on a problem that somebody's word decides.
func (p *Page) wordActs(problem exam.StoredProblem) fyne.CanvasObject {
	row := widgets.Wrap(look.S8)
	add := func(key, icon string, do func()) {
		b := widgets.Button(widgets.Plain, widgets.Act{Label: p.say(key), Icon: icon, Do: do})
		if p.window.ReadOnly() {
			b.Disable()
		}
		row.Add(widgets.Fix(0, 32, b))
	}
	if problem.Last().Standing != exam.Closed {
		add("stands.close", "check", func() { p.closeByVet(problem) })
	}
	switch finding, known := p.window.Tables().Finding(problem.What); {
	case !problem.Open():
	case problem.Baseline:
		add("stands.own.off", "note", func() { p.notOwn(problem) })
	case known && finding.Baseline && problem.Last().Grade <= exam.Slight && !problem.Worsened():
		add("stands.own", "note", func() { p.callOwn(problem) })
	}
	return row
}

// cautionOf is the caution of a stop as a panel.
func (f *entryForm) cautionOf(stop knowledge.StopID) fyne.CanvasObject {
	return widgets.Caution(f.say("stop." + string(stop) + ".caution"))
}
