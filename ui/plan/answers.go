package plan

import (
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/model/evidence"
	"coilward/model/evidence/plan"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
	"coilward/ui/widgets/markchart"
)

// answers are what was worked out, or what to do so that something is.
func (p *Page) answers() fyne.CanvasObject {
	f := p.found
	if f == nil {
		title, what := "plan.begin", "plan.begin-what"
		if !p.any() {
			title, what = "plan.nobody", "plan.nobody-what"
		}
		return widgets.EmptyPage(widgets.NewIcon("tube", 48, look.Accent), p.say(title), p.say(what), widgets.Act{})
	}
	parts := []fyne.CanvasObject{}
	if p.touched {
		parts = append(parts, widgets.Caution(p.say("plan.stale")))
	}
	if len(f.Detected) > 0 {
		parts = append(parts, widgets.Caution(p.say("plan.why.detected", map[string]any{"Names": p.names(f.Detected)})))
	}
	if len(f.Detected) == 0 {
		said := widgets.Col(look.S4, widgets.Para(p.window.Text().Count("plan.joint", len(f.animals), map[string]any{"Chance": p.chance(f.least.Chance), "Names": f.animals[0].Name, "Agent": p.say("agent." + string(f.of))}), look.Body, look.Ink))
		if f.least.Linkage != evidence.Whole {
			said.Add(widgets.Para(p.say("chance.room-pools"), look.Note, look.Soft))
		}
		parts = append(parts, said)
	}
	for _, why := range f.answer.Why {
		parts = append(parts, widgets.Caution(p.why(why)))
	}
	if f.Singly {
		parts = append(parts, widgets.Para(p.say("plan.singly"), look.Body, look.Ink))
	}
	if len(f.ready)+len(f.answer.Plans) > 0 {
		parts = append(parts, p.chosen())
	}
	if len(f.ready) > 0 {
		parts = append(parts, widgets.Group(p.say("plan.ready"), p.say("plan.choose"), p.table(0, len(f.ready))))
	}
	if len(f.answer.Tried) > 0 {
		parts = append(parts, p.chart())
	}
	if n := len(f.answer.Plans); n > 0 {
		parts = append(parts, widgets.Group(p.say("plan.found"), "", p.table(len(f.ready), len(f.ready)+n)))
	}
	parts = append(parts, widgets.Para(p.say("plan.rests", map[string]any{"Goal": p.chance(evidence.Exactly(float64(p.window.Tables().Value(knowledge.ValueChanceGoal)) / 1000)), "Found": p.chance(f.Way.Sensitivity), "Material": p.say("material." + string(f.Material))}), look.Note, look.Soft))
	before := p.scrolled[1]
	p.scrolled[1] = widgets.Scroll(widgets.Pad(widgets.Col(look.S24, parts...), 0, look.S16, look.S24, 0))
	if before != nil {
		widgets.Resume(before, p.scrolled[1])
	}
	return p.scrolled[1]
}

func (p *Page) any() bool {
	return slices.ContainsFunc(p.animals, func(a animals.Stored) bool { return p.ticked[a.ID] })
}

func (p *Page) chance(r evidence.Range) string { return p.window.Text().Label(r.Told().Label()) }

// amount is what something costs, from cents; without prices how many tests it takes.
func (p *Page) amount(cents float64) string {
	if p.found.counted {
		return p.window.Text().Decimal(int64(math.Round(cents/plan.OneTest*10)), 1)
	}
	return p.window.Text().Price(int64(math.Round(cents)))
}

// amounts is what something may cost, from cents: one amount where all are the same as they are
// written.
func (p *Page) amounts(cents evidence.Range) string {
	low, mid, high := p.amount(cents.Low), p.amount(cents.Mid), p.amount(cents.High)
	if low == high {
		return mid
	}
	return p.say("plan.amounts", map[string]any{"Low": low, "Mid": mid, "High": high})
}

// plans are all plans, the ready ones first.
func (f *found) plans() (all []plan.Plan) {
	for _, r := range f.ready {
		all = append(all, r.Plan)
	}
	return append(all, f.answer.Plans...)
}

