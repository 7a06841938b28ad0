package newcomers

import (
	"fyne.io/fyne/v2"

	"coilward/model/care"
	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
	"coilward/ui/widgets/markchart"
	"coilward/ui/widgets/raster"
)

type rasterStyle = raster.Style

// detail is all about the chosen newcomer.
func (p *Page) detail(n newcomers.Newcomer) []fyne.CanvasObject {
	p.chosenHead = p.headOf(n)
	parts := []fyne.CanvasObject{p.chosenHead}
	if n.Room.IsZero() {
		parts = append(parts, widgets.Row(look.S16, widgets.Grow(widgets.Caution(p.say("newcomers.no-place"))), widgets.MiddleUpright(p.off(widgets.Button(widgets.Plain, widgets.Act{Label: p.say("newcomers.give-place"), Icon: "shelf", Do: func() { p.settle(n) }})))))
	}
	if steps := n.Arriving(); steps != nil {
		parts = append(parts, p.arrival(n, steps))
	}
	left := p.list(n)
	right := widgets.Col(look.S24, p.todo(n), p.care())
	if p.narrow() {
		parts = append(parts, left, right)
	} else {
		parts = append(parts, widgets.RowTop(look.S32, widgets.GrowBy(1.25, left), widgets.GrowBy(1, right)))
	}
	if n.Protocol.Mites {
		parts = append(parts, p.mites(n))
	}
	return parts
}

// headOf is who it is, the next act as a button, and what else can be done.
func (p *Page) headOf(n newcomers.Newcomer) fyne.CanvasObject {
	w := p.words()
	below := particulars.QuarantineDay(w.Text, n) + " · " + w.Label(n.Protocol.Title())
	if len(n.Facts.Restarts) > 0 {
		below = w.Say("newcomers.day-since", gaps{"Day": n.Day}) + " · " + below
	}
	acts, rank := widgets.Wrap(look.S8), widgets.Plain
	if all := p.board.Detected[n.Animal.ID]; len(all) > 0 { // nothing goes before it
		what, to := w.answer(all[0])
		rank = widgets.Quiet
		acts.Add(widgets.Button(widgets.Plain, widgets.Act{Label: what, Icon: "tube", Do: func() { p.window.Go(to) }}))
	}
	if step, there := quarantine.Next(n.Plan); there {
		what, _ := w.step(step)
		acts.Add(p.off(widgets.Button(rank, widgets.Act{Label: what, Icon: stepIcon(step.Kind), Do: func() { p.do(step, n) }})))
		if step.Kind != quarantine.StepRelease {
			acts.Add(p.off(widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("newcomers.release"), Icon: "open", Do: func() { p.release(n) }})))
		}
	}
	acts.Add(p.off(widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("newcomers.change"), Icon: "note", Do: func() { p.change(n) }})))
	acts.Add(widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("newcomers.to-animal"), Icon: "animals", Do: func() { p.window.Go(place.Route{To: place.Animal, Subject: n.Animal.ID.ID}) }}))
	head := widgets.Col(look.S8, widgets.Col(0, widgets.Line(n.Animal.Name, look.Heading, look.Ink).Cuts(), widgets.Line(below, look.Body, look.Soft).Cuts()))
	if found := p.detected(n); found != nil {
		head.Add(found)
	}
	head.Add(acts)
	head.Add(widgets.HLine())
	return head
}

// detected is what was detected in it and is not settled, each a press that opens its
// positive, or the sample where none was opened; nil: nothing was.
func (p *Page) detected(n newcomers.Newcomer) fyne.CanvasObject {
	found := p.board.Detected[n.Animal.ID]
	if len(found) == 0 {
		return nil
	}
	row := widgets.Wrap(look.S8)
	for _, one := range found {
		said, to := p.words().detected(one)
		row.Add(widgets.NewPress(said, widgets.Mark("tube", said, look.Today, look.TodayBg), func(widgets.State) widgets.Ground { return widgets.Ground{Radius: 14} }, func() { p.window.Go(to) }))
	}
	return row
}

// off disables a press while nothing can be noted.
func (p *Page) off(b *widgets.Press) *widgets.Press {
	if p.window.ReadOnly() {
		b.Disable()
	}
	return b
}

