package plan

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/chances"
	"coilward/model/collection"
	"coilward/model/evidence/plan"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// sideWidth is the column in which it is said what is wanted.
const sideWidth float32 = 336

// More animals than mostRows are scrolled in a list of their own, so that what is asked below
// them stays near.
const (
	mostRows           = 12
	rowsHeight float32 = 340
)

// Page is the place. It is used on Fyne's goroutine only.
type Page struct {
	window  place.Window
	animals []animals.Stored // that are here, by name
	ticked  map[model.AnimalID]bool
	of      knowledge.AgentID
	agents  []knowledge.AgentID
	wanted  wanted
	fields  map[string]*widgets.Field // by the names in wanted
	ticks   []*widgets.Tick           // of the animals, in their order
	count   *widgets.Text             // of those that are ticked
	found   *found                    // nil: nothing was worked out
	touched bool                      // something was changed since
	asked   int                       // how often something was changed or asked for

	root, head, side, body *fyne.Container
	scrolled               [2]*fyne.Container
}

// wanted is what was typed, by field.
type wanted map[string]string

// found is what was worked out.
type found struct {
	chances.Planned
	of      knowledge.AgentID
	animals []animals.Stored
	ready   []plan.Ready
	answer  plan.Answer
	chosen  int  // of all plans, the ready ones first
	counted bool // no price was said: tests are counted
	// least is the chance that at least one of the animals carries the thing today.
	least  chances.Joint
	laid   []samples.Stored // for an earlier plan of the animals, and not taken yet
	beside []samples.Stored // for no plan, and not taken yet
	// awaited are taken, and their answer is still to come
	awaited []samples.Stored
}

var (
	_ place.Place  = (*Page)(nil)
	_ place.Keys   = (*Page)(nil)
	_ place.Misser = (*Page)(nil)
)

// New makes the place.
func New(w place.Window) *Page {
	t, number := w.Text(), func(of knowledge.ValueID) string { return strconv.Itoa(w.Tables().Value(of)) }
	apart := number(knowledge.ValueSampleApart)
	p := &Page{window: w, ticked: map[model.AnimalID]bool{}, head: widgets.Stack(), side: widgets.Stack(), body: widgets.Stack(), fields: map[string]*widgets.Field{}, count: widgets.Line("", look.Note, look.Soft),
		wanted: wanted{"target": t.Decimal(int64(w.Tables().Value(knowledge.ValueChanceGoal)), 1), "largest": number(knowledge.ValuePlanPool), "rounds": number(knowledge.ValuePlanRounds), "apart": apart, "lab-apart": apart}}
	p.root = widgets.Pad(widgets.Col(look.S16, p.head, widgets.Grow(widgets.RowFill(look.S24, widgets.Fix(sideWidth, 0, p.side), widgets.Grow(p.body)))), look.S24, look.S24, look.S8, look.S24)
	return p
}

func (p *Page) say(key string, gaps ...map[string]any) string {
	return p.window.Text().Say(key, gaps...)
}

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.root }

// Show implements place.Place. A route's subject is an animal that takes part.
func (p *Page) Show(r place.Route) {
	p.read()
	if !r.Subject.IsZero() {
		p.ticked = map[model.AnimalID]bool{{ID: r.Subject}: true}
		p.found, p.ticks = nil, nil
	}
	p.build()
}

// Hide implements place.Place.
func (p *Page) Hide() { p.keep() }

// Changed implements place.Place: what was worked out may hold no more.
func (p *Page) Changed(c collection.Change) {
	p.read()
	p.Missed(c)
	p.build()
}

// Missed implements place.Misser.
func (p *Page) Missed(c collection.Change) {
	if slices.ContainsFunc(chances.Rested(), func(t model.DocumentType) bool { return slices.Contains(c.Types, t) }) {
		p.asked++
		p.touched = p.found != nil
	}
}

// TypedRune implements place.Keys: no letter means anything here.
func (p *Page) TypedRune(rune) {}

