package animal

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// buildHead is who the animal is, how heavy, what is due, and the acts.
func (p *Page) buildHead() fyne.CanvasObject {
	l := p.life
	portrait := particulars.NewPortrait(88, look.RBase)
	portrait.Set(l.Name, l.Coat, p.thumbs.Of(p.window, l.Portrait, particulars.Small))
	back := widgets.Button(widgets.Quiet, widgets.Act{Icon: "left", Do: p.goBack})
	var code []fyne.CanvasObject
	if l.Code != "" {
		code = append(code, widgets.Fix(0, 22, widgets.Filled(look.Well, look.RSmall), widgets.Pad(widgets.Line(l.Code, look.Note, look.Soft), 3, look.S8)))
	}
	who := widgets.Col(look.S4, widgets.RowHug(look.S12, widgets.Line(l.Name, look.Display, look.Ink), code...), widgets.Para(p.whoLine(), look.Body, look.Soft))
	row := []fyne.CanvasObject{back, portrait, widgets.Grow(who)}
	if weight := p.weightFact(); weight != nil {
		row = append(row, weight)
	}
	row = append(row, p.acts())
	return widgets.Stack(widgets.Filled(look.Sheet, 0), widgets.Col(0,
		widgets.Pad(widgets.Row(look.S12, row...), look.S16, look.S24, look.S8, look.S12), widgets.Pad(p.marks(), 0, look.S24, look.S8, look.S24),
		widgets.Pad(p.tabs(), 0, look.S24), widgets.HLine()))
}

// goBack goes to where the entry in sight was asked for, else to the animals.
func (p *Page) goBack() {
	if p.asked {
		p.window.Back()
		return
	}
	p.window.Go(place.Route{To: place.Animals})
}

func (p *Page) whoLine() string {
	t, l := p.window.Text(), p.life
	sex := particulars.SexWord(t, l.Sex)
	if sign := particulars.SexSign(l.Sex); sign != "" {
		sex = sign + " " + sex
	}
	lives := ""
	if s, housed := l.house.Where(l.ID, p.window.Now()); housed {
		lives = t.Say("animal.lives-in", map[string]any{"Place": l.house.Title(s.Place)})
	}
	return joined(sex, particulars.Hatched(t, l.Hatched, p.today), l.Morph, lives)
}

// marks are what stands about the animal: its status, and the next thing due.
func (p *Page) marks() fyne.CanvasObject {
	t, l := p.window.Text(), p.life
	row := widgets.Wrap(look.S8)
	if l.Status != animals.Kept && l.Status != "" {
		words := t.Say("animals.status." + string(l.Status))
		if !l.StatusDay.IsZero() {
			words = joined(words, t.Date(l.StatusDay))
		}
		row.Add(widgets.Mark("ring!", words, look.Soft, look.Well))
	}
	leads := func(words, page string, tone, ground look.Tone) {
		row.Add(widgets.NewPress(words, widgets.Mark("newcomer", words, tone, ground), func(s widgets.State) widgets.Ground {
			return widgets.Ground{Radius: 14}
		}, func() { p.window.Go(place.Route{To: place.Newcomers, Subject: l.ID.ID, Page: page}) }))
	}
	switch {
	case l.unsure != nil:
		leads(t.Say("animal.newcomer-unread"), "", look.Days, look.DaysBg)
	case l.newcomer != nil:
		leads(newcomerWords(t, *l.newcomer), "", look.Accent, look.Wash)
	case l.arrived:
		leads(t.Say("animal.newcomer-begin", map[string]any{"Day": l.Since}), "new", look.Accent, look.Wash)
	}
	p.markDetected(func(words string, tone, ground look.Tone, to place.Route) {
		row.Add(widgets.NewPress(words, widgets.Mark("tube", words, tone, ground), func(s widgets.State) widgets.Ground {
			return widgets.Ground{Radius: 14}
		}, func() { p.window.Go(to) }))
	})
	standing := p.standing()
	if standing.Level() == knowledge.EmergencyToday {
		row.Add(widgets.Step(widgets.EmergencyToday, joined(p.say("urgency."+knowledge.EmergencyToday.String()), p.saidOn(standing.Parts[0]))))
	}
	if all := standing.Due(); len(all) > 0 {
		row.Add(p.markDue(standing, all))
	}
	for _, i := range p.owes {
		if i.Level >= knowledge.VetWithinDays {
			row.Add(widgets.Step(urgencyOf(i.Level), t.Say("animal.due.vet", map[string]any{"By": t.By(i.Day(p.today), p.today)})))
		}
	}
	if standing.Apart() {
		row.Add(widgets.Mark("ring!", t.Say("stands.apart"), look.Days, look.DaysBg))
	}
	if l := standing.Loss; l.Level > knowledge.Nothing {
		row.Add(widgets.Mark("weight", particulars.LossBriefly(p.window.Text(), l), look.Days, look.DaysBg))
	}
	if !standing.Unfed.IsZero() {
		row.Add(widgets.Mark("meal", particulars.Capital(particulars.Unfed(p.window.Text(), standing.Unfed)), look.Days, look.DaysBg))
	}
	if len(row.Objects) == 0 {
		row.Add(widgets.Mark("check", p.lastLooked(), look.Soft, look.Well))
	}
	return row
}

