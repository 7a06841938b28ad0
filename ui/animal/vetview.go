package animal

import (
	"cmp"
	"errors"
	"slices"
	"strconv"

	"fyne.io/fyne/v2"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/people"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
)

// PageVet is the page of what a vet said and prescribed.
const PageVet = "vet"

// vetView is what is asked of a vet, the visits, and what a vet prescribed, with the calendar
// of its doses.
type vetView struct {
	page    *Page
	courses []medicine.Stored // those of today first, then those that go on, then the newest
	vets    []people.Stored
	visits  visits
	wanted  []due.Item // to see the vet, not answered
	unread  error
	vetTyped
	others map[model.AnimalID]vetTyped // of other animals, where something was typed
	cards  map[model.ID]fyne.CanvasObject
	scroll *fyne.Container // as it is in sight
	before *fyne.Container // as it was before it was built anew
}

// vetTyped is what is typed on the page of one animal and not kept.
type vetTyped struct {
	form  *particulars.SideForm // beside the page; nil: none is open
	about model.ID              // what the form is about: a course, a visit or a question; zero: nothing there
	line  *widgets.Field        // takes a question; the same while the page is built anew, for its text and the keys
}

func newVetView(p *Page) *vetView { return &vetView{page: p, others: map[model.AnimalID]vetTyped{}} }

// turn leaves the page of one animal for that of another. What was typed and not kept stays
// for when one comes back.
func (v *vetView) turn(from, to model.AnimalID) {
	if v.form != nil && !v.form.Touched() {
		v.form = nil
	}
	v.others[from] = v.vetTyped
	v.vetTyped = v.others[to]
	v.scroll, v.wanted = nil, nil
}

func (v *vetView) load() {
	v.courses, v.vets, v.unread = nil, nil, nil
	err := v.page.window.Collection().View(func(view model.View) (err error) {
		if v.courses, err = medicine.Of(view, v.page.id); v.courses == nil && err != nil {
			return err
		}
		v.unread = errors.Join(err, v.visits.read(view, v.page.id))
		all, err := people.All(view)
		for _, p := range all {
			if p.Is(people.Vet) || p.Is(people.OutOfHours) {
				v.vets = append(v.vets, p)
			}
		}
		return err
	})
	if err != nil {
		v.unread = err
	}
	slices.SortStableFunc(v.courses, func(a, b medicine.Stored) int {
		return cmp.Compare(v.rank(a), v.rank(b))
	})
}

// rank is the place of a course among the others: those of which a dose is planned
// for today, then those that go on.
func (v *vetView) rank(c medicine.Stored) int {
	switch {
	case c.OfToday(v.page.window.Now()):
		return 0
	case c.Open():
		return 1
	}
	return 2
}

func (v *vetView) say(key string, gaps ...map[string]any) string { return v.page.say(key, gaps...) }

func (v *vetView) button(rank widgets.Rank, key, icon string, do func()) *widgets.Press {
	b := widgets.Button(rank, widgets.Act{Label: v.say(key), Icon: icon, Do: do})
	if v.page.window.ReadOnly() {
		b.Disable()
	}
	return b
}

func (v *vetView) content() fyne.CanvasObject {
	acts := widgets.Wrap(look.S8)
	for _, act := range []struct {
		key, icon string
		do        func()
	}{{"medicine.act.prescribe", "plus", v.prescribe}, {"visit.act.plan", "calendar", func() { v.planVisit("visit.plan-title", medicine.StoredVisit{}) }}, {"visit.act.was", "vet", func() { v.holdVisit(medicine.StoredVisit{}) }}} {
		acts.Add(widgets.Fix(0, 36, v.button(widgets.Plain, act.key, act.icon, act.do)))
	}
	parts := []fyne.CanvasObject{acts}
	if v.unread != nil {
		parts = append(parts, widgets.Caution(v.say("medicine.unread")))
	}
	v.cards = map[model.ID]fyne.CanvasObject{}
	var courses []fyne.CanvasObject
	for _, c := range v.courses {
		courses = append(courses, v.card(c.ID.ID, v.course(c)))
	}
	if len(courses) == 0 {
		courses = append(courses, widgets.Para(v.say("medicine.none", map[string]any{"Animal": v.page.life.Name}), look.Body, look.Soft))
	}
	courses = append([]fyne.CanvasObject{widgets.Para(v.say("medicine.caution"), look.Body, look.Soft)}, courses...)
	medicines := widgets.Group(v.say("medicine.title"), "", courses...)
	if len(v.courses) > 0 && v.courses[0].OfToday(v.page.window.Now()) {
		parts = append(append(append(parts, medicines), v.wantedParts()...), v.visitParts()...)
	} else {
		parts = append(append(append(parts, v.wantedParts()...), v.visitParts()...), medicines)
	}
	parts = append(parts, v.heldParts()...)
	v.before, v.scroll = v.scroll, widgets.Scroll(widgets.Pad(widgets.Col(look.S24, parts...), look.S16, look.S24, look.S24, look.S24))
	return v.scroll
}