// TypedKey implements place.Keys.
func (p *Page) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		p.workOut()
	case fyne.KeyEscape:
		p.window.Back()
	}
}

// read reads who is here and what plans can be made for.
func (p *Page) read() {
	var all []animals.Stored
	err := p.window.Collection().View(func(v model.View) (err error) { all, err = animals.All(v); return err })
	if err != nil {
		p.window.Fault("plan.fault", err)
		return
	}
	all = slices.DeleteFunc(all, func(a animals.Stored) bool { return !a.Status.Here() })
	slices.SortStableFunc(all, func(a, b animals.Stored) int { return cmp.Compare(animals.Fold(a.Name), animals.Fold(b.Name)) })
	if !slices.EqualFunc(all, p.animals, func(a, b animals.Stored) bool { return a.ID == b.ID && a.Name == b.Name && a.Code == b.Code }) {
		p.ticks = nil
	}
	p.animals = all
	p.agents = nil
	for _, a := range p.window.Tables().Agents() {
		if _, ok := p.window.Tables().Carrier(a.ID); ok {
			p.agents = append(p.agents, a.ID)
		}
	}
	if p.of == "" && len(p.agents) > 0 {
		p.of = p.agents[0]
	}
}

// keep takes over what was typed.
func (p *Page) keep() {
	for name, f := range p.fields {
		p.wanted[name] = f.Text()
	}
}

// build shows the page. The column in which it is said what is wanted stays as it is as
// long as the animals do: with what is typed, and where the keys and the scroller are.
func (p *Page) build() {
	back := widgets.Button(widgets.Plain, widgets.Act{Label: p.say("plan.to-tray"), Icon: "left", Do: func() { p.window.Go(place.Route{To: place.Tray}) }})
	p.head.Objects = []fyne.CanvasObject{widgets.Header(p.say("plan.title"), p.say("plan.below"), back)}
	if len(p.animals) == 0 {
		p.side.Objects = nil
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(widgets.NewIcon("tube", 48, look.Accent), p.say("plan.nothing-here"), "",
			widgets.Act{Label: p.say("tray.add-animal"), Icon: "plus", Do: func() { p.window.Go(place.Route{To: place.Animals, Page: "new"}) }})}
		p.root.Refresh()
		return
	}
	if p.ticks == nil {
		p.keep()
		p.side.Objects = []fyne.CanvasObject{p.wants()}
	}
	p.answer()
	p.root.Refresh()
}

// answer shows the answers anew.
func (p *Page) answer() {
	p.body.Objects = []fyne.CanvasObject{p.answers()}
	p.body.Refresh()
}

// entry is a field of the column: its name in wanted, the key of its caption, and of its hint.
type entry struct{ name, label, hint string }

// wants is the column in which it is said who, what, how sure and at what price.
func (p *Page) wants() fyne.CanvasObject {
	var names, values []string
	for _, a := range p.agents {
		values, names = append(values, string(a)), append(names, p.say("agent."+string(a)))
	}
	what := particulars.NewFew(p.say("plan.what"), values, names, string(p.of), func(v string) { p.of = knowledge.AgentID(v); p.changed() })
	groups := []fyne.CanvasObject{widgets.Group(p.say("plan.whom"), "", p.whom()), what.Container}
	for _, g := range []struct {
		title string
		of    []entry
	}{
		{"plan.sure", []entry{{"target", "plan.target", ""}, {"latest", "plan.latest", "plan.latest-hint"}}},
		{"plan.rounds-title", []entry{{"rounds", "plan.rounds", ""}, {"apart", "plan.apart", ""}, {"largest", "plan.largest", ""}}},
		{"plan.price", []entry{{"test", "plan.test", "plan.optional"}, {"swab", "plan.swab", "plan.optional"}, {"budget", "plan.budget", "plan.optional"}}},
		{"plan.lab", []entry{{"lab-rounds", "plan.lab-rounds", "plan.lab-none"}, {"lab-pool", "plan.lab-pool", "plan.lab-none"}, {"lab-apart", "plan.lab-apart", ""}}},
	} {
		fields := widgets.Col(look.S12)
		for _, e := range g.of {
			fields.Add(p.field(e).Container)
		}
		groups = append(groups, widgets.Group(p.say(g.title), "", fields))
	}
	work := widgets.Big(widgets.Button(widgets.Primary, widgets.Act{Label: p.say("plan.work-out"), Icon: "check", Do: p.workOut}))
	before := p.scrolled[0]
	p.scrolled[0] = widgets.Scroll(widgets.Pad(widgets.Col(look.S24, groups...), look.S16))
	if before != nil {
		widgets.Resume(before, p.scrolled[0])
	}
	return widgets.Card(0, widgets.Col(0, widgets.Grow(p.scrolled[0]), widgets.HLine(), widgets.Pad(work, look.S12, look.S16)))
}