func stepIcon(k quarantine.StepKind) string {
	switch k {
	case quarantine.StepWeigh:
		return "weight"
	case quarantine.StepMites:
		return "mite"
	case quarantine.StepCheck:
		return "check"
	case quarantine.StepFaecal:
		return "waste"
	case quarantine.StepRelease:
		return "open"
	}
	return "tube"
}

// do goes where a step is done.
func (p *Page) do(s quarantine.Step, n newcomers.Newcomer) {
	if to, elsewhere := Way(quarantine.With(n.Plan, s, p.board.Today), n.Animal.ID); elsewhere {
		p.window.Go(to)
		return
	}
	if s.Kind == quarantine.StepMites {
		p.lookForMites(n)
		return
	}
	p.release(n)
}

// list is the one list of what is asked.
func (p *Page) list(n newcomers.Newcomer) fyne.CanvasObject {
	rows := widgets.Col(0)
	for i, l := range n.Gate.Lines {
		if i > 0 {
			rows.Add(widgets.HLine())
		}
		rows.Add(p.lineRow(n.Gate, l, false))
	}
	return widgets.Group(p.say("newcomers.asked"), p.say("newcomers.asked-what"), rows)
}

// lineRow is one line: its mark and state, what it is, since when or the earliest day,
// why, and what it rests on. In a narrow column its day has a line of its own.
func (p *Page) lineRow(g quarantine.Gate, l quarantine.Line, narrow bool) fyne.CanvasObject {
	w := p.words()
	icon, tone := stateSign(l.State), look.Soft
	switch l.State {
	case quarantine.Met:
		tone = look.Accent
	case quarantine.Watch:
		tone = look.Again
	}
	what, when := widgets.Para(w.line(l), look.BodyBold, look.Ink), w.when(g, l)
	state := widgets.Line(particulars.Capital(w.Say("quarantine.state."+string(l.State))), look.NoteBold, tone)
	body := widgets.Col(2, widgets.Row(look.S8, widgets.Grow(what), widgets.Line(when, look.Note, look.Soft)), state)
	if narrow {
		body = widgets.Col(2, what, widgets.Para(when, look.Note, look.Soft), state)
	}
	if why := w.reasons(l); why != "" {
		body.Add(widgets.Para(why, look.Note, look.Soft))
	}
	if on := p.board.On(l.On); len(on) > 0 {
		body.Add(p.rests(on))
	}
	return widgets.Pad(widgets.RowTop(look.S12, widgets.Pad(widgets.NewSign(icon, 18, tone, look.Paper), 2, 0), widgets.Grow(body)), look.S12, 0)
}

// stateSign is the sign of how a line stands, as on paper.
func stateSign(s quarantine.State) string {
	switch s {
	case quarantine.Met:
		return "clear!"
	case quarantine.Watch:
		return "again!"
	case quarantine.CannotTell:
		return "left!"
	}
	return "unmet!"
}

// rests are what a line rests on, each to be opened.
func (p *Page) rests(on []Rest) fyne.CanvasObject {
	w := p.words()
	row := widgets.Wrap(look.S8, widgets.Fix(0, 28, widgets.MiddleUpright(widgets.Line(p.say("newcomers.rests-on"), look.Note, look.Faint))))
	for _, r := range on {
		row.Add(widgets.Chip("open", w.Say("newcomers.entry", gaps{"Kind": w.Say("kind." + r.Kind), "Day": w.DayShort(r.Day)}), false, func() { p.window.Go(r.To) }))
	}
	return row
}

// showLine shows one line in the side column.
func (p *Page) showLine(l quarantine.Line) {
	n, there := p.board.Of(p.chosen)
	if !there || p.holds() {
		return
	}
	p.form = nil
	p.again = nil
	p.show(particulars.Column(n.Animal.Name, p.close, p.lineRow(n.Gate, l, true), widgets.Button(widgets.Plain, widgets.Act{Label: p.say("newcomers.to-animal"), Icon: "animals",
		Do: func() { p.window.Go(place.Route{To: place.Animal, Subject: n.Animal.ID.ID}) }})))
}