// card is what can be changed there, found again by its id.
func (v *vetView) card(id model.ID, content fyne.CanvasObject) fyne.CanvasObject {
	card := widgets.Card(look.S16, content)
	v.cards[id] = card
	return card
}

// settle scrolls the page to where it was before it was built anew, and to what an open
// form is about.
func (v *vetView) settle() {
	widgets.Resume(v.before, v.scroll)
	if card := v.cards[v.about]; v.form != nil && card != nil {
		widgets.Reveal(v.scroll, card)
	}
}

// course is one course: as it was written, its doses by day, and what is next.
func (v *vetView) course(c medicine.Stored) fyne.CanvasObject {
	t, now := v.page.window.Text(), v.page.window.Now()
	head := widgets.Col(look.S4, widgets.Para(c.Medicine, look.Section, look.Ink), widgets.Para(paper.Course(t, c.Prescription), look.Body, look.Ink),
		widgets.Para(joined(t.Say("medicine.by", wording.Gaps{"Vet": v.page.life.By(t, c.Vet), "Day": t.DayShort(c.Prescribed.Day())}), c.Reason), look.Note, look.Soft))
	parts := []fyne.CanvasObject{head}
	if c.NotLifted {
		parts = append(parts, widgets.Para(v.say("medicine.not-lifted"), look.BodyBold, look.Ink))
	}
	if c.Words != "" {
		parts = append(parts, widgets.Para(c.Words, look.Body, look.Ink))
	}
	if len(c.Photos) > 0 {
		parts = append(parts, particulars.ReportStrip(v.page.window, v.page.thumbs, c.Photos, nil))
	}
	parts = append(parts, v.calendar(c), widgets.Para(paper.Doses(t, c.Prescription, now), look.Note, look.Soft))
	if !c.Open() {
		ended := t.Say("medicine.ended", wording.Gaps{"Day": t.DayShort(c.Ended.At.Day()), "Why": t.Say("medicine.why." + string(c.Ended.Why))})
		return widgets.Col(look.S12, append(parts, widgets.Para(joined(ended, c.Ended.Note), look.Body, look.Soft))...)
	}
	parts = append(parts, v.doubts(c)...)
	parts = append(parts, v.next(c)...)
	acts := widgets.Wrap(look.S8)
	acts.Add(widgets.Fix(0, 32, v.button(widgets.Plain, "medicine.act.change", "note", func() { v.change(c) })))
	acts.Add(widgets.Fix(0, 32, v.button(widgets.Plain, "medicine.act.end", "tick", func() { v.end(c) })))
	acts.Add(widgets.Fix(0, 32, v.button(widgets.Quiet, "medicine.act.remove", "bin", func() { v.remove(c) })))
	return widgets.Col(look.S12, append(parts, acts)...)
}

// signOf is the sign and the tone of a dose; with its word it is told without colour.
func signOf(s medicine.State) (sign string, tone look.Tone) {
	switch s {
	case medicine.WasGiven:
		return "tick", look.Accent
	case medicine.WasLeftOut:
		return "skip", look.Soft
	case medicine.WasMissed:
		return "close", look.Soft
	case medicine.AskVet:
		return "close", look.Days
	case medicine.Unsaid:
		return "caution", look.Days
	case medicine.DueToday:
		return "calendar", look.Ink
	}
	return "", look.Faint
}

