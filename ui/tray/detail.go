package tray

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// open shows a sample, or a list of several, in the side column.
func (p *Page) open(ids []model.SampleID) {
	if len(p.tray.Samples.Some(ids)) == 0 || p.holds() {
		return
	}
	p.look(func() *fyne.Container {
		some := p.tray.Samples.Some(ids)
		switch len(some) {
		case 0:
			return nil
		case 1:
			return p.detail(some[0])
		}
		return p.list(some)
	})
}

// list are several samples, each to be opened, with what is next of all of them.
func (p *Page) list(some []Sample) *fyne.Container {
	w := p.words()
	rows := widgets.Col(0)
	for _, s := range some {
		line, _ := w.told(s)
		if s.Void != nil {
			line = w.voided(s)
		}
		row := widgets.Col(0, widgets.Para(w.called(s), look.BodyBold, look.Ink), widgets.Para(w.material(s.Material)+": "+line, look.Note, look.Soft))
		rows.Add(widgets.RowPress(w.called(s), widgets.Pad(row, look.S8), func() { p.open([]model.SampleID{s.ID}) }))
		for _, of := range s.With(samples.Detected) {
			rows.Add(widgets.Row(look.S8, p.toPositive(s, of, widgets.Plain), widgets.Fill()))
		}
	}
	if !slices.ContainsFunc(some, func(s Sample) bool { return !s.Way.Ahead }) {
		rows.Add(widgets.Pad(p.rest(p.tray.Samples.Plan(some[0])), look.S16, look.S8))
	}
	var act fyne.CanvasObject = widgets.Button(widgets.Plain, widgets.Act{Label: p.say("tray.close"), Key: "Esc", Do: p.close})
	next := some[0].Way.Next
	same := !slices.ContainsFunc(some, func(s Sample) bool { return s.Way.Next != next })
	if same && next != "" && !p.window.ReadOnly() {
		act = widgets.Big(widgets.Button(widgets.Primary, widgets.Act{Label: p.say("tray.do." + string(next)), Do: func() { p.do(next, some) }}))
	}
	return particulars.Column(w.Count("tray.count", len(some)), p.close, rows, act)
}

// factWidth is the column of what a fact is called.
const factWidth float32 = 130

// fact is a line of a sample: what it is, and what is known of it.
func (p *Page) fact(name, said string) fyne.CanvasObject {
	return widgets.RowTop(look.S12, widgets.Fix(factWidth, 0, widgets.Para(name, look.Note, look.Soft)), widgets.Grow(widgets.Para(said, look.Body, look.Ink)))
}

// voided says why a sample gives no result.
func (w words) voided(s Sample) string {
	said := w.Say("samples.stage.void") + ": " + w.Say("samples.why."+string(s.Void.Why)) + ", " + w.DayShort(s.Void.At.Day())
	if s.Void.Note != "" {
		said += ". " + s.Void.Note
	}
	return said
}

// joined are the parts that say something.
func joined(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(part string) bool { return part == "" }), ", ")
}

// facts are all that is known of a sample but its results.
func (p *Page) facts(s Sample) (all []fyne.CanvasObject) {
	w := p.words()
	add := func(key, said string) {
		if said != "" {
			all = append(all, p.fact(p.say(key), said))
		}
	}
	day := func(m model.Moment, more ...string) string {
		if m.IsZero() {
			return ""
		}
		return joined(append([]string{w.DayShort(m.Day())}, more...)...)
	}
	if s.Planned != nil {
		add("field.planned", joined(w.DayShort(s.Planned.Day), w.round(s)))
	}
	add("field.material", joined(w.material(s.Material), s.Site))
	add("field.looked-for", w.agents(s.For))
	add("field.kit-number", s.Kit.Number)
	add("field.kit-lot", s.Kit.Lot)
	if !s.Kit.Expires.IsZero() {
		add("field.kit-expires", w.Date(s.Kit.Expires))
	}
	if s.Taken.IsZero() {
		add("field.taken-by", w.person(s.TakenBy))
	}
	add("field.taken", day(s.Taken, w.person(s.TakenBy)))
	add("field.storage", s.Storage)
	add("field.posted", day(s.Posted, s.Courier, s.Tracking))
	add("field.lab", w.person(s.Lab))
	add("field.arrived", day(s.Arrived))
	for _, a := range s.Asked {
		add("field.asked", day(a.At, a.Note))
	}
	add("field.note", s.Note)
	return all
}

