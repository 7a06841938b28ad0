package animal

import (
	"context"
	"slices"
	"strconv"

	"fyne.io/fyne/v2"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/atease"
	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/model/knowledge"
	"coilward/model/welfare"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
)

// PageEase is the page of how the animal is.
const PageEase = "ease"

// pageName is the word of a page; that of how the animal is goes by its sex.
func (p *Page) pageName(page string) string {
	switch {
	case page != PageEase || p.life != nil && p.life.Sex == animals.Female:
		return p.say("animal.page." + page)
	case p.life != nil && p.life.Sex == animals.Male:
		return p.say("animal.page.ease-male")
	}
	return p.say("animal.page.ease-unknown")
}

// stripDays is how many days the strip shows.
const stripDays model.Day = 90

// easeView is how the animal is: signs of ease and unease by what was done meanwhile, never
// added up; what it goes with, whether changes helped, and how it was handled.
type easeView struct {
	page     *Page
	of       model.AnimalID // whose it is, or is being read
	known    atease.Known
	contacts []welfare.Entry
	against  []welfare.Against
	reading  bool
	asked    int
	fault    error
	factor   welfare.Factor
	easeTyped
	others map[model.AnimalID]easeTyped // of other animals, where something was typed
	scroll *fyne.Container
	before *fyne.Container
}

// easeTyped is what is typed on the page of one animal and not kept.
type easeTyped struct {
	form  *particulars.SideForm // beside the page; nil: none is open
	keys  func(rune) bool       // of the open form
	close func()                // what the open form has going on
}

func newEaseView(p *Page) *easeView {
	return &easeView{page: p, factor: welfare.AfterHandling, others: map[model.AnimalID]easeTyped{}}
}

// turn leaves the page of one animal for that of another. What was typed and not kept stays
// for when one comes back.
func (v *easeView) turn(to model.AnimalID) {
	if v.form != nil && !v.form.Touched() {
		v.leave(false)
	}
	v.others[v.of] = v.easeTyped
	v.easeTyped = v.others[to]
	v.known, v.contacts, v.of, v.scroll = atease.Known{}, nil, to, nil
}

func (v *easeView) say(key string, gaps ...map[string]any) string { return v.page.say(key, gaps...) }

// load reads it off Fyne's goroutine, once the page is in sight.
func (v *easeView) load() {
	p := v.page
	v.asked++
	if v.of != p.id {
		v.turn(p.id)
	}
	if p.open != PageEase || p.life == nil {
		return
	}
	v.reading, v.fault = true, nil
	asked := v.asked
	var known atease.Known
	var contacts []welfare.Entry
	p.window.Task(v.say("ease.reading"), func(context.Context, func(float64)) error {
		return p.window.Collection().View(func(view model.View) error {
			a, err := animals.Find(view, v.of)
			if err != nil {
				return err
			}
			if known, err = atease.Read(view, p.window.Tables(), a, view.Now()); err != nil {
				return err
			}
			contacts, err = atease.Contacts(view, v.of)
			return err
		})
	}, func(err error) {
		if v.asked != asked {
			return
		}
		v.reading, v.fault, v.known, v.contacts = false, err, known, contacts
		v.against = welfare.Better(p.window.Tables(), known.Rest, known.Entries, p.window.Now())
		if p.open == PageEase {
			p.build()
		}
	})
}

func (v *easeView) content() fyne.CanvasObject {
	if v.fault != nil {
		return widgets.EmptyPage(nil, v.say("ease.fault"), v.say("ease.fault-what"), widgets.Act{Label: v.say("ease.again"), Do: v.load})
	}
	if v.reading && len(v.known.Looked) == 0 && len(v.known.Entries) == 0 {
		return widgets.EmptyPage(nil, v.say("ease.reading"), "", widgets.Act{})
	}
	parts := []fyne.CanvasObject{v.today(), v.acts()}
	if v.known.Unread > 0 {
		parts = append(parts, widgets.Caution(v.page.window.Text().Count("ease.unread", v.known.Unread)))
	}
	visited := slices.ContainsFunc(v.known.Visits, func(v welfare.Visit) bool { return !v.BreathsOnly })
	if visited {
		parts = append(parts, v.sides(), v.strip())
	} else {
		parts = append(parts, widgets.Para(v.say("ease.no-visit-yet"), look.BodyBold, look.Ink))
	}
	if b := v.breathing(); b != nil {
		parts = append(parts, b)
	}
	parts = append(parts, v.changes())
	if visited {
		parts = append(parts, v.goes(), v.domains())
	}
	parts = append(parts, v.ledger())
	if len(v.known.Visits) > 0 || slices.ContainsFunc(v.known.Entries, isHandling) {
		parts = append(parts, v.last())
	}
	if len(v.contacts) > 0 {
		parts = append(parts, v.people())
	}
	v.before, v.scroll = v.scroll, widgets.Scroll(widgets.Pad(widgets.Col(look.S24, parts...), look.S16, look.S24, look.S24, look.S24))
	return v.scroll
}

