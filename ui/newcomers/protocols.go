package newcomers

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// protocols shows what can be asked, each with its source, in the side column.
func (p *Page) protocols() {
	if p.holds() {
		return
	}
	p.form, p.again = nil, p.protocols
	list := widgets.Col(look.S16, widgets.Para(p.say("newcomers.protocols-what"), look.Body, look.Soft))
	for _, o := range p.board.Offers {
		list.Add(p.protocolCard(o))
	}
	add := widgets.Button(widgets.Plain, widgets.Act{Label: p.say("newcomers.protocol-own"), Icon: "plus", Do: func() {
		own := quarantine.Offered{}
		if python, there := quarantine.Offer(p.board.Offers, "python"); there {
			own.Own = python.Own
		}
		own.Name, own.Protocol.ID, own.Protocol.Source = "", "", ""
		p.protocol(own)
	}})
	column := particulars.Column(p.say("newcomers.protocols"), p.close, list, p.off(add))
	p.side.Objects = []fyne.CanvasObject{widgets.RowFill(0, widgets.VLine(), widgets.Fix(formWidth, 0, column))}
	p.side.Show()
	p.build()
}

func (p *Page) protocolCard(o quarantine.Offered) fyne.CanvasObject {
	w := p.words()
	rows := widgets.Col(look.S4, widgets.Line(w.Label(o.Own.Title()), look.Section, look.Ink).Cuts())
	switch {
	case o.Spoilt:
		rows.Add(widgets.Caution(p.say("newcomers.protocol-spoilt")))
	case o.Changed:
		rows.Add(widgets.Line(p.say("newcomers.protocol-changed"), look.NoteBold, look.Accent))
	}
	for _, said := range w.asks(o.Protocol) {
		rows.Add(widgets.RowTop(look.S8, widgets.Pad(widgets.NewIcon("dash", 14, look.Soft), 3, 0), widgets.Grow(widgets.Para(said, look.Body, look.Ink))))
	}
	if o.Source != "" {
		rows.Add(widgets.Para(w.Source(o.Source), look.Note, look.Faint))
	}
	acts := widgets.Wrap(look.S8, p.off(widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("newcomers.protocol-change"), Icon: "note", Do: func() { p.protocol(o) }})))
	if o.Changed {
		acts.Add(p.off(widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("newcomers.protocol-reset"), Icon: "undo", Do: func() {
			p.window.Do(func(place.Answer) model.Command { return quarantine.ResetProtocol{Document: o.Document} }, func(err error) {
				if err != nil {
					p.window.Tell(w.Label(o.Own.Title()), p.refusal(err))
					return
				}
				p.read()
			})
		}})))
	}
	rows.Add(acts)
	return widgets.Card(look.S12, rows)
}

// asks are what a protocol asks, one sentence each.
func (w words) asks(p quarantine.Protocol) (all []string) {
	add := func(key string, n int, g gaps) { all = append(all, w.Count("newcomers.asks."+key, n, g)) }
	add("days", p.Days, nil)
	if p.Mites {
		all = append(all, w.Say("newcomers.asks.mites"))
	}
	for _, a := range p.For {
		add("results", a.NotDetected, gaps{"Agent": w.agents(a.Agents), "Apart": a.Apart})
	}
	if len(p.For) > 0 {
		add("within", p.Within, nil)
	}
	if p.Faecal > 0 {
		add("faecal", p.Faecal, gaps{"Apart": p.FaecalApart})
	}
	add("check", p.CheckWithin, nil)
	if p.Meals > 0 {
		add("meals", p.Meals, nil)
	}
	all = append(all, w.Say("newcomers.asks.weight", gaps{"Weight": p.Weight, "Watch": p.Watch}))
	if p.Sheds > 0 {
		add("sheds", p.Sheds, nil)
	}
	return all
}

// number is one number of a protocol with its field.
type number struct {
	name string
	set  func(p *quarantine.Protocol, n int)
	is   int
}

// number is the whole number that was typed in a field, which may be none; what it may
// be besides is the command's to say.
func (f *form) number(name string) (int, error) {
	n, err := strconv.Atoi(f.Text(name))
	if err != nil || n < 0 {
		return 0, &model.Refusal{Field: name, Value: f.Text(name), Reason: "number.range", Answer: model.Mend,
			Gaps: map[string]model.Gap{"Least": model.CountGap(0), "Most": model.CountGap(knowledge.MostProtocolDays)}}
	}
	return n, nil
}

