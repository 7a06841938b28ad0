package positive

import (
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/chart"
	"coilward/model/contact"
	"coilward/model/drawing"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// few is how many of those near are shown before the others are folded away.
const few = 6

const (
	whoWidth    float32 = 124
	rowHeight   float32 = 56
	scaleHeight float32 = 40
)

// fewOf are those near that are shown.
func (p *Page) fewOf(t positives.Trace) []contact.Near {
	if p.whole || len(t.Near) <= few+1 {
		return t.Near
	}
	return t.Near[:few]
}

// chart is days across, animals down: those of the sample first, then those near.
func (p *Page) chart(t positives.Trace) fyne.CanvasObject {
	w, style := p.words(), widgets.Drawn()
	row := func(id model.AnimalID, d chart.TraceData) fyne.CanvasObject {
		d.Words.Measure = style.Measure
		sketch := widgets.NewSketch(0, rowHeight, func(pen drawing.Pen, size fyne.Size) {
			chart.DrawTrace(pen, d, float64(size.Width), float64(size.Height), 12)
		})
		return widgets.Row(0, p.who(t, id), widgets.Grow(sketch))
	}
	scale := w.row(t, model.AnimalID{}, nil, nil)
	scale.Words.Measure = style.Measure
	today := w.Say("positive.chart.today")
	if !t.Open() {
		today = w.Say("positive.chart.closed")
	}
	rows := []fyne.CanvasObject{widgets.Row(0, widgets.Space(whoWidth, 0), widgets.Grow(widgets.NewSketch(0, scaleHeight, func(pen drawing.Pen, size fyne.Size) {
		chart.DrawTraceScale(pen, scale, today, float64(size.Width), float64(size.Height), 12)
	})))}
	for i, s := range t.Sources {
		rows = append(rows, widgets.HLine(), row(s.Animal, w.row(t, s.Animal, &t.Sources[i], nil)))
	}
	for _, n := range p.fewOf(t) {
		rows = append(rows, widgets.HLine(), row(n.Animal, w.row(t, n.Animal, nil, &n)))
	}
	rows = append(rows, widgets.HLine(), widgets.Pad(p.legend(), look.S8, 0, 0, 0))
	card := widgets.Card(look.S12, widgets.Col(0, rows...))
	shown := len(p.fewOf(t))
	if shown == len(t.Near) {
		return card
	}
	said := widgets.Line(w.Say("positive.page.chart-of", gaps{"Shown": shown, "Count": len(t.Near)}), look.Note, look.Soft)
	return widgets.Col(look.S4, card, widgets.Row(look.S8, widgets.Grow(said), p.showAll(len(t.Near)-shown)))
}

// legend says what the signs of the chart mean.
func (p *Page) legend() fyne.CanvasObject {
	row := widgets.Wrap(look.S16)
	for _, sign := range []struct {
		tested chart.Tested
		key    string
	}{{chart.WasDetected, "positive.chart.was-detected"}, {chart.WasNotDetected, "positive.chart.not-detected"}, {chart.SaysNothing, "positive.chart.says-nothing"}} {
		sketch := widgets.NewSketch(20, 20, func(pen drawing.Pen, size fyne.Size) {
			chart.DrawTested(pen, drawing.Point{X: float64(size.Width) / 2, Y: float64(size.Height) / 2}, sign.tested, .8)
		})
		row.Add(widgets.Row(look.S4, sketch, widgets.Line(p.say(sign.key), look.Note, look.Soft)))
	}
	return row
}

// showAll is the press that shows those near who are folded away.
func (p *Page) showAll(hidden int) fyne.CanvasObject {
	return widgets.Button(widgets.Quiet, widgets.Act{Label: p.words().Count("positive.page.more", hidden), Icon: "down", Do: func() { p.whole = true; p.build() }})
}

// who is an animal as a press that shows it.
func (p *Page) who(t positives.Trace, id model.AnimalID) fyne.CanvasObject {
	a, there := t.Animal(id)
	if !there {
		return widgets.Fix(whoWidth, 0, widgets.MiddleUpright(widgets.Para(p.say("positive.page.removed"), look.Note, look.Soft)))
	}
	portrait := particulars.NewPortrait(32, 16)
	portrait.Set(a.Name, a.Coat, p.thumbs.Of(p.window, a.Portrait, particulars.Small))
	name := widgets.RowPress(a.Name, widgets.Pad(widgets.Row(look.S8, portrait, widgets.Grow(widgets.Line(a.Name, look.Name, look.Ink).Cuts())), look.S4), func() {
		p.window.Go(place.Route{To: place.Animal, Subject: id.ID})
	})
	return widgets.Fix(whoWidth, 0, widgets.MiddleUpright(name))
}

// near are the sentences: since when it is looked, and of each that was near how and
// from when "not detected" speaks.
func (p *Page) near(t positives.Trace) fyne.CanvasObject {
	w := p.words()
	rows := widgets.Col(look.S12)
	for _, s := range t.Sources {
		rows.Add(widgets.Para(w.Label(t.Since(s)), look.Note, look.Soft))
		if !s.Lived {
			rows.Add(widgets.Caution(p.say("positive.page.lived-unknown", map[string]any{"Animal": t.Name(s.Animal)})))
		}
	}
	for _, n := range p.fewOf(t) {
		how, speaks := t.Told(n)
		name := t.Name(n.Animal)
		if a, there := t.Animal(n.Animal); there && !a.Status.Here() {
			name += " · " + w.Say("animals.status."+string(a.Status))
		}
		rows.Add(widgets.HLine())
		rows.Add(widgets.Col(2, widgets.Line(name, look.BodyBold, look.Ink).Cuts(), widgets.Para(w.Label(how), look.Body, look.Ink), widgets.Para(w.Label(speaks), look.Note, look.Soft)))
	}
	if hidden := len(t.Near) - len(p.fewOf(t)); hidden > 0 {
		rows.Add(p.showAll(hidden))
	}
	if len(t.Near) == 0 {
		rows.Add(widgets.Para(p.say("positive.page.nobody-near"), look.Body, look.Ink))
	}
	if n := len(t.Unplaced); n > 0 {
		rows.Add(widgets.Para(w.Count("positive.page.unplaced", n, gaps{"Names": p.names(t, t.Unplaced)}), look.Note, look.Soft))
	}
	rows.Add(widgets.Para(w.Say("positive.page.worth", gaps{"Source": w.Source(t.Worth.Source)}), look.Note, look.Faint))
	title := w.Count("positive.page.near", len(t.Near))
	if len(t.Near) == 0 {
		title = p.say("positive.page.near-none")
	}
	return widgets.Group(title, p.say("positive.page.near-what"), rows)
}

// names are the names of animals, of many the first ones.
func (p *Page) names(t positives.Trace, all []model.AnimalID) string {
	const most = 8
	var names []string
	for _, id := range all[:min(len(all), most)] {
		names = append(names, t.Name(id))
	}
	if more := len(all) - most; more > 0 {
		names = append(names, p.words().Count("positive.page.others", more))
	}
	return strings.Join(names, ", ")
}

// todo is what to do now, in its order.
func (p *Page) todo(t positives.Trace) fyne.CanvasObject {
	rows := widgets.Col(0)
	for i, s := range t.Acts {
		if i > 0 {
			rows.Add(widgets.HLine())
		}
		rows.Add(p.act(t, s))
	}
	return widgets.Group(p.say("positive.page.now"), p.say("positive.page.now-what"), rows)
}

// act is one thing of the list: whether it was done, what it means, and its presses.
func (p *Page) act(t positives.Trace, s contact.Standing) fyne.CanvasObject {
	w := p.words()
	icon, tone := "ring!", look.Soft
	if s.Done {
		icon, tone = "clear!", look.Accent
	}
	parts := []fyne.CanvasObject{widgets.Para(w.Say("positive.act."+string(s.ID)), look.BodyBold, look.Ink)}
	if s.Done {
		parts = append(parts, widgets.Line(w.Say("positive.page.done-on", gaps{"Day": w.DayShort(s.Did.At.Day())}), look.NoteBold, look.Accent))
		if s.Did.Note != "" {
			parts = append(parts, widgets.Para(s.Did.Note, look.Note, look.Ink))
		}
	} else {
		parts = append(parts, widgets.Para(w.Say("positive.act-what."+string(s.ID)), look.Note, look.Soft))
		if s.ID == contact.Disinfect {
			parts = append(parts, widgets.Para(w.disinfect(t), look.Note, look.Ink))
		}
		if s.For == knowledge.ForNewcomers {
			parts = append(parts, widgets.Para(p.names(t, t.Newcomers()), look.Note, look.Ink))
		}
		parts = append(parts, widgets.Para(w.Source(s.Source), look.Note, look.Faint))
	}
	row := []fyne.CanvasObject{widgets.Pad(widgets.NewSign(icon, 16, tone, look.Sheet), 2, 0), widgets.Grow(widgets.Col(look.S4, parts...))}
	if t.Open() {
		if more := p.more(t, s); more != nil {
			row[1] = widgets.Grow(widgets.Col(look.S4, append(parts, more)...))
		}
		row = append(row, p.tick(t, s))
	}
	return widgets.Pad(widgets.RowTop(look.S8, row...), look.S8, 0)
}

// tick is the press that says that a thing was done, or was not after all.
func (p *Page) tick(t positives.Trace, s contact.Standing) fyne.CanvasObject {
	c, act := contact.Act{Tables: p.window.Tables(), ID: t.ID, Base: t.Revision, Act: s.ID, Not: s.Done}, widgets.Act{Label: p.say("positive.page.done"), Icon: "tick"}
	rank := widgets.Plain
	if s.Done {
		rank, act = widgets.Quiet, widgets.Act{Label: p.say("positive.page.not-done")}
	}
	i := len(p.ticks)
	act.Do = func() {
		p.at = i
		p.window.Do(func(place.Answer) model.Command {
			c.At, c.By = p.window.Now(), p.window.By()
			return c
		}, p.refused)
	}
	b := p.off(widgets.Button(rank, act))
	if s.Done && p.next == len(p.ticks) {
		p.next++
	}
	p.ticks = append(p.ticks, tick{b, s.ID})
	return b
}

// more are the presses that help with one thing of the list; nil: there are none.
func (p *Page) more(t positives.Trace, s contact.Standing) fyne.CanvasObject {
	if s.Done {
		return nil
	}
	switch row := widgets.Wrap(look.S8); s.ID {
	case contact.Singles, contact.Confirm, contact.Repeat:
		p.kits(row, t, t.Animals)
		return row
	case contact.SampleNear:
		p.kits(row, t, t.Here())
		return row
	case contact.CallVet:
		row.Add(widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("positive.page.papers"), Icon: "print", Do: func() { p.papers(t) }}))
		return row
	}
	return nil
}