// calendar are the doses by their days, each with its sign, its number and its word. One
// that was given stands on the day on which it was, with the planned one where that is
// another.
func (v *vetView) calendar(c medicine.Stored) fyne.CanvasObject {
	t := v.page.window.Text()
	row := widgets.Wrap(look.S4)
	for _, cell := range c.Calendar(v.page.window.Now()) {
		name := joined(v.say("medicine.number", map[string]any{"Number": strconv.Itoa(cell.Number)}), v.when(cell.Planned), v.say("medicine.state."+stateWord(cell.State)))
		day := cell.Day
		if cell.State == medicine.WasGiven {
			day = cell.Said.At.Day()
		}
		sign, tone := signOf(cell.State)
		mark := fyne.CanvasObject(widgets.Space(16, 16))
		if sign != "" {
			mark = widgets.NewIcon(sign, 16, tone)
		}
		words := widgets.Col(2, widgets.Line(t.DayOfYear(day), look.Note, look.Soft).Centred(), widgets.Middle(mark), widgets.Line(v.say("medicine.state."+stateWord(cell.State)), look.Note, tone).Centred())
		if day != cell.Day {
			planned := v.say("medicine.planned-short", map[string]any{"Day": t.DayOfYear(cell.Day)})
			name = joined(name, t.DayShort(day))
			words.Add(widgets.Para(planned, look.Note, look.Soft).Centred())
		}
		press := widgets.NewPress(name, widgets.Fix(84, 0, widgets.Pad(words, 6, 4)), tileGround, func() { v.tell(c, cell) })
		press.SetOn(cell.State == medicine.DueToday)
		if v.page.window.ReadOnly() || !c.Open() {
			press.Disable()
		}
		row.Add(press)
	}
	return row
}

// stateWord is the end of the key of a dose's state.
func stateWord(s medicine.State) string {
	return [...]string{"to-come", "due", "unsaid", "given", "left-out", "missed", "ask-vet"}[s]
}

// when is the day of a planned dose, with its hour where that matters.
func (v *vetView) when(one medicine.Planned) string {
	t := v.page.window.Text()
	if !one.Clock {
		return t.DayShort(one.Day)
	}
	return t.Moment(model.MomentOn(v.page.window.Now(), one.Day, one.Minutes, model.ToMinute))
}

// doubts are what has to be asked of the vet.
func (v *vetView) doubts(c medicine.Stored) (parts []fyne.CanvasObject) {
	t, now := v.page.window.Text(), v.page.window.Now()
	for _, cell := range c.Calendar(now) {
		if cell.State == medicine.AskVet {
			gaps := map[string]any{"Number": strconv.Itoa(cell.Number), "Day": t.DayShort(cell.Day)}
			parts = append(parts, widgets.Caution(v.say("medicine.ask-vet", gaps)),
				widgets.Row(0, v.button(widgets.Plain, "medicine.act.answer", "vet", func() { v.answer(c, cell.Number) }), widgets.Fill()))
		}
	}
	if weights := v.page.life.lastWeights(1); len(weights) > 0 && c.Apart(v.page.window.Tables(), weights[0].Mass) {
		parts = append(parts, widgets.Caution(v.say("medicine.apart", map[string]any{"Before": c.Mass, "Now": weights[0].Mass})))
	}
	return parts
}

// next is the dose that is to be given next, with its volume as it is worked out now.
func (v *vetView) next(c medicine.Stored) []fyne.CanvasObject {
	one, left := c.Next()
	if !left {
		return []fyne.CanvasObject{widgets.Para(v.say("medicine.through"), look.BodyBold, look.Ink)}
	}
	t := v.page.window.Text()
	title := v.say("medicine.next", map[string]any{"Number": strconv.Itoa(one.Number), "Count": strconv.Itoa(len(c.Plan())), "When": v.when(one)})
	weighed, err := v.weightAt(v.page.window.Now())
	parts := []fyne.CanvasObject{widgets.Para(title, look.BodyBold, look.Ink)}
	parts = append(append(parts, v.amount(c, one.Step, weighed, err)...), v.weigh(c, weighed)...)
	if one.Number == len(c.Plan()) {
		parts = append(parts, widgets.Para(v.say("medicine.last-dose"), look.Body, look.Ink))
	}
	if one.Day > v.page.today { // before its day it is not offered; its place in the calendar takes it
		return parts
	}
	cell := medicine.Cell{Planned: one}
	acts := widgets.Wrap(look.S8)
	for _, did := range []struct {
		did  medicine.Did
		icon string
	}{{medicine.Given, "tick"}, {medicine.LeftOut, "skip"}, {medicine.Missed, "close"}} {
		rank := widgets.Plain
		if did.did == medicine.Given {
			rank = widgets.Primary
		}
		b := widgets.Button(rank, widgets.Act{Label: particulars.Capital(t.Say("medicine.did." + string(did.did))), Icon: did.icon, Do: func() { v.said(c, cell, did.did) }})
		if v.page.window.ReadOnly() {
			b.Disable()
		}
		acts.Add(widgets.Fix(0, 36, b))
	}
	return append(parts, acts)
}

