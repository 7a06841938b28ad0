package shelf

import (
	"image"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/round"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
	"coilward/ui/widgets/coil"
	"coilward/ui/widgets/shelfview"
)

// buildWalk shows the picture with the box in the lamp that one is at.
func (p *Page) buildWalk() {
	if a := p.house.Animal(p.notice.seen); a != nil {
		p.notice.words = p.mitesSeen(a)
	}
	p.head.Objects = []fyne.CanvasObject{p.walkHead()}
	p.foot.Objects = []fyne.CanvasObject{p.walkFoot()}
	p.view.Set(p.words().rows(p.rows, false))
	if p.atEnd() {
		p.view.Rest()
		p.lit = nil
		p.body.Objects = []fyne.CanvasObject{p.walkEnd()}
		return
	}
	p.body.Objects = []fyne.CanvasObject{p.view}
	p.column.Layout.Layout(p.column.Objects, p.column.Size()) // the lamp is as high as head and foot leave room
	at := p.boxOf(p.walk.Stops[p.walk.At()])
	p.view.Need(0)
	size := p.view.LitSize(at)
	if p.lit = newLit(p, size); p.lit.needs > size.Height {
		p.view.Need(p.lit.needs)
		p.lit = newLit(p, p.view.LitSize(at))
	}
	p.view.Walk(at, p.lit.panel, p.lit.plates)
}

// boxOf is where a stop stands in the picture.
func (p *Page) boxOf(s Stop) shelfview.At {
	for r, row := range p.rows {
		for b, box := range row.Boxes {
			if box.holds(s) {
				return shelfview.At{Row: r, Box: b}
			}
		}
	}
	return shelfview.At{}
}

// walkHead says what is done, what was set once, and how far one is.
func (p *Page) walkHead() fyne.CanvasObject {
	t, w := p.window.Text(), p.walk
	left := widgets.Col(look.S8, widgets.Row(look.S12, widgets.NewIcon(iconOf(w.Job), 32, look.Accent), widgets.Grow(widgets.Line(p.say("shelf.job."+string(w.Job)), look.Display, look.Ink))))
	if set := p.setOnce(); set != "" {
		kind := big(set, p.column.Size().Width*.6-96, look.Figure, look.LeadBold, look.BodyBold)
		row := widgets.Row(look.S12, widgets.Grow(widgets.Line(set, kind, look.Ink).Cuts()), widgets.KeyCap("*"))
		left.Add(widgets.NewPress(set, widgets.Fix(0, 44, widgets.MiddleUpright(widgets.Pad(row, 0, look.S16))), pressGround, func() { p.show(newSetup(p, w.Job)) }))
	}
	if w.Job == round.Through {
		left.Add(widgets.Line(p.say("round.order."+string(p.through.order.ID)), look.LeadBold, look.Soft).Cuts())
	}
	n := min(w.At()+1, len(w.Stops))
	count := widgets.Row(look.S12, widgets.Fill(), widgets.Line(t.Count("shelf.walk.left", w.Left()), look.FarSmall, look.Soft),
		widgets.Line(t.Number(int64(n)), look.FarCount, look.Ink), widgets.Line(t.Say("shelf.walk.of", wording.Gaps{"All": len(w.Stops)}), look.Far, look.Soft))
	last := widgets.Line(p.last, big(p.last, p.column.Size().Width*.4-look.S24, look.FarSmall, look.Lead, look.Body), look.Accent).Right()
	return widgets.RowTop(look.S24, widgets.GrowBy(3, left), widgets.GrowBy(2, widgets.Col(look.S4, count, last.CutsFront())))
}