// settle puts the page where it stood before it was built anew.
func (v *easeView) settle() { widgets.Resume(v.before, v.scroll) }

// today is what speaks against lifting the animal, or that nothing in the records does.
func (v *easeView) today() fyne.CanvasObject {
	if len(v.against) == 0 {
		nothing := "ease.nothing-against"
		if v.known.Unread > 0 {
			nothing = "ease.nothing-against-read"
		}
		return widgets.Tinted(look.Wash, look.S12, look.S16, widgets.RowTop(look.S12, widgets.NewIcon("tick", 20, look.Ink),
			widgets.Grow(widgets.Col(0, widgets.Para(v.say(nothing), look.BodyBold, look.Ink), widgets.Para(v.say("ease.she-says"), look.Body, look.Soft)))))
	}
	lines := widgets.Col(0, widgets.Para(v.say("ease.better-not"), look.BodyBold, look.Ink))
	for _, a := range v.against {
		lines.Add(widgets.Para("– "+v.say("welfare.against."+string(a)), look.Body, look.Ink))
	}
	lines.Add(widgets.Para(v.say("ease.care-first"), look.Note, look.Soft))
	return widgets.Tinted(look.AgainBg, look.S12, look.S16, widgets.RowTop(look.S12, widgets.NewIcon("caution", 20, look.Ink), widgets.Grow(lines)))
}

// acts are what can be noted.
func (v *easeView) acts() fyne.CanvasObject {
	row := widgets.Wrap(look.S8)
	for i, a := range []struct {
		label string
		do    func()
	}{{"ease.act.tally", func() { v.tally(nil) }}, {"ease.act.handling", func() { v.handling(nil) }}, {"ease.act.change", func() { v.change(nil) }},
		{"ease.act.breaths", v.breaths}, {"ease.act.scans", v.scans}, {"ease.act.person", func() { v.contact(nil) }}} {
		rank := widgets.Plain
		if i == 0 {
			rank = widgets.Primary
		}
		b := widgets.Button(rank, widgets.Act{Label: v.say(a.label), Do: a.do})
		if v.page.window.ReadOnly() {
			b.Disable()
		}
		row.Add(widgets.Fix(0, 36, b))
	}
	return row
}

// share is on how many of so many visits, in words.
func (v *easeView) share(n, of int) string {
	if of == 0 {
		return v.say("ease.no-visit")
	}
	return v.page.window.Text().Count("ease.of-visits", of, wording.Gaps{"Seen": n})
}

// sides are the settings beside each other, this month and before.
func (v *easeView) sides() fyne.CanvasObject {
	tables := v.page.window.Tables()
	head := widgets.RowFill(look.S12, widgets.GrowBy(1.3, widgets.Para("", look.Note, look.Soft)))
	for _, key := range []string{"ease.unease-lately", "ease.unease-before", "ease.ease-lately", "ease.ease-before"} {
		head.Add(widgets.GrowBy(1, widgets.Para(v.say(key), look.Note, look.Soft)))
	}
	list := widgets.Col(look.S4, head, widgets.HLine())
	for _, s := range welfare.Sides(tables, v.known.Visits, v.page.today) {
		row := widgets.RowFill(look.S12, widgets.GrowBy(1.3, widgets.Para(v.say("setting."+string(s.Setting)), look.BodyBold, look.Ink)))
		for _, c := range []struct{ n, of int }{{s.Lately.Unease, s.Lately.Visits}, {s.Before.Unease, s.Before.Visits}, {s.Lately.Ease, s.Lately.Visits}, {s.Before.Ease, s.Before.Visits}} {
			tone := look.Ink
			if c.of == 0 {
				tone = look.Faint
			}
			row.Add(widgets.GrowBy(1, widgets.Para(v.share(c.n, c.of), look.Body, tone)))
		}
		list.Add(row)
	}
	below := v.say("ease.sides-how", map[string]any{"Lately": tables.Value(knowledge.ValueEaseLately), "Before": tables.Value(knowledge.ValueEaseBefore)})
	return widgets.Group(v.say("ease.sides"), below, list)
}

