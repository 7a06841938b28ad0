package check

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// rightColumn is what to look for at the stop, what was there before, and what
// can be noted.
func (w *walkPage) rightColumn() fyne.CanvasObject {
	s := w.page.session
	stop, _ := s.stop()
	id := string(stop.ID)
	parts := []fyne.CanvasObject{
		widgets.Col(2,
			widgets.Line(w.say("check.stop", map[string]any{"Stop": s.draft.Index + 1, "Of": len(s.draft.Stops)}), look.Note, look.Soft),
			widgets.Para(w.say("stop."+id), look.Display, look.Ink),
			widgets.Para(w.say("stop."+id+".look"), look.Body, look.Ink),
		),
	}
	parts = append(parts, w.cautions(stop)...)
	if stop.ID == knowledge.Rest {
		parts = append(parts, w.context())
	}
	asking, ask := s.draft.Asking()
	for i, e := range s.draft.Earlier {
		if e.Stop == stop.ID {
			parts = append(parts, w.earlier(i, e, ask && i == asking))
		}
	}
	w.choices = w.choiceGrid(ask)
	parts = append(parts, w.choices)
	top := widgets.Scroll(widgets.Pad(widgets.Col(look.S12, parts...), look.S12, look.S16))
	if s.chosen < 0 {
		return top
	}
	return widgets.Col(0, widgets.Grow(top), widgets.HLine(), w.details(s.chosen))
}

// context asks what the rules must know beside the findings, before the animal
// is touched. What is not said counts as not known, which is the careful way.
func (w *walkPage) context() fyne.CanvasObject {
	s := w.page.session
	phases := []exam.ShedPhase{exam.ShedUnknown, exam.ShedNone, exam.ShedBefore}
	var choices []widgets.Choice
	for _, key := range []string{"check.shed.unknown", "check.shed.none", "check.shed.before"} {
		choices = append(choices, widgets.Choice{Label: w.say(key)})
	}
	shed := widgets.NewSegments(34, slices.Index(phases, s.draft.Context.Shed), func(n int) {
		s.draft.Context.Shed = phases[n]
		w.page.changed()
	}, choices...)
	below := []fyne.CanvasObject{widgets.Grow(w.temperatureField().Container)}
	if w.page.animal.Sex != animals.Male {
		below = append(below, widgets.Grow(widgets.CheckRow(s.draft.Context.Gravid, w.say("check.context.gravid"), "", "", func(on bool) {
			s.draft.Context.Gravid = on
			w.page.changed()
		})))
	}
	return widgets.Col(look.S4,
		widgets.Line(w.say("check.context.shed"), look.NoteBold, look.Soft), shed.Container,
		widgets.RowTop(look.S8, below...))
}

// temperatureField takes the body's temperature, where somebody measured it.
// What cannot be read stays in it.
func (w *walkPage) temperatureField() *widgets.Field {
	s, t := w.page.session, w.page.window.Text()
	shown := ""
	if known := s.draft.Context.Temperature; known != (model.Temperature{}) {
		shown = t.Temperature(known)
	}
	field := widgets.NewField(shown, widgets.FieldOptions{Hint: w.say("check.context.temperature")})
	field.OnCommit = func(text string) {
		measured, err := model.Temperature{}, error(nil)
		if text != "" {
			measured, err = t.ParseTemperature(text)
		}
		var refusal *model.Refusal
		if errors.As(err, &refusal) {
			field.Refuse(t.Why(refusal))
			return
		}
		field.Accept()
		s.draft.Context.Temperature = measured
		w.page.keep()
	}
	field.OnEnter = func() { w.page.window.Focus(nil) }
	return field
}

// cautions are what to mind at a stop. Before touching, that is what this very
// animal asks for, and what holds for every one in small, so that all findings
// stay in sight.
func (w *walkPage) cautions(stop knowledge.Stop) []fyne.CanvasObject {
	var shown []fyne.CanvasObject
	key := "stop." + string(stop.ID) + ".caution"
	known := w.page.window.Text().Has(key)
	switch {
	case stop.ID == knowledge.Rest:
		if own := w.before(); len(own) > 0 {
			shown = append(shown, widgets.Caution(strings.Join(own, " ")))
		}
		if known {
			shown = append(shown, widgets.RowTop(6, widgets.NewIcon("caution", 16, look.Days), widgets.Grow(widgets.Para(w.say(key), look.Note, look.Ink))))
		}
	case known:
		shown = append(shown, widgets.Caution(w.say(key)))
	}
	return shown
}

// before is what to mind before this very animal is touched.
func (w *walkPage) before() []string {
	var sentences []string
	if w.page.rests {
		key := "check.resting"
		if w.page.meal.Large {
			key = "check.resting.large"
		}
		sentences = append(sentences, w.say(key, map[string]any{"Day": w.page.meal.At.Day(), "Hours": w.page.meal.Hours}))
	}
	if w.page.session.tables.SecondPerson(w.page.animal.Species, w.page.mass) {
		sentences = append(sentences, w.say("check.second-person"))
	}
	return sentences
}

