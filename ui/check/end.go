package check

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
	"coilward/ui/widgets/bodychart"
)

// who is the animal at the head of the page.
func (p *Page) who() fyne.CanvasObject {
	t := p.window.Text()
	below := p.animal.Code
	for _, part := range []string{sexWord(t, p.animal.Sex), massWord(t, p.mass)} {
		if part != "" && below != "" {
			below += " · "
		}
		below += part
	}
	title := t.Say("check.title", map[string]any{"Name": p.animal.Name})
	if p.paper != nil {
		title = t.Say("check.title.paper", map[string]any{"Name": p.animal.Name})
		if !p.paper.typed.Uncoded {
			below = t.Say("paper.written.number", map[string]any{"Number": p.paper.sheet.Number()})
		}
	}
	if p.kept != nil {
		title = t.Say("check.title.again", map[string]any{"Name": p.animal.Name, "Day": p.kept.finished.Day()})
	}
	return widgets.Col(0, widgets.Line(title, look.Heading, look.Ink).Cuts(), widgets.Line(below, look.Note, look.Soft).Cuts())
}

// endPage is what the check came to, before it is kept.
func (p *Page) endPage() fyne.CanvasObject {
	t := p.window.Text()
	check := p.session.draft.Finish(p.window.Tables(), p.finishes())
	before, err := besides(p.window, p.animal, exam.StoredCheck{ID: p.session.draft.Check, Check: check})
	head := widgets.Pad(widgets.Row(look.S16,
		widgets.Grow(p.who()),
		widgets.Button(widgets.Quiet, widgets.Act{Icon: "left", Label: t.Say("check.back"), Do: func() { p.press(exam.KeyBack) }}),
	), 0, look.S16)
	left := widgets.Scroll(widgets.Pad(widgets.Col(look.S16, widgets.Para(p.summary(check), look.Note, look.Soft), p.verdictCard(check, before), p.daysBefore(before, err), p.reasons(check), p.notLooked(check)), look.S16, look.S24))
	right := widgets.Scroll(widgets.Pad(widgets.Col(look.S16, p.endDrawing(), p.changes(check), p.due(check, before), p.toFinish()), look.S16, look.S24))
	foot := widgets.Pad(widgets.Col(look.S8,
		widgets.Big(widgets.Button(widgets.Primary, widgets.Act{Label: t.Say("check.keep"), Key: "Enter", Do: p.finish})),
		widgets.Wrap(look.S8,
			widgets.Button(widgets.Plain, widgets.Act{Label: t.Say("check.keep-print"), Icon: "print", Do: p.finishAndPrint}),
			widgets.Button(widgets.Quiet, widgets.Act{Label: t.Say("check.act.put-away"), Icon: "bin", Do: p.putAway}),
		)), look.S12, look.S24)
	return widgets.Col(0,
		widgets.Fix(0, 72, widgets.MiddleUpright(head)), widgets.HLine(),
		widgets.Grow(widgets.RowFill(0,
			widgets.GrowBy(3, left), widgets.VLine(),
			widgets.GrowBy(2, widgets.Stack(widgets.Filled(look.Sheet, 0), widgets.Col(0, widgets.Grow(right), widgets.HLine(), foot))),
		)),
	)
}

// finishes is when the check ends: now, or when the one that is put right did.
func (p *Page) finishes() model.Moment {
	switch {
	case p.kept != nil:
		return p.kept.finished
	case p.paper != nil:
		return p.session.draft.Begun
	}
	return p.window.Now()
}

// summary is how much was looked at.
func (p *Page) summary(c exam.Check) string {
	t := p.window.Text()
	if p.paper != nil {
		return t.Say("check.summary.paper", map[string]any{"Extent": t.Say(c.Extent(p.window.Tables()).Key()), "Looked": c.LookedAt(), "Of": len(c.Stops), "Day": c.Begun.Day()})
	}
	return t.Say("check.summary", map[string]any{
		"Extent": t.Say(c.Extent(p.window.Tables()).Key()), "Looked": c.LookedAt(), "Of": len(c.Stops),
		"Begun": t.Time(c.Begun), "Finished": t.Time(c.Finished),
	})
}