// protocol asks for what a protocol asks, in numbers and things to look for.
func (p *Page) protocol(o quarantine.Offered) {
	f, things := newForm(p), slices.Clone(o.For)
	table, _ := p.window.Tables().Protocol(o.Protocol.ID)
	parts := []fyne.CanvasObject{}
	if table.ID == "" {
		parts = append(parts, f.field("protocol-name", p.say("field.protocol-name"), o.Name, widgets.FieldOptions{}))
	}
	numbers := []number{
		{"protocol-days", func(p *quarantine.Protocol, n int) { p.Days = n }, o.Days},
		{"protocol-within", func(p *quarantine.Protocol, n int) { p.Within = n }, o.Within},
		{"protocol-faecal", func(p *quarantine.Protocol, n int) { p.Faecal = n }, o.Faecal},
		{"protocol-faecal-apart", func(p *quarantine.Protocol, n int) { p.FaecalApart = n }, o.FaecalApart},
		{"protocol-check", func(p *quarantine.Protocol, n int) { p.CheckWithin = n }, o.CheckWithin},
		{"protocol-meals", func(p *quarantine.Protocol, n int) { p.Meals = n }, o.Meals},
		{"protocol-weight", func(p *quarantine.Protocol, n int) { p.Weight = n }, o.Weight},
		{"protocol-watch", func(p *quarantine.Protocol, n int) { p.Watch = n }, o.Watch},
		{"protocol-sheds", func(p *quarantine.Protocol, n int) { p.Sheds = n }, o.Sheds},
	}
	ask := func(n number) {
		parts = append(parts, f.field(n.name, p.say("field."+n.name), strconv.Itoa(n.is), widgets.FieldOptions{}))
	}
	ask(numbers[0])
	parts = append(parts, p.thingsPart(f, &things, o.For), widgets.Para(p.say("newcomers.protocol-mites"), look.Note, look.Soft))
	for _, n := range numbers[1:] {
		ask(n)
	}
	if table.ID != "" {
		parts = append(parts, widgets.Para(p.words().Source(table.Source), look.Note, look.Faint))
	}
	f.Command = func(a place.Answer) (model.Command, error) {
		own := o.Own
		own.Protocol.For, own.Protocol.Source = nil, ""
		if name := f.Named("protocol-name"); name != nil {
			own.Name = f.Text("protocol-name")
		}
		for _, n := range numbers {
			typed, err := f.number(n.name)
			if err != nil {
				return nil, err
			}
			n.set(&own.Protocol, typed)
		}
		for i, thing := range things {
			for key, to := range map[string]*int{"protocol-results": &thing.NotDetected, "protocol-apart": &thing.Apart} {
				name := key + "@" + strconv.Itoa(i)
				typed, err := f.number(name)
				if err != nil {
					return nil, err
				}
				*to = typed
			}
			own.Protocol.For = append(own.Protocol.For, thing)
		}
		return quarantine.ChangeProtocol{Tables: p.window.Tables(), Own: own, Base: o.Revision, Confirmed: a.Confirmed}, nil
	}
	f.Done = func() {
		p.form = nil
		p.read()
		p.protocols()
	}
	title := p.say("newcomers.protocol-own")
	if o.Protocol.ID != "" {
		title = p.window.Text().Label(o.Own.Title())
	}
	f.open(title, p.say("particulars.keep"), parts...)
}

// thingsPart are the things to look for as chips, and under them how often each is to
// be not detected, and how far apart.
func (p *Page) thingsPart(f *form, things *[]knowledge.Asked, before []knowledge.Asked) fyne.CanvasObject {
	inside, typed := widgets.Stack(), map[string]string{}
	usual := knowledge.Asked{NotDetected: 2, Apart: 42}
	if len(before) > 0 {
		usual = before[0]
	}
	asked := func(of knowledge.AgentID) int {
		return slices.IndexFunc(*things, func(a knowledge.Asked) bool { return slices.Contains(a.Agents, of) })
	}
	var show func()
	keepTyped := func() {
		for i, a := range *things {
			for _, key := range []string{"protocol-results", "protocol-apart"} {
				if field := f.Named(key + "@" + strconv.Itoa(i)); field != nil {
					typed[key+string(a.Agents[0])] = field.Text()
				}
			}
		}
	}
	show = func() {
		f.LeaveOut(func(name string) bool {
			return strings.Contains(name, "@")
		})
		chips, rows := widgets.Wrap(look.S8), widgets.Col(look.S12)
		for _, agent := range p.window.Tables().Agents() {
			if agent.ID == knowledge.FaecalAgent {
				continue // asked for by faecal samples
			}
			chips.Add(widgets.Chip("", p.say("agent."+string(agent.ID)), asked(agent.ID) >= 0, func() {
				keepTyped()
				if i := asked(agent.ID); i >= 0 {
					*things = slices.Delete(*things, i, i+1)
				} else {
					*things = append(*things, knowledge.Asked{Agents: []knowledge.AgentID{agent.ID}, NotDetected: usual.NotDetected, Apart: usual.Apart})
				}
				show()
			}))
		}
		for i, a := range *things {
			value := func(key string, n int) string {
				if v, there := typed[key+string(a.Agents[0])]; there {
					return v
				}
				return strconv.Itoa(n)
			}
			number := strconv.Itoa(i)
			rows.Add(widgets.Col(look.S4, widgets.Para(p.words().agents(a.Agents), look.BodyBold, look.Ink),
				f.field("protocol-results@"+number, p.say("field.protocol-results"), value("protocol-results", a.NotDetected), widgets.FieldOptions{}),
				f.field("protocol-apart@"+number, p.say("field.protocol-apart"), value("protocol-apart", a.Apart), widgets.FieldOptions{})))
		}
		inside.Objects = []fyne.CanvasObject{widgets.Col(look.S12, widgets.Col(look.S8, caption(p.say("field.looked-for")), chips), rows)}
		inside.Refresh()
		f.Refresh()
	}
	show()
	return inside
}