// setOnce is what holds for all boxes, in words.
func (p *Page) setOnce() string {
	t := p.window.Text()
	var parts []string
	add := func(s string) {
		if s != "" {
			parts = append(parts, s)
		}
	}
	switch p.walk.Job {
	case round.Feed:
		m := p.job.meal
		prey := p.say("shelf.walk.prey-unsaid")
		if m.Prey != "" {
			prey = t.Say("care.prey." + string(m.Prey))
		}
		if m.Count > 1 {
			prey = t.Say("shelf.walk.times", wording.Gaps{"Count": m.Count, "Prey": prey})
		}
		add(particulars.Capital(prey))
		if m.Size != "" {
			add(t.Say("care.prey-size." + string(m.Size)))
		}
		if !m.Each.IsZero() {
			add(t.Mass(m.Each))
		}
		if m.State != "" {
			add(t.Say("care.prey-state." + string(m.State)))
		}
	case round.Weigh:
		gut := p.say("shelf.walk.gut-unsaid")
		if p.job.gut != "" {
			gut = particulars.Capital(t.Say("care.gut." + string(p.job.gut)))
		}
		add(gut)
		if scale, known := p.house.scales[p.job.scale]; known && scale.Failed {
			add(t.Say("shelf.walk.scale-failed", wording.Gaps{"Scale": scale.Name}))
		} else {
			add(scale.Name)
		}
	case round.Mites:
		for _, w := range p.job.where {
			add(t.Say("care.mites.where." + string(w)))
		}
		if len(parts) > 0 {
			parts[0] = particulars.Capital(parts[0])
		}
	case round.Swab:
		parts = p.kitsOnce()
	case round.Clean:
		add(particulars.Capital(t.Say("husbandry.extent." + string(p.job.clean.Extent))))
		for _, use := range p.job.clean.Uses {
			add(t.Say("means." + string(use.Means)))
			if use.Minutes > 0 {
				add(t.Count("shelf.walk.minutes", use.Minutes))
			}
		}
		for _, target := range p.job.clean.Against {
			add(t.Say("shelf.walk.against", wording.Gaps{"Target": t.Say("target." + string(target))}))
		}
	}
	return strings.Join(parts, ", ")
}

// walkFoot are the lesser keys.
func (p *Page) walkFoot() fyne.CanvasObject {
	key := func(cap, words string) fyne.CanvasObject {
		return widgets.Row(look.S8, widgets.KeyCap(cap), widgets.Line(p.say(words), look.Body, look.Soft))
	}
	keys := []fyne.CanvasObject{key("−", "shelf.key.back")}
	if p.walk.Job != round.Check {
		keys = append(keys, key("+", "shelf.key.note"))
	}
	if p.walk.Job == round.Mites {
		keys = append(keys, key("9", "shelf.mites.all"))
	}
	if p.walk.Job == round.Swab {
		keys = append(keys, key("0–9", "shelf.swab.type"), key(p.say("shelf.cap.delete"), "shelf.key.again"))
	}
	return widgets.Row(look.S24, append(keys, key("Esc", "shelf.key.end"), widgets.Fill())...)
}

// walkEnd says what became of the walk.
func (p *Page) walkEnd() fyne.CanvasObject {
	t, w := p.window.Text(), p.walk
	said := []string{t.Count("shelf.walk.noted", w.Count(Done)+w.Count(Against))}
	if n := w.Count(Against); n > 0 {
		said = append(said, t.Count("shelf.walk.against-"+string(w.Job), n))
	}
	if n := w.Count(Skipped); n > 0 {
		said = append(said, t.Count("shelf.walk.passed", n))
	}
	sentence := strings.Join(said, ", ") + "."
	if p.notice.words != "" {
		sentence = p.notice.words
	}
	back := widgets.Act{Label: p.say("shelf.key.back"), Key: "−", Do: func() { w.Back(); p.began() }}
	picture := widgets.NewIcon(iconOf(w.Job), 48, look.Accent)
	if w.Job == round.Through {
		return p.throughEnd(back)
	}
	if w.Job == round.Swab {
		return widgets.EmptyPage(picture, p.say("shelf.walk.end"), sentence, widgets.Act{Label: p.say("shelf.swab.to-tray"), Key: "Enter", Do: p.toTray},
			widgets.Act{Label: p.say("shelf.walk.to-shelf"), Key: "Esc", Do: p.end}, back)
	}
	return widgets.EmptyPage(picture, p.say("shelf.walk.end"), sentence, widgets.Act{Label: p.say("shelf.walk.to-shelf"), Key: "Enter", Do: p.end}, back)
}

