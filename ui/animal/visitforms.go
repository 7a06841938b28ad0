package animal

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// atVet picks a vet of the people; none is a choice where the practice can be written.
func (v *vetView) atVet(chosen model.PersonID) *particulars.Pick {
	var ids []string
	var vets []widgets.Choice
	for _, p := range v.vets {
		ids, vets = append(ids, p.ID.String()), append(vets, widgets.Choice{Label: p.Name})
	}
	value := ""
	switch {
	case !chosen.IsZero():
		value = chosen.String()
	case len(ids) == 1:
		value = ids[0]
	}
	return particulars.NewPick(v.page.window, v.say("field.vet"), v.say("visit.no-vet"), ids, vets, value)
}

// visiting is the form of a visit, planned or held.
type visiting struct {
	*particulars.SideForm
	view *vetView
	of   medicine.StoredVisit // before
	vet  *particulars.Pick
}

func (v *vetView) visiting(of medicine.StoredVisit) *visiting {
	f := &visiting{SideForm: particulars.NewSideForm(v.page.window), view: v, of: of, vet: v.atVet(of.Vet)}
	if !of.ID.IsZero() && of.Vet.IsZero() {
		f.vet.Set("")
	}
	f.Chosen = f.vet.Value
	return f
}

// hour is the clock of a moment, where it is known.
func (f *visiting) hour(at model.Moment) string {
	if at.IsZero() || at.Precision == model.ToDay {
		return ""
	}
	return f.view.page.window.Text().Time(at)
}

// fields are those that every visit has below its day.
func (f *visiting) fields(hour string) []fyne.CanvasObject {
	say := f.view.say
	return []fyne.CanvasObject{f.Field("time", hour, widgets.FieldOptions{Hint: say("visit.hint.time")}), f.Picks("vet", f.vet),
		f.Field("practice", f.of.Practice, widgets.FieldOptions{Hint: say("visit.hint.practice")}), f.Field("reason", f.of.Reason, widgets.FieldOptions{})}
}

// read is the visit as it stands in the form, and when it is. Of a day without a year it is
// the next one where the visit is planned, else the last.
func (f *visiting) read(planned bool) (s medicine.Visit, at model.Moment, err error) {
	w := f.view.page.window
	parse := w.Text().ParseDay
	if planned {
		parse = w.Text().ParseDayAhead
		if f.Text("day") == "" {
			return s, at, &model.Refusal{Field: "day", Reason: "visit.no-day", Answer: model.Mend}
		}
	}
	s = medicine.Visit{Practice: f.Text("practice"), Reason: f.Text("reason")}
	if id, err := model.ParseID(f.vet.Value()); err == nil {
		s.Vet = model.PersonID{ID: id}
	}
	day, err := parse(f.Text("day"), w.Now().Day())
	if err != nil {
		return s, at, particulars.At("day", err)
	}
	at = model.MomentOn(w.Now(), day, model.Noon, model.ToDay)
	if typed := f.Text("time"); typed != "" {
		minutes, err := w.Text().ParseTime(typed)
		if err != nil {
			return s, at, particulars.At("time", err)
		}
		at = model.MomentOn(w.Now(), day, minutes, model.ToMinute)
	}
	return s, at, nil
}

// why is what stands with what a visit of that moment answers.
func (f *visiting) why(at model.Moment) string {
	return f.view.say("visit.about-why", map[string]any{"Day": f.view.page.window.Text().DayShort(at.Day())})
}

// changed puts a visit right, and with it what it answered.
func (f *visiting) changed(c medicine.ChangeVisit) model.Command {
	return due.ChangeVisit{Tables: f.view.page.window.Tables(), ChangeVisit: c, Why: f.why(c.At)}
}

// planVisit asks when a visit is to be, or moves one.
func (v *vetView) planVisit(title string, of medicine.StoredVisit) {
	w := v.page.window
	f := v.visiting(of)
	day := ""
	if !of.ID.IsZero() {
		day = w.Text().DayShort(of.At.Day())
	}
	parts := append([]fyne.CanvasObject{f.Field("day", day, widgets.FieldOptions{Hint: v.say("visit.hint.day")})}, f.fields(f.hour(of.At))...)
	f.Command = func(a place.Answer) (model.Command, error) {
		s, at, err := f.read(true)
		if err != nil {
			return nil, err
		}
		if of.ID.IsZero() {
			return medicine.PlanVisit{Animal: v.page.id, At: at, By: w.By(), Confirmed: a.Confirmed, Visit: s}, nil
		}
		return f.changed(medicine.ChangeVisit{ID: of.ID, Base: of.Revision, At: at, Confirmed: a.Confirmed, Visit: s}), nil
	}
	f.Build(v.say(title), v.say("particulars.keep"), v.leave, parts...)
	v.show(of.ID.ID, f.SideForm)
}