// strip are the last days, one beside the other.
func (v *easeView) strip() fyne.CanvasObject {
	to := v.page.today
	data := chart.StripData{First: to - stripDays + 1, UneaseSaid: v.say("ease.unease"), EaseSaid: v.say("ease.ease"), Lifts: v.say("ease.lifted"), Words: chart.Words{Calendar: v.page.window.Text()}}
	for _, d := range welfare.Strip(v.known.Visits, v.known.Entries, data.First, to) {
		data.Days = append(data.Days, chart.StripDay{Visits: d.Tally.Visits, Unease: d.Tally.Unease, Ease: d.Tally.Ease, Lifts: d.Lifts, Changed: d.Changed})
	}
	sketch := widgets.NewSketch(280, float32(chart.StripHeight(12)), func(pen drawing.Pen, size fyne.Size) {
		style := widgets.Drawn()
		data.Words.Measure = style.Measure
		chart.DrawStrip(pen, data, float64(size.Width), 12)
	})
	return widgets.Group(v.say("ease.strip", map[string]any{"Days": int(stripDays)}), v.say("ease.strip-how"), sketch)
}

// breathing is the last count, against the animal's own, and what a vet should hear of.
func (v *easeView) breathing() fyne.CanvasObject {
	all := welfare.Breathings(v.page.window.Tables(), v.known.Visits)
	if len(all) == 0 {
		return nil
	}
	list := widgets.Col(look.S8)
	for _, b := range welfare.Told(v.page.window.Tables(), all, v.page.today) {
		words := paper.BreathsSaid(v.page.window.Text(), v.page.window.Tables(), b)
		if b.ForVet() {
			list.Add(widgets.Caution(words))
		} else {
			list.Add(widgets.Para(words, look.Body, look.Ink))
		}
	}
	return widgets.Group(v.say("ease.breathing"), "", list)
}

// changes are the changes that were tried, with whether each helped.
func (v *easeView) changes() fyne.CanvasObject {
	list := widgets.Col(look.S8)
	for _, e := range v.known.Entries {
		if c, is := e.Body.(welfare.Change); is {
			list.Add(widgets.RowPress(c.What, widgets.Col(0, widgets.Para(c.What, look.BodyBold, look.Ink), widgets.Para(v.tried(e, c), look.Body, look.Ink)), func() { v.change(&e) }))
		}
	}
	if len(list.Objects) == 0 {
		return widgets.Group(v.say("ease.changes"), "", widgets.Para(v.say("ease.no-change"), look.Body, look.Soft))
	}
	return widgets.Group(v.say("ease.changes"), v.say("ease.changes-how"), list)
}

// tried is a change, since when, and what the weeks say of it.
func (v *easeView) tried(e welfare.Entry, c welfare.Change) string {
	p := v.page
	h, err := atease.Helped(p.window.Tables(), v.known, e, c, p.today)
	if err != nil {
		return v.say("ease.fault")
	}
	return paper.HelpSaid(p.window.Text(), e, c, h)
}

