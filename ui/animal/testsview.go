package animal

import (
	"context"
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/chances"
	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/model/evidence"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
	"coilward/ui/widgets/markchart"
)

// PageTests is the page of what samples prove.
const PageTests = "tests"

// testsView is what samples prove of the animal: for each thing the chance that it carries
// it, how each sample moved it, what it rests on and what follows.
type testsView struct {
	page    *Page
	of      model.AnimalID    // whose it is, or is being read
	chosen  knowledge.AgentID // the thing in sight; empty: the first
	all     []chances.Chance
	names   map[model.AnimalID]string // of the others that it was near
	rooms   map[model.PlaceID]string  // in which it was near them
	unread  []model.Label             // what of all that the chances rest on cannot be read
	traces  map[knowledge.AgentID]place.Route
	courses map[knowledge.AgentID][]chances.Point
	reading bool
	asked   int // how often it was asked for: what is not the newest answer is left
	fault   error
	scroll  *fyne.Container
	before  *fyne.Container       // as it was before it was built anew
	beside  *fyne.Container       // the figures that are assumed, beside the page; nil: they are not asked for
	form    *particulars.SideForm // of one of them; nil: none is open
}

func newTestsView(p *Page) *testsView { return &testsView{page: p} }

func (v *testsView) say(key string, gaps ...map[string]any) string { return v.page.say(key, gaps...) }

// load reads what samples prove, off Fyne's goroutine: it rests on the whole collection.
func (v *testsView) load() {
	p := v.page
	v.asked++
	if v.of != p.id || p.open != PageTests || p.life == nil {
		v.all, v.reading = nil, false // it is read anew when it is turned to
	}
	if p.open != PageTests || p.life == nil {
		return
	}
	if v.of != p.id {
		v.of, v.chosen, v.scroll = p.id, "", nil
	}
	v.reading, v.fault = true, nil
	asked := v.asked
	next := &testsView{page: p, of: p.id, names: map[model.AnimalID]string{}, rooms: map[model.PlaceID]string{}, traces: map[knowledge.AgentID]place.Route{}, courses: map[knowledge.AgentID][]chances.Point{}}
	p.window.Task(v.say("chance.reading"), func(context.Context, func(float64)) error {
		return p.window.Collection().View(next.read)
	}, func(err error) {
		if v.asked != asked {
			return // it was asked for again meanwhile
		}
		v.reading, v.fault = false, err
		v.all, v.names, v.rooms, v.unread, v.traces, v.courses = next.all, next.names, next.rooms, next.unread, next.traces, next.courses
		if p.open == PageTests {
			p.build()
		}
	})
}

func (v *testsView) read(view model.View) error {
	return v.page.window.Chances().Ask(view, func(r *chances.Reader) error {
		v.all, v.unread = r.All(v.of), r.CannotRead()
		for _, c := range v.all {
			v.courses[c.Of] = c.Course()
			for _, e := range c.Exposed {
				v.names[e.To], v.rooms[e.Room] = r.Name(e.To), r.Room(e.Room)
			}
			if t, ok := c.Open(); ok {
				v.traces[c.Of] = routeOf(t)
			}
		}
		return nil
	})
}

// routeOf leads to a positive, or to the sample where none was opened.
func routeOf(t positives.Trace) place.Route {
	if t.ID.IsZero() {
		return place.Route{To: place.Tray, Subject: t.Sample.ID}
	}
	return place.Route{To: place.Positive, Subject: t.ID.ID}
}

// turned reads anew what is shown of the page that was turned to.
func (v *testsView) turned() {
	if v.of != v.page.id || v.all == nil && !v.reading {
		v.load()
	}
}