// holding is the form of a visit that took place.
type holding struct {
	*visiting
	photos []model.PhotoID
	open   []medicine.StoredQuestion // that are asked in the form
	about  []due.Key                 // to see the vet, which the visit answers
}

// holdVisit asks what was said at a visit, and what was answered. One that was held is put
// right; its answers are, each on its own.
func (v *vetView) holdVisit(of medicine.StoredVisit) {
	f := &holding{visiting: v.visiting(of)}
	day, said, title := min(of.At.Day(), v.page.today), "", "visit.hold-title"
	if of.At.IsZero() {
		day = v.page.today
	}
	if of.Held != nil {
		said, f.photos, title = of.Held.Said, slices.Clone(of.Held.Photos), "visit.change-title"
	} else {
		f.open = v.visits.open()
	}
	parts := append([]fyne.CanvasObject{f.Day("day", "", day)}, f.fields(f.hour(of.At))...)
	parts = append(parts, f.Field("vet-said", said, widgets.FieldOptions{Rows: 4, Hint: v.say("visit.hint.said")}))
	for i, q := range f.open {
		if i == 0 {
			parts = append(parts, widgets.Para(v.say("visit.answers"), look.BodyBold, look.Ink))
		}
		parts = append(parts, widgets.Para(q.Words, look.Body, look.Ink), f.Field(named("answer", i), "", widgets.FieldOptions{Label: v.say("visit.answer"), Hint: v.say("visit.hint.answer"), Rows: 2}))
	}
	parts = append(parts, v.papers(f.SideForm, &f.photos))
	if of.Held == nil {
		parts = append(parts, f.abouts()...)
		parts = append(parts, f.Field("next-visit", "", widgets.FieldOptions{Hint: v.say("visit.hint.next")}))
	}
	f.Command = f.command
	f.Chosen = func() string { return fmt.Sprint(f.vet.Value(), f.about, f.photos) }
	f.At = func(r *model.Refusal) *widgets.Field {
		if place, of := r.Gaps["Step"]; of && r.Field == "answer" && int(place.Number) <= len(f.open) {
			return f.answered(int(place.Number))
		}
		return nil
	}
	f.Build(v.say(title), v.say("particulars.keep"), v.leave, parts...)
	v.show(of.ID.ID, f.SideForm)
}

// answered is the field of the answer that stands at a place among those that were typed.
func (f *holding) answered(place int) *widgets.Field {
	for i := range f.open {
		if f.Text(named("answer", i)) != "" {
			if place--; place == 0 {
				return f.Named(named("answer", i))
			}
		}
	}
	return nil
}

func (f *holding) command(a place.Answer) (model.Command, error) {
	w := f.view.page.window
	s, at, err := f.read(false)
	if err != nil {
		return nil, err
	}
	s.Held = &medicine.Held{Said: f.Text("vet-said"), Photos: f.photos}
	if f.of.Held != nil {
		return f.changed(medicine.ChangeVisit{ID: f.of.ID, Base: f.of.Revision, At: at, Confirmed: a.Confirmed, Visit: s}), nil
	}
	c := medicine.HoldVisit{ID: f.of.ID, Base: f.of.Revision, Animal: f.view.page.id, At: at, By: w.By(), Confirmed: a.Confirmed, Visit: s}
	for i, q := range f.open {
		if said := f.Text(named("answer", i)); said != "" {
			c.Answers = append(c.Answers, medicine.Answered{Question: q.ID, Base: q.Revision, Said: said})
		}
	}
	if typed := f.Text("next-visit"); typed != "" {
		day, err := w.Text().ParseDayAhead(typed, w.Now().Day())
		if err != nil {
			return nil, particulars.At("next-visit", err)
		}
		c.Next = model.MomentOn(w.Now(), day, model.Noon, model.ToDay)
	}
	return due.HoldVisit{Tables: w.Tables(), HoldVisit: c, About: f.about, Why: f.why(at)}, nil
}

// abouts asks of each obligation to see the vet whether the visit was about it.
func (f *holding) abouts() (parts []fyne.CanvasObject) {
	t := f.view.page.window.Text()
	how := f.view.say("visit.about-how", map[string]any{"Days": f.view.page.window.Tables().Value(knowledge.ValueAnswerVet)})
	for _, i := range f.view.wanted {
		title := f.view.say("visit.about", map[string]any{"What": f.view.wantedFor(i), "By": t.By(i.Day(f.view.page.today), f.view.page.today)})
		parts = append(parts, widgets.CheckRow(false, title, how, "", func(on bool) {
			f.about = slices.DeleteFunc(f.about, func(k due.Key) bool { return k == i.Key })
			if on {
				f.about = append(f.about, i.Key)
			}
		}))
	}
	return parts
}