// markDetected tells what was detected in the animal, or in another while it was near,
// and is not settled; each leads to its positive, or to the sample where none was opened.
func (p *Page) markDetected(mark func(words string, tone, ground look.Tone, to place.Route)) {
	t := p.window.Text()
	for _, d := range p.life.detected {
		to, key, day := place.Route{To: place.Positive, Subject: d.ID.ID}, "detected.open", d.Opened.Day()
		if d.ID.IsZero() {
			to, key, day = place.Route{To: place.Tray, Subject: d.Sample.ID}, "detected.unopened", d.Reported.Day()
		}
		agent := t.Say("agent." + string(d.Agent))
		if slices.Contains(d.Animals, p.id) {
			mark(t.Say(key, wording.Gaps{"Agent": agent, "Day": t.DayShort(day)}), look.Today, look.TodayBg, to)
		} else {
			mark(t.Say("detected.near", wording.Gaps{"Agent": agent, "Of": d.Names()}), look.Days, look.DaysBg, to)
		}
	}
}

// newcomerWords are how far a quarantine has come, and in how many samples that count
// nothing of what is asked was detected.
func newcomerWords(t *wording.Text, n newcomers.Newcomer) string {
	clear := n.Gate.Clear()
	words := wording.Gaps{"Far": particulars.QuarantineDay(t, n)}
	if clear == 0 {
		return t.Say("animal.newcomer", words)
	}
	return t.Count("animal.newcomer-detected", clear, words)
}

// begun tells of a check that was broken off, as its draft says; false where
// there is none. A draft that cannot be read is said where the check is opened.
func (p *Page) begun() (string, bool) {
	raw, err := p.window.Drafts().Read(p.id.ID)
	if err != nil {
		return "", false
	}
	d, err := exam.ReadDraft(raw)
	if err != nil {
		return "", false
	}
	return p.say("animal.check-begun", map[string]any{
		"When": particulars.When(p.window.Text(), d.Begun, p.today), "Done": d.Answers(), "All": len(d.Stops)}), true
}

// standing is how the animal stands now.
func (p *Page) standing() history.Standing {
	return p.life.Standing(p.window.Tables(), p.window.Now())
}

// saidOn tells of which day a verdict is, where it is not of today.
func (p *Page) saidOn(part history.Part) string {
	t := p.window.Text()
	switch {
	case part.From == history.FromGone:
		return t.Say("stands.gone", map[string]any{"Day": t.DayShort(part.Gone), "Said": t.DayShort(part.Day)})
	case part.Day == p.today:
		return ""
	}
	return p.said(part.Day, 0)
}

// said tells on which day something was said, and that it was said again where
// the day that it names was before.
func (p *Page) said(on, by model.Day) string {
	key := "stands.said-on"
	if by > 0 && by < on {
		key = "stands.said-again"
	}
	return p.say(key, map[string]any{"Day": p.window.Text().DayShort(on)})
}