func (v *testsView) content() fyne.CanvasObject {
	p := v.page
	if v.fault != nil {
		return widgets.EmptyPage(nil, v.say("chance.fault"), v.say("chance.fault-what"), widgets.Act{Label: v.say("chance.again"), Do: v.load})
	}
	if v.of != p.id || len(v.all) == 0 {
		return widgets.EmptyPage(nil, v.say("chance.reading"), "", widgets.Act{})
	}
	c := v.inSight()
	parts := []fyne.CanvasObject{v.things(c), v.said(c)}
	if c.Known() {
		parts = append(parts, v.chart(c))
	}
	if len(c.Steps) > 0 {
		parts = append(parts, v.steps(c))
	} else if c.Known() {
		parts = append(parts, widgets.Para(v.say("chance.no-sample", map[string]any{"Name": p.life.Name, "Agent": v.agent(c.Of)}), look.Body, look.Soft))
	}
	if c.Known() {
		change := widgets.Button(widgets.Plain, widgets.Act{Label: v.say("chance.change"), Icon: "note", Do: func() { v.figures(c.Of) }})
		assumes, cannot := widgets.Group(v.say("chance.assumes"), "", v.lines(v.assumes(c)), widgets.Row(0, change)), widgets.Group(v.say("chance.cannot"), "", v.lines(v.cannot()))
		parts = append(parts, widgets.RowTop(look.S32, widgets.GrowBy(1.4, assumes), widgets.GrowBy(1, cannot)))
	}
	v.before, v.scroll = v.scroll, widgets.Scroll(widgets.Pad(widgets.Col(look.S24, parts...), look.S16, look.S24, look.S24, look.S24))
	return v.scroll
}

// settle puts the page where it stood before it was built anew, once it is in sight.
func (v *testsView) settle() { widgets.Resume(v.before, v.scroll) }

// figures shows beside the page the figures that the chance of a thing is worked out from.
// What was typed of one and not kept stays: the keys go back to it.
func (v *testsView) figures(of knowledge.AgentID) {
	p := v.page
	if v.form != nil && v.form.Holds() || p.holds() {
		return
	}
	p.leave()
	p.form, p.who, p.reading = nil, nil, nil
	particulars.NewAssumed(p.window, of, func(content *fyne.Container, form *particulars.SideForm) {
		v.beside, v.form = content, form
		p.build()
	}, func() {
		v.beside, v.form = nil, nil
		p.build()
	}, v.load)
}

// escape leaves the figures; false where they are not in sight.
func (v *testsView) escape() bool {
	switch {
	case v.beside == nil || v.page.open != PageTests:
		return false
	case v.form != nil:
		v.form.Leave()
	default:
		v.beside = nil
		v.page.build()
	}
	return true
}

// inSight is the thing that is shown: the chosen one, else what was detected in it, else in what
// it shares a room with, else what was looked for, else the first.
func (v *testsView) inSight() chances.Chance {
	for _, fits := range []func(chances.Chance) bool{
		func(c chances.Chance) bool { return c.Of == v.chosen },
		func(c chances.Chance) bool { return v.chosen == "" && c.Act == evidence.Vet },
		func(c chances.Chance) bool {
			t, open := c.Open()
			return v.chosen == "" && open && t.Agent == c.Of
		},
		func(c chances.Chance) bool { return len(c.Steps) > 0 },
	} {
		if i := slices.IndexFunc(v.all, fits); i >= 0 {
			return v.all[i]
		}
	}
	return v.all[0]
}

func (v *testsView) agent(id knowledge.AgentID) string { return v.say("agent." + string(id)) }

func (v *testsView) chance(r evidence.Range) string {
	return v.page.window.Text().Label(r.Told().Label())
}

// things are all things with their chance, of which one is in sight.
func (v *testsView) things(in chances.Chance) fyne.CanvasObject {
	row := widgets.Wrap(look.S8)
	for _, c := range v.all {
		said := v.say("chance.no-figure")
		switch {
		case c.Known():
			said = v.chance(c.Now)
		case c.Act == evidence.Vet:
			said = v.say("samples.outcome." + string(samples.Detected))
		}
		tone := look.Soft
		if c.Act == evidence.Vet {
			tone = look.Today
		}
		content := widgets.Pad(widgets.Col(0, widgets.Line(v.agent(c.Of), look.BodyBold, look.Ink), widgets.Line(said, look.Note, tone)), look.S8, look.S12)
		row.Add(widgets.Tile(v.agent(c.Of)+", "+said, content, c.Of == in.Of, func() {
			v.chosen = c.Of
			v.scroll = nil
			v.page.build()
		}))
	}
	return row
}