// papers takes pictures and papers into a form, kept as reports of labs are.
func (v *vetView) papers(f *particulars.SideForm, ids *[]model.PhotoID) fyne.CanvasObject {
	w, strip := v.page.window, widgets.Stack()
	var show func()
	off := func(id model.PhotoID) {
		*ids = slices.DeleteFunc(slices.Clone(*ids), func(one model.PhotoID) bool { return one == id })
		show()
	}
	show = func() {
		strip.Objects = nil
		if len(*ids) > 0 {
			strip.Objects = []fyne.CanvasObject{particulars.ReportStrip(w, v.page.thumbs, *ids, off)}
		}
		f.Refresh()
	}
	show()
	add := widgets.Button(widgets.Plain, widgets.Act{Label: v.say("medicine.act.paper"), Icon: "camera", Do: func() {
		w.ChooseFile(particulars.ReportEndings(), func(path string) {
			particulars.KeepReports(w, []string{path}, func(kept []model.PhotoID, err error) {
				*ids = append(*ids, kept...)
				show()
				if err != nil {
					f.Refuse(err)
				}
			})
		})
	}})
	return widgets.Col(look.S8, strip, widgets.Fix(0, 36, add))
}

// answerQuestion asks what a vet answered between visits.
func (v *vetView) answerQuestion(q medicine.StoredQuestion) {
	w := v.page.window
	f := particulars.NewSideForm(w)
	f.Command = func(place.Answer) (model.Command, error) {
		at, err := f.Moment("day", model.Moment{})
		return medicine.AnswerQuestion{ID: q.ID, Base: q.Revision, At: at, By: w.By(), Said: f.Text("answer")}, err
	}
	f.Build(v.say("visit.answer-title"), v.say("particulars.keep"), v.leave, widgets.Para(q.Words, look.BodyBold, look.Ink),
		f.Field("answer", "", widgets.FieldOptions{Label: v.say("visit.answer"), Rows: 3}), f.Day("day", "", v.page.today))
	v.show(q.ID.ID, f)
}

// changeQuestion puts right the words of a question, and of its answer.
func (v *vetView) changeQuestion(q medicine.StoredQuestion) {
	f := particulars.NewSideForm(v.page.window)
	parts := []fyne.CanvasObject{f.Field("question", q.Words, widgets.FieldOptions{})}
	if q.Answer != nil {
		parts = append(parts, f.Field("answer", q.Answer.Said, widgets.FieldOptions{Label: v.say("visit.answer"), Rows: 3}))
	}
	f.Command = func(place.Answer) (model.Command, error) {
		return medicine.ChangeQuestion{ID: q.ID, Base: q.Revision, Words: f.Text("question"), Said: f.Text("answer")}, nil
	}
	f.Build(v.say("visit.question-title"), v.say("particulars.keep"), v.leave, parts...)
	v.show(q.ID.ID, f)
}

// withdraw takes a question back, which can be undone and opened again.
func (v *vetView) withdraw(q medicine.StoredQuestion) {
	w := v.page.window
	v.done(medicine.WithdrawQuestion{ID: q.ID, Base: q.Revision, At: w.Now(), By: w.By()})
}

// prescribeAt asks for what a vet prescribed at a visit.
func (v *vetView) prescribeAt(s medicine.StoredVisit) {
	v.show(s.ID.ID, v.prescription("medicine.form-title", medicine.Stored{Prescribed: s.At, Prescription: medicine.Prescription{Vet: s.Vet, Visit: s.ID, Reason: s.Reason, Begins: s.At, Steps: []medicine.Step{{Day: 1}}}}))
}

// visitPick picks the visit at which something was prescribed; nil: none was held.
func (v *vetView) visitPick(chosen medicine.VisitID) *particulars.Pick {
	t := v.page.window.Text()
	var ids []string
	var held []widgets.Choice
	for _, s := range v.visits.held {
		ids, held = append(ids, s.ID.String()), append(held, widgets.Choice{Label: joined(t.DayShort(s.At.Day()), v.whose(s))})
	}
	value := ""
	if slices.Contains(ids, chosen.String()) {
		value = chosen.String()
	}
	if len(ids) == 0 {
		return nil
	}
	return particulars.NewPick(v.page.window, v.say("field.visit"), v.say("visit.none"), ids, held, value)
}