// todo is the plan of days: what is still to do, each with its act.
func (p *Page) todo(n newcomers.Newcomer) fyne.CanvasObject {
	w := p.words()
	rows := widgets.Col(look.S4)
	for _, s := range n.Plan {
		if s.Done {
			continue
		}
		what, when := w.step(s)
		tone := look.Soft
		if s.By < p.board.Today {
			tone = look.Days
		}
		rows.Add(widgets.Row(look.S8, widgets.NewIcon(stepIcon(s.Kind), 18, look.Accent), widgets.Grow(widgets.Col(0, widgets.Para(what, look.Body, look.Ink), widgets.Line(when, look.Note, tone))),
			p.off(widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("newcomers.do." + string(s.Kind)), Do: func() { p.do(s, n) }}))))
	}
	return widgets.Group(p.say("newcomers.plan"), p.say("newcomers.plan-what"), rows)
}

// arrival is the guided list of the first days.
func (p *Page) arrival(n newcomers.Newcomer, steps []newcomers.ArrivalStep) fyne.CanvasObject {
	w := p.words()
	cards := widgets.Wrap(look.S12)
	for _, s := range steps {
		what := w.Say("newcomers.arrival." + string(s.Kind))
		below, icon, tone := w.By(s.By, p.board.Today), "ring!", look.Soft
		if s.Want > 1 {
			below = w.Say("newcomers.of", gaps{"Have": s.Have, "Want": s.Want})
		}
		words := []fyne.CanvasObject{widgets.Para(what, look.BodyBold, look.Ink)}
		if s.Kind == newcomers.ArriveWeigh && !s.Done { // later weights are held against this one
			words = append(words, widgets.Para(p.say("newcomers.weigh-gut"), look.Note, look.Soft))
		}
		if s.Done {
			below, icon, tone = w.Say("newcomers.arrived-done"), "clear!", look.Accent
		}
		gutless := len(s.On) > 0 && p.board.Gutless[s.On[0]]
		if gutless { // it is said there
			below, icon, tone = w.Say("newcomers.arrived-gutless"), "again!", look.Again
		}
		content := widgets.Fix(188, 0, widgets.Pad(widgets.RowTop(look.S8, widgets.NewSign(icon, 18, tone, look.Sheet), widgets.Grow(widgets.Col(0, append(words, widgets.Para(below, look.Note, look.Soft))...))), look.S12))
		cards.Add(p.off(widgets.Tile(what, content, false, func() {
			if gutless {
				p.window.Go(place.Route{To: place.Animal, Subject: n.Animal.ID.ID, Page: s.On[0].String()})
				return
			}
			if to, elsewhere := ArriveWay(s.Kind, n, p.board.Today); elsewhere {
				p.window.Go(to)
				return
			}
			p.lookForMites(n)
		})))
	}
	return widgets.Group(p.say("newcomers.arrival"), p.say("newcomers.arrival-what"), cards)
}

// care is in which order and with what newcomers are cared for.
func (p *Page) care() fyne.CanvasObject {
	lines := widgets.Col(look.S8)
	for _, key := range []string{"newcomers.care.last", "newcomers.care.tools", "newcomers.care.never", "newcomers.care.vet"} {
		lines.Add(widgets.RowTop(look.S8, widgets.Pad(widgets.NewIcon("dash", 14, look.Soft), 3, 0), widgets.Grow(widgets.Para(p.say(key), look.Body, look.Ink))))
	}
	lines.Add(widgets.Para(p.say("newcomers.care.source"), look.Note, look.Faint))
	return widgets.Group(p.say("newcomers.care"), "", lines)
}