// readBack is what was noted at a stop, to be read from afar.
func (p *Page) readBack(i int) string {
	_, word := p.words().stop(i)
	who := p.called(p.walk.Stops[i])
	if p.walk.Job == round.Through { // goes by boxes, and is about who lives in them
		who = p.namesOf(p.through.legs[i].planned.Animals)
	}
	return p.say("shelf.walk.last", wording.Gaps{"Who": who, "What": word})
}

// namesOf are the names of those animals that are here.
func (p *Page) namesOf(all []model.AnimalID) string {
	var names []string
	for _, id := range all {
		if a := p.house.Animal(id); a != nil {
			names = append(names, a.Name)
		}
	}
	return strings.Join(names, ", ")
}

// called is the name of a stop: of the animal, or of the box.
func (p *Page) called(s Stop) string {
	if a := p.house.Animal(s.Animal); a != nil {
		return a.Name
	}
	return p.house.places.Title(s.Place)
}

// lit is what stands in the lamp: the panel in the box, and the plates that hang
// from its board.
type lit struct {
	panel, plates fyne.CanvasObject
	digits, judge *widgets.Text
	foot          *fyne.Container // what is said of the mass
	width         float32         // inside the margins
	steps         []look.Type     // of the figures, largest first
	room          float32         // for the figures
	needs         float32         // height of the panel, for all of it to be seen; 0: no more than others
}

// pad is the margin of the panel, edges what the edges of its box take of the width.
const (
	pad   = 24
	edges = 6
)

func newLit(p *Page, size fyne.Size) *lit {
	l := &lit{}
	stop, _ := p.walk.Here()
	a := p.house.Animal(stop.Animal)
	inner, far := size.Width-2*pad, farther(size.Height)
	switch {
	case p.walk.Job == round.Through:
		l.panel = widgets.Pad(l.through(p, p.walk.At(), inner), look.S12, pad)
	case p.walk.Job == round.Swab && a != nil:
		l.swabbing(p, stop, inner, far)
	case p.walk.Job == round.Weigh && a != nil:
		l.weighing(p, a, inner, far)
	case a != nil:
		var panel fyne.CanvasObject
		for _, k := range []float32{far, 1} { // as large as all of it can be seen
			panel = l.animal(p, a, stop, inner-edges, k)
			if l.needs = widgets.HeightFor(panel, inner-edges) + 2*look.S12; l.needs <= size.Height {
				break
			}
		}
		l.panel = widgets.Pad(panel, look.S12, pad)
	default:
		l.panel = widgets.Pad(l.box(p, stop, inner), look.S12, pad)
	}
	l.plates = widgets.Pad(plates(p.platesOf(), size.Width), 2, 0, 0, 0)
	return l
}

// farther is how much larger than at least the type of the panel may be: it grows
// with the box, up to a third.
func farther(height float32) float32 { return min(max(height/225, 1), 1.34) }

// by is a step of the scale made larger.
func by(k float32, t look.Type) look.Type {
	t.Size, t.Line = float32(int(t.Size*k+.5)), float32(int(t.Line*k+.5))
	return t
}

// big is the largest of some steps of the scale in which a text fits a width.
func big(text string, width float32, steps ...look.Type) look.Type {
	for _, s := range steps {
		if s.Width(text) <= width {
			return s
		}
	}
	return steps[len(steps)-1]
}

var nameSteps = []look.Type{look.FarName, {Size: 44, Line: 52, Face: look.Serif}, {Size: 34, Line: 44, Face: look.Serif}, look.Heading}

// snake is an animal's coil without a disc.
func snake(a *Animal, side float32) fyne.CanvasObject {
	coat := coil.Coat{Ground: a.Coat.Ground, Markings: a.Coat.Markings}
	var kept image.Image
	picture := canvas.NewRaster(func(w, h int) image.Image {
		if n := min(w, h); kept == nil || kept.Bounds().Dx() != n {
			kept = coil.Bare(coat, a.Name, n, look.Dark())
		}
		return kept
	})
	return widgets.Fix(side, side, picture)
}