// name is what a plan is called.
func (p *Page) name(i int) string {
	f := p.found
	if i < len(f.ready) {
		switch f.ready[i].Kind {
		case plan.TwoSwabs:
			return p.window.Text().Count("plan.kind.two", f.Apart)
		case plan.PoolThenSingles:
			return p.say("plan.kind.pool")
		}
		return p.say("plan.kind.lab")
	}
	one := f.plans()[i]
	pools := p.say("plan.singles")
	if size := one.Largest(); size > 1 {
		pools = p.say("plan.pools", map[string]any{"Count": size})
	}
	return p.window.Text().Count("plan.rounds-of", len(one.Days), map[string]any{"Pools": pools})
}

// verdict is whether a plan is enough: at the worst end of what is known, or only if what is
// assumed is right; and whether it is later or costs more than is wanted.
func (p *Page) verdict(one plan.Plan) string {
	key := "plan.not-enough"
	switch one.Verdict {
	case plan.AtTheWorst:
		key = "plan.enough"
	case plan.IfAssumed:
		key = "plan.enough-assumed"
	}
	said := p.say(key, map[string]any{"Left": evidence.Exactly(one.Most.Mid).Told().Label()})
	if one.Late {
		said += ", " + p.say("plan.late")
	}
	if one.Dear {
		said += ", " + p.say("plan.dear")
	}
	return said
}

// names are those of some animals that are here.
func (p *Page) names(of []model.AnimalID) string {
	var all []string
	for _, a := range p.animals {
		if slices.Contains(of, a.ID) {
			all = append(all, a.Name)
		}
	}
	return strings.Join(all, ", ")
}

// table are some plans, one of which can be chosen.
func (p *Page) table(from, to int) fyne.CanvasObject {
	shares := []float32{2, 2.2, 1.1, 1, 1.4, 1.1}
	row := func(kind look.Type, tone look.Tone, texts ...string) *fyne.Container {
		var cells []fyne.CanvasObject
		for i, text := range texts {
			k := kind
			if i == 0 && kind == look.Body {
				k = look.BodyBold
			}
			cells = append(cells, widgets.GrowBy(shares[i], widgets.Para(text, k, tone)))
		}
		return widgets.Pad(widgets.RowTop(look.S12, cells...), look.S8, look.S12)
	}
	cost := "plan.column.cost"
	if p.found.counted {
		cost = "plan.column.tests"
	}
	list := widgets.Col(0, row(look.Note, look.Soft, p.say("plan.column.plan"), p.say("plan.column.left"), p.say("plan.column.known"), p.say(cost), p.say("plan.column.clear"), p.say("plan.column.false")), widgets.HLine())
	t := p.window.Text()
	for i := from; i < to; i++ {
		one := p.found.plans()[i]
		left := p.chance(one.Most) + ", " + p.verdict(one)
		tone := look.Ink
		if !one.Wanted() {
			tone = look.Soft
		}
		cells := row(look.Body, tone, p.name(i), left, t.DayShort(one.Known), p.amount(one.Expected.Mid), p.chance(one.Clear), p.chance(one.FalseAlarm))
		ground := look.Clear
		if i == p.found.chosen {
			ground = look.Wash
		}
		list.Add(widgets.RowPress(p.name(i)+", "+left, widgets.Stack(widgets.Filled(ground, look.RBase), cells), func() {
			p.found.chosen = i
			p.answer()
		}))
		list.Add(widgets.HLine())
	}
	return list
}

// chart is cost against days, of all that was tried.
func (p *Page) chart() fyne.CanvasObject {
	f := p.found
	data := chart.CostsData{Today: f.Today, Amount: p.amount, Words: chart.Words{Calendar: p.window.Text()}}
	for i, one := range f.answer.Plans {
		data.Offers = append(data.Offers, chart.Offer{Done: one.Known, Cost: one.Expected.Mid, Enough: true, Best: true, Chosen: f.chosen == len(f.ready)+i})
	}
	best := len(data.Offers)
	for _, tried := range f.answer.Tried {
		data.Offers = append(data.Offers, chart.Offer{Done: tried.Known, Cost: tried.Cost, Enough: tried.Enough})
	}
	marks := markchart.New(len(data.Offers), func(measure drawing.Measure, width, height, size float64) markchart.Marks {
		data.Words.Measure = measure
		return chart.NewCosts(data, width, height, size)
	}, widgets.Drawn())
	marks.Describe = func(i int) string {
		said := p.window.Text().DayShort(data.Offers[i].Done) + " · " + p.amount(data.Offers[i].Cost)
		if i < best {
			return p.name(len(f.ready)+i) + " · " + said
		}
		tried, pools := f.answer.Tried[i-best], p.say("plan.singles")
		if tried.Size > 1 {
			pools = p.say("plan.pools", map[string]any{"Count": tried.Size})
		}
		return p.window.Text().Count("plan.rounds-of", tried.Rounds, map[string]any{"Pools": pools}) + " · " + said
	}
	marks.OnMark = func(i int) {
		if i < best {
			f.chosen = len(f.ready) + i
			p.answer()
		}
	}
	marks.OnKey = p.TypedKey
	title := "plan.chart"
	if f.counted {
		title = "plan.chart-tests"
	}
	return widgets.Group(p.say(title), "", widgets.Fix(0, 240, marks), widgets.Para(p.say("plan.signs"), look.Note, look.Soft))
}