// givenAt is when a dose counts as given, by the day and the time that stand in its form:
// without a time the end of an earlier day, and today the present.
func (v *vetView) givenAt(day model.Day, typed string) model.Moment {
	now := v.page.window.Now()
	if minutes, err := v.page.window.Text().ParseTime(typed); err == nil && typed != "" {
		return model.MomentOn(now, day, minutes, model.ToMinute)
	}
	if day == now.Day() {
		return now
	}
	return medicine.EndOf(model.MomentOn(now, day, model.Noon, model.ToDay))
}

// weightAt is the last weighing up to a moment, as a dose is noted by.
func (v *vetView) weightAt(at model.Moment) (w care.Weighed, err error) {
	err = v.page.window.Collection().View(func(view model.View) (err error) {
		w, _, err = medicine.LastWeight(view, v.page.id, at)
		return err
	})
	return w, err
}

// amount is what a step comes to by a weighing, to be read at arm's length, and below it
// how it was worked out and what there is against it. unread is why the weighing could not be
// read; nil: it was.
func (v *vetView) amount(c medicine.Stored, step int, w care.Weighed, unread error) (parts []fyne.CanvasObject) {
	if unread != nil && c.Form == medicine.PerKilogram {
		return []fyne.CanvasObject{widgets.Caution(v.say("medicine.weight-unread"))}
	}
	t, tables := v.page.window.Text(), v.page.window.Tables()
	if drawn := paper.Volume(t, tables, c.Prescription, step, w.Mass); drawn != "" {
		parts = append(parts, widgets.Para(drawn, look.Amount, look.Ink))
	}
	var how string
	switch {
	case c.Form == medicine.Volume:
		how = v.say("medicine.fixed")
	case c.Form == medicine.InWords:
		how = c.Steps[step].Words
	case w.Mass.IsZero():
		how = v.say("medicine.unweighed")
	default:
		how = paper.Arithmetic(t, tables, c.Prescription, step, w.Mass, w.At.Day())
	}
	if parts = append(parts, widgets.Para(how, look.Body, look.Ink)); c.Form != medicine.PerKilogram || w.Mass.IsZero() {
		return parts
	}
	if c.Draw(tables, step, w.Mass, w.At.Day()).Small {
		parts = append(parts, widgets.Caution(v.say("medicine.too-small")))
	}
	if scale, doubtful := v.page.life.scales.Doubts(w.With, w.At); doubtful {
		parts = append(parts, widgets.Caution(v.say("medicine.weight-doubtful", map[string]any{"Scale": scale})))
	}
	if v.old(c, w) {
		parts = append(parts, widgets.Caution(v.say("medicine.weigh-again", map[string]any{"Days": strconv.Itoa(tables.Value(knowledge.ValueDoseWeightOld))})))
	}
	return parts
}

// old tells whether the animal is to be weighed again before a dose.
func (v *vetView) old(c medicine.Stored, w care.Weighed) bool {
	return !c.NotLifted && medicine.Old(v.page.window.Tables(), w.At.Day(), v.page.today)
}

// weigh asks for a weight, where one is wanting or is not to be gone by.
func (v *vetView) weigh(c medicine.Stored, w care.Weighed) []fyne.CanvasObject {
	_, doubtful := v.page.life.scales.Doubts(w.With, w.At)
	if c.Form != medicine.PerKilogram || !w.Mass.IsZero() && !doubtful && !v.old(c, w) {
		return nil
	}
	return []fyne.CanvasObject{widgets.Row(0, widgets.Fix(0, 36, v.button(widgets.Plain, "medicine.act.weigh", "weight", func() { v.page.note(care.KindWeight) })), widgets.Fill())}
}