// animal is the panel of a job that is answered by a key.
func (l *lit) animal(p *Page, a *Animal, stop Stop, width, far float32) fyne.CanvasObject {
	side := 190 * far
	if p.notice.words != "" { // which takes its room
		side = 110 * far
	}
	t := p.window.Text()
	room := width - side - look.S24
	parts := []fyne.CanvasObject{widgets.Line(a.Name, big(a.Name, room, append([]look.Type{by(far, look.FarName)}, nameSteps...)...), look.Ink).Cuts()}
	line := func(text string, tone look.Tone) {
		if text != "" {
			parts = append(parts, widgets.Line(text, big(text, room, by(far, look.Far), look.FarSmall, look.Lead), tone).Cuts())
		}
	}
	if p.notice.words != "" {
		return widgets.Row(look.S24, snake(a, side), widgets.Grow(widgets.Col(look.S8, append(parts, p.noticed())...)))
	}
	where := p.placeOf(stop)
	parts = append(parts, widgets.Line(where, big(where, room, by(far, look.FarSmall), look.Lead), look.Soft).CutsFront())
	switch p.walk.Job {
	case round.Feed:
		for _, caution := range p.feedCautions(a) {
			parts = append(parts, widgets.Para(caution, look.LeadBold, look.Days))
		}
		if len(a.Weights) > 0 {
			line(p.share(a), look.Soft)
		}
		parts = append(parts, p.preyBand(a, func(text string, tone look.Tone) fyne.CanvasObject {
			if look.Lead.Width(text) > room-look.S32 {
				return widgets.Para(text, look.Lead, tone)
			}
			return widgets.Line(text, big(text, room-look.S32, by(far, look.FarSmall), look.Lead), tone)
		})...)
		if round.NeverOffered(a.Meals) {
			line(t.Say("shelf.feed.never-this"), look.Soft)
		}
		parts = append(parts, p.offers(a))
	case round.Mites:
		if a.Looked.IsZero() {
			line(t.Say("shelf.mites.never"), look.Soft)
		} else {
			line(t.Say("shelf.mites.before", wording.Gaps{"Ago": t.Ago(a.Looked.Day(), p.today), "What": t.Say("care.mites." + t.Number(int64(a.Grade)))}), look.Soft)
		}
	case round.Check:
		if a.Checked.IsZero() {
			line(t.Say("shelf.check.never"), look.Soft)
		} else {
			line(t.Say("shelf.check.before", wording.Gaps{"Ago": t.Ago(a.Checked.Day(), p.today)}), look.Soft)
		}
	}
	if p.note != "" {
		line(p.note, look.Accent)
	}
	return widgets.Row(look.S24, snake(a, side), widgets.Grow(widgets.Col(look.S4, parts...)))
}

// mitesSeen says what follows for the others in the room, and for the next box, from
// what was seen at an animal.
func (p *Page) mitesSeen(a *Animal) string {
	t := p.window.Text()
	who := wording.Gaps{"Who": a.Name}
	if !p.notice.grade.Positive() {
		return t.Count("shelf.mites.speck-seen", p.window.Tables().Value(knowledge.ValueLookSpeck), who)
	}
	if n := p.house.ToLookForMites(a.ID); n > 0 {
		return t.Count("shelf.mites.seen", n, who)
	}
	return t.Say("shelf.mites.seen-alone", who)
}

// noticed is what is to be known, to be read from where the animals are.
func (p *Page) noticed() fyne.CanvasObject {
	tone := look.Ink
	if p.notice.refused {
		tone = look.Today
	}
	return widgets.Para(p.notice.words, look.FarSmall.Bold(), tone)
}

// placeOf names the box of a stop; where somebody lives nowhere it says so.
func (p *Page) placeOf(s Stop) string {
	if s.Place.IsZero() {
		return p.say("shelf.loose")
	}
	return p.house.places.Title(s.Place)
}

// feedCautions are what speaks against food tonight, in words.
func (p *Page) feedCautions(a *Animal) (all []string) {
	t, against := p.window.Text(), a.own.AgainstFood(p.window.Tables(), a.Class(), a.Meals, p.today)
	if against.ForVet {
		all = append(all, p.say("shelf.feed.for-vet"))
	}
	if against.PowerCut {
		all = append(all, p.say("due.caution.power-cut-feed"))
	}
	if against.From != 0 {
		all = append(all, p.say("shelf.feed.brought-up", wording.Gaps{"Day": t.DayOfYear(against.BroughtUp), "From": t.DayOfYear(against.From)}))
	}
	return all
}