// detail is one sample with all that is known of it and can be done with it.
func (p *Page) detail(s Sample) *fyne.Container {
	w := p.words()
	var parts []fyne.CanvasObject
	line, _ := w.told(s)
	switch {
	case s.Void != nil:
		parts = append(parts, widgets.Caution(w.voided(s)))
	case s.Way.Late:
		parts = append(parts, widgets.Caution(p.say("samples.stage."+string(s.Way.Stage))+": "+line))
	}
	for _, of := range p.tray.overtaken[s.ID] {
		parts = append(parts, widgets.Caution(p.say("due.why.plan-overtaken", map[string]any{"Agent": w.agent(of)})))
	}
	parts = append(parts, widgets.Col(look.S8, p.facts(s)...))
	if rest := p.tray.Samples.Plan(s); len(rest) > 0 {
		parts = append(parts, p.rest(rest))
	}
	if len(s.Results) > 0 {
		parts = append(parts, p.results(s))
	}
	if !p.window.ReadOnly() {
		parts = append(parts, widgets.HLine(), p.mending(s))
	}
	var foot fyne.CanvasObject = widgets.Button(widgets.Plain, widgets.Act{Label: p.say("tray.close"), Key: "Esc", Do: p.close})
	if found := s.With(samples.Detected); len(found) == 1 {
		foot = widgets.Big(p.toPositive(s, found[0], widgets.Primary))
	} else if a := s.Way.Next; a != "" && !p.window.ReadOnly() {
		foot = widgets.Big(widgets.Button(widgets.Primary, widgets.Act{Label: p.say("tray.do." + string(a)), Do: func() { p.do(a, []Sample{s}) }}))
	}
	return particulars.Column(w.names(s.Animals), p.close, widgets.Col(look.S16, parts...), foot)
}

// rest says what is left of the plan that a sample is laid out for, and that what is known
// meanwhile may change it; the plan can be made anew, or given up.
func (p *Page) rest(rest []Sample) fyne.CanvasObject {
	parts := []fyne.CanvasObject{widgets.Para(p.say("tray.rest"), look.Note, look.Soft)}
	if !p.window.ReadOnly() {
		parts = append(parts, widgets.Wrap(look.S4,
			widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("tray.plan-anew"), Icon: "calendar", Do: func() { p.window.Go(place.Route{To: place.Plan}) }}),
			widgets.Button(widgets.Quiet, widgets.Act{Label: p.window.Text().Count("tray.call-off", len(rest)), Icon: "bin", Do: func() {
				p.window.Do(func(place.Answer) model.Command { return samples.CallOff{Of: idsOf(rest)} }, func(err error) {
					if err == nil {
						p.kept()
					}
				})
			}})))
	}
	return widgets.Col(look.S4, parts...)
}

// results are what was found of each thing: what counts, whether it says anything,
// and the earlier ones that were put right.
func (p *Page) results(s Sample) fyne.CanvasObject {
	w := p.words()
	rows := []fyne.CanvasObject{widgets.Line(p.say("field.sample-outcome"), look.NoteBold, look.Soft)}
	for _, of := range s.For {
		r, there := s.Result(of)
		if !there {
			rows = append(rows, p.fact(w.agent(of), w.outcome(samples.Pending)))
			continue
		}
		name, tone := signOf(r.Outcome)
		said := []fyne.CanvasObject{widgets.Row(6, widgets.NewSign(name, 16, tone, look.Sheet), widgets.Grow(widgets.Para(w.outcome(r.Outcome), look.BodyBold, tone)))}
		report := w.DayShort(r.At.Day())
		if r.Report != "" {
			report = joined(report, p.say("field.report")+" "+r.Report)
		}
		if r.Method != "" {
			report = joined(report, w.Say("samples.by", map[string]any{"Method": p.say("method." + string(r.Method))}))
		}
		said = append(said, widgets.Para(report, look.Note, look.Soft))
		for _, note := range p.worth(s, of) {
			said = append(said, widgets.Para(note, look.Note, look.Ink))
		}
		if r.Note != "" {
			said = append(said, widgets.Para(r.Note, look.Note, look.Ink))
		}
		said = append(said, p.earlier(s, of)...)
		rows = append(rows, widgets.RowTop(look.S12, widgets.Fix(factWidth, 0, widgets.Para(w.agent(of), look.Body, look.Ink)), widgets.Grow(widgets.Col(look.S4, said...))))
		if found := s.With(samples.Detected); len(found) > 1 && slices.Contains(found, of) {
			rows = append(rows, p.toPositive(s, of, widgets.Plain))
		}
		if !p.window.ReadOnly() {
			rows = append(rows, widgets.Row(0, widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("tray.correct"), Icon: "note", Do: func() { p.show(newCorrectForm(p, s, of), formWidth) }}), widgets.Fill()))
		}
	}
	var files []model.PhotoID
	for _, r := range s.Results {
		for _, id := range r.Photos {
			if !slices.Contains(files, id) {
				files = append(files, id)
			}
		}
	}
	if len(files) > 0 {
		rows = append(rows, particulars.ReportStrip(p.window, p.thumbs, files, nil))
	}
	return widgets.Col(look.S8, rows...)
}