// mites are the looks for mites, and the life of one beside the watch.
func (p *Page) mites(n newcomers.Newcomer) fyne.CanvasObject {
	w, style := p.words(), widgets.Drawn()
	looks := markchart.New(len(n.Looks), func(measure drawing.Measure, width, height, size float64) markchart.Marks {
		watch := w.watch(n)
		watch.Words.Measure = measure
		return chart.NewWatch(watch, width, height, size)
	}, style)
	looks.Describe = func(i int) string { return w.lookSaid(n, i) }
	looks.OnMark = func(i int) {
		p.window.Go(place.Route{To: place.Animal, Subject: n.Looks[i].Animal.ID, Page: n.Looks[i].Entry.ID.String()})
	}
	looks.OnKey = p.TypedKey
	lives := w.lives(n)
	lives.Words.Measure = style.Measure
	life := widgets.NewSketch(320, float32(chart.LivesHeight(len(lives.Lives), 12)), func(pen drawing.Pen, size fyne.Size) { chart.DrawLives(pen, lives, float64(size.Width), 12) })
	sources := widgets.Col(2)
	for _, s := range p.window.Tables().MiteLife() {
		sources.Add(widgets.Para(w.said(s), look.Note, look.Faint))
	}
	note := p.off(widgets.Button(widgets.Plain, widgets.Act{Label: p.say("newcomers.note-look"), Icon: "mite", Do: func() { p.lookForMites(n) }}))
	treat := p.off(widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("newcomers.note-treatment"), Icon: "vet", Do: func() {
		p.window.Go(place.Route{To: place.Animal, Subject: n.Animal.ID.ID, Page: care.KindMiteTreatment})
	}}))
	head := widgets.Row(look.S16, widgets.Grow(widgets.Col(0, widgets.Line(p.say("newcomers.mites"), look.Section, look.Ink), widgets.Para(w.looked(n), look.Body, look.Soft))), treat, note)
	clock := widgets.Col(look.S8, widgets.Line(p.say("newcomers.life"), look.BodyBold, look.Ink), life, widgets.Para(w.margin(n), look.Note, look.Soft))
	chartBox := widgets.Fix(0, 216, looks)
	if p.narrow() {
		return widgets.Col(look.S16, head, chartBox, clock, sources)
	}
	return widgets.Col(look.S16, head, widgets.RowTop(look.S32, widgets.GrowBy(1.25, chartBox), widgets.GrowBy(1, clock)), sources)
}

// released are those who were released, folded until they are asked for.
func (p *Page) released() fyne.CanvasObject {
	w := p.words()
	icon := "right"
	if !p.folded {
		icon = "down"
	}
	fold := widgets.Button(widgets.Quiet, widgets.Act{Label: w.Count("newcomers.released", len(p.board.Released)), Icon: icon, Do: func() {
		p.folded = !p.folded
		p.build()
	}})
	rows := widgets.Col(0, widgets.Row(0, fold, widgets.Fill()))
	if p.folded {
		return rows
	}
	for _, past := range p.board.Released {
		r := past.Stored.Released
		below := w.Say("newcomers.released-all")
		if unmet := r.Unmet(); len(unmet) > 0 {
			below = w.Count("newcomers.released-unmet", len(unmet), gaps{"First": w.line(unmet[0])})
			if r.Why != "" {
				below += " " + w.Say("newcomers.released-why", gaps{"Why": r.Why})
			}
		}
		title := w.Say("newcomers.released-row", gaps{"Animal": past.Animal.Name, "From": w.DayShort(past.Arrived.Day()), "To": w.DayShort(r.At.Day())})
		rows.Add(widgets.HLine())
		rows.Add(widgets.RowPress(title, widgets.Pad(widgets.Col(0, widgets.Para(title, look.Body, look.Ink), widgets.Para(below, look.Note, look.Soft)), look.S8, look.S12), func() { p.showPast(past) }))
	}
	return rows
}

// showPast shows the list of a quarantine as it was said at the release.
func (p *Page) showPast(past Past) {
	if p.holds() {
		return
	}
	r, w := past.Stored.Released, p.words()
	g := quarantine.Gate{Protocol: r.Asked, Day: r.At.Day(), Lines: r.Lines, Earliest: r.Earliest, Met: len(r.Unmet()) == 0}
	rows := widgets.Col(0, widgets.Para(w.Say("newcomers.as-said", gaps{"Day": w.DayShort(r.At.Day())}), look.Body, look.Soft))
	if r.Why != "" {
		rows.Add(widgets.Pad(widgets.Para(w.Say("newcomers.released-why", gaps{"Why": r.Why}), look.Body, look.Ink), look.S8, 0))
	}
	w.today = r.At.Day()
	for _, l := range r.Lines {
		rows.Add(widgets.HLine())
		rows.Add(p.lineRow(g, l, true))
	}
	p.form, p.again = nil, nil
	p.show(particulars.Column(past.Animal.Name, p.close, rows, p.off(widgets.Button(widgets.Plain, widgets.Act{Label: p.say("newcomers.arrive-again"), Icon: "plus", Do: func() { p.arrive(past.Animal.ID) }}))))
}