// earlier asks how an open finding of an earlier check stands now.
func (w *walkPage) earlier(i int, e exam.Earlier, asked bool) fyne.CanvasObject {
	s := w.page.session
	standings := []exam.Standing{exam.Same, exam.Better, exam.Worse, exam.Gone}
	var choices []widgets.Choice
	for n, st := range standings {
		label := w.say(st.Key())
		if asked {
			label = strconv.Itoa(n+1) + " " + label
		}
		choices = append(choices, widgets.Choice{Label: label})
	}
	pick := func(n int) {
		s.take(s.draft.AnswerEarlier(i, standings[n], w.page.window.Now()))
		w.page.changed()
	}
	last := w.say("check.earlier.last", map[string]any{
		"Day": e.Before.At.Day(), "How": glimpseWords(w.page.window.Text(), e.Before.Grade, e.Before), "Place": w.describe(e.Before.Place),
	})
	kind := widgets.PinEarlier
	if e.Now.Standing == exam.Gone {
		kind = widgets.PinGone
	}
	return widgets.Card(look.S8, widgets.Col(look.S8,
		widgets.RowTop(look.S8, widgets.Pin(numberText(s.numbers[e.Problem]), kind), widgets.Grow(widgets.Col(0,
			widgets.Para(w.say("finding."+string(e.What)), look.BodyBold, look.Ink),
			widgets.Para(last, look.Note, look.Soft)))),
		widgets.NewSegments(33, slices.Index(standings, e.Now.Standing), pick, choices...).Container,
	))
}

// choiceGrid are the findings of the stop as large buttons.
func (w *walkPage) choiceGrid(asking bool) fyne.CanvasObject {
	title := w.say("check.anything-new")
	hint := w.say("check.again-raises")
	if stop, _ := w.page.session.stop(); len(stop.Regions) == 0 {
		hint = w.say("check.again-raises.anywhere")
	}
	if asking {
		hint = w.say("check.earlier.first")
	}
	var buttons []fyne.CanvasObject
	for _, c := range w.page.session.choices() {
		key := c.Key
		if asking {
			key = "·"
		}
		buttons = append(buttons, widgets.Stack(widgets.Space(0, 44), widgets.Finding(key, c.Name, int(c.Grade), func() {
			w.page.session.mark(c.What, w.page.window.Now())
			w.page.changed()
		})))
	}
	return widgets.Col(look.S8,
		widgets.RowBottom(look.S8, widgets.Line(title, look.BodyBold, look.Ink), widgets.Grow(widgets.Para(hint, look.Note, look.Soft))),
		widgets.Cells(2, look.S8, 0, buttons...),
	)
}

// details are what can be said of the finding chosen: how bad, size, photo, note.
func (w *walkPage) details(i int) fyne.CanvasObject {
	s := w.page.session
	f := s.draft.Findings[i]
	grades := []exam.Grade{exam.Slight, exam.Marked, exam.Severe}
	var choices []widgets.Choice
	for _, g := range grades {
		choices = append(choices, widgets.Choice{Label: w.say(g.Key())})
	}
	set := func(change func(*exam.Finding)) {
		f := s.draft.Findings[i]
		change(&f)
		s.draft = s.draft.ChangeFinding(i, f)
		w.page.changed()
	}
	segments := widgets.NewSegments(34, slices.Index(grades, f.Grade), func(n int) {
		set(func(f *exam.Finding) {
			f.Grade = grades[n]
			f.Baseline = f.Baseline && f.Grade <= exam.Slight
		})
	}, choices...)
	where := whereWords(w.page.window.Text(), f.Place, f.Rough)
	remove := widgets.Button(widgets.Quiet, widgets.Act{Icon: "bin", Label: w.say("check.remove"), Do: func() {
		s.chosen = -1
		s.take(s.draft.RemoveFinding(i))
		w.page.changed()
	}})
	parts := []fyne.CanvasObject{
		widgets.Row(look.S8, widgets.Pin(numberText(s.number(i)), widgets.PinNow), widgets.Grow(widgets.Col(0,
			widgets.Para(w.say("finding."+string(f.What)), look.BodyBold, look.Ink), widgets.Para(where, look.Note, look.Soft))), remove),
		segments.Container,
		widgets.RowTop(look.S8, widgets.Fix(120, 0, w.sizeField(i).Container), widgets.Grow(w.noteField(i).Container), w.photoButton(f)),
	}
	return widgets.Pad(widgets.Col(look.S8, append(parts, w.marks(i, set)...)...), look.S12, look.S16)
}