// verdictCard is the step that counts, among all four.
func (p *Page) verdictCard(c exam.Check, before history.Standing) fyne.CanvasObject {
	t := p.window.Text()
	title, act := t.Say("check.nothing"), t.Say("check.nothing.detail")
	sign, tone, ground := "eye", look.Soft, look.Well
	switch partly := c.Extent(p.window.Tables()) == exam.PartCheck; {
	case c.Verdict.Level <= knowledge.NoAction && c.LookedAt() == 0:
		title = t.Say("check.nothing-looked")
	case c.Verdict.Level <= knowledge.NoAction && partly: // a headline of what was not looked at would speak too well
		title = t.Say("check.partly", map[string]any{"Looked": c.LookedAt(), "Of": len(c.Stops)})
	case c.Verdict.Level > knowledge.Nothing:
		u := particulars.Urgency(c.Verdict.Level)
		title, act = t.Say("urgency."+c.Verdict.Level.String()), t.Say("urgency."+c.Verdict.Level.String()+".act")
		sign, tone, ground = u.Sign(), u.Tone(), u.Ground()
	}
	if by, vet := c.Verdict.VetBy(); vet && c.Verdict.Level == knowledge.VetWithinDays {
		key := "check.vet-by"
		switch today := p.window.Now().Day(); {
		case by == today:
			key = "check.vet-today"
		case by < today:
			key = "check.vet-late"
		}
		act = t.Say(key, map[string]any{"Act": act, "Day": by})
	}
	if c.Verdict.Level < knowledge.VetWithinDays && before.ForVet() {
		act += " " + t.Say("check.vet-before")
	}
	if c.Extent(p.window.Tables()) == exam.BriefLook {
		act = t.Say("check.brief", map[string]any{"Act": act})
	}
	var steps []fyne.CanvasObject
	for _, l := range particulars.Steps() {
		steps = append(steps, widgets.GrowBy(1, stepBox(t.Say("urgency."+l.String()), l, l == c.Verdict.Level)))
	}
	icon := widgets.Fix(56, 56, widgets.Filled(ground, 28), widgets.Middle(widgets.NewSign(sign, 30, tone, ground)))
	parts := []fyne.CanvasObject{
		widgets.Row(look.S16, icon, widgets.Grow(widgets.Col(look.S4, widgets.Para(title, look.Display, look.Ink), widgets.Para(act, look.Lead, look.Ink)))),
		widgets.RowFill(look.S8, steps...),
	}
	if within, _ := p.window.Tables().ValueRow(knowledge.ValueVetWithin); within.Assumed() && c.Verdict.Level == knowledge.VetWithinDays {
		parts = append(parts, widgets.Para(t.Say("check.assumed", map[string]any{"Number": p.number(within.ID)}), look.Note, look.Soft))
	}
	if c.Verdict.Isolate() {
		parts = append(parts, widgets.Caution(t.Say("check.isolate")))
	}
	return widgets.Card(look.S16, widgets.Col(look.S16, parts...))
}

