package animal

import (
	"context"
	"errors"
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model/due"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
)

// readOwed reads what the list of what is due says of the animal, and shows it.
func (p *Page) readOwed() {
	book, c := p.window.Due(), p.window.Collection()
	if book.Near(p.today) {
		list, err := book.Bring(context.Background(), c, nil)
		p.showOwed(list, err)
		return
	}
	id := p.id
	var list due.List
	p.window.Task(p.say("due.page.reading"), func(ctx context.Context, progress func(float64)) (err error) {
		list, err = book.Bring(ctx, c, progress)
		return err
	}, func(err error) {
		if id == p.id && !errors.Is(err, context.Canceled) {
			p.showOwed(list, err)
		}
	})
}

// showOwed shows the jobs that are late or of today. What the findings ask for
// stands beside them by the animal's own standing.
func (p *Page) showOwed(list due.List, err error) {
	if err != nil {
		p.window.Fault("due.page.fault", err)
		return
	}
	before, all := len(p.owes)+len(p.answered), list.BySubject()[p.id.Subject()]
	p.vet.want(due.ToSeeVet(all))
	p.answered = slices.DeleteFunc(slices.Clone(all), func(i due.Item) bool { return i.Job != due.SeeVet || i.State != due.Answered })
	p.owes = slices.DeleteFunc(all, func(i due.Item) bool {
		return len(i.For) > 0 || i.State > due.Today
	})
	if before > 0 || len(p.owes) > 0 || len(p.answered) > 0 {
		p.head.Objects = []fyne.CanvasObject{p.buildHead()}
		p.buildSide()
		p.root.Refresh()
	}
}

// answerTo tells what was answered; empty: nothing.
func (p *Page) answerTo(s history.Standing, o history.Owed) string {
	i, answered := due.AnswerTo(p.answered, p.id, s, o)
	if !answered {
		return ""
	}
	t := p.window.Text()
	return p.say("animal.due.answered", map[string]any{"Answer": p.say("due.answer." + string(i.Answer.What)), "Day": t.DayShort(i.Answer.At.Day()), "Why": i.Answer.Why, "Again": t.DayShort(i.Answer.Until)})
}

// markDue shows the first of what the findings ask for that was not answered; where all of it
// was, when the first asks again.
func (p *Page) markDue(s history.Standing, all []history.Owed) fyne.CanvasObject {
	t, o := p.window.Text(), all[0]
	if at := slices.IndexFunc(all, func(o history.Owed) bool { _, answered := due.AnswerTo(p.answered, p.id, s, o); return !answered }); at >= 0 {
		o = all[at]
	}
	if i, answered := due.AnswerTo(p.answered, p.id, s, o); answered {
		return widgets.Mark("calendar", p.say("animal.due.vet-again", map[string]any{"Answer": p.say("due.answer." + string(i.Answer.What)), "Day": t.DayShort(i.Answer.Until)}), look.Soft, look.Well)
	}
	key := "animal.due.look"
	if o.Kind == exam.SeeVet {
		key = "animal.due.vet"
	}
	return widgets.Step(urgencyOf(o.Level), p.say(key, map[string]any{"By": t.By(o.Day(p.today), p.today)}))
}

// leads is a card of what is due that leads to where it is done, as the list of what is due
// does.
func (p *Page) leads(name string, content fyne.CanvasObject, i due.Item) fyne.CanvasObject {
	row := widgets.RowTop(look.S8, widgets.Grow(content), widgets.NewIcon("right", 16, look.Soft))
	return widgets.Card(0, widgets.RowPress(name, widgets.Pad(row, look.S12), func() { p.window.Go(particulars.Way(i)) }))
}

// owedJob is one job that is due: what, by when, and why.
func (p *Page) owedJob(i due.Item) fyne.CanvasObject {
	t := p.window.Text()
	tone := look.Ink
	if i.Day(p.today) < p.today {
		tone = look.Days
	}
	lines := widgets.Col(0, widgets.Para(p.say("due.job."+string(i.Job)), look.BodyBold, look.Ink))
	for _, r := range i.Reasons {
		lines.Add(widgets.Para(t.Label(r), look.Note, look.Soft))
	}
	if i.Caution != "" {
		lines.Add(widgets.Para(p.say(i.Caution), look.NoteBold, look.Ink))
	}
	lines.Add(widgets.Para(t.By(i.Day(p.today), p.today), look.Note, tone))
	sign := fyne.CanvasObject(widgets.NewIcon("calendar", 16, look.Soft))
	if u := urgencyOf(i.Level); i.Level >= knowledge.VetWithinDays {
		sign = widgets.NewSign(u.Sign(), 16, u.Tone(), look.Sheet)
	}
	return widgets.RowTop(look.S8, widgets.Pad(sign, 2, 0, 0, 0), widgets.Grow(lines))
}
