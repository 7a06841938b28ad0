package check

import (
	"errors"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/label"
	"coilward/model/written"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// fromPaper is a sheet that is typed in: what stands on it beside the stops.
type fromPaper struct {
	sheet label.Written
	day   model.Day
	typed written.Typed
	page  *paperPage
}

// paperOf is the sheet of a route's page; ok is false where the route is to a check by the
// window.
func paperOf(w place.Window, r place.Route) (p *fromPaper, ok bool) {
	if r.Page == place.FromPaper {
		return &fromPaper{sheet: label.Written{Kind: label.CheckSheet, Of: r.Subject}, day: w.Now().Day(), typed: written.Typed{Uncoded: true, By: w.By()}}, true
	}
	sheet, ok := label.ParseWritten(r.Page)
	if !ok || sheet.Kind != label.CheckSheet {
		return nil, false
	}
	return &fromPaper{sheet: sheet, day: sheet.Day, typed: written.Typed{By: w.By()}}, true
}

// beginPaper begins to type in a sheet, or goes on with one that was left.
func (p *Page) beginPaper(paper *fromPaper, animal model.AnimalID) (*session, error) {
	if paper.typed.Uncoded {
		paper.sheet.ID = p.leftUncoded(animal)
	}
	draft, start, err := p.paperDraft(paper, animal)
	if err != nil {
		return nil, err
	}
	p.animal, p.mass, p.kept, p.rests, p.meal = start.animal, start.mass, nil, false, care.AfterMeal{}
	p.paper = paper
	if earlier, broken := p.broughtBack(); broken {
		draft, paper.typed, paper.day = earlier.Draft, earlier.Typed, earlier.Begun.Day()
	}
	return newSession(p.window.Tables(), p.window.Text(), draft, start.beginning.Problems), nil
}

// leftUncoded is the id of the sheet without a code of an animal that was left unfinished;
// zero: there is none.
func (p *Page) leftUncoded(animal model.AnimalID) model.ID {
	drafts, err := p.window.Drafts().List()
	if err != nil {
		p.window.Fault("check.draft", err)
	}
	for _, id := range drafts {
		raw, err := p.window.Drafts().Read(id)
		if err != nil {
			continue // it is said where that draft is opened
		}
		if d, err := written.ReadDraft(raw); err == nil && d.Typed.Uncoded && d.Animal == animal {
			return id
		}
	}
	return model.ID{}
}

// paperDraft is a draft of a sheet as of its day: with what was known of the animal then.
func (p *Page) paperDraft(paper *fromPaper, animal model.AnimalID) (exam.Draft, start, error) {
	s, err := gather(p.window, animal)
	if err != nil {
		return exam.Draft{}, s, err
	}
	at := written.On(p.window.Now(), paper.day)
	check := model.EntryID{ID: paper.sheet.ID}
	err = p.window.Collection().View(func(v model.View) error {
		if check.IsZero() {
			paper.sheet.ID = v.NewID()
			check.ID = paper.sheet.ID
		}
		before := at
		before.UTC--
		records, err := history.Read(p.window.Tables(), v, s.animal, before)
		if err != nil {
			return err
		}
		problems := exam.Before(s.beginning.Problems, check, at)
		standing := records.Stand(p.window.Tables(), problems, before)
		s.beginning = exam.Beginning{Check: check, Animal: animal, At: at, Problems: problems, Context: records.Context,
			Sheds: records.Sheds, StuckCaps: records.StuckCaps(), VetBy: standing.VetFor(), Noted: standing.VetNoted()}
		return nil
	})
	return exam.Begin(p.window.Tables(), s.beginning), s, err
}

// sheetDraft is the sheet so far.
func (p *Page) sheetDraft() written.Draft {
	return written.Draft{Draft: p.session.draft, Typed: p.paper.typed}
}

// onDay begins the sheet anew as one of a day, with lines that were typed.
func (p *Page) onDay(day model.Day, lines []string) {
	paper := p.paper
	was := paper.day
	paper.day = day
	begun, start, err := p.paperDraft(paper, p.animal.ID)
	if err != nil {
		paper.day = was
		p.window.Fault("check.begin", err)
		return
	}
	before := p.sheetDraft()
	before.Typed.Lines = lines
	again, lost := before.Onto(p.window.Tables(), p.window.Text(), begun)
	for _, line := range lost {
		p.window.Tell(p.window.Text().Say("check.paper.lost"), line)
	}
	p.session, paper.typed = newSession(p.window.Tables(), p.window.Text(), again.Draft, start.beginning.Problems), again.Typed
	p.changed()
}

// line takes a line that was typed; the error is a *model.Refusal of the field "line".
func (p *Page) line(said string) error {
	d, err := p.sheetDraft().Take(p.window.Tables(), p.window.Text(), said)
	if err != nil {
		return err
	}
	p.session.draft, p.paper.typed = d.Draft, d.Typed
	return nil
}

// takeBackLine takes the last line back.
func (p *Page) takeBackLine() {
	if n := len(p.paper.typed.Lines); n > 0 {
		p.onDay(p.paper.day, p.paper.typed.Lines[:n-1])
	}
}

// keepPaper is the command that keeps the sheet; the error is a *model.Refusal of a field.
func (p *Page) keepPaper() (func(place.Answer) model.Command, error) {
	text, paper := p.window.Text(), p.paper
	var mass model.Mass
	if strings.TrimSpace(paper.typed.Mass) != "" {
		var err error
		if mass, err = text.ParseMass(paper.typed.Mass); err != nil {
			return nil, err
		}
	}
	draft := p.session.draft
	return func(a place.Answer) model.Command {
		c := written.KeepCheck{Tables: p.window.Tables(), Draft: draft, Weight: care.Weight{Mass: mass}, By: paper.typed.By,
			Heaviest: p.window.Tables().Heaviest(p.animal.Species), Confirmed: a.Confirmed}
		if a.Again != "" {
			c.Again, _ = text.ParseMass(a.Again) // what is no mass is asked for again
		}
		return c
	}, nil
}

// paperPage is the page on which a sheet is typed in.
type paperPage struct {
	page    *Page
	content *fyne.Container
	stops   *fyne.Container
	beside  *fyne.Container // what the stop that is typed is looked at for
	said    *fyne.Container // what was typed
	day     *widgets.Field
	mass    *widgets.Field
	line    *widgets.Field
	who     *particulars.Pick
}

func newPaperPage(p *Page) *paperPage {
	w := &paperPage{page: p, content: widgets.Stack(), stops: widgets.Stack(), beside: widgets.Stack(), said: widgets.Stack()}
	t := p.window.Text()
	w.day = widgets.NewField(t.DayShort(p.paper.day), widgets.FieldOptions{Label: t.Say("field.day")})
	w.day.OnCommit = func(string) { w.setDay() }
	w.day.OnEnter = w.toLine
	w.mass = widgets.NewField(p.paper.typed.Mass, widgets.FieldOptions{Label: t.Say("field.mass"), Unit: particulars.MassUnit(t)})
	w.mass.OnTyped = func(string) { w.mass.Accept() }
	w.mass.OnCommit = func(typed string) {
		p.paper.typed.Mass = typed
		p.keep()
	}
	w.mass.OnEnter = w.toLine
	w.line = widgets.NewField("", widgets.FieldOptions{Label: t.Say("check.paper.line"), Hint: t.Say("check.paper.line.hint")})
	w.line.OnTyped = w.typed
	w.line.OnEnter = w.enter
	w.content.Objects = []fyne.CanvasObject{w.build()}
	return w
}

func (w *paperPage) say(key string, g ...map[string]any) string {
	return w.page.window.Text().Say(key, g...)
}

func (w *paperPage) build() fyne.CanvasObject {
	head := widgets.Pad(widgets.Row(look.S16,
		widgets.Grow(w.page.who()),
		widgets.Button(widgets.Quiet, widgets.Act{Label: w.say("check.act.pause"), Key: "Esc", Do: w.page.pause}),
		widgets.Button(widgets.Plain, widgets.Act{Label: w.say("check.act.end"), Do: w.toEnd}),
	), 0, look.S16)
	fields := widgets.RowTop(look.S12, widgets.GrowBy(3, w.day.Container), widgets.GrowBy(3, w.whoPick()), widgets.GrowBy(2, w.mass.Container))
	typing := widgets.Col(look.S16,
		fields,
		widgets.Para(w.say("check.paper.how"), look.Body, look.Soft),
		widgets.Row(look.S8,
			widgets.Button(widgets.Plain, widgets.Act{Label: w.say("check.paper.fine"), Key: written.AllFine, Do: func() { w.take(written.AllFine) }}),
			widgets.Button(widgets.Quiet, widgets.Act{Label: w.say("check.paper.back"), Icon: "undo", Do: w.page.takeBackLine}), widgets.Fill()),
		w.line.Container,
		w.beside,
		w.said,
	)
	return widgets.Col(0,
		widgets.Fix(0, 72, widgets.MiddleUpright(head)), widgets.HLine(),
		widgets.Grow(widgets.RowFill(0,
			widgets.Fix(paperStops, 0, w.stops), widgets.VLine(),
			widgets.Grow(widgets.Scroll(widgets.Pad(typing, look.S16, look.S24))),
		)))
}

// paperStops is how wide the list of the stops is.
const paperStops float32 = 320

// whoPick is who wrote the sheet.
func (w *paperPage) whoPick() fyne.CanvasObject {
	typed := &w.page.paper.typed
	w.who = particulars.NewHandPick(w.page.window, typed.By)
	w.who.OnPicked = func() { typed.By = particulars.PickedHand(w.who); w.page.keep() }
	return w.who.Container
}

// show brings the page to the draft.
func (w *paperPage) show() {
	s := w.page.session
	var list []fyne.CanvasObject
	for i, r := range s.rows() {
		name := w.say("check.paper.stop", map[string]any{"Number": i + 1, "Stop": r.Name})
		list = append(list, widgets.Fix(0, 27, widgets.Stop(name, r.Detail, numberText(r.Number), stopState(r), i == w.at(), func() { w.begin(i) })))
	}
	fill(w.stops, widgets.Scroll(widgets.Pad(widgets.Col(0, list...), look.S12, look.S12)))
	w.showBeside()
	w.showSaid()
	w.content.Refresh() // what stands below moves by what became higher
}

// begin puts the number of a stop into the line.
func (w *paperPage) begin(i int) {
	w.line.Type(strconv.Itoa(i+1) + " ")
	w.toLine()
}

// at is the index of the stop that is being typed, or -1.
func (w *paperPage) at() int {
	number, _, _ := strings.Cut(strings.TrimSpace(w.line.Text()), " ")
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 || n > len(w.page.session.draft.Stops) {
		return -1
	}
	return n - 1
}

// showBeside names what is looked for at the stop that is typed, with the numbers.
func (w *paperPage) showBeside() {
	s, i := w.page.session, w.at()
	if i < 0 {
		fill(w.beside, widgets.Para(w.say("check.paper.none"), look.Note, look.Soft))
		return
	}
	stop, _ := s.tables.Stop(s.draft.Stops[i].Stop)
	parts := []fyne.CanvasObject{widgets.Line(s.text.Say("stop."+string(stop.ID)), look.BodyBold, look.Ink)}
	var names []fyne.CanvasObject
	for n, what := range stop.Choices {
		names = append(names, widgets.Line(w.say("check.paper.choice", map[string]any{"Number": n + 1, "Finding": s.text.Say("finding." + string(what))}), look.Body, look.Ink))
	}
	parts = append(parts, widgets.Wrap(look.S12, names...))
	if e, asking := s.draft.Go(i).Asking(); asking {
		parts = append(parts, widgets.Para(w.say("check.paper.asks", map[string]any{"Finding": w.earlier(e)}), look.Body, look.Ink))
	}
	fill(w.beside, widgets.Card(look.S12, widgets.Col(look.S8, parts...)))
}

// earlier names an earlier finding with its number and its place.
func (w *paperPage) earlier(i int) string {
	s, e := w.page.session, w.page.session.draft.Earlier[i]
	words := w.say("check.paper.choice", map[string]any{"Number": s.numbers[e.Problem], "Finding": s.text.Say("finding." + string(e.What))})
	if e.Before.Place != (body.Place{}) && !e.Before.Rough {
		words += ", " + placeWords(w.page.window.Text(), e.Before.Place)
	}
	return words
}

// showSaid lists what was noted, and what still wants an answer.
func (w *paperPage) showSaid() {
	s := w.page.session
	var rows []fyne.CanvasObject
	for i, f := range s.draft.Findings {
		words := s.text.Say("finding."+string(f.What)) + ", " + glimpseWords(w.page.window.Text(), f.Grade, exam.Glimpse{Grade: f.Grade, Place: f.Place, Rough: f.Rough, Size: f.Size, Note: f.Note})
		rows = append(rows, widgets.RowTop(look.S8, widgets.Pin(numberText(s.number(i)), widgets.PinNow),
			widgets.Grow(widgets.Col(0, widgets.Para(words, look.Body, look.Ink), widgets.Para(s.text.Say("stop."+string(f.Stop)), look.Note, look.Soft)))))
	}
	for i, e := range s.draft.Earlier {
		said, tone := s.text.Say(e.Now.Standing.Key()), look.Ink
		if e.Now.Standing == exam.Unasked {
			said, tone = w.say("check.paper.unasked"), look.Soft
		}
		rows = append(rows, widgets.RowTop(look.S8, widgets.Pin(numberText(s.numbers[e.Problem]), widgets.PinEarlier),
			widgets.Grow(widgets.Para(w.earlier(i)+" · "+s.text.Say("stop."+string(e.Stop)), look.Body, tone)), widgets.Line(said, look.NoteBold, tone)))
	}
	answered, of := s.progress()
	rows = append(rows, widgets.Para(w.say("check.progress", map[string]any{"Answered": answered, "Of": of}), look.Note, look.Soft))
	fill(w.said, widgets.Col(look.S8, rows...))
}

func (w *paperPage) toLine() { w.page.window.Focus(w.line.Focusable()) }

// typed follows the line while it is typed; the sign for all fine needs no Enter.
func (w *paperPage) typed(text string) {
	w.line.Accept()
	if strings.TrimSpace(text) == written.AllFine {
		w.line.SetText("")
		w.take(written.AllFine)
		return
	}
	w.show()
}

// enter takes the line; an empty one goes on to the end.
func (w *paperPage) enter() {
	typed := strings.TrimSpace(w.line.Text())
	if typed == "" {
		w.toEnd()
		return
	}
	w.take(typed)
}

// take takes a line, or says why not and leaves it standing.
func (w *paperPage) take(said string) {
	var r *model.Refusal
	if err := w.page.line(said); errors.As(err, &r) {
		w.line.Refuse(w.page.window.Text().Why(r))
		return
	}
	w.line.SetText("")
	w.page.changed()
	w.toLine()
}

// toEnd goes to the end page; a day or mass that cannot stand is said first.
func (w *paperPage) toEnd() {
	if !w.setDay() {
		return
	}
	w.page.paper.typed.Mass = w.mass.Text()
	var r *model.Refusal
	if _, err := w.page.keepPaper(); errors.As(err, &r) {
		w.mass.Refuse(w.page.window.Text().Why(r))
		w.page.window.Focus(w.mass.Focusable())
		return
	}
	w.page.goTo(len(w.page.session.draft.Stops))
	w.page.window.Focus(nil)
}

func (w *paperPage) readDay() (model.Day, *model.Refusal) {
	now := w.page.window.Now().Day()
	day, err := w.page.window.Text().ParseDay(w.day.Text(), now)
	var r *model.Refusal
	switch {
	case errors.As(err, &r):
		return 0, r
	case day > now:
		return 0, &model.Refusal{Field: "day", Value: w.day.Text(), Reason: "day.future", Gaps: map[string]model.Gap{"Today": model.DayGap(now)}, Answer: model.Mend}
	}
	return day, nil
}

// setDay takes the day that stands there; it is false where that cannot stand.
func (w *paperPage) setDay() bool {
	day, r := w.readDay()
	if r != nil {
		w.day.Refuse(w.page.window.Text().Why(r))
		w.page.window.Focus(w.day.Focusable())
		return false
	}
	w.day.Accept()
	if day != w.page.paper.day {
		w.page.onDay(day, w.page.paper.typed.Lines)
	}
	return true
}