// goes are both halves of the visits by one factor.
func (v *easeView) goes() fyne.CanvasObject {
	t, tables := v.page.window.Text(), v.page.window.Tables()
	words := make([]string, 0, len(welfare.Factors()))
	for _, f := range welfare.Factors() {
		words = append(words, t.Say("welfare.factor."+string(f)))
	}
	pick := particulars.NewFew("", texts(welfare.Factors()), words, string(v.factor), func(f string) {
		v.factor = welfare.Factor(f)
		v.page.build()
	})
	lines := widgets.Col(look.S8, pick.Container)
	for _, s := range knowledge.Settings() {
		visits := welfare.In(s, v.known.Visits)
		if len(visits) == 0 {
			continue
		}
		h, err := welfare.GoesWith(tables, v.factor, visits, v.known.On[v.factor], v.page.today)
		if err != nil {
			lines.Add(widgets.Para(v.say("ease.fault"), look.Body, look.Soft))
			continue
		}
		said := t.Say("ease.goes", wording.Gaps{"Setting": t.Say("setting." + string(s)), "With": v.share(h.With.Unease, h.With.Visits), "Without": v.share(h.Without.Unease, h.Without.Visits)})
		if h.Want > 0 {
			said += " " + t.Count("ease.goes-want", h.Want)
		} else {
			key := "ease.goes-chance"
			if h.Seldom {
				key = "ease.goes-seldom"
			}
			said += " " + t.Say("ease.goes-p", wording.Gaps{"P": paper.PSaid(t, h.P)}) + " " + t.Say(key)
		}
		lines.Add(widgets.Para(said, look.Body, look.Ink))
	}
	return widgets.Group(v.say("ease.goes-title"), v.say("ease.goes-how"), lines)
}

// domains are the four lists, and what was not looked at.
func (v *easeView) domains() fyne.CanvasObject {
	t := v.page.window.Text()
	var cells []fyne.CanvasObject
	for _, l := range welfare.Lists(v.page.window.Tables(), v.known.Looked, v.known.Visits, v.page.today) {
		col := widgets.Col(look.S4, widgets.Para(v.say("domain."+string(l.Domain)), look.BodyBold, look.Ink))
		for _, s := range l.Looked {
			col.Add(widgets.Para(t.Count("ease.looked", s.Times, wording.Gaps{"What": t.Say("welfare.looked." + string(s.What)), "Day": t.DayShort(s.Last)}), look.Body, look.Ink))
		}
		for _, part := range []struct {
			key string
			all []welfare.SeenSign
		}{{"ease.seen-unease", l.Unease}, {"ease.seen-ease", l.Ease}, {"ease.seen-neither", l.Neither}} {
			for _, s := range part.all {
				col.Add(widgets.Para(t.Say(part.key, wording.Gaps{"Sign": t.Say("sign." + string(s.Sign)), "Times": s.Times}), look.Body, look.Ink))
			}
		}
		for _, what := range l.NotLooked {
			col.Add(widgets.Para(t.Say("ease.not-looked", wording.Gaps{"What": t.Say("welfare.looked." + string(what))}), look.Body, look.Days))
		}
		cells = append(cells, widgets.GrowBy(1, col))
	}
	how := t.Say("ease.domains-how", wording.Gaps{"Days": v.page.window.Tables().Value(knowledge.ValueEaseLately)})
	return widgets.Group(v.say("ease.domains"), how, widgets.RowTop(look.S24, cells[:2]...), widgets.RowTop(look.S24, cells[2:]...))
}

// ledger is what handling came to.
func (v *easeView) ledger() fyne.CanvasObject {
	t, tables, today := v.page.window.Text(), v.page.window.Tables(), v.page.today
	days := model.Day(tables.Value(knowledge.ValueEaseLately))
	l := welfare.Handled(tables, v.known.Entries, today-days+1, today)
	list := widgets.Col(look.S4)
	if l.Times == 0 {
		list.Add(widgets.Para(v.say("ease.no-handling"), look.Body, look.Soft))
	} else {
		list.Add(widgets.Para(paper.LedgerSaid(t, l), look.Body, look.Ink))
	}
	if l.Long > 0 {
		list.Add(widgets.Para(t.Count("ease.long", l.Long, wording.Gaps{"Minutes": tables.Value(knowledge.ValueHandMost)}), look.Body, look.Days))
	}
	return widgets.Group(v.say("ease.ledger", map[string]any{"Days": int(days)}), v.say("ease.ledger-how"), list)
}

// lastEntries is how many of the last entries stand on the page; all of them are among the days.
const lastEntries = 12

func isHandling(e welfare.Entry) bool {
	_, is := e.Body.(welfare.Handling)
	return is
}