// toPositive leads to what is to be done now that something was detected; it names the
// thing where there are several.
func (p *Page) toPositive(s Sample, of knowledge.AgentID, rank widgets.Rank) *widgets.Press {
	label := p.say("tray.positive")
	if len(s.With(samples.Detected)) > 1 {
		label += ": " + p.words().agent(of)
	}
	return widgets.Button(rank, widgets.Act{Label: label, Icon: "caution", Do: func() { particulars.OpenPositive(p.window, s.ID, of) }})
}

// worth tells what a result is not: no proof that an animal has nothing, and where it
// says nothing of the animal, or such samples miss the thing often, that.
func (p *Page) worth(s Sample, of knowledge.AgentID) (said []string) {
	if !s.LookedThrough(of) {
		return []string{p.say("tray.as-if-not")}
	}
	if s.Outcome(of) == samples.NotDetected && samples.Speaks(p.window.Tables(), s.Sample, of) {
		said = append(said, particulars.Capital(p.say("tray.no-proof")))
	}
	if open, leaves := samples.LeavesOpen(p.window.Tables(), s.Sample, of); leaves {
		said = append(said, particulars.Capital(p.window.Text().Label(open)))
	}
	return said
}

// earlier are the results of a thing that were put right since, each with why.
func (p *Page) earlier(s Sample, of knowledge.AgentID) (all []fyne.CanvasObject) {
	w := p.words()
	var before *samples.Result
	for _, r := range s.Results {
		if r.Of != of {
			continue
		}
		if before != nil {
			all = append(all, widgets.Para(w.Say("tray.earlier", map[string]any{"Outcome": w.outcome(before.Outcome), "Day": w.DayShort(before.At.Day()), "Why": r.Why}), look.Note, look.Soft))
		}
		before = &r
	}
	return all
}

// mending is what can be done with a sample beside what is next.
func (p *Page) mending(s Sample) fyne.CanvasObject {
	row := widgets.Wrap(look.S4)
	add := func(label, icon string, do func()) {
		row.Add(widgets.Button(widgets.Quiet, widgets.Act{Label: label, Icon: icon, Do: do}))
	}
	if a := s.Way.Next; a != samples.NoAct && len(s.With(samples.Detected)) == 1 {
		add(p.say("tray.do."+string(a)), "tick", func() { p.do(a, []Sample{s}) })
	}
	for _, a := range s.Others() {
		add(p.say("tray.do."+string(a)), "tick", func() { p.do(a, []Sample{s}) })
	}
	add(p.say("tray.change"), "note", func() { p.show(newChangeForm(p, s), formWidth) })
	if s.Void == nil && len(s.Results) == 0 {
		add(p.say("tray.give-up"), "skip", func() { p.show(newGiveUpForm(p, s), formWidth) })
	}
	for _, a := range s.Animals {
		if name, known := p.tray.names[a]; known {
			add(name, "open", func() { p.window.Go(place.Route{To: place.Animal, Subject: a.ID}) })
		}
	}
	add(p.say("tray.remove"), "bin", func() {
		p.window.Do(func(place.Answer) model.Command { return samples.Remove{ID: s.ID} }, func(err error) {
			if err == nil {
				p.kept()
			}
		})
	})
	return row
}