func (p *Page) lastLooked() string {
	t := p.window.Text()
	checks := p.life.Checks()
	if len(checks) == 0 {
		return t.Say("animal.never-checked")
	}
	key := "animal.last-check"
	if checks[0].Extent(p.window.Tables()) == exam.BriefLook {
		key = "animal.last-look"
	}
	return t.Say(key, map[string]any{"Ago": t.Ago(checks[0].Begun.Day(), p.today)})
}

// leftToVet are the stops that the last whole check has left to the vet, and that
// no look since has seen.
func (p *Page) leftToVet() string {
	var stops []string
	for _, stop := range exam.LeftToVetBy(p.window.Tables(), p.life.Checks()) {
		stops = append(stops, p.say("stop."+string(stop)))
	}
	return strings.Join(stops, ", ")
}

// weightFact is the last weight, how it changed, and the line of the last ones.
func (p *Page) weightFact() fyne.CanvasObject {
	t := p.window.Text()
	last := p.life.lastWeights(12)
	if len(last) == 0 {
		return nil
	}
	change := t.Ago(last[0].At.Day(), p.today)
	if len(last) > 1 {
		change = since(t, particulars.Change(t, last[0].Mass, last[1].Mass), last[1].At, last[0].At, t.DayOfYear)
	}
	figure := []fyne.CanvasObject{widgets.Line(t.Mass(last[0].Mass), look.Figure, look.Ink)}
	if len(last) > 2 {
		figure = append(figure, widgets.Fix(64, 24, newSpark(masses(last))))
	}
	return widgets.ColStart(2, widgets.Line(p.say("kind.weight"), look.Note, look.Soft), widgets.Row(look.S12, figure...), widgets.Line(change, look.Note, look.Soft))
}

// masses are the weighings' masses, oldest first.
func masses(newestFirst []care.Weighed) []model.Mass {
	out := make([]model.Mass, len(newestFirst))
	for i, w := range newestFirst {
		out[len(out)-1-i] = w.Mass
	}
	return out
}

func (p *Page) acts() fyne.CanvasObject {
	act := "animal.act.check"
	if _, begun := p.begun(); begun {
		act = "animal.act.go-on"
	}
	check := widgets.Button(widgets.Primary, widgets.Act{Label: p.say(act), Icon: "check", Do: p.check})
	change := widgets.Button(widgets.Plain, widgets.Act{Label: p.say("animal.act.change"), Icon: "note", Do: p.change})
	if p.window.ReadOnly() {
		check.Disable()
		change.Disable()
	}
	return widgets.Col(look.S8, widgets.Fix(0, 40, check), widgets.Fix(0, 36, change))
}

func (p *Page) tabs() fyne.CanvasObject {
	open := 0
	for _, problem := range p.life.Problems {
		if problem.Open() {
			open++
		}
	}
	count := ""
	if open > 0 {
		count = p.window.Text().Count("roster.open-count", open)
	}
	entries := strconv.Itoa(len(p.life.Days.Entries))
	row := func(acts ...fyne.CanvasObject) *fyne.Container {
		r := widgets.Row(look.S8)
		for _, tab := range []struct{ page, count string }{{PageDays, entries}, {PageBody, count}, {PageWeight, ""}, {PageVet, ""}, {PageTests, ""}, {PageEase, ""}} {
			r.Add(widgets.Tab(p.pageName(tab.page), tab.count, p.open == tab.page, func() { p.turn(tab.page) }))
		}
		for _, o := range acts {
			r.Add(o)
		}
		return r
	}
	acts := func() []fyne.CanvasObject {
		return []fyne.CanvasObject{widgets.Fill(),
			widgets.MiddleUpright(widgets.Fix(0, 32, widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("animal.act.photos"), Icon: "camera", Do: func() { p.window.Go(place.Route{To: place.Photos, Subject: p.id.ID}) }}))),
			widgets.MiddleUpright(widgets.Fix(0, 32, widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("animal.act.paper"), Icon: "print", Do: p.paper})))}
	}
	return widgets.FirstFit(row(acts()...), widgets.Col(0, widgets.Row(look.S8, acts()...), row()))
}