// field is that of an entry, made once.
func (p *Page) field(e entry) *widgets.Field {
	if f := p.fields[e.name]; f != nil {
		return f
	}
	hint := ""
	if e.hint != "" {
		hint = p.say(e.hint)
	}
	f := widgets.NewField(p.wanted[e.name], widgets.FieldOptions{Label: p.say(e.label), Hint: hint})
	f.OnTyped = func(string) {
		f.Accept()
		p.outdated()
	}
	f.OnEnter = p.workOut
	p.fields[e.name] = f
	return f
}

// whom are the animals to tick, and how many are.
func (p *Page) whom() fyne.CanvasObject {
	who := widgets.Col(0)
	p.ticks = []*widgets.Tick{}
	for _, a := range p.animals {
		tick := widgets.NewTick(p.ticked[a.ID], a.Name, a.Code, func(on bool) {
			p.ticked[a.ID] = on
			p.changed()
		})
		p.ticks = append(p.ticks, tick)
		who.Add(tick.Row)
	}
	p.tally()
	var list fyne.CanvasObject = who
	if len(p.animals) > mostRows {
		list = widgets.Fix(0, rowsHeight, widgets.Scroll(who))
	}
	return widgets.Col(look.S4, widgets.Row(look.S8, widgets.Grow(p.count), widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("plan.all"), Do: p.turnAll})), list)
}

// turnAll ticks all animals, or none where all are.
func (p *Page) turnAll() {
	on := slices.ContainsFunc(p.animals, func(a animals.Stored) bool { return !p.ticked[a.ID] })
	for i, a := range p.animals {
		p.ticked[a.ID] = on
		p.ticks[i].Turn(on)
	}
	p.changed()
}

// tally says how many animals are ticked.
func (p *Page) tally() {
	n := 0
	for _, a := range p.animals {
		if p.ticked[a.ID] {
			n++
		}
	}
	p.count.SetText(p.window.Text().Count("plan.ticked", n))
	p.count.SetTone(look.Soft)
}

// askWhom brings the animals into sight and says there that one is to be ticked.
func (p *Page) askWhom() {
	p.count.SetText(p.say("plan.tick-one"))
	p.count.SetTone(look.Today)
	widgets.Reveal(p.side, p.count)
}

// changed is called when others are ticked, or something else is looked for.
func (p *Page) changed() {
	p.tally()
	p.outdated()
}

// outdated is called when something else is wanted: the answers say so.
func (p *Page) outdated() {
	p.asked++
	was := p.touched
	p.touched = p.found != nil
	if p.found == nil || !was {
		p.answer()
	}
}