// daysBefore names what still stands from other days, so that a quiet check does
// not hide it.
func (p *Page) daysBefore(stands history.Standing, err error) fyne.CanvasObject {
	t := p.window.Text()
	if err != nil {
		return widgets.Caution(t.Say("check.before.unread", map[string]any{"Reason": err.Error()}))
	}
	var rows []fyne.CanvasObject
	for i, part := range stands.Parts {
		if i > 0 {
			rows = append(rows, widgets.HLine())
		}
		rows = append(rows, p.partBefore(part))
	}
	if stands.Loss.Level > knowledge.Nothing {
		rows = append(rows, widgets.Caution(particulars.Loss(t, p.window.Tables(), stands.Loss)))
	}
	if !stands.Unfed.IsZero() {
		rows = append(rows, widgets.Caution(particulars.Capital(particulars.Unfed(t, stands.Unfed))+". "+t.Say("stands.loss-how")))
	}
	if b := stands.Breathing; !b.IsZero() {
		rows = append(rows, widgets.Caution(particulars.Capital(t.Say("stands.breathing", wording.Gaps{"Day": t.DayShort(b.At.Day())}))+". "+t.Say("stands.loss-how")))
	}
	if len(rows) == 0 {
		return widgets.Space(0, 0)
	}
	return widgets.Col(look.S8, widgets.Line(t.Say("check.before"), look.Section, look.Ink),
		widgets.Para(t.Say("check.before.what"), look.Note, look.Soft), widgets.Card(0, widgets.Col(0, rows...)))
}

