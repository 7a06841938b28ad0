package due

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// ask lays an item over the page: all that is said of it, and what can be
// answered.
func (p *Page) ask(i due.Item) {
	p.at = i.Key
	w := p.words()
	when, tone := w.when(i)
	parts := widgets.Col(look.S12, widgets.Row(look.S8, widgets.NewIcon(Icon(i.Job), 20, look.Soft), widgets.Grow(widgets.Line(when, look.BodyBold, tone))))
	if i.Level > knowledge.Nothing {
		parts.Add(widgets.Row(0, widgets.Step(particulars.Urgency(i.Level), p.say("urgency."+i.Level.String()))))
	}
	for _, reason := range w.reasons(i) {
		parts.Add(widgets.Para(reason, look.Body, look.Ink))
	}
	if i.Caution != "" {
		parts.Add(widgets.Caution(p.say(i.Caution)))
	}
	var leave func()
	then := func(do func()) func() {
		return func() {
			leave()
			do()
		}
	}
	answers := widgets.Wrap(look.S8)
	add := func(label string, do func()) {
		b := widgets.Button(widgets.Plain, widgets.Act{Label: label, Do: then(do)})
		if p.window.ReadOnly() {
			b.Disable()
		}
		answers.Add(b)
	}
	for _, what := range due.Answers(i.Obligation) {
		add(p.say("due.answer."+string(what)), func() { p.respond(i, what) })
	}
	if said := w.answered(i); said != "" {
		parts.Add(widgets.Para(said, look.Body, look.Soft))
		add(p.say("due.page.withdraw"), func() { p.withdraw(i) })
	}
	parts.Add(answers)
	leave = p.window.ShowSheet(widgets.Sheet{Title: i.Of.Name + ": " + w.job(i), Content: parts, Width: 520, Cancel: p.say("particulars.close"),
		Acts: []widgets.Act{{Label: p.say("due.act." + string(i.Act)), Do: func() { then(func() { p.window.Go(particulars.Way(i)) })() }}}, OnLeave: p.focus})
}

// unanswerable says why something cannot be answered so.
func (p *Page) unanswerable(i due.Item, what due.What) {
	err := p.window.Collection().View(func(v model.View) error {
		_, err := due.Respond{Tables: p.window.Tables(), Key: i.Key, What: what}.Plan(v)
		return err
	})
	if r := (*model.Refusal)(nil); errors.As(err, &r) {
		p.window.Tell(p.say("due.answer."+string(what)), p.window.Text().Refusal(r))
	}
}

// respond asks for what an answer needs, and gives it.
func (p *Page) respond(i due.Item, what due.What) {
	p.at = i.Key
	t := p.window.Text()
	if !slices.Contains(due.Answers(i.Obligation), what) {
		p.unanswerable(i, what)
		return
	}
	fields := map[string]*widgets.Field{}
	var keep func()
	field := func(name, value string) *widgets.Field {
		f := widgets.NewField(value, widgets.FieldOptions{Label: p.say("field." + name)})
		f.OnEnter = func() { keep() }
		f.OnTyped = func(string) { f.Accept() }
		fields[name] = f
		return f
	}
	problem := widgets.Stack()
	problem.Hide()
	parts := widgets.Col(look.S16, widgets.Para(p.how(i, what), look.Body, look.Soft), problem)
	first := ""
	if what == due.PutOff {
		parts.Add(field("until", t.DayShort(due.Respond{Tables: p.window.Tables()}.Offered(i.Obligation, p.list.Day))).Container)
		first = "until"
	}
	parts.Add(field("why", "").Container)
	if first == "" {
		first = "why"
	}
	var leave func()
	refuse := func(err error) {
		var r *model.Refusal
		if !errors.As(err, &r) {
			return // shown by the window
		}
		if f, there := fields[r.Field]; there {
			f.Refuse(t.Why(r))
			p.window.Focus(f.Focusable())
			return
		}
		problem.Objects = []fyne.CanvasObject{widgets.Caution(t.Refusal(r))}
		problem.Show()
		problem.Refresh()
	}
	keep = func() {
		c := due.Respond{Tables: p.window.Tables(), Key: i.Key, What: what, Why: strings.TrimSpace(fields["why"].Text()), By: p.window.By()}
		if what == due.PutOff {
			until, err := t.ParseDayAhead(fields["until"].Text(), p.list.Day)
			if err != nil {
				refuse(particulars.At("until", err))
				return
			}
			c.Until = until
		}
		p.window.Do(func(place.Answer) model.Command { return c }, func(err error) {
			if err != nil {
				refuse(err)
				return
			}
			leave()
			p.load(true)
		})
	}
	leave = p.window.ShowSheet(widgets.Sheet{Title: p.say("due.answer."+string(what)) + " · " + i.Of.Name + ", " + p.words().job(i), Content: parts, Width: 520,
		Cancel: p.say("particulars.cancel"), First: fields[first].Focusable(), Acts: []widgets.Act{{Label: p.say("due.page.keep"), Do: keep}}, OnLeave: p.focus})
}

// how is what an answer to an item does.
func (p *Page) how(i due.Item, what due.What) string {
	switch {
	case i.Level >= knowledge.EmergencyToday:
		return p.say("due.page.how-emergency")
	case i.Level >= knowledge.VetWithinDays:
		return p.say("due.page.how-vet", map[string]any{"Days": p.window.Tables().Value(knowledge.ValueAnswerVet), "Most": p.window.Tables().Value(knowledge.ValueVetWithin)})
	case i.Level > knowledge.Nothing:
		return p.say("due.page.how-look", map[string]any{"Days": p.window.Tables().Value(knowledge.ValueAnswerLook)})
	case what == due.PutOff:
		return p.say("due.page.how-later")
	case i.Every > 0:
		return p.say("due.page.how-every", map[string]any{"Days": i.Every})
	}
	return p.say("due.page.how-once")
}

// withdraw takes an answer back.
func (p *Page) withdraw(i due.Item) {
	p.window.Do(func(place.Answer) model.Command { return due.Withdraw{Answer: i.Answer.ID} }, func(err error) {
		if err == nil {
			p.load(true)
		}
	})
}