// share is how much of the animal's mass the prey is.
func (p *Page) share(a *Animal) string {
	m := p.job.meal
	if m.Total().IsZero() {
		return p.words().mass(a)
	}
	said := p.say("shelf.walk.share", wording.Gaps{"Mass": a.Weights[0].Mass,
		"Share": p.window.Text().Percent(int(m.Total().Milligrams * 10_000 / max(1, a.Weights[0].Mass.Milligrams)))})
	if care.LargeMeal(p.window.Tables(), m, a.Weights[0].Mass) {
		said = p.say("shelf.feed.large", wording.Gaps{"Share": said})
	}
	return said
}

// offers are the last offers, oldest first: mark and day.
func (p *Page) offers(a *Animal) fyne.CanvasObject {
	t := p.window.Text()
	last := a.Meals[:min(4, len(a.Meals))]
	var row []fyne.CanvasObject
	for i := len(last) - 1; i >= 0; i-- {
		m, _ := last[i].Body.(care.Meal)
		icon, tone, ground := "tick", look.Accent, look.Wash
		if m.Outcome != care.Took {
			icon, tone, ground = "close", look.Days, look.DaysBg
		}
		row = append(row, widgets.Col(2, widgets.Fix(66, 30, widgets.NewBox(widgets.Ground{Fill: ground, Line: tone, Width: 1, Radius: look.RBase}), widgets.Middle(widgets.NewIcon(icon, 20, tone))),
			widgets.Line(t.DayOfYear(last[i].At.Day()), look.Body, look.Soft).Centred()))
	}
	return widgets.Pad(widgets.Row(look.S8, append(row, widgets.Fill())...), look.S4, 0, 0, 0)
}

// box is the panel of a box that is cleaned.
func (l *lit) box(p *Page, stop Stop, width float32) fyne.CanvasObject {
	title := p.house.places.Title(stop.Place)
	parts := []fyne.CanvasObject{widgets.Line(title, big(title, width, nameSteps...), look.Ink).CutsFront()}
	if p.notice.words != "" {
		return widgets.MiddleUpright(widgets.Col(look.S8, append(parts, p.noticed())...))
	}
	var names []string
	for _, row := range p.rows {
		for _, b := range row.Boxes {
			if b.holds(stop) {
				for _, a := range b.Animals {
					names = append(names, a.Name)
				}
			}
		}
	}
	who := strings.Join(names, ", ")
	if who == "" {
		who = p.say("shelf.empty-box")
	}
	parts = append(parts, widgets.Line(who, big(who, width, look.Far, look.FarSmall), look.Soft).Cuts())
	if p.note != "" {
		parts = append(parts, widgets.Line(p.note, look.FarSmall, look.Accent).Cuts())
	}
	return widgets.MiddleUpright(widgets.Col(look.S8, parts...))
}