// tell puts a sentence of the chance into words.
func (v *testsView) tell(l chances.Line) string { return v.say(l.Key, l.Gaps) }

func (v *testsView) named() chances.Named {
	return chances.Named{Name: v.page.life.Name, Others: func(id model.AnimalID) string { return v.names[id] }, Rooms: func(id model.PlaceID) string { return v.rooms[id] }}
}

// said is the chance in one sentence, as of today, and what follows.
func (v *testsView) said(c chances.Chance) fyne.CanvasObject {
	says := widgets.Para(v.tell(c.Says(v.named())), look.Say, look.Ink)
	if !c.Known() {
		why := widgets.Col(0, says, widgets.Para(v.tell(c.WhyNone()), look.Body, look.Soft))
		if c.Act == evidence.Vet {
			return widgets.Col(look.S12, why, v.follows(c))
		}
		return why
	}
	asOf := widgets.Para(v.say("chance.as-of", map[string]any{"Day": v.page.today}), look.Body, look.Soft)
	return widgets.Col(look.S12, widgets.Col(0, says, asOf), v.follows(c))
}

// follows is what follows from the chance, with the act that does it.
func (v *testsView) follows(c chances.Chance) fyne.CanvasObject {
	p := v.page
	act, ground, icon := widgets.Act{}, look.Wash, "check"
	switch c.Act {
	case evidence.Take, evidence.Assumed:
		icon = "tube"
		if c.Waits() {
			act = v.toTray()
			break
		}
		if c.Act == evidence.Assumed {
			icon = "vet"
			break
		}
		act = widgets.Act{Label: v.say("chance.plan-sample"), Icon: "plus", Do: func() {
			p.window.Go(particulars.Sampling{Material: c.Next, For: []knowledge.AgentID{c.Of}}.Route(p.id))
		}}
	case evidence.Await:
		icon = "tube"
		act = v.toTray()
	case evidence.Apart:
		ground, icon = look.AgainBg, "caution"
		act = v.toPositive(c)
	case chances.Closed:
		icon = "vet"
	case evidence.Vet:
		ground, icon = look.TodayBg, "vet"
		act = v.toPositive(c)
	}
	row := []fyne.CanvasObject{widgets.NewIcon(icon, 20, look.Ink), widgets.Grow(widgets.Para(v.tell(c.Follows(v.named())), look.BodyBold, look.Ink))}
	if act.Do != nil {
		b := widgets.Button(widgets.Plain, act)
		if p.window.ReadOnly() && c.Act == evidence.Take && !c.Waits() {
			b.Disable()
		}
		row = append(row, b)
	}
	return widgets.Tinted(ground, look.S12, look.S16, widgets.Row(look.S12, row...))
}

func (v *testsView) toTray() widgets.Act {
	return widgets.Act{Label: v.say("chance.see-tray"), Icon: "right", Do: func() { v.page.window.Go(place.Route{To: place.Tray}) }}
}

// toPositive leads to the positive whose page says what comes next, where there is one.
func (v *testsView) toPositive(c chances.Chance) (act widgets.Act) {
	if to, known := v.traces[c.Of]; known {
		says := "chance.see-positive"
		if to.To == place.Tray {
			says = "chance.see-sample"
		}
		act = widgets.Act{Label: v.say(says), Icon: "right", Do: func() { v.page.window.Go(to) }}
	}
	return act
}