// marks are the ticks that some findings have.
func (w *walkPage) marks(i int, set func(func(*exam.Finding))) []fyne.CanvasObject {
	s := w.page.session
	f := s.draft.Findings[i]
	known, _ := s.tables.Finding(f.What)
	stop, _ := s.tables.Stop(f.Stop)
	var rows []fyne.CanvasObject
	if f.Standing == exam.CameBack {
		rows = append(rows, widgets.CheckRow(true, w.say("check.came-back"), w.say("check.came-back.detail"), "", func(bool) {
			s.draft = s.draft.Apart(i)
			w.page.changed()
		}))
	}
	if known.Baseline && f.Grade <= exam.Slight {
		rows = append(rows, widgets.CheckRow(f.Baseline, w.say("check.baseline"), w.say("check.baseline.detail"), "", func(on bool) {
			set(func(f *exam.Finding) { f.Baseline = on })
		}))
	}
	if s.tables.Asks(f.Stop, f.What, knowledge.KnownOld) {
		rows = append(rows, widgets.CheckRow(f.Old, w.say("check.old"), w.say("check.old.detail"), "", func(on bool) {
			set(func(f *exam.Finding) { f.Old = on })
		}))
	}
	if stop.Way == knowledge.Opened {
		rows = append(rows, widgets.CheckRow(f.Differs, w.say("check.differs"), "", "", func(on bool) {
			set(func(f *exam.Finding) { f.Differs = on })
		}))
	}
	return rows
}

// sizeField takes the longest way across. What cannot be read stays in it.
func (w *walkPage) sizeField(i int) *widgets.Field {
	s := w.page.session
	f := s.draft.Findings[i]
	field := widgets.NewField(f.Size.Typed, widgets.FieldOptions{Hint: w.say("check.size"), Unit: w.say("check.size.unit")})
	field.OnCommit = func(text string) {
		size, err := model.Length{}, error(nil)
		if text != "" {
			size, err = w.page.window.Text().ParseSize(text)
		}
		var refusal *model.Refusal
		if errors.As(err, &refusal) {
			field.Refuse(w.page.window.Text().Why(refusal))
			return
		}
		field.Accept()
		f := s.draft.Findings[i]
		f.Size = size
		s.draft = s.draft.ChangeFinding(i, f)
		w.page.keep()
	}
	field.OnEnter = func() { w.page.window.Focus(nil) }
	return field
}

func (w *walkPage) noteField(i int) *widgets.Field {
	s := w.page.session
	field := widgets.NewField(s.draft.Findings[i].Note, widgets.FieldOptions{Hint: w.say("check.note")})
	field.OnCommit = func(text string) {
		f := s.draft.Findings[i]
		f.Note = text
		s.draft = s.draft.ChangeFinding(i, f)
		w.page.keep()
	}
	field.OnEnter = func() { w.page.window.Focus(nil) }
	return field
}

func (w *walkPage) photoButton(f exam.Finding) fyne.CanvasObject {
	label := ""
	if n := len(f.Photos); n > 0 {
		label = strconv.Itoa(n)
	}
	return widgets.Button(widgets.Plain, widgets.Act{Icon: "camera", Label: label, Key: "P", Do: w.choosePhoto})
}

// footRows are the answers of the stop. On the mouth, leaving it closed and
// leaving it to the vet are equal in size, rank and place.
func (w *walkPage) footRows() fyne.CanvasObject {
	p := w.page
	stop, _ := p.session.stop()
	press := func(k exam.Key) func() { return func() { p.press(k) } }
	back := widgets.Big(widgets.Button(widgets.Plain, widgets.Act{Icon: "left", Do: press(exam.KeyBack)}))
	plain := func(label, key string, k exam.Key) fyne.CanvasObject {
		return widgets.Button(widgets.Plain, widgets.Act{Label: label, Key: key, Do: press(k)})
	}
	big := func(rank widgets.Rank, label, key string, k exam.Key) fyne.CanvasObject {
		return widgets.GrowBy(1, widgets.Big(widgets.Button(rank, widgets.Act{Label: label, Key: key, Do: press(k)})))
	}
	var rows []fyne.CanvasObject
	if w.notice != "" {
		rows = append(rows, widgets.Caution(w.notice))
	}
	switch {
	case stop.Way == knowledge.Opened && !p.session.here():
		rows = append(rows,
			widgets.RowFill(look.S8, big(widgets.Plain, w.say("check.answer.not-opened"), "Enter", exam.KeyEnter), big(widgets.Plain, w.say("check.answer.vet"), ".", exam.KeyVet)),
			widgets.RowFill(look.S8, back, big(widgets.Plain, w.say("check.answer.clear-seen"), "+", exam.KeyOther)))
	default:
		rows = append(rows,
			widgets.RowFill(look.S8, back, big(widgets.Primary, w.onward(stop), "Enter", exam.KeyEnter)),
			widgets.Wrap(look.S4,
				plain(w.say("check.answer.not-looked"), "0", exam.KeyNotLooked),
				plain(w.say("check.answer.vet"), ".", exam.KeyVet),
				plain(w.otherWay(stop), "+", exam.KeyOther)))
	}
	return widgets.Pad(widgets.Col(look.S8, rows...), look.S12, look.S16)
}

// onward is what Enter stores here, in words.
func (w *walkPage) onward(stop knowledge.Stop) string {
	way := "seen"
	if stop.Way == knowledge.Felt {
		way = "felt"
	}
	if w.page.session.here() {
		return w.say("check.answer.rest-" + way)
	}
	return w.say("check.answer.clear-" + way)
}

func (w *walkPage) otherWay(stop knowledge.Stop) string {
	if stop.Way == knowledge.Seen {
		return w.say("check.answer.felt-instead")
	}
	return w.say("check.answer.seen-instead")
}
