package animal

import (
	"fmt"
	"slices"
	"strconv"

	"fyne.io/fyne/v2"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/medicine"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// show puts a form beside the page; what it is about stays in sight: a course, a visit or a
// question, zero where it is none of them. One in which something was typed stays instead.
func (v *vetView) show(about model.ID, f *particulars.SideForm) {
	if v.form != nil && v.form.Holds() || v.page.holds() {
		return
	}
	f.Done = func() {
		v.form = nil
		v.page.load()
		v.page.window.Focus(nil)
	}
	p := v.page
	p.leave()
	p.form, p.who, p.reading, v.form, v.about = nil, nil, nil, f, about
	p.build()
	p.window.Focus(f.First())
}

// prescribe asks for what a vet prescribed.
func (v *vetView) prescribe() {
	now := v.page.window.Now()
	v.show(model.ID{}, v.prescription("medicine.form-title", medicine.Stored{Prescribed: now, Prescription: medicine.Prescription{Begins: now, Steps: []medicine.Step{{Day: 1}}}}))
}

// change asks for what is put right in a prescription.
func (v *vetView) change(c medicine.Stored) {
	v.show(c.ID.ID, v.prescription("medicine.change-title", c))
}

// prescribing is the form of a prescription.
type prescribing struct {
	*particulars.SideForm
	view  *vetView
	of    medicine.Stored // before
	p     medicine.Prescription
	steps int
	below *fyne.Container // what hangs on how it is dosed
	vet   *particulars.Pick
	route *particulars.Pick
	visit *particulars.Pick // at which it was prescribed; nil: none was held
}

func (v *vetView) prescription(title string, of medicine.Stored) *particulars.SideForm {
	f := &prescribing{SideForm: particulars.NewSideForm(v.page.window), view: v, of: of, p: of.Prescription, steps: len(of.Steps), below: widgets.Stack()}
	f.p.Photos = slices.Clone(of.Photos)
	f.choices()
	parts := f.parts()
	f.dosing()
	f.Chosen = func() string {
		return fmt.Sprint(f.p.Form, f.vet.Value(), f.route.Value(), f.atVisit(), f.steps, f.p.NotLifted, f.p.Fluid, f.p.Photos)
	}
	f.At = func(r *model.Refusal) *widgets.Field {
		if step, of := r.Gaps["Step"]; of && step.Number > 1 {
			return f.Named(r.Field + "-" + strconv.FormatInt(step.Number, 10))
		}
		return nil
	}
	f.Command = f.command
	f.Build(v.say(title), v.say("particulars.keep"), v.leave, parts...)
	return f.SideForm
}

// choices makes the picks: of the vets, where there is one alone, that one.
func (f *prescribing) choices() {
	v, w := f.view, f.view.page.window
	var ids []string
	var vets []widgets.Choice
	for _, p := range v.vets {
		ids, vets = append(ids, p.ID.String()), append(vets, widgets.Choice{Label: p.Name})
	}
	chosen := ""
	switch {
	case !f.of.Vet.IsZero():
		chosen = f.of.Vet.String()
	case len(ids) == 1:
		chosen = ids[0]
	}
	f.vet = particulars.NewPick(w, v.say("field.vet"), "", ids, vets, chosen)
	var ways []widgets.Choice
	for _, r := range medicine.Routes() {
		ways = append(ways, widgets.Choice{Label: v.say("medicine.route." + string(r))})
	}
	f.route = particulars.NewPick(w, v.say("field.route"), "", texts(medicine.Routes()), ways, string(f.of.Route))
	f.visit = v.visitPick(f.of.Visit)
}

// parts are what the form shows, from top to bottom.
func (f *prescribing) parts() []fyne.CanvasObject {
	v, w, of := f.view, f.view.page.window, f.of
	parts := []fyne.CanvasObject{widgets.Para(v.say("medicine.as-written"), look.Note, look.Soft)}
	if len(v.vets) == 0 {
		parts = append(parts, widgets.Caution(v.say("medicine.add-vet")), widgets.Row(0, widgets.Button(widgets.Plain, widgets.Act{Label: v.say("medicine.act.people"), Icon: "person", Do: func() { w.Go(place.Route{To: place.People, Page: "new"}) }}), widgets.Fill()))
	}
	forms := make([]string, len(medicine.Forms()))
	for i, form := range medicine.Forms() {
		forms[i] = particulars.Capital(v.say("medicine.form." + string(form)))
	}
	parts = append(parts, f.Field("medicine", of.Medicine, widgets.FieldOptions{}), f.Field("reason", of.Reason, widgets.FieldOptions{}), f.Picks("vet", f.vet), f.Day("day", v.say("medicine.prescribed-on"), of.Prescribed.Day()),
		particulars.NewFew(v.say("field.form"), texts(medicine.Forms()), forms, string(f.p.Form), func(form string) { f.p.Form = medicine.Form(form); f.dosing() }).Container,
		f.Picks("route", f.route), f.below, f.first(), f.Field("last-day", particulars.Typed(w, of.Last), widgets.FieldOptions{Hint: v.say("medicine.hint.last")}),
		f.Field("recheck", particulars.Typed(w, of.Recheck), widgets.FieldOptions{Hint: v.say("particulars.hint.date")}),
		f.pack(), f.ticks(), f.Field("words", of.Words, widgets.FieldOptions{Rows: 3}), v.papers(f.SideForm, &f.p.Photos))
	if f.visit != nil {
		parts = append(parts, f.Picks("visit", f.visit))
	}
	return parts
}

// atVisit is the visit that is chosen; one that was taken out since stays named.
func (f *prescribing) atVisit() medicine.VisitID {
	if f.visit == nil {
		return f.of.Visit
	}
	id, err := model.ParseID(f.visit.Value())
	if err != nil {
		return medicine.VisitID{}
	}
	return medicine.VisitID{ID: id}
}

// leave takes the form away.
func (v *vetView) leave() {
	v.form = nil
	v.page.build()
	v.page.window.Focus(nil)
}

func (f *prescribing) ticks() fyne.CanvasObject {
	return widgets.Col(0, widgets.CheckRow(f.p.NotLifted, f.view.say("medicine.tick.not-lifted"), f.view.say("medicine.tick.not-lifted-how"), "", func(on bool) { f.p.NotLifted = on }),
		widgets.CheckRow(f.p.Fluid, f.view.say("medicine.tick.fluid"), "", "", func(on bool) { f.p.Fluid = on }))
}

// named is the name of a field of a step.
func named(field string, step int) string {
	if step == 0 {
		return field
	}
	return field + "-" + strconv.Itoa(step+1)
}

// kept makes a field of what hangs on how it is dosed: with what was typed into it before,
// else with what is given.
func (f *prescribing) kept(name, before string, o widgets.FieldOptions) fyne.CanvasObject {
	if f.Named(name) != nil {
		before = f.Text(name)
	}
	return f.Field(name, before, o)
}

// dosing shows the fields that go with how it is dosed, as they were typed; nothing is chosen
// beforehand.
func (f *prescribing) dosing() {
	f.below.Objects = nil
	if f.p.Form != "" {
		f.below.Objects = []fyne.CanvasObject{widgets.Col(look.S16, f.dosed()...)}
	}
	f.Refresh()
}

// dosed are the concentration and the steps of a course, and what adds one.
func (f *prescribing) dosed() (parts []fyne.CanvasObject) {
	v := f.view
	if f.p.Form == medicine.PerKilogram {
		parts = append(parts, f.kept("concentration", f.of.Concentration.Typed, widgets.FieldOptions{Hint: v.say("medicine.hint.concentration")}))
	}
	for i := range f.steps {
		parts = append(parts, f.stepParts(i)...)
	}
	if f.steps < medicine.MaxSteps {
		parts = append(parts, widgets.Row(0, widgets.Button(widgets.Quiet, widgets.Act{Label: v.say("medicine.act.step"), Icon: "plus", Do: func() { f.steps++; f.dosing() }}), widgets.Fill()))
	}
	return parts
}

// stepParts are the fields of one step.
func (f *prescribing) stepParts(i int) (parts []fyne.CanvasObject) {
	var before medicine.Step
	if i < len(f.of.Steps) {
		before = f.of.Steps[i]
	}
	number := func(n int, unit string) string {
		if n == 0 {
			return ""
		}
		return strconv.Itoa(n) + unit
	}
	add := func(field, before, hint string) {
		parts = append(parts, f.kept(named(field, i), before, widgets.FieldOptions{Label: f.view.say("field." + field), Hint: f.view.say("medicine.hint." + hint)}))
	}
	if f.steps > 1 {
		parts = append(parts, widgets.Para(f.view.say("medicine.step", map[string]any{"Number": strconv.Itoa(i + 1)}), look.BodyBold, look.Ink))
	}
	if i > 0 {
		add("from-day", number(before.Day, ""), "from-day")
	}
	switch f.p.Form {
	case medicine.InWords:
		add("what-is-done", before.Words, "words")
	case medicine.Volume:
		add("dose", before.Dose.Typed, "volume")
	default:
		add("dose", before.Dose.Typed, "dose")
	}
	add("times", number(before.Times, ""), "times")
	add("every", number(before.Every, " h"), "every")
	return parts
}

// command is the prescription as it stands in the form.
func (f *prescribing) command(a place.Answer) (model.Command, error) {
	p, at, err := f.read()
	if err != nil {
		return nil, err
	}
	w := f.view.page.window
	if !f.of.ID.IsZero() {
		return medicine.Change{Tables: w.Tables(), ID: f.of.ID, Base: f.of.Revision, At: at, Confirmed: a.Confirmed, Prescription: p}, nil
	}
	return medicine.Prescribe{Tables: w.Tables(), Animal: f.view.page.id, At: at, By: w.By(), Confirmed: a.Confirmed, Prescription: p}, nil
}

// read is the prescription as it stands in the form, and when it was prescribed. What cannot
// be read is refused from top to bottom.
func (f *prescribing) read() (p medicine.Prescription, at model.Moment, err error) {
	p = f.p
	p.Visit, p.Words, p.Pack.Lot = f.atVisit(), f.Text("words"), f.Text("lot")
	if at, err = f.head(&p); err != nil {
		return p, at, err
	}
	if err = f.doses(&p); err != nil {
		return p, at, err
	}
	begins, err := f.since(f.Text("begins"), at.Day())
	if err != nil {
		return p, at, particulars.At("begins", err)
	}
	if p.Begins, err = f.begins(begins); err != nil {
		return p, at, err
	}
	if p.Last, err = f.date("last-day", at.Day()); err != nil {
		return p, at, err
	}
	if p.Recheck, err = f.date("recheck", at.Day()); err != nil {
		return p, at, err
	}
	p.Pack.Expires, err = particulars.ReadDate(f.view.page.window, "expires", f.Text("expires"))
	return p, at, err
}

// head reads what is given, by whose word, since when and how.
func (f *prescribing) head(p *medicine.Prescription) (at model.Moment, err error) {
	p.Medicine, p.Reason, p.Route, p.Vet = f.Text("medicine"), f.Text("reason"), medicine.Route(f.route.Value()), model.PersonID{}
	if id, err := model.ParseID(f.vet.Value()); err == nil {
		p.Vet = model.PersonID{ID: id}
	}
	mend := func(field, reason string) error {
		return &model.Refusal{Field: field, Reason: reason, Answer: model.Mend}
	}
	if p.Medicine == "" {
		return at, mend("medicine", "text.empty")
	}
	if p.Vet.IsZero() {
		return at, mend("vet", "medicine.no-vet")
	}
	if at, err = f.Moment("day", f.of.Prescribed); err != nil {
		return at, err
	}
	if p.Form == "" {
		return at, mend("form", "choice.unknown")
	}
	if p.Route == "" {
		return at, mend("route", "medicine.no-route")
	}
	return at, nil
}

// doses reads how it is dosed. Whether a concentration is needed is known once a dose is read;
// it stands above them.
func (f *prescribing) doses(p *medicine.Prescription) error {
	p.Concentration, p.Measure, p.Steps = medicine.Amount{}, "", nil
	if typed := f.Text("concentration"); p.Form == medicine.PerKilogram && typed != "" {
		millionths, err := f.view.page.window.Text().ParseConcentration(typed)
		if err != nil {
			return particulars.At("concentration", err)
		}
		p.Concentration = medicine.Amount{Millionths: millionths, Typed: typed}
	}
	var refused error
	for i := 0; i < f.steps && refused == nil; i++ {
		var step medicine.Step
		step, refused = f.step(i, p)
		p.Steps = append(p.Steps, step)
	}
	if p.Measure == medicine.Milligrams && p.Concentration.IsZero() {
		return &model.Refusal{Field: "concentration", Reason: "medicine.no-concentration", Answer: model.Mend}
	}
	return refused
}

// first asks for the day and the hour of the first dose.
func (f *prescribing) first() fyne.CanvasObject {
	return widgets.RowFill(look.S8, widgets.Grow(f.Day("begins", "", f.p.Begins.Day())),
		widgets.Fix(112, 0, f.Field("first-hour", f.hour(), widgets.FieldOptions{Hint: f.view.say("medicine.hint.first-hour")})))
}

// hour is the hour of the first dose as it stood before; empty: only its day is known.
func (f *prescribing) hour() string {
	if f.p.Begins.Precision == model.ToDay {
		return ""
	}
	return f.view.page.window.Text().Time(f.p.Begins)
}

// begins is the moment of the first dose on a day, at the hour that stands in the form.
func (f *prescribing) begins(day model.Day) (model.Moment, error) {
	w, typed := f.view.page.window, f.Text("first-hour")
	if day == f.p.Begins.Day() && typed == f.hour() {
		return f.p.Begins, nil
	}
	if typed == "" && f.hour() == "" {
		return model.MomentOn(w.Now(), day, model.Noon, model.ToDay), nil
	}
	minutes, err := w.Text().ParseTime(typed)
	if err != nil {
		return model.Moment{}, particulars.At("first-hour", err)
	}
	return model.MomentOn(w.Now(), day, minutes, model.ToMinute), nil
}

// pack asks what stands on the pack of the medicine.
func (f *prescribing) pack() fyne.CanvasObject {
	w := f.view.page.window
	return widgets.RowFill(look.S8, widgets.Grow(f.Field("lot", f.of.Pack.Lot, widgets.FieldOptions{})), widgets.Grow(f.Field("expires", particulars.Typed(w, f.of.Pack.Expires), widgets.FieldOptions{Hint: f.view.say("medicine.hint.expires")})))
}

// since reads a day of a course: without a year the last such day, where that is not before
// the prescription, else the next one.
func (f *prescribing) since(typed string, prescribed model.Day) (model.Day, error) {
	t, today := f.view.page.window.Text(), f.view.page.window.Now().Day()
	day, err := t.ParseDay(typed, today)
	if err == nil && day < prescribed {
		return t.ParseDayAhead(typed, today)
	}
	return day, err
}

// date is the day that stands in a field; none where it is empty.
func (f *prescribing) date(name string, prescribed model.Day) (model.Date, error) {
	if f.Text(name) == "" {
		return model.Date{}, nil
	}
	day, err := f.since(f.Text(name), prescribed)
	return model.Date{Day: day, Precision: model.ToDay}, particulars.At(name, err)
}

// step reads one step of a course.
func (f *prescribing) step(i int, p *medicine.Prescription) (s medicine.Step, err error) {
	t := f.view.page.window.Text()
	s.Day = 1
	whole := func(name string, most int) (int, error) {
		n, err := t.ParseCount(f.Text(name), most)
		return n, particulars.At(name, err)
	}
	if i > 0 {
		if s.Day, err = whole(named("from-day", i), medicine.MaxDays); err != nil {
			return s, err
		}
	}
	if err = f.dose(i, p, &s); err != nil {
		return s, err
	}
	if name := named("times", i); f.Text(name) != "" {
		if s.Times, err = whole(name, medicine.MaxDoses); err != nil {
			return s, err
		}
	}
	if name := named("every", i); f.Text(name) != "" {
		s.Every, err = t.ParseInterval(f.Text(name))
		err = particulars.At(name, err)
	}
	return s, err
}

// dose reads what is given in a step. All steps are of the measure of the first.
func (f *prescribing) dose(i int, p *medicine.Prescription, s *medicine.Step) (err error) {
	t, name := f.view.page.window.Text(), named("dose", i)
	switch p.Form {
	case medicine.InWords:
		s.Words = f.Text(named("what-is-done", i))
		return nil
	case medicine.Volume:
		s.Dose.Typed = f.Text(name)
		s.Dose.Millionths, err = t.ParseVolume(s.Dose.Typed)
		return particulars.At(name, err)
	}
	s.Dose.Typed = f.Text(name)
	millionths, of, err := t.ParseDose(s.Dose.Typed)
	if err != nil {
		return particulars.At(name, err)
	}
	if i > 0 && medicine.Measure(of) != p.Measure {
		return &model.Refusal{Field: name, Value: s.Dose.Typed, Reason: "medicine.no-use", Answer: model.Mend}
	}
	s.Dose.Millionths, p.Measure = millionths, medicine.Measure(of)
	return nil
}

// tell opens what can be said of a dose: where something was said, to take that back or to
// note the vet's answer.
func (v *vetView) tell(c medicine.Stored, cell medicine.Cell) {
	switch {
	case cell.State == medicine.AskVet:
		v.answer(c, cell.Number)
	case cell.Said != nil:
		v.takeBack(c, cell)
	default:
		v.said(c, cell, medicine.Given)
	}
}

// telling is the form of what became of a dose.
type telling struct {
	*particulars.SideForm
	view   *vetView
	of     medicine.Stored
	cell   medicine.Cell
	did    medicine.Did
	amount *fyne.Container // the volume by the weight that the dose will be noted by
	below  *fyne.Container // what hangs on what became of it
}

// said asks what became of a dose.
func (v *vetView) said(c medicine.Stored, cell medicine.Cell, did medicine.Did) {
	f := &telling{SideForm: particulars.NewSideForm(v.page.window), view: v, of: c, cell: cell, did: did, amount: widgets.Stack(), below: widgets.Stack()}
	names := make([]string, len(medicine.Dids()))
	for i, d := range medicine.Dids() {
		names[i] = particulars.Capital(v.say("medicine.did." + string(d)))
	}
	few := particulars.NewFew(v.say("field.did"), texts(medicine.Dids()), names, string(did), func(d string) { f.did = medicine.Did(d); f.show() })
	day := min(cell.Day, v.page.today)
	if did != medicine.Given {
		day = v.page.today
	}
	given := f.Day("day", "", day)
	f.worksAnew("day")
	f.show()
	f.Command = f.command
	f.Chosen = func() string { return string(f.did) }
	f.Build(v.say("medicine.dose-title", map[string]any{"Number": strconv.Itoa(cell.Number), "Medicine": c.Medicine}), v.say("particulars.keep"), v.leave,
		widgets.Para(v.say("medicine.planned", map[string]any{"When": v.when(cell.Planned)}), look.Body, look.Soft), few.Container,
		given, f.below, f.Field("note", "", widgets.FieldOptions{Rows: 2}))
	v.show(c.ID.ID, f.SideForm)
}

// work shows the volume by the weight that the dose will be noted by.
func (f *telling) work() {
	v, w := f.view, f.view.page.window
	t := w.Text()
	day, err := t.ParseDay(f.Text("day"), v.page.today)
	if err != nil {
		day = v.page.today
	}
	weighed, unread := v.weightAt(v.givenAt(day, f.Text("time")))
	if mass, err := t.ParseMass(f.Text("mass")); err == nil && f.Text("mass") != "" {
		weighed, unread = care.Weighed{At: model.MomentOn(w.Now(), day, 0, model.ToDay), Weight: care.Weight{Mass: mass}}, nil
	}
	said := v.amount(f.of, f.cell.Step, weighed, unread)
	if f.of.Pack.Expired(day) {
		said = append(said, widgets.Caution(v.say("medicine.expired", map[string]any{"Day": t.Date(f.of.Pack.Expires)})))
	}
	f.amount.Objects = []fyne.CanvasObject{widgets.Col(look.S4, said...)}
	f.Refresh()
}

// worksAnew shows the volume anew with what is typed into a field.
func (f *telling) worksAnew(name string) {
	accept := f.Named(name).OnTyped
	f.Named(name).OnTyped = func(typed string) { accept(typed); f.work() }
}

// show shows the fields that go with what became of the dose, as they were typed.
func (f *telling) show() {
	v, c := f.view, f.of
	var parts []fyne.CanvasObject
	keep := func(name, value string, o widgets.FieldOptions) {
		if f.Named(name) != nil {
			value = f.Text(name)
		}
		parts = append(parts, f.Field(name, value, o))
	}
	switch f.did {
	case medicine.Given:
		parts = append(parts, f.amount, widgets.Caution(v.say(givingCaution(c))))
		keep("time", f.clock(), widgets.FieldOptions{})
		f.worksAnew("time")
		if c.Form == medicine.PerKilogram && !c.NotLifted {
			keep("mass", "", widgets.FieldOptions{Label: v.say("medicine.weighed-now"), Hint: v.say("medicine.hint.mass")})
			f.worksAnew("mass")
		}
		if c.Route.Injected() {
			keep("site", "", widgets.FieldOptions{})
		}
	case medicine.LeftOut:
		keep("why-left-out", "", widgets.FieldOptions{})
	case medicine.Missed:
		parts = append(parts, widgets.Caution(v.say("medicine.missed-how")))
	}
	f.below.Objects = []fyne.CanvasObject{widgets.Col(look.S16, parts...)}
	f.work()
}

// clock is the present hour, for a dose of today.
func (f *telling) clock() string {
	if f.cell.Day < f.view.page.today {
		return ""
	}
	return f.view.page.window.Text().Time(f.view.page.window.Now())
}

// command is the word on the dose as it stands in the form.
func (f *telling) command(a place.Answer) (model.Command, error) {
	w := f.view.page.window
	tell := medicine.Tell{Tables: w.Tables(), ID: f.of.ID, Base: f.of.Revision, Number: f.cell.Number, Did: f.did, By: w.By(), Why: f.Text("why-left-out"), Note: f.Text("note"), Confirmed: a.Confirmed, Heaviest: w.Tables().Heaviest(f.view.page.life.Species)}
	at, err := f.Moment("day", model.Moment{})
	if err != nil {
		return nil, err
	}
	if tell.At = at; f.did != medicine.Given {
		return tell, nil
	}
	if err := f.given(&tell, a); err != nil {
		return nil, err
	}
	return tell, nil
}

// given reads when, by which weight and where a dose was given.
func (f *telling) given(tell *medicine.Tell, a place.Answer) (err error) {
	w := f.view.page.window
	t := w.Text()
	if typed := f.Text("time"); typed != "" {
		minutes, err := t.ParseTime(typed)
		if err != nil {
			return particulars.At("time", err)
		}
		tell.At = model.MomentOn(w.Now(), tell.At.Day(), minutes, model.ToMinute)
	}
	if typed := f.Text("mass"); typed != "" {
		if tell.Mass, err = t.ParseMass(typed); err != nil {
			return err
		}
		if a.Again != "" {
			tell.Again, _ = t.ParseMass(a.Again) // what is no mass is asked for again
		}
	}
	if typed := f.Text("site"); typed != "" {
		tell.Site, err = t.ParseCount(typed, 100)
		err = particulars.At("site", err)
	}
	return err
}

// givingCaution is what to heed when a dose is given.
func givingCaution(c medicine.Stored) string {
	if c.Route.Injected() {
		return "medicine.inject-caution"
	}
	return "medicine.give-caution"
}

// takeBack tells what was said of a dose, and takes it back.
func (v *vetView) takeBack(c medicine.Stored, cell medicine.Cell) {
	t, w, d := v.page.window.Text(), v.page.window, *cell.Said
	f := particulars.NewSideForm(w)
	parts := []fyne.CanvasObject{widgets.Para(joined(particulars.Capital(t.Say("medicine.did."+string(d.Did))), t.Moment(d.At), v.page.life.By(t, d.By)), look.BodyBold, look.Ink)}
	if d.Drawn > 0 {
		parts = append(parts, widgets.Para(t.Microlitres(d.Drawn), look.Body, look.Ink))
	}
	for _, line := range []string{paper.Arithmetic(t, w.Tables(), c.Prescription, cell.Step, d.Mass, d.Weighed.Day), d.Why, d.Note} {
		if line != "" {
			parts = append(parts, widgets.Para(line, look.Body, look.Ink))
		}
	}
	if d.Answer != nil {
		parts = append(parts, widgets.Para(t.Say("medicine.vet-said", map[string]any{"Day": t.DayShort(d.Answer.At.Day()), "Said": d.Answer.Said}), look.Body, look.Ink))
	}
	f.Command = func(place.Answer) (model.Command, error) {
		return medicine.TakeBack{ID: c.ID, Base: c.Revision, Number: cell.Number}, nil
	}
	f.Build(v.say("medicine.dose-title", map[string]any{"Number": strconv.Itoa(cell.Number), "Medicine": c.Medicine}), v.say("medicine.act.take-back"), v.leave, parts...)
	v.show(c.ID.ID, f)
}

// answer asks what the vet said of a dose that was missed.
func (v *vetView) answer(c medicine.Stored, number int) {
	w := v.page.window
	f := particulars.NewSideForm(w)
	f.Command = func(place.Answer) (model.Command, error) {
		at, err := f.Moment("day", model.Moment{})
		return medicine.AnswerMissed{ID: c.ID, Base: c.Revision, Number: number, At: at, By: w.By(), Said: f.Text("vet-said")}, err
	}
	f.Build(v.say("medicine.answer-title", map[string]any{"Number": strconv.Itoa(number), "Medicine": c.Medicine}), v.say("particulars.keep"), v.leave,
		f.Field("vet-said", "", widgets.FieldOptions{Rows: 3}), f.Day("day", "", v.page.today))
	v.show(c.ID.ID, f)
}

// end asks why a course is over.
func (v *vetView) end(c medicine.Stored) {
	t, w := v.page.window.Text(), v.page.window
	f := particulars.NewSideForm(w)
	why := medicine.VetsWord
	if _, left := c.Next(); !left {
		why = medicine.Finished
	}
	names := make([]string, len(medicine.Whys()))
	for i, y := range medicine.Whys() {
		names[i] = particulars.Capital(t.Say("medicine.why." + string(y)))
	}
	f.Command = func(place.Answer) (model.Command, error) {
		at, err := f.Moment("day", model.Moment{})
		return medicine.End{ID: c.ID, Base: c.Revision, At: at, By: w.By(), Why: why, Note: f.Text("note")}, err
	}
	f.Chosen = func() string { return string(why) }
	f.Build(v.say("medicine.end-title", map[string]any{"Medicine": c.Medicine}), v.say("medicine.act.end"), v.leave, widgets.Caution(v.say("medicine.end-caution")),
		particulars.NewFew(v.say("field.why"), texts(medicine.Whys()), names, string(why), func(s string) { why = medicine.Why(s) }).Container,
		f.Day("day", "", v.page.today), f.Field("note", "", widgets.FieldOptions{Rows: 3}))
	v.show(c.ID.ID, f)
}

func (v *vetView) remove(c medicine.Stored) {
	v.page.window.Do(func(place.Answer) model.Command { return medicine.Remove{ID: c.ID} }, func(err error) {
		if err == nil {
			v.page.load()
		}
	})
}