// weighing is the panel of a mass: what is typed stands large, with the last one
// and what the rule for a typed mass says of it.
func (l *lit) weighing(p *Page, a *Animal, width, far float32) {
	t := p.window.Text()
	last := p.say("shelf.weigh.first")
	if len(a.Weights) > 0 {
		last = t.Say("shelf.weigh.last", wording.Gaps{"Mass": a.Weights[0].Mass, "Ago": t.Ago(a.Weights[0].At.Day(), p.today)})
	}
	lastKind := big(last, width*.55, look.FarSmall.Bold(), look.LeadBold)
	name := widgets.Line(a.Name, big(a.Name, width-lastKind.Width(last)-look.S24, nameSteps[1:]...), look.Ink).Cuts()
	top := widgets.Row(look.S24, widgets.Grow(name), widgets.Line(last, lastKind, look.Soft))
	side := min(120*far, width*.2)
	unitWidth := look.FarCount.Width(p.massUnit())
	l.width = width
	l.steps = []look.Type{by(far, look.FarFigure), look.FarFigure, {Size: 76, Line: 84, Face: look.SansBold}, {Size: 56, Line: 64, Face: look.SansBold}, look.FarCount, look.FarBold, look.FarSmall.Bold(), look.BodyBold}
	l.room = width - side - unitWidth - 60
	if p.notice.words != "" { // which takes the room of the large figures
		l.steps = l.steps[slices.Index(l.steps, look.FarCount):]
		side = min(side, look.FarCount.Line)
	}
	l.digits = widgets.Line("", l.steps[0], look.Ink).Right().Cuts()
	l.judge = widgets.Line("", look.FarSmall.Bold(), look.Ink).Cuts()
	l.foot = widgets.Row(look.S8)
	unit := widgets.Line(p.massUnit(), look.FarCount, look.Soft)
	caret := widgets.Fix(3, min(72*far, l.steps[0].Line), widgets.Filled(look.Accent, 1.5))
	middle := widgets.Row(look.S12, snake(a, side), widgets.Grow(l.digits), caret, unit)
	if p.notice.words != "" {
		middle = widgets.Col(look.S4, middle, p.noticed())
	}
	l.panel = widgets.Pad(widgets.Col(0, top, widgets.Grow(widgets.MiddleUpright(middle)), widgets.Fix(0, 28, l.foot)), look.S8, pad, look.S8, pad)
	l.typed(p)
}

// typed shows what is typed so far, and judges it as the rule will.
func (l *lit) typed(p *Page) {
	if p.walk.Job == round.Swab {
		l.numbered(p)
		return
	}
	if l.digits == nil {
		return
	}
	tone, said, sign := look.Ink, "", false
	t := p.window.Text()
	stop, _ := p.walk.Here()
	a := p.house.Animal(stop.Animal)
	if p.typed != "" && a != nil {
		mass, err := t.ParseMass(p.typed)
		switch {
		case p.notice.words != "": // says all that is to be said
			tone = look.Today
		case err != nil:
			said = p.say("shelf.weigh.unreadable")
		default:
			tone, said, sign = p.judged(a, mass)
		}
	} else if noted := p.walk.Of(p.walk.At()); noted.Mark == Done {
		said = t.Say("shelf.weigh.noted", wording.Gaps{"Mass": noted.Mass})
	}
	kind := big(said, l.width-24-look.S8, look.FarSmall.Bold(), look.LeadBold, look.BodyBold, look.NoteBold)
	l.judge.SetKind(kind)
	l.digits.SetKind(smaller(big("50 000", l.room, l.steps...), big(p.typed, l.room, l.steps...)))
	l.digits.SetText(p.typed)
	l.digits.SetTone(tone)
	l.judge.SetText(said)
	l.foot.Objects = []fyne.CanvasObject{widgets.Grow(widgets.Line(p.note, look.FarSmall, look.Accent).Cuts())}
	if l.judge.SetTone(look.Ink); sign {
		l.judge.SetTone(tone)
		l.foot.Add(widgets.NewSign("days!", 24, tone, look.Sheet))
	}
	l.foot.Add(widgets.Fix(min(kind.Width(said)+1, l.width-24-look.S8), 0, l.judge))
	l.foot.Refresh()
}

// judged is how a mass stands against those before it, in words.
func (p *Page) judged(a *Animal, mass model.Mass) (tone look.Tone, said string, asks bool) {
	t := p.window.Text()
	var before []model.Mass
	for i := min(2, len(a.Weights)) - 1; i >= 0; i-- {
		before = append(before, a.Weights[i].Mass)
	}
	judgement, against := care.JudgeMass(mass, before, p.window.Tables().Heaviest(a.Species))
	switch judgement {
	case care.Plausible:
		if len(before) > 0 {
			said = particulars.Change(t, mass, a.Weights[0].Mass)
		}
		return look.Ink, said, false
	case care.Asks, care.WantsTypingAgain:
		return look.Days, p.say("shelf.weigh.far", wording.Gaps{"Mass": against}), true
	}
	return look.Today, p.say("shelf.weigh.cannot"), true
}

// plate is an answer that hangs from the board: its key, what it does.
type plate struct {
	key, word string
	strong    bool // Enter is safe
	do        func()
}