// last are the last visits and handlings, which open to be put right.
func (v *easeView) last() fyne.CanvasObject {
	t := v.page.window.Text()
	list := widgets.Col(look.S4)
	shown := 0
	for _, e := range v.known.Entries {
		if _, is := e.Body.(welfare.Change); is || shown == lastEntries {
			continue
		}
		shown++
		title := joined(t.DayShort(e.At.Day()), easeTitle(t, e.Body), easeDetail(t, e.Body))
		list.Add(widgets.RowPress(title, widgets.Para(title, look.Body, look.Ink), func() { v.correct(e) }))
	}
	return widgets.Group(v.say("ease.last"), v.say("ease.last-how"), list)
}

// people are the contacts of people with the animal.
func (v *easeView) people() fyne.CanvasObject {
	t := v.page.window.Text()
	list := widgets.Col(look.S4)
	for _, e := range v.contacts {
		c := e.Body.(welfare.PersonContact)
		said := joined(t.DayShort(e.At.Day()), v.page.life.People[e.Person], t.Say("welfare.contact."+string(c.What)), firstLine(c.Note))
		list.Add(widgets.RowPress(said, widgets.Para(said, look.Body, look.Ink), func() { v.correct(e) }))
	}
	return widgets.Group(v.say("ease.people"), v.say("ease.people-how"), list)
}

// easeTitle and easeDetail put an entry of how an animal is into words.
func easeTitle(t *wording.Text, b welfare.Body) string {
	switch b := b.(type) {
	case welfare.Observation:
		return t.Say("setting." + string(b.Setting))
	case welfare.Change:
		return b.What
	}
	return t.Say("kind." + b.Kind())
}

func easeDetail(t *wording.Text, b welfare.Body) string {
	switch b := b.(type) {
	case welfare.Observation:
		var pieces []string
		for _, id := range b.Seen() {
			pieces = append(pieces, t.Say("sign."+string(id)))
		}
		if b.None {
			pieces = append(pieces, t.Say("ease.none"))
		}
		if n := len(b.Scans); n > 0 && n < looksOfSheet {
			pieces = append(pieces, t.Count("ease.scans-few", n, wording.Gaps{"Of": looksOfSheet}))
		}
		if b.Breaths != nil {
			pieces = append(pieces, t.Say("ease.rate", wording.Gaps{"Rate": t.Decimal(int64(b.Breaths.Tenths()), 1)}))
		}
		return joined(append(pieces, firstLine(b.Note))...)
	case welfare.Handling:
		l := welfare.Ledger{Lifts: b.Lifts, Hand: b.Hand, Container: b.Container}
		pieces := []string{}
		for _, c := range []struct {
			key string
			n   int
		}{{"ease.lifts", l.Lifts}, {"ease.hand", l.Hand}, {"ease.container", l.Container}} {
			if c.n > 0 {
				pieces = append(pieces, t.Count(c.key, c.n))
			}
		}
		if b.Restraint > 0 {
			pieces = append(pieces, t.Count("ease.held-for", b.Restraint, wording.Gaps{"Why": t.Say("restraint." + string(b.Why))}))
		}
		if b.Came {
			pieces = append(pieces, t.Say("ease.she-came"))
		}
		if b.DrewBack > 0 {
			pieces = append(pieces, t.Say("ease.she-drew-back", wording.Gaps{"Times": strconv.Itoa(b.DrewBack)}))
		}
		return joined(append(pieces, firstLine(b.Note))...)
	case welfare.Change:
		return joined(t.Say("kind.change-tried"), t.Say("setting."+string(b.Setting)), t.Say("welfare.hoped."+string(b.Hoped)))
	}
	return ""
}

// tellEase is an entry of how the animal is, among the days.
func tellEase(t *wording.Text, d model.Document) (told, error) {
	e, _, err := welfare.Decode(d)
	if err != nil {
		return told{}, err
	}
	return told{title: t.Say("kind." + d.Kind), detail: joined(easeTitleAmongDays(t, e.Body), easeDetail(t, e.Body))}, nil
}

// easeTitleAmongDays leaves out what the kind says already.
func easeTitleAmongDays(t *wording.Text, b welfare.Body) string {
	if _, is := b.(welfare.Handling); is {
		return ""
	}
	return easeTitle(t, b)
}

// isEase reports whether a kind of entry is of this page.
func isEase(kind string) bool { return slices.Contains(welfare.Kinds(), kind) }