// chosen says on which days the plan in sight samples, and lays all of its rounds out.
func (p *Page) chosen() fyne.CanvasObject {
	f, t := p.found, p.window.Text()
	one := f.plans()[f.chosen]
	each := f.Samples(one, f.ids(), f.of)
	lay := widgets.Button(widgets.Primary, widgets.Act{Label: p.say("plan.lay-out"), Icon: "plus", Do: func() { p.layOut(each) }})
	if p.window.ReadOnly() || p.touched || len(each) == 0 || len(each) > samples.MaxMany {
		lay.Disable()
	}
	said := widgets.Col(look.S4, widgets.Para(p.name(f.chosen), look.BodyBold, look.Ink))
	if len(each) > 0 {
		said.Add(widgets.Para(p.say("plan.gist", map[string]any{"Day": t.Day(one.Known), "Verdict": p.verdict(one)}), look.Body, look.Ink))
		if one.Verdict == plan.IfAssumed {
			said.Add(widgets.Para(p.say("plan.worst", map[string]any{"Left": evidence.Exactly(one.Most.High).Told().Label()}), look.Body, look.Ink))
		}
		cost := "plan.cost"
		if f.counted {
			cost = "plan.cost-tests"
		}
		said.Add(widgets.Para(p.say(cost, map[string]any{"Cost": p.amounts(one.Expected)}), look.Body, look.Ink))
	}
	if f.chosen < len(f.ready) {
		if lab := f.ready[f.chosen]; lab.Largest() < lab.Pool {
			said.Add(widgets.Para(t.Count("plan.smaller", lab.Largest(), map[string]any{"Pool": lab.Pool}), look.Body, look.Ink))
		}
	}
	for n, day := range one.Days {
		var of []string
		for _, s := range each {
			if s.Sample.Planned.Round == n+1 {
				of = append(of, strings.ReplaceAll(p.names(s.Animals), ", ", " + "))
			}
		}
		line := t.Count("plan.day", len(of), map[string]any{"Day": t.Day(day), "Round": n + 1})
		if len(of) <= mostRows {
			line += ": " + strings.Join(of, ", ")
		}
		said.Add(widgets.Para(line, look.Body, look.Ink))
	}
	if one.Largest() > 1 {
		said.Add(widgets.Caution(p.say("samples.pool-how")))
	}
	sampled := animalsIn(each)
	if alone := slices.DeleteFunc(slices.Clone(f.Alone), func(a model.AnimalID) bool { return !slices.Contains(sampled, a) }); len(alone) > 0 && f.Largest > 1 {
		said.Add(widgets.Para(t.Count("plan.alone", len(alone), map[string]any{"Names": p.names(alone)}), look.Body, look.Ink))
	}
	left := slices.DeleteFunc(f.ids(), func(a model.AnimalID) bool { return slices.Contains(sampled, a) })
	if len(left) > 0 && len(each) > 0 {
		said.Add(widgets.Para(t.Count("plan.left-out", len(left), map[string]any{"Names": p.names(left)}), look.Body, look.Ink))
	}
	said.Add(widgets.Para(p.say("plan.follows"), look.Note, look.Soft))
	if m, _ := p.window.Tables().Material(f.Material); m.Takes == knowledge.InMouth && len(each) > 0 {
		said.Add(widgets.Caution(p.say("stop.mouth.caution")))
	}
	if len(each) > samples.MaxMany {
		said.Add(widgets.Para(p.say("plan.too-many", map[string]any{"Given": len(each), "Most": samples.MaxMany}), look.Body, look.Ink))
	}
	if old := f.replaced(each); len(old) > 0 {
		said.Add(widgets.Para(p.say("plan.replaces", map[string]any{"Names": p.names(old)}), look.Body, look.Ink))
	}
	if out := animalsOf(f.awaited, sampled); len(out) > 0 {
		said.Add(widgets.Para(p.say("plan.awaited", map[string]any{"Names": p.names(out)}), look.Body, look.Ink))
	}
	if kits := animalsOf(f.beside, sampled); len(kits) > 0 {
		said.Add(widgets.Para(t.Count("plan.beside", len(kits), map[string]any{"Names": p.names(kits), "TakeOut": p.say("tray.remove")}), look.Body, look.Ink))
	}
	return widgets.Tinted(look.Wash, look.S12, look.S16, widgets.RowTop(look.S16, widgets.Grow(said), lay))
}