// platesOf are the answers of the stop one is at.
func (p *Page) platesOf() []plate {
	skip := plate{"/", p.say("shelf.key.skip"), false, p.skip}
	switch p.walk.Job {
	case round.Feed:
		skip.key = "3"
		return []plate{{"1", particulars.Capital(p.say("care.outcome." + string(care.Took))), false, func() { p.fed(care.Took) }},
			{"2", particulars.Capital(p.say("care.outcome." + string(care.Refused))), false, func() { p.fed(care.Refused) }}, skip}
	case round.Weigh:
		return []plate{{"Enter", p.say("shelf.key.note-it"), true, p.weighed}, {p.say("shelf.cap.delete"), p.say("shelf.key.again"), false, func() { p.retype("") }}, skip}
	case round.Mites:
		var all []plate
		for _, g := range care.MiteGrades() {
			all = append(all, plate{p.window.Text().Number(int64(g)), p.say("shelf.mites." + [...]string{"none", "speck", "one", "several", "all-around"}[g]), false, func() { p.looked(g) }})
		}
		return append(all, skip)
	case round.Swab:
		vet := plate{p.say("shelf.cap.point"), p.say("shelf.swab.to-vet"), false, func() { p.swabbed(false) }}
		if p.takes() == knowledge.ByVet {
			return []plate{vet, skip}
		}
		return []plate{{"Enter", p.say("shelf.swab.take"), true, func() { p.swabbed(true) }}, vet, skip}
	case round.Through:
		return p.throughPlates()
	case round.Clean:
		return []plate{{"Enter", p.say("shelf.key.cleaned"), true, p.cleaned}, skip}
	}
	return []plate{{"Enter", p.say("shelf.key.check"), true, p.check}, skip}
}

// plates hangs the answers side by side; with many of them key and words stand
// under each other.
func plates(all []plate, width float32) fyne.CanvasObject {
	n := float32(len(all))
	each := (width - look.S8*(n-1)) / n
	stacked := len(all) > 3
	for _, a := range all { // beside a form there is less room
		stacked = stacked || look.BodyBold.Width(a.word) > each-capWidth(a.key)-look.S12-2*look.S8
	}
	kind := look.Type{Size: 26, Line: 36, Face: look.SansBold}
	for _, a := range all {
		if !stacked {
			kind = smaller(kind, big(a.word, each-capWidth(a.key)-look.S12-2*look.S16, kind, look.Figure, look.LeadBold, look.BodyBold))
		}
	}
	var row []fyne.CanvasObject
	for _, a := range all {
		row = append(row, widgets.GrowBy(1, a.object(kind, stacked)))
	}
	return widgets.RowFill(look.S8, row...)
}

func smaller(a, b look.Type) look.Type {
	if b.Size < a.Size {
		return b
	}
	return a
}

// capWidth is how wide the cap of a plate's key is.
func capWidth(key string) float32 { return max(40, look.Figure.Width(key)+20) }

func (a plate) object(kind look.Type, stacked bool) fyne.CanvasObject {
	height := float32(40)
	if stacked {
		height = 30
	}
	cap := widgets.Fix(capWidth(a.key), height, widgets.NewBox(widgets.Ground{Fill: look.Paper, Line: look.Edge, Width: 1, Radius: look.RSmall}),
		widgets.MiddleUpright(widgets.Line(a.key, look.Figure, look.Ink).Centred()))
	var content fyne.CanvasObject
	if stacked {
		content = widgets.MiddleUpright(widgets.Pad(widgets.Col(2, widgets.Middle(cap), widgets.Para(a.word, look.NoteBold, look.Ink).Centred()), 2, look.S4))
	} else {
		content = widgets.Middle(widgets.Row(look.S12, cap, widgets.Line(a.word, kind, look.Ink)))
	}
	return widgets.NewPress(a.word, widgets.Fix(0, 72, content), func(s widgets.State) widgets.Ground {
		g := pressGround(s)
		if a.strong {
			g.Fill, g.Line, g.Width = look.Wash, look.Accent, 2
		}
		return g
	}, a.do)
}