// kits adds a press that lays out a kit for each of some animals that needs one, and
// says how many have one waiting.
func (p *Page) kits(row *fyne.Container, t positives.Trace, of []model.AnimalID) {
	each, waiting := t.Kits(of)
	if waiting > 0 {
		row.Add(widgets.Para(p.words().Count("positive.page.kits-waiting", waiting), look.Note, look.Soft))
	}
	if len(each) == 0 {
		row.Add(widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("positive.page.to-tray"), Icon: "tube", Do: func() { p.window.Go(place.Route{To: place.Tray}) }}))
		return
	}
	c := samples.Prepare{Tables: p.window.Tables(), By: p.window.By(), Each: each}
	row.Add(p.off(widgets.Button(widgets.Quiet, widgets.Act{Label: p.words().Count("positive.page.kits", len(each)), Icon: "tube", Do: func() {
		p.window.Do(func(a place.Answer) model.Command { c.Confirmed = a.Confirmed; return c }, func(err error) {
			if err == nil {
				p.window.Go(place.Route{To: place.Tray})
				return
			}
			p.refused(err)
		})
	}})))
}

// refused tells why something cannot stand; what belongs to no field has no other place.
func (p *Page) refused(err error) {
	if r, is := refusal(err); is {
		p.window.Tell(p.say("positive.page.title"), p.window.Text().Refusal(r))
	}
}