// typed puts what was typed into the facts; false where a field cannot be read, which says
// so, from the top to the foot.
func (p *Page) typed(f *plan.Facts) bool {
	t, ok := p.window.Text(), true
	refuse := func(name string, err error) bool {
		var refused *model.Refusal
		if errors.As(err, &refused) {
			p.fields[name].Refuse(t.Why(refused))
		}
		if err != nil {
			if ok { // the first: it may be out of sight
				p.window.Focus(p.fields[name].Focusable())
			}
			ok = false
		} else {
			p.fields[name].Accept()
		}
		return err == nil
	}
	empty := func(name string) bool {
		if p.fields[name].Text() != "" {
			return false
		}
		p.fields[name].Accept()
		return true
	}
	whole := func(name string, most, none int) int {
		if none >= 0 && empty(name) {
			return none
		}
		n, err := t.ParseCount(p.fields[name].Text(), most)
		refuse(name, err)
		return n
	}
	price := func(name string) (cents int64) {
		if empty(name) {
			return 0
		}
		cents, err := t.ParsePrice(p.fields[name].Text())
		refuse(name, err)
		return cents
	}
	hundredths, err := t.ParsePercent(p.fields["target"].Text())
	f.Target = float64(hundredths) / 10_000
	refuse("target", err)
	if !empty("latest") {
		f.Latest, err = t.ParseDayAhead(p.fields["latest"].Text(), f.Today)
		refuse("latest", err)
	}
	f.Rounds, f.Apart, f.Largest = whole("rounds", plan.MostRounds, -1), whole("apart", plan.MostDays, -1), whole("largest", plan.MostPool, -1)
	f.Price, f.Budget = plan.Price{Test: price("test"), Swab: price("swab")}, price("budget")
	lab := plan.Lab{Rounds: whole("lab-rounds", plan.MostRounds, 0), Pool: whole("lab-pool", plan.MostPool, 0), Apart: whole("lab-apart", plan.MostDays, f.Apart)}
	if lab.Rounds > 0 {
		lab.Pool = max(lab.Pool, 1) // nothing said: each singly
	}
	if lab.Pool > 0 {
		f.Lab = lab
	}
	if refused := f.Limits(); ok && refused != nil {
		name := strings.TrimPrefix(refused.Field, "plan.")
		refused.Value = p.fields[name].Text()
		refuse(name, refused)
	}
	return ok
}

// workOut works the plans out, off Fyne's goroutine.
func (p *Page) workOut() {
	if len(p.animals) == 0 {
		return
	}
	p.keep()
	p.asked++
	asked := p.asked
	next := &found{of: p.of}
	var ids []model.AnimalID
	for _, a := range p.animals {
		if p.ticked[a.ID] {
			ids, next.animals = append(ids, a.ID), append(next.animals, a)
		}
	}
	if len(ids) == 0 {
		p.askWhom()
		return
	}
	said := plan.Facts{Today: p.window.Now().Day()}
	if !p.typed(&said) {
		p.touched = p.found != nil
		p.answer()
		return
	}
	said.Price, next.counted = said.Price.OrTests()
	p.window.Task(p.say("plan.reading"), func(ctx context.Context, progress func(float64)) error {
		if err := p.window.Collection().View(func(v model.View) error {
			if err := p.window.Chances().Ask(v, func(r *chances.Reader) error {
				next.Planned, _ = r.Plan(ids, next.of)
				next.least, _ = r.AtLeastOne(ids, next.of)
				return nil
			}); err != nil {
				return err
			}
			all, _, err := samples.Legible(v)
			next.laid, next.beside = samples.Replaced(all, ids, next.of), samples.Beside(all, ids, next.of)
			next.awaited = samples.Awaited(all, ids, next.of)
			return err
		}); err != nil {
			return err
		}
		if len(next.Detected) > 0 {
			return nil // no plan is made for them
		}
		next.Want(said)
		var err error
		if next.ready, err = next.Facts.Ready(); err != nil {
			return err
		}
		next.answer, err = next.Facts.Search(ctx, func(done, all int) { progress(float64(done) / float64(all)) })
		return err
	}, func(err error) {
		if p.asked != asked {
			return // something else is wanted by now
		}
		if err != nil {
			if !errors.Is(err, context.Canceled) {
				p.window.Fault("plan.fault", err)
			}
			return
		}
		if len(next.answer.Plans) > 0 {
			next.chosen = len(next.ready)
		}
		p.found, p.touched = next, false
		p.answer()
	})
}