// chart is the chance over the days.
func (v *testsView) chart(c chances.Chance) fyne.CanvasObject {
	t := v.page.window.Text()
	data := chart.ChanceData{Goal: c.Goal, GoalSaid: v.say("chance.wanted"), Today: v.page.today, TodaySaid: v.say("chance.today"), NearSaid: v.say("chance.near"), Words: chart.Words{Calendar: t},
		Said: func(p float64) string { return v.chance(evidence.Exactly(p)) }}
	for _, p := range v.courses[c.Of] {
		data.Course = append(data.Course, chart.Likely{Day: p.Day, Low: p.Chance.Low, Mid: p.Chance.Mid, High: p.Chance.High})
	}
	var marked []chances.Step
	for _, s := range c.Steps {
		if s.Mute == "" {
			marked = append(marked, s)
			data.Answers = append(data.Answers, chart.Answer{Day: s.Sample.Taken.Day(), At: s.After.Mid, Detected: s.Outcome == samples.Detected, Early: s.Early()})
		}
	}
	for _, e := range c.Exposed {
		data.Near = append(data.Near, chart.Days{From: e.From, To: e.Until})
	}
	marks := markchart.New(len(data.Answers), func(measure drawing.Measure, width, height, size float64) markchart.Marks {
		data.Words.Measure = measure
		return chart.NewChance(data, width, height, size)
	}, widgets.Drawn())
	marks.Describe = func(i int) string {
		s := marked[i]
		return joined(v.sample(s), v.outcome(s), v.tell(s.Says()[0]))
	}
	marks.OnMark = func(i int) { v.open(marked[i]) }
	marks.OnKey = v.page.TypedKey
	return widgets.Col(look.S8, widgets.Fix(0, 250, marks), widgets.Para(v.say("chance.signs"), look.Note, look.Faint))
}

func (v *testsView) open(s chances.Step) {
	v.page.window.Go(place.Route{To: place.Tray, Subject: s.Sample.ID.ID})
}

// sample is which sample it was.
func (v *testsView) sample(s chances.Step) string {
	t := v.page.window.Text()
	return joined(t.DayShort(s.Sample.Taken.Day()), v.say("material."+string(s.Sample.Material)))
}

func (v *testsView) pooled(s chances.Step) string {
	if n := len(s.Sample.Animals); n > 1 {
		return v.page.window.Text().Count("chance.step.pool", n)
	}
	return ""
}

func (v *testsView) outcome(s chances.Step) string {
	return v.say("samples.outcome." + string(s.Outcome))
}

// steps are the samples of the thing, the newest first.
func (v *testsView) steps(c chances.Chance) fyne.CanvasObject {
	t := v.page.window.Text()
	list := widgets.Col(0, widgets.HLine())
	for _, s := range slices.Backward(c.Steps) {
		tone := look.Ink
		if s.Outcome == samples.Detected {
			tone = look.Today
		}
		says := s.Says()
		said := widgets.Col(0, widgets.Para(v.tell(says[0]), look.BodyBold, look.Ink))
		if s.Mute != "" {
			said = widgets.Col(0, widgets.Para(v.tell(says[0]), look.Body, look.Soft))
		}
		note := v.pooled(s)
		for _, more := range says[1:] {
			note = joined(note, v.tell(more))
		}
		if note != "" {
			said.Add(widgets.Para(note, look.Note, look.Soft))
		}
		row := widgets.Pad(widgets.RowTop(look.S16,
			widgets.GrowBy(.8, widgets.Para(t.Day(s.Sample.Taken.Day()), look.Body, look.Ink)),
			widgets.GrowBy(1, widgets.Para(v.say("material."+string(s.Sample.Material)), look.Body, look.Ink)),
			widgets.GrowBy(.8, widgets.Para(v.outcome(s), look.BodyBold, tone)),
			widgets.GrowBy(2.2, said)), look.S8, look.S8)
		list.Add(widgets.RowPress(joined(v.sample(s), v.outcome(s)), row, func() { v.open(s) }))
		list.Add(widgets.HLine())
	}
	return widgets.Group(v.say("chance.steps"), "", list)
}

// assumes is what the chance rests on, in sentences.
func (v *testsView) assumes(c chances.Chance) (all []string) {
	for _, l := range c.Assumes(v.named()) {
		all = append(all, v.tell(l))
	}
	return all
}

// cannot is what the chance cannot say.
func (v *testsView) cannot() []string {
	all := []string{v.say("chance.cannot.never"), v.say("chance.cannot.rooms")}
	for _, l := range v.unread {
		all = append(all, v.page.window.Text().Label(l))
	}
	return all
}

func (v *testsView) lines(all []string) fyne.CanvasObject {
	list := widgets.Col(look.S8)
	for _, said := range all {
		list.Add(widgets.RowTop(look.S8, widgets.Pad(widgets.NewIcon("dash", 14, look.Soft), 3, 0), widgets.Grow(widgets.Para(said, look.Body, look.Ink))))
	}
	return list
}
