package animal

import (
	"errors"
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/due"
	"coilward/model/medicine"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// kindVisit is what the days call a visit to a vet that was held.
const kindVisit = "visit"

// visits are what was noted of an animal's visits to a vet, and what is asked.
type visits struct {
	planned   []medicine.StoredVisit // the next one first
	held      []medicine.StoredVisit // the newest first
	questions []medicine.StoredQuestion
}

// read reads the visits and questions of an animal. What cannot be read is the error, with
// the rest.
func (s *visits) read(v model.View, animal model.AnimalID) error {
	s.planned, s.held = nil, nil
	all, err := medicine.VisitsOf(v, animal)
	for _, one := range all {
		if one.Held != nil {
			s.held = append(s.held, one)
		} else {
			s.planned = append([]medicine.StoredVisit{one}, s.planned...)
		}
	}
	var unread error
	s.questions, unread = medicine.QuestionsOf(v, animal)
	slices.Reverse(s.questions)
	return errors.Join(err, unread)
}

// open are the questions that wait for their answer, in the order in which they were asked.
func (s *visits) open() (all []medicine.StoredQuestion) {
	for _, q := range s.questions {
		if q.Open() {
			all = append(all, q)
		}
	}
	return all
}

// visitParts are the questions, what is planned, and what was held.
func (v *vetView) visitParts() []fyne.CanvasObject {
	parts := []fyne.CanvasObject{widgets.Group(v.say("visit.questions"), "", v.questionParts()...)}
	if len(v.visits.planned) > 0 {
		var planned []fyne.CanvasObject
		for _, s := range v.visits.planned {
			planned = append(planned, v.card(s.ID.ID, v.plannedVisit(s)))
		}
		parts = append(parts, widgets.Group(v.say("visit.planned"), "", planned...))
	}
	return parts
}

// heldParts are the visits that were held and what else is closed, below what is open.
func (v *vetView) heldParts() []fyne.CanvasObject {
	var held, closed []fyne.CanvasObject
	for _, s := range v.visits.held {
		held = append(held, v.card(s.ID.ID, v.heldVisit(s)))
	}
	for _, q := range v.visits.questions {
		if !q.Open() && !v.stands(q) {
			closed = append(closed, v.card(q.ID.ID, v.closedQuestion(q)))
		}
	}
	var parts []fyne.CanvasObject
	if len(held) > 0 {
		parts = append(parts, widgets.Group(v.say("visit.held"), "", held...))
	}
	if len(closed) > 0 {
		parts = append(parts, widgets.Group(v.say("visit.closed"), "", closed...))
	}
	return parts
}

// stands reports whether the answer of a question stands at a visit that is shown.
func (v *vetView) stands(q medicine.StoredQuestion) bool {
	return q.Answer != nil && slices.ContainsFunc(v.visits.held, func(s medicine.StoredVisit) bool { return s.ID == q.Answer.Visit })
}

// questionParts are the line that takes a question, and below it those that are open.
func (v *vetView) questionParts() []fyne.CanvasObject {
	var parts []fyne.CanvasObject
	if !v.page.window.ReadOnly() {
		parts = append(parts, widgets.RowTop(look.S8, widgets.Grow(v.questionLine().Container), widgets.Fix(0, 36, v.button(widgets.Plain, "visit.act.ask", "plus", v.ask))))
	}
	open := v.visits.open()
	for _, q := range open {
		parts = append(parts, v.card(q.ID.ID, v.openQuestion(q)))
	}
	switch {
	case len(open) == 0:
		parts = append(parts, widgets.Para(v.say("visit.no-questions"), look.Body, look.Soft))
	case len(v.visits.planned) == 0:
		parts = append(parts, widgets.Para(v.say("visit.no-visit"), look.Body, look.Soft))
	}
	return parts
}

// questionLine is the line that takes a question.
func (v *vetView) questionLine() *widgets.Field {
	if v.line == nil {
		field := widgets.NewField("", widgets.FieldOptions{Hint: v.say("visit.ask-hint")})
		field.OnTyped = func(string) { field.Accept() }
		field.OnEnter = v.ask
		v.line = field
	}
	return v.line
}

// ask notes what stands in the line for a question.
func (v *vetView) ask() {
	w, field := v.page.window, v.questionLine()
	w.Do(func(place.Answer) model.Command {
		return medicine.AskQuestion{Animal: v.page.id, At: w.Now(), By: w.By(), Words: field.Text()}
	}, func(err error) {
		var r *model.Refusal
		switch {
		case errors.As(err, &r):
			field.Refuse(w.Text().Why(r))
			w.Focus(field.Focusable())
		case err == nil:
			field.SetText("")
			v.page.load()
		}
	})
}

func (v *vetView) openQuestion(q medicine.StoredQuestion) fyne.CanvasObject {
	acts := widgets.Wrap(look.S8)
	for _, act := range []struct {
		rank      widgets.Rank
		key, icon string
		do        func()
	}{{widgets.Plain, "visit.act.answer", "vet", func() { v.answerQuestion(q) }}, {widgets.Plain, "medicine.act.change", "note", func() { v.changeQuestion(q) }}, {widgets.Quiet, "visit.act.withdraw", "close", func() { v.withdraw(q) }}} {
		acts.Add(widgets.Fix(0, 32, v.button(act.rank, act.key, act.icon, act.do)))
	}
	return widgets.Col(look.S8, widgets.Para(q.Words, look.BodyBold, look.Ink), widgets.Para(v.asked(q), look.Note, look.Soft), acts)
}

// asked is when a question was noted, and who did it.
func (v *vetView) asked(q medicine.StoredQuestion) string {
	t := v.page.window.Text()
	return joined(t.Say("visit.asked", wording.Gaps{"Day": t.DayShort(q.Asked.Day())}), v.page.life.By(t, q.By))
}

// closedQuestion is a question that was closed, with what closed it.
func (v *vetView) closedQuestion(q medicine.StoredQuestion) fyne.CanvasObject {
	t := v.page.window.Text()
	parts := []fyne.CanvasObject{widgets.Para(q.Words, look.BodyBold, look.Ink)}
	if q.Answer != nil {
		parts = append(parts, widgets.Para(t.Say("medicine.vet-said", map[string]any{"Day": t.DayShort(q.Answer.At.Day()), "Said": q.Answer.Said}), look.Body, look.Ink))
	} else {
		parts = append(parts, widgets.Para(joined(t.Say("visit.withdrawn", wording.Gaps{"Day": t.DayShort(q.Withdrawn.At.Day())}), q.Withdrawn.Why), look.Body, look.Soft))
	}
	acts := widgets.Wrap(look.S8)
	if q.Answer != nil {
		acts.Add(widgets.Fix(0, 32, v.button(widgets.Plain, "medicine.act.change", "note", func() { v.changeQuestion(q) })))
	}
	acts.Add(widgets.Fix(0, 32, v.button(widgets.Quiet, "visit.act.reopen", "undo", func() { v.done(medicine.ReopenQuestion{ID: q.ID, Base: q.Revision}) })))
	return widgets.Col(look.S8, append(parts, acts)...)
}

// whose is at whom a visit is.
func (v *vetView) whose(s medicine.StoredVisit) string {
	return joined(v.page.life.By(v.page.window.Text(), s.Vet), s.Practice)
}

func (v *vetView) plannedVisit(s medicine.StoredVisit) fyne.CanvasObject {
	t := v.page.window.Text()
	parts := []fyne.CanvasObject{widgets.Para(t.Moment(s.At), look.Section, look.Ink), widgets.Para(joined(v.whose(s), s.Reason), look.Body, look.Ink)}
	if s.At.Day() < v.page.today {
		parts = append(parts, widgets.Caution(v.say("visit.was-it-held")))
	}
	if n := len(v.visits.open()); n > 0 {
		parts = append(parts, widgets.Para(t.Count("visit.open", n), look.Body, look.Ink))
	}
	acts := widgets.Wrap(look.S8)
	if s.At.Day() <= v.page.today {
		acts.Add(widgets.Fix(0, 36, v.button(widgets.Primary, "visit.act.held", "tick", func() { v.holdVisit(s) })))
	} else {
		acts.Add(widgets.Fix(0, 36, v.button(widgets.Plain, "visit.act.held-early", "tick", func() { v.holdVisit(s) })))
	}
	acts.Add(widgets.Fix(0, 36, v.button(widgets.Plain, "visit.act.move", "calendar", func() { v.planVisit("visit.change-title", s) })))
	acts.Add(widgets.Fix(0, 36, v.button(widgets.Quiet, "medicine.act.remove", "bin", func() { v.done(due.RemoveVisit{RemoveVisit: medicine.RemoveVisit{ID: s.ID}}) })))
	return widgets.Col(look.S8, append(parts, acts)...)
}

// heldVisit is what was said at a visit, what was answered, and what was prescribed.
func (v *vetView) heldVisit(s medicine.StoredVisit) fyne.CanvasObject {
	t := v.page.window.Text()
	parts := []fyne.CanvasObject{widgets.Para(t.Moment(s.At), look.Section, look.Ink), widgets.Para(joined(v.whose(s), s.Reason), look.Body, look.Ink)}
	if s.Held.Said != "" {
		parts = append(parts, widgets.Para(v.say("visit.as-said"), look.NoteBold, look.Soft), widgets.Para(s.Held.Said, look.Body, look.Ink))
	}
	for _, q := range v.visits.questions {
		if q.Answer != nil && q.Answer.Visit == s.ID {
			parts = append(parts, widgets.HLine(), v.closedQuestion(q))
		}
	}
	for _, c := range v.courses {
		if c.Visit == s.ID {
			parts = append(parts, widgets.Para(t.Say("medicine.day.prescribed", wording.Gaps{"Medicine": c.Medicine}), look.Body, look.Ink))
		}
	}
	if len(s.Held.Photos) > 0 {
		parts = append(parts, particulars.ReportStrip(v.page.window, v.page.thumbs, s.Held.Photos, nil))
	}
	parts = append(parts, widgets.Para(joined(t.Say("visit.noted", wording.Gaps{"Day": t.DayShort(s.Held.Noted.Day())}), v.page.life.By(t, s.Held.By)), look.Note, look.Soft))
	acts := widgets.Wrap(look.S8, widgets.Fix(0, 32, v.button(widgets.Plain, "visit.act.prescribe", "dose", func() { v.prescribeAt(s) })),
		widgets.Fix(0, 32, v.button(widgets.Plain, "medicine.act.change", "note", func() { v.holdVisit(s) })),
		widgets.Fix(0, 32, v.button(widgets.Quiet, "medicine.act.remove", "bin", func() { v.done(due.RemoveVisit{RemoveVisit: medicine.RemoveVisit{ID: s.ID}}) })))
	return widgets.Col(look.S8, append(parts, acts)...)
}

// done does what asks nothing.
func (v *vetView) done(c model.Command) {
	v.page.window.Do(func(place.Answer) model.Command { return c }, func(err error) {
		if err == nil {
			v.page.load()
		}
	})
}

// addVisit puts a visit that was held on its day; a planned one is no day of the past.
func (l *Life) addVisit(d model.Document) {
	s, err := medicine.ReadVisit(d)
	switch {
	case err != nil:
		l.unread++
	case s.Held == nil:
		return
	}
	d.Kind = kindVisit
	l.Days.Entries = append(l.Days.Entries, d)
}

// tellVisit says at whom a visit was, and what was said.
func (l *Life) tellVisit(t *wording.Text, d model.Document) (told, error) {
	s, err := medicine.ReadVisit(d)
	if err != nil {
		return told{}, err
	}
	line := told{title: joined(t.Say("kind.visit"), l.By(t, s.Vet), s.Practice), detail: s.Reason}
	if s.Held != nil {
		line.detail, line.photo = joined(s.Reason, firstLine(s.Held.Said)), first(s.Held.Photos)
	}
	return line, nil
}

// want takes over for what a vet is to see the animal.
func (v *vetView) want(wanted []due.Item) {
	same := slices.EqualFunc(v.wanted, wanted, func(a, b due.Item) bool { return a.Key == b.Key && a.By == b.By })
	v.wanted = wanted
	if !same && v.page.open == PageVet {
		v.page.build()
	}
}

// wantedBy is the day by which a vet is to see the animal; false: on none.
func (v *vetView) wantedBy() (by model.Day, wanted bool) {
	for _, i := range v.wanted {
		if day := i.Day(v.page.today); !wanted || day < by {
			by, wanted = day, true
		}
	}
	return by, wanted
}

// wantedFor is why a vet is to see the animal.
func (v *vetView) wantedFor(i due.Item) string {
	var all []string
	for _, what := range i.For {
		all = append(all, v.say("finding."+string(what)))
	}
	if len(all) == 0 {
		for _, r := range i.Reasons {
			all = append(all, v.page.window.Text().Label(r))
		}
	}
	return joined(all...)
}

// wantedParts are for what and by when a vet is to see the animal, and what answers that.
func (v *vetView) wantedParts() []fyne.CanvasObject {
	if len(v.wanted) == 0 {
		return nil
	}
	t := v.page.window.Text()
	lines := widgets.Col(look.S4)
	for _, i := range v.wanted {
		lines.Add(widgets.Para(t.Say("animal.due.vet", map[string]any{"By": t.By(i.Day(v.page.today), v.page.today)})+" · "+v.wantedFor(i), look.BodyBold, look.Ink))
	}
	lines.Add(widgets.Para(v.say("visit.wanted-how"), look.Note, look.Soft))
	if by, _ := v.wantedBy(); medicine.AllAfter(by, v.visits.planned) {
		lines.Add(widgets.Caution(v.say("visit.after-by", map[string]any{"Day": t.DayShort(by)})))
	}
	return []fyne.CanvasObject{widgets.Card(look.S12, lines)}
}