// ids are the animals that the plan was made for.
func (f *found) ids() (all []model.AnimalID) {
	for _, a := range f.animals {
		all = append(all, a.ID)
	}
	return all
}

// replaced are the animals of which samples of an earlier plan are taken out when these are
// laid out.
func (f *found) replaced(each []samples.New) (of []model.AnimalID) {
	var old []samples.Stored
	for _, s := range each {
		old = append(old, samples.Replaced(f.laid, s.Animals, f.of)...)
	}
	for _, s := range old {
		for _, a := range s.Animals {
			if !slices.Contains(of, a) {
				of = append(of, a)
			}
		}
	}
	return of
}

// animalsOf are those of some animals that samples are of.
func animalsOf(all []samples.Stored, given []model.AnimalID) (of []model.AnimalID) {
	for _, a := range given {
		if slices.ContainsFunc(all, func(s samples.Stored) bool { return slices.Contains(s.Animals, a) }) {
			of = append(of, a)
		}
	}
	return of
}

// animalsIn are the animals that samples to be laid out are of, each once.
func animalsIn(each []samples.New) (of []model.AnimalID) {
	for _, s := range each {
		for _, a := range s.Animals {
			if !slices.Contains(of, a) {
				of = append(of, a)
			}
		}
	}
	return of
}

// layOut lays the samples of all rounds out.
func (p *Page) layOut(each []samples.New) {
	p.window.Do(func(a place.Answer) model.Command {
		return samples.LayOut{Tables: p.window.Tables(), Each: each, By: p.window.By(), Confirmed: a.Confirmed}
	}, func(err error) {
		if err == nil {
			p.window.Go(place.Route{To: place.Tray})
		}
	})
}

// why is why there is no plan, in a sentence.
func (p *Page) why(r plan.Reason) string {
	t := p.window.Text()
	var names []string
	for _, i := range r.Animals {
		names = append(names, p.found.animals[i].Name)
	}
	all := strings.Join(names, ", ")
	switch r.Why {
	case plan.Ongoing:
		return t.Count("plan.why.ongoing", len(names), map[string]any{"Names": all})
	case plan.Already:
		return p.say("plan.why.already")
	case plan.Dear:
		r.Cost.Mid, r.Cost.High = math.Ceil(r.Cost.Mid), math.Ceil(r.Cost.High) // so much is enough
		return p.say("plan.why.dear", map[string]any{"Cost": p.amounts(r.Cost), "Budget": p.amount(float64(p.found.Budget))})
	case plan.Late:
		return p.say("plan.why.late", map[string]any{"Day": t.Day(r.Day), "Latest": t.Day(p.found.Latest)})
	}
	if r.Needed > 0 {
		return p.say("plan.why.rounds", map[string]any{"Names": all, "Count": r.Needed, "Most": p.found.Rounds})
	}
	return p.say("plan.why.never", map[string]any{"Names": all, "Count": plan.ManyRounds, "Left": p.chance(r.Left), "Material": p.say("material." + string(p.found.Material)),
		"Target": p.chance(evidence.Exactly(p.found.Target)), "Share": t.Decimal(int64(p.found.By.Share.Assumed), 1)})
}