// partBefore is one thing that stands from another day: what, how urgent, who
// said so when, and by when.
func (p *Page) partBefore(part history.Part) fyne.CanvasObject {
	t := p.window.Text()
	var names []string
	for _, s := range part.Verdict.Signs {
		if name := t.Say("finding." + string(s.What)); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	said := t.Say("stands.said-on", map[string]any{"Day": t.DayShort(part.Day)})
	if part.From == history.FromGone {
		said = t.Say("stands.gone", map[string]any{"Day": t.DayShort(part.Gone), "Said": t.DayShort(part.Day)})
	}
	words := []fyne.CanvasObject{widgets.Para(strings.Join(names, ", "), look.BodyBold, look.Ink), widgets.Para(said, look.Note, look.Soft)}
	today := p.window.Now().Day()
	for _, o := range (history.Standing{Parts: []history.Part{part}}).Due() {
		words = append(words, widgets.Para(t.Say(o.Kind.Key())+" · "+t.By(o.Day(today), today), look.Body, look.Ink))
	}
	u := particulars.Urgency(part.Level())
	return widgets.Pad(widgets.RowTop(look.S12, widgets.Grow(widgets.Col(2, words...)), widgets.Step(u, t.Say("urgency."+part.Level().String()))), look.S12, look.S16)
}

// stepBox is one of the four steps; the one that counts is raised.
func stepBox(word string, l knowledge.Level, counts bool) fyne.CanvasObject {
	u := particulars.Urgency(l)
	g := widgets.Ground{Fill: look.Sheet, Line: look.Hair, Width: 1, Radius: look.RBase}
	kind, tone, sign := look.Note, look.Soft, look.Faint
	if counts {
		g = widgets.Ground{Fill: u.Ground(), Line: u.Tone(), Width: 2, Radius: look.RBase}
		kind, tone, sign = look.NoteBold, look.Ink, u.Tone()
	}
	return widgets.Stack(widgets.NewBox(g), widgets.Pad(widgets.Row(6, widgets.NewSign(u.Sign(), 16, sign, g.Fill), widgets.Grow(widgets.Para(word, kind, tone))), look.S8, look.S8))
}

// reasons are all rules that matched, the most urgent first, each with what it
// rests on.
func (p *Page) reasons(c exam.Check) fyne.CanvasObject {
	t := p.window.Text()
	if len(c.Verdict.Reasons) == 0 {
		return widgets.Space(0, 0)
	}
	var rows []fyne.CanvasObject
	for i, r := range c.Verdict.Reasons {
		if i > 0 {
			rows = append(rows, widgets.HLine())
		}
		rows = append(rows, p.reason(c, r))
	}
	return widgets.Col(look.S8, widgets.Line(t.Say("check.why"), look.Section, look.Ink), widgets.Card(0, widgets.Col(0, rows...)))
}

func (p *Page) reason(c exam.Check, r exam.Reason) fyne.CanvasObject {
	t := p.window.Text()
	u := particulars.Urgency(r.Level)
	words := []fyne.CanvasObject{widgets.Para(p.signsWords(c, r), look.BodyBold, look.Ink), widgets.Para(t.Say("reason."+string(r.Rule)), look.Body, look.Ink)}
	if r.Worsened {
		words = append(words, widgets.Para(t.Say("check.became-worse"), look.Body, look.Ink))
	}
	overtaken := !slices.ContainsFunc(r.Signs, func(i int) bool { return c.Verdict.Of(i) <= r.Level }) // a graver reason says what to do
	switch by, again := c.Verdict.AgainBy(r); {
	case overtaken || !again:
	case by == c.Verdict.Day:
		words = append(words, widgets.Para(t.Say("check.again-today"), look.Body, look.Soft))
	default:
		words = append(words, widgets.Para(t.Say("check.again-in", map[string]any{"Day": by}), look.Body, look.Soft))
	}
	if r.IfWorse > r.Level && !overtaken {
		words = append(words, widgets.Para(t.Say("check.if-worse", map[string]any{"Step": t.Say("urgency." + r.IfWorse.String())}), look.Body, look.Soft))
	}
	for _, id := range r.Assumed {
		words = append(words, widgets.Para(t.Say("check.assumed", map[string]any{"Number": p.number(id)}), look.Note, look.Soft))
	}
	words = append(words, widgets.Row(6, widgets.NewIcon("source", 14, look.Faint), widgets.Grow(widgets.Para(t.Say("check.source", map[string]any{"Source": t.Source(r.Source)}), look.Note, look.Faint))))
	return widgets.Pad(widgets.RowTop(look.S12,
		widgets.Grow(widgets.Col(2, words...)), widgets.Step(u, t.Say("urgency."+r.Level.String()))), look.S12, look.S16)
}

// number is one of the tables' numbers in words.
func (p *Page) number(id knowledge.ValueID) string {
	t := p.window.Text()
	v, _ := p.window.Tables().ValueRow(id)
	said := strconv.Itoa(v.Number)
	switch id {
	case knowledge.ValueCold:
		said = t.Temperature(model.Temperature{Hundredths: int64(v.Number)})
	case knowledge.ValueSmall, knowledge.ValueYoungMass:
		said = t.Mass(model.Grams(int64(v.Number)))
	}
	return t.Say("value."+string(id), map[string]any{"Number": said})
}

// signsWords names the findings that a reason speaks of, with how bad they are
// and where.
func (p *Page) signsWords(c exam.Check, r exam.Reason) string {
	t := p.window.Text()
	var words string
	for _, i := range r.Signs {
		s := c.Verdict.Signs[i]
		if words != "" {
			words += "; "
		}
		where := t.Say("stop." + string(s.Stop))
		switch {
		case s.Rough:
			where = t.Say("check.rough-sign", map[string]any{"Place": where})
		case s.Place != (body.Place{}):
			where = placeWords(t, s.Place)
		}
		words += t.Say("check.sign", map[string]any{"Finding": t.Say("finding." + string(s.What)), "Grade": t.Say(s.Grade.Key()), "Place": where})
	}
	return words
}

// notLooked lists the stops that nobody looked at, and what this page is not.
func (p *Page) notLooked(c exam.Check) fyne.CanvasObject {
	t := p.window.Text()
	lists := map[exam.Look]string{}
	for _, s := range c.Stops {
		if s.Look.Looked() {
			continue
		}
		if lists[s.Look] != "" {
			lists[s.Look] += ", "
		}
		lists[s.Look] += t.Say("stop." + string(s.Stop))
	}
	line := func(icon, text string) fyne.CanvasObject {
		return widgets.RowTop(look.S8, widgets.NewIcon(icon, 18, look.Soft), widgets.Grow(widgets.Para(text, look.Body, look.Soft)))
	}
	var rows []fyne.CanvasObject
	for _, k := range []struct {
		look      exam.Look
		icon, key string
	}{{exam.NotYet, "eye", "check.unanswered"}, {exam.NotLooked, "eye", "check.not-looked"}, {exam.LeftToVet, "person", "check.left-to-vet"}} {
		if lists[k.look] != "" {
			rows = append(rows, line(k.icon, t.Say(k.key, map[string]any{"Stops": lists[k.look]})))
		}
	}
	if lists[exam.NotYet] != "" {
		rows = append(rows, line("calendar", t.Say("check.stays-due")))
	}
	return widgets.Col(look.S8, append(rows, line("caution", t.Say("check.no-diagnosis")))...)
}

// endDrawing shows the whole animal with what stands on it: from above, and in
// every other view that shows what no view before it does.
func (p *Page) endDrawing() fyne.CanvasObject {
	drawing := func(v body.ViewID) fyne.CanvasObject {
		c := bodychart.New(v, style())
		c.Pins = chartPins(p.session)
		c.Describe = func(at body.Place) string { return placeWords(p.window.Text(), at) }
		return widgets.Fix(0, 170, c)
	}
	var shown []fyne.CanvasObject
	for _, v := range endViews(p.session.pins()) {
		shown = append(shown, drawing(v))
	}
	return widgets.Col(look.S4, shown...)
}

// endViews are the views that show every pin: the whole animal from above, from
// below where something lies there alone, and the view of head or mouth on which
// something was pointed to.
func endViews(pins []pin) []body.ViewID {
	views := []body.ViewID{body.Above}
	for _, pin := range pins {
		view := pin.Place.View
		if view == "" {
			view = body.Underside
		}
		_, above := body.Point(body.Above, pin.Place)
		if (pin.Place.View != "" || !above) && !slices.Contains(views, view) {
			views = append(views, view)
		}
	}
	return views
}

// changes is what changed since the last check.
func (p *Page) changes(c exam.Check) fyne.CanvasObject {
	t := p.window.Text()
	rows := []fyne.CanvasObject{widgets.Line(t.Say("check.changes"), look.Section, look.Ink)}
	changed := c.Changes()
	if len(changed) == 0 {
		none := "check.changes.none"
		if p.session.known == 0 {
			none = "check.changes.first"
		}
		return widgets.Col(look.S8, append(rows, widgets.Para(t.Say(none), look.Body, look.Soft))...)
	}
	for _, ch := range changed {
		number, kind := p.session.numbers[ch.Problem], widgets.PinEarlier
		if ch.Finding >= 0 {
			number, kind = p.session.number(ch.Finding), widgets.PinNow
		}
		if ch.Standing == exam.Gone {
			kind = widgets.PinGone
		}
		rows = append(rows, widgets.RowTop(look.S8, widgets.Pin(numberText(number), kind),
			widgets.Grow(widgets.Col(0, widgets.Para(t.Say("finding."+string(ch.What)), look.Body, look.Ink), widgets.Para(changeWords(t, ch), look.Note, look.Soft))),
			widgets.Line(t.Say(ch.Standing.Key()), look.NoteBold, look.Ink)))
	}
	return widgets.Col(look.S8, rows...)
}

// changeWords is how bad it was and is.
func changeWords(w words, ch exam.Changed) string {
	now := glimpseWords(w, ch.Now.Grade, ch.Now)
	if ch.Before.At.IsZero() || ch.Standing == exam.Gone || ch.Standing == exam.Unasked {
		return now
	}
	return w.Say("check.was-is", map[string]any{"Was": glimpseWords(w, ch.Before.Grade, ch.Before), "Is": now})
}

// due is what the check makes due, beside what is due already from the days
// before it.
func (p *Page) due(c exam.Check, before history.Standing) fyne.CanvasObject {
	t := p.window.Text()
	rows := []fyne.CanvasObject{widgets.Line(t.Say("check.due"), look.Section, look.Ink)}
	today := p.window.Now().Day()
	own := history.Standing{Parts: []history.Part{{From: history.FromCheck, Day: c.Verdict.Day, Verdict: c.Verdict}}}
	for _, o := range own.Due() {
		var names []string
		for _, what := range o.For {
			names = append(names, t.Say("finding."+string(what)))
		}
		rows = append(rows, widgets.RowTop(look.S8, widgets.NewIcon("calendar", 18, look.Soft),
			widgets.Grow(widgets.Col(0, widgets.Para(t.Say(o.Kind.Key()), look.Body, look.Ink), widgets.Para(strings.Join(names, ", "), look.Note, look.Soft))),
			widgets.Line(t.By(o.Day(today), today), look.NoteBold, look.Ink)))
	}
	var left []string
	for _, stop := range exam.LeftToVetBy(p.window.Tables(), []exam.StoredCheck{{Check: c}}) {
		left = append(left, t.Say("stop."+string(stop)))
	}
	if len(left) > 0 {
		rows = append(rows, widgets.RowTop(look.S8, widgets.NewIcon("person", 18, look.Soft),
			widgets.Grow(widgets.Para(t.Say("animal.next-visit", map[string]any{"Stops": strings.Join(left, ", ")}), look.Body, look.Ink))))
	}
	if len(rows) == 1 {
		none := "check.due.none"
		if len(before.Due()) > 0 {
			none = "check.due.none-new"
		}
		rows = append(rows, widgets.Para(t.Say(none), look.Body, look.Soft))
	}
	return widgets.Col(look.S8, rows...)
}

// toFinish lists what findings still lack; each goes to its finding.
func (p *Page) toFinish() fyne.CanvasObject {
	t := p.window.Text()
	var rows []fyne.CanvasObject
	for _, m := range p.session.draft.ToFinish(p.window.Tables()) {
		rows = append(rows, p.missingRow(m))
	}
	if len(rows) == 0 {
		return widgets.Space(0, 0)
	}
	return widgets.Col(look.S4, append([]fyne.CanvasObject{
		widgets.Line(t.Say("check.to-finish"), look.Section, look.Ink), widgets.Para(t.Say("check.to-finish.detail"), look.Note, look.Soft)}, rows...)...)
}

func (p *Page) missingRow(m exam.Missing) fyne.CanvasObject {
	t := p.window.Text()
	var what knowledge.FindingID
	number, kind, index := 0, widgets.PinNow, 0
	if m.Finding >= 0 {
		f := p.session.draft.Findings[m.Finding]
		what, number, index = f.What, p.session.number(m.Finding), p.stopIndex(f.Stop)
	} else {
		e := p.session.draft.Earlier[m.Earlier]
		what, number, kind, index = e.What, p.session.numbers[e.Problem], widgets.PinEarlier, p.stopIndex(e.Stop)
	}
	missing := ""
	for _, k := range []struct {
		lacks bool
		key   string
	}{{m.Place, "check.missing.place"}, {m.Size, "check.missing.size"}, {m.Photo, "check.missing.photo"}, {m.Note, "check.missing.note"}} {
		if !k.lacks {
			continue
		}
		if missing != "" {
			missing += ", "
		}
		missing += t.Say(k.key)
	}
	row := widgets.Row(look.S8, widgets.Pin(strconv.Itoa(number), kind), widgets.Grow(widgets.Para(t.Say("finding."+string(what)), look.Body, look.Ink)), widgets.Line(missing, look.Note, look.Soft))
	return widgets.RowPress(t.Say("finding."+string(what)), widgets.Pad(row, look.S4, 0), func() {
		p.session.take(p.session.draft.Go(index))
		p.session.chosen = m.Finding
		p.changed()
	})
}

func (p *Page) stopIndex(stop knowledge.StopID) int {
	return max(0, slices.IndexFunc(p.session.draft.Stops, func(a exam.Answered) bool { return a.Stop == stop }))
}
