package climate

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/chart"
	"coilward/model/climate"
	"coilward/model/collection"
	"coilward/model/drawing"
	"coilward/model/husbandry"
	"coilward/model/indoors"
	"coilward/model/knowledge"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
	"coilward/ui/widgets/markchart"
)

// sideWidth is the column beside the charts, and that of a form in its place.
const sideWidth float32 = 360

// Page is the place. It is used on Fyne's goroutine only.
type Page struct {
	window place.Window
	kit    Kit
	of     model.PlaceID
	scale  Scale
	last   model.Day // the last day in sight; 0: that of the newest reading
	asked  int
	form   *particulars.SideForm
	bring  *bring // a file that is being taken in

	root, head, body, side *fyne.Container
	scrolled               [2]*fyne.Container
}

var (
	_ place.Place        = (*Page)(nil)
	_ place.Actor        = (*Page)(nil)
	_ place.Keys         = (*Page)(nil)
	_ place.TableDropper = (*Page)(nil)
)

// New makes the place.
func New(w place.Window) *Page {
	p := &Page{window: w, scale: ByWeek, head: widgets.Stack(), body: widgets.Stack(), side: widgets.Stack()}
	p.root = widgets.RowFill(0, widgets.Grow(widgets.Pad(widgets.Col(look.S12, p.head, widgets.Grow(p.body)), look.S24, look.S24, look.S8, look.S24)), p.side)
	return p
}

func (p *Page) say(key string, gaps ...map[string]any) string {
	return p.window.Text().Say(key, gaps...)
}

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.root }

// Show implements place.Place; a route's subject is a place.
func (p *Page) Show(to place.Route) {
	if id := (model.PlaceID{ID: to.Subject}); !id.IsZero() && id != p.of && !p.holds() {
		p.of, p.last, p.form, p.bring = id, 0, nil, nil
	}
	p.read()
}

func (p *Page) holds() bool { return p.form != nil && p.form.Holds() || p.bring != nil }

// Hide implements place.Place.
func (p *Page) Hide() { p.asked++ }

// Changed implements place.Place.
func (p *Page) Changed(c collection.Change) {
	for _, t := range []model.DocumentType{model.TypeReadings, model.TypeInstrument, model.TypePlace, model.TypeStay, model.TypeAnimal, model.TypeEntry} {
		if slices.Contains(c.Types, t) {
			p.read()
			return
		}
	}
}

// read reads what is in sight anew, off Fyne's goroutine.
func (p *Page) read() {
	p.asked++
	asked, of, scale, last, tables := p.asked, p.of, p.scale, p.last, p.window.Tables()
	var kit Kit
	p.window.Task(p.say("climate.reading"), func(context.Context, func(float64)) error {
		return p.window.Collection().View(func(v model.View) (err error) {
			kit, last, err = Load(v, tables, of, scale, last)
			return err
		})
	}, func(err error) {
		switch {
		case asked != p.asked:
		case err != nil:
			p.window.Fault("climate.fault", err)
		default:
			p.kit, p.of, p.last = kit, kit.Air.Place, last
			p.build()
		}
	})
}

func (p *Page) build() {
	t := p.window.Text()
	before := p.scrolled
	var acts []fyne.CanvasObject
	below := p.say("climate.below")
	if !p.of.IsZero() {
		below = p.kit.Air.Title
		rank := widgets.Primary
		if p.form != nil || p.bring != nil {
			rank = widgets.Plain
		}
		file := widgets.Button(widgets.Plain, widgets.Act{Label: p.say("climate.file"), Icon: "folder", Do: p.choose})
		note := widgets.Button(rank, widgets.Act{Label: p.say("climate.note"), Icon: "plus", Do: p.note})
		if p.window.ReadOnly() {
			file.Disable()
			note.Disable()
		}
		acts = []fyne.CanvasObject{file, note}
	}
	p.head.Objects = []fyne.CanvasObject{widgets.Header(p.say("climate.title"), below, acts...)}
	switch {
	case p.of.IsZero():
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(widgets.NewIcon("gauge", 48, look.Accent), p.say("climate.no-place"), p.say("climate.no-place-what"), widgets.Act{Label: p.say("climate.to-shelf"), Do: func() { p.window.Go(place.Route{To: place.Shelf}) }})}
	case p.bring != nil:
		p.scrolled[0] = widgets.Scroll(widgets.Pad(p.bring.found(), 0, look.S16, look.S24, 0))
		p.body.Objects = []fyne.CanvasObject{p.scrolled[0]}
		defer widgets.Resume(before[0], p.scrolled[0]) // once it is laid out
	default:
		p.scrolled[0] = widgets.Scroll(widgets.Pad(p.charts(t), 0, look.S16, look.S24, 0))
		p.body.Objects = []fyne.CanvasObject{widgets.Col(look.S12, p.bar(t), widgets.Grow(p.scrolled[0]))}
		defer widgets.Resume(before[0], p.scrolled[0]) // once it is laid out
	}
	var side fyne.CanvasObject
	switch {
	case p.bring != nil:
		side = p.bring.asked()
	case p.form != nil:
		side = p.form.Content
	case !p.of.IsZero():
		p.scrolled[1] = widgets.Scroll(widgets.Pad(p.beside(t), look.S24, look.S16, look.S24, look.S16))
		side = p.scrolled[1]
		defer widgets.Resume(before[1], p.scrolled[1])
	}
	p.side.Objects = nil
	if side != nil {
		p.side.Objects = []fyne.CanvasObject{widgets.RowFill(0, widgets.VLine(), widgets.Fix(sideWidth, 0, side))}
	}
	p.root.Refresh()
	p.window.ActionsChanged()
}

// bar chooses the place, the scale and the time.
func (p *Page) bar(t *wording.Text) fyne.CanvasObject {
	first, last := p.days()
	when := t.DayShort(last)
	if first != last {
		when = p.say("climate.span", wording.Gaps{"From": t.DayShort(first), "Until": t.DayShort(last)})
	}
	scale := widgets.NewSegments(36, int(p.scale), func(i int) { p.scale = Scale(i); p.read() },
		widgets.Choice{Label: p.say("climate.scale.day")}, widgets.Choice{Label: p.say("climate.scale.week")}, widgets.Choice{Label: p.say("climate.scale.year")})
	back := widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("climate.earlier"), Do: func() { p.turn(-1) }})
	on := widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("climate.later"), Do: func() { p.turn(1) }})
	if last >= p.window.Now().Day() {
		on.Disable()
	}
	which := widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("climate.other-place"), Icon: "shelf", Do: p.pick})
	segments := func() fyne.CanvasObject { return widgets.Fix(250, 0, scale.Container) }
	return widgets.FirstFit(
		widgets.Row(look.S12, segments(), back, widgets.Line(when, look.BodyBold, look.Ink), on, widgets.Fill(), which),
		widgets.Col(look.S8, widgets.Row(look.S12, segments(), widgets.Fill(), which), widgets.Row(look.S12, back, widgets.Line(when, look.BodyBold, look.Ink), on, widgets.Fill())))
}

// days are the first and the last day in sight.
func (p *Page) days() (first, last model.Day) {
	return p.last + 1 - model.Day(p.scale.days()), p.last
}

// turn goes back or on by what is in sight.
func (p *Page) turn(by int) {
	p.last = min(p.window.Now().Day(), p.last+model.Day(by*p.scale.days()))
	p.read()
}

// pick chooses another place, those with readings first.
func (p *Page) pick() {
	if p.holds() {
		return
	}
	var places []husbandry.StoredPlace
	has := func(id model.PlaceID) bool {
		return slices.ContainsFunc(p.kit.Places, func(o husbandry.StoredPlace) bool { return o.ID == id })
	}
	for _, wanted := range []bool{true, false} {
		for _, one := range p.kit.House.Places() {
			if _, closed := p.kit.House.Closed(one.ID); has(one.ID) == wanted && (wanted || !closed) {
				places = append(places, one)
			}
		}
	}
	options := make([]widgets.Choice, len(places))
	for i, one := range places {
		options[i] = widgets.Choice{Label: p.kit.House.Title(one.ID)}
	}
	list := widgets.NewChoiceList(p.say("climate.search-place"), p.say("climate.search-none"), options)
	var leave func()
	list.OnChosen = func(i int) {
		leave()
		p.of, p.last = places[i].ID, 0
		p.read()
	}
	leave = p.window.ShowSheet(widgets.Sheet{Title: p.say("climate.other-place"), Content: list.Container, Height: 480, Cancel: p.say("climate.cancel"), First: list.Search().Focusable()})
}

// charts are the zones one below the other.
func (p *Page) charts(t *wording.Text) fyne.CanvasObject {
	column := widgets.Col(look.S16)
	if p.kit.Air.Unread > 0 {
		column.Add(widgets.Para(t.Count("climate.unread", p.kit.Air.Unread), look.Body, look.Today))
	}
	for _, harm := range p.lately() {
		column.Add(widgets.Para(harm, look.Body, look.Today))
	}
	if len(p.kit.Air.Zones) == 0 {
		key := "climate.none"
		if p.kit.Any {
			key = "climate.none-then"
		}
		column.Add(widgets.Para(p.say(key), look.Body, look.Soft))
		column.Add(widgets.Para(p.say("climate.drop"), look.Note, look.Soft))
		return column
	}
	signs := p.say("climate.signs")
	if p.scale == ByYear {
		signs = p.say("climate.signs-year")
	}
	column.Add(widgets.Para(signs, look.Note, look.Faint))
	for _, z := range p.kit.Air.Zones {
		column.Add(p.zone(t, z))
	}
	return column
}

// zone is what one sensor tells of one zone.
func (p *Page) zone(t *wording.Text, z indoors.Zone) fyne.CanvasObject {
	with := z.Instrument
	if with == "" {
		with = p.say("climate.by-hand")
	}
	every := ""
	if z.Step > 0 && !z.Single {
		every = " · " + p.every(z.Step)
	}
	head := fyne.CanvasObject(widgets.Line(p.say("climate.zone."+string(z.Zone)), look.Section, look.Ink))
	if z.Place == p.of {
		elsewhere := widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("climate.elsewhere"), Do: func() { p.elsewhere(z) }})
		if p.window.ReadOnly() || p.form != nil {
			elsewhere.Disable()
		}
		head = widgets.Row(look.S12, head, widgets.Fill(), elsewhere)
	}
	column := widgets.Col(look.S8, widgets.Col(0, head, widgets.Para(with+" · "+t.Count("climate.readings", z.Moments())+every, look.Note, look.Soft)))
	for _, harm := range p.before(z) {
		column.Add(widgets.Para(harm, look.Body, look.Today))
	}
	if z.Single && len(z.Readings) > 0 {
		column.Add(widgets.Para(p.say("climate.single", wording.Gaps{"Hours": p.hours(climate.RulesOf(p.window.Tables()).Stands)}), look.Note, look.Soft))
	}
	for _, warn := range p.warnings(t, z) {
		column.Add(widgets.Para(warn, look.Note, look.Days))
	}
	if z.Coarse && !z.Single {
		column.Add(widgets.Para(p.say("climate.jumps-unseen", wording.Gaps{"Seconds": climate.RulesOf(p.window.Tables()).JumpWithin}), look.Note, look.Soft))
	}
	for _, m := range climate.Measures() {
		share := z.Temperature
		if m == climate.Humidity {
			share = z.Humidity
		}
		if share.N == 0 {
			continue
		}
		column.Add(widgets.Para(p.tell(m, share), look.Body, look.Ink))
		column.Add(widgets.Fix(0, p.height(m), p.chart(z, m)))
	}
	for _, u := range z.UV {
		column.Add(widgets.Para(p.uv(t, u), look.Body, look.Ink))
	}
	return column
}

func (p *Page) height(m climate.Measure) float32 {
	if m == climate.Temperature {
		return 230
	}
	return 170
}

// every is how far readings lie apart.
func (p *Page) every(seconds int64) string {
	t := p.window.Text()
	switch {
	case seconds < 120:
		return p.say("climate.every-seconds", wording.Gaps{"Seconds": seconds})
	case seconds < 2*3600:
		return p.say("climate.every-minutes", wording.Gaps{"Minutes": t.Decimal((seconds+30)/60, 0)})
	}
	return p.say("climate.every-hours", wording.Gaps{"Hours": p.hours(seconds)})
}

// hours writes seconds in hours, to a tenth.
func (p *Page) hours(seconds int64) string {
	return p.window.Text().Decimal((seconds*10+1800)/3600, 1)
}

// amount writes hundredths of a measure.
func (p *Page) amount(m climate.Measure, hundredths int) string {
	if m == climate.Humidity {
		return p.window.Text().Percent(hundredths)
	}
	return p.window.Text().Temperature(model.Temperature{Hundredths: int64(hundredths)})
}

// tell is a measure in one sentence: its mean and its ends, and for how long it was good.
func (p *Page) tell(m climate.Measure, s indoors.Share) string {
	said := []string{p.say("climate.tell", wording.Gaps{"Measure": particulars.Capital(p.say("climate.measure." + string(m))), "Mean": p.amount(m, s.Mean), "Least": p.amount(m, s.Min), "Most": p.amount(m, s.Max)})}
	for _, part := range []struct {
		key   string
		share climate.Share
	}{{"climate.by-day", s.Day}, {"climate.by-night", s.Night}} {
		if part.share.Total() > 0 {
			said = append(said, p.say(part.key, wording.Gaps{"Bands": p.bands(part.share)}))
		}
	}
	return strings.Join(said, " ")
}

// bands are the shares of time, good first, without those of nothing.
func (p *Page) bands(s climate.Share) string {
	var said []string
	percents := s.Percents()
	for _, b := range []struct {
		band climate.Band
		key  string
	}{{climate.Good, "climate.band.good"}, {climate.FarLow, "climate.band.far-low"}, {climate.Low, "climate.band.low"}, {climate.High, "climate.band.high"}, {climate.FarHigh, "climate.band.far-high"}} {
		if s[b.band] > 0 || b.band == climate.Good {
			percent := fmt.Sprintf("%d %%", percents[b.band])
			if s[b.band] > 0 && percents[b.band] == 0 {
				percent = "< 1 %"
			}
			said = append(said, p.say(b.key, wording.Gaps{"Percent": strings.ReplaceAll(percent, " ", "\u00a0")}))
		}
	}
	return strings.Join(said, ", ")
}

// lately is what may have hurt an animal in the last days, and what to do now. It is told
// whatever time is in sight.
func (p *Page) lately() (said []string) {
	for _, h := range p.kit.Air.Lately {
		if h.Hot {
			said = append(said, p.harmed("climate.harm-hot", h))
		}
		if h.Cold.Seconds() > 0 {
			said = append(said, p.harmed("climate.harm-cold", h))
		}
		if h.Unclear {
			said = append(said, p.harmed("climate.harm-unclear", h))
		}
	}
	return said
}

// before is what may have hurt an animal in the time in sight, but too long ago for advice.
func (p *Page) before(z indoors.Zone) (said []string) {
	h, from := indoors.Harmed{Harm: z.Harm, Zone: z.Zone}, p.kit.Air.LatelyFrom
	if h.Hot && h.HotAt < from {
		said = append(said, p.harmed("climate.harm-hot-then", h))
	}
	if h.Cold.Seconds() > 0 && h.Cold.From < from {
		said = append(said, p.harmed("climate.harm-cold-then", h))
	}
	if h.Unclear && h.UnclearAt < from {
		said = append(said, p.harmed("climate.harm-unclear-then", h))
	}
	return said
}

// harmed fills in a text of heat or cold.
func (p *Page) harmed(key string, h indoors.Harmed) string {
	limits := climate.LimitsOf(p.window.Tables())
	degrees := func(hundredths int) model.Temperature { return model.Temperature{Hundredths: int64(hundredths)} }
	gaps := wording.Gaps{"Zone": p.say("climate.zone." + string(h.Zone))}
	switch key {
	case "climate.harm-hot", "climate.harm-hot-then":
		gaps["Most"], gaps["When"], gaps["Limit"] = degrees(h.Hottest), p.moment(h.HotAt), degrees(limits.Hottest(h.Zone))
	case "climate.harm-cold", "climate.harm-cold-then":
		gaps["Limit"], gaps["Hours"], gaps["When"], gaps["Least"] = degrees(limits.Cold), p.hours(h.Cold.Seconds()), p.moment(h.Cold.From), degrees(h.Coldest)
	default:
		gaps["Limit"], gaps["When"], gaps["Least"] = degrees(limits.Cold), p.moment(h.UnclearAt), degrees(h.UnclearLeast)
	}
	return p.say(key, gaps)
}

// warnings are what the readings cannot be trusted in.
func (p *Page) warnings(t *wording.Text, z indoors.Zone) (said []string) {
	rules := climate.RulesOf(p.window.Tables())
	if len(z.Doubtful) > 0 {
		said = append(said, p.say("climate.doubtful", wording.Gaps{"Instrument": z.Instrument}))
	}
	if n := len(z.Faults.Stuck); n > 0 {
		said = append(said, t.Count("climate.stuck", n, wording.Gaps{"When": p.moment(z.Faults.Stuck[0].From), "Hours": p.hours(rules.FlatSeconds)}))
	}
	if n := len(z.Faults.Damp); n > 0 {
		said = append(said, t.Count("climate.stuck-damp", n, wording.Gaps{"When": p.moment(z.Faults.Damp[0].From), "Hours": p.hours(rules.FlatSeconds)}))
	}
	if n := len(z.Faults.Jumps); n > 0 {
		said = append(said, t.Count("climate.jumps", n, wording.Gaps{"When": p.moment(z.Faults.Jumps[0]), "By": t.Decimal(int64(rules.JumpBy), 2), "Seconds": rules.JumpWithin}))
	}
	if n := len(z.Gaps); n > 0 {
		longest := slices.MaxFunc(z.Gaps, func(a, b climate.Span) int { return int(a.Seconds() - b.Seconds()) })
		said = append(said, t.Count("climate.gaps", n, wording.Gaps{"When": p.moment(longest.From), "Hours": p.hours(longest.Seconds())}))
	}
	return said
}

// moment is a day with its hour on the clock of the place.
func (p *Page) moment(at int64) string {
	m := model.Moment{UTC: at, Offset: int32(p.kit.offset(at)), Precision: model.ToMinute}
	return p.window.Text().DayShort(m.Day()) + ", " + p.window.Text().Time(m)
}

func (p *Page) uv(t *wording.Text, u climate.UVReading) string {
	zone := p.say("climate.uv-above")
	if n := climate.Ferguson(u.Index); n > 0 {
		zone = p.say("climate.uv-zone", wording.Gaps{"Zone": n})
	}
	said := p.say("climate.uv", wording.Gaps{"When": p.moment(u.At), "Index": t.Decimal(int64(u.Index), 2), "Zone": zone})
	if !u.Distance.IsZero() {
		said += " " + p.say("climate.uv-distance", wording.Gaps{"Distance": u.Distance})
	}
	return said
}

// chart is the chart of a measure, with what was beside below it.
func (p *Page) chart(z indoors.Zone, m climate.Measure) fyne.CanvasObject {
	data := p.kit.data(p.window.Tables(), z, m, p.scale)
	data.Words = chart.Words{Calendar: p.window.Text()}
	data.Amount = func(v float64) string { return p.amount(m, int(v*100+.5)) }
	if m == climate.Temperature {
		for _, row := range []struct {
			key   string
			marks []chart.AirMark
		}{{"climate.row.sheds", p.kit.Sheds}, {"climate.row.refused", p.kit.Refused}, {"climate.row.observed", p.kit.Observed}} {
			if len(row.marks) > 0 {
				data.Rows = append(data.Rows, chart.AirRow{Name: p.say(row.key), Marks: row.marks})
			}
		}
	}
	c := markchart.New(len(data.Points), func(measure drawing.Measure, width, height, size float64) markchart.Marks {
		data.Words.Measure = measure
		return chart.NewAir(data, width, height, size)
	}, widgets.Drawn())
	c.Describe = func(i int) string {
		b := data.Points[i]
		value := func(v float64) string { return p.amount(m, int(v*100+.5)) }
		when := p.moment(b.From)
		if p.scale == ByYear {
			when = p.window.Text().DayShort(model.Moment{UTC: b.From, Offset: int32(p.kit.offset(b.From))}.Day())
		}
		if b.Low == b.High {
			return when + ": " + value(b.Mean)
		}
		return p.say("climate.point", wording.Gaps{"When": when, "Mean": value(b.Mean), "Least": value(b.Low), "Most": value(b.High)})
	}
	c.OnMark = func(i int) { // into the day
		if p.scale != ByDay {
			p.last, p.scale = model.Moment{UTC: data.Points[i].From, Offset: int32(p.kit.offset(data.Points[i].From))}.Day(), ByDay
			p.read()
		}
	}
	c.OnKey = p.TypedKey
	return c
}

// beside is what is not a chart: warmth in a power cut, the ends, the lamps, the room to
// stretch, and what goes together.
func (p *Page) beside(t *wording.Text) fyne.CanvasObject {
	a := p.kit.Air
	column := widgets.Col(look.S8)
	if where, _ := p.kit.House.Place(p.of); where.Kind.Houses() {
		p.aims(column)
	}
	column.Add(widgets.Line(p.say("climate.cut"), look.Section, look.Ink))
	column.Add(widgets.Para(p.cut(t), look.Body, look.Ink))
	column.Add(widgets.Row(0, widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("climate.to-cuts"), Do: func() { p.window.Go(place.Route{To: place.PowerCut}) }}), widgets.Fill()))
	if said := p.ends(); said != "" {
		column.Add(widgets.Space(0, look.S8))
		column.Add(widgets.Line(p.say("climate.ends"), look.Section, look.Ink))
		column.Add(widgets.Para(said, look.Body, look.Ink))
	}
	highest, measured := a.HighestUV()
	if len(a.Lamps) > 0 || measured {
		column.Add(widgets.Space(0, look.S8))
		column.Add(widgets.Line(p.say("climate.lamps"), look.Section, look.Ink))
		for _, lamp := range a.Lamps {
			said := p.say("climate.lamp-unknown", wording.Gaps{"Lamp": lamp.Name})
			if !lamp.InUse.IsZero() {
				said = p.say("climate.lamp", wording.Gaps{"Lamp": lamp.Name, "Age": t.Age(lamp.InUse, p.window.Now().Day())})
			}
			column.Add(widgets.Para(said, look.Body, look.Ink))
		}
		tone := look.Soft
		if measured && climate.Ferguson(highest) != 1 {
			tone = look.Days
		}
		column.Add(widgets.Para(p.say("climate.lamp-what"), look.Note, tone))
	}
	if len(a.Animals) > 0 && !a.Length.IsZero() {
		column.Add(widgets.Space(0, look.S8))
		column.Add(widgets.Line(p.say("climate.stretch"), look.Section, look.Ink))
		for _, f := range a.Animals {
			key := "climate.stretch-unknown"
			switch {
			case f.Known && f.Enough:
				key = "climate.stretch-enough"
			case f.Known:
				key = "climate.stretch-short"
			}
			column.Add(widgets.Para(p.say(key, wording.Gaps{"Name": f.Name, "Length": a.Length, "Percent": f.Percent}), look.Body, look.Ink))
		}
		column.Add(widgets.Para(p.say("climate.stretch-what"), look.Note, look.Soft))
	}
	if len(p.kit.Lives) > 0 {
		column.Add(widgets.Space(0, look.S8))
		column.Add(widgets.Line(p.say("climate.together"), look.Section, look.Ink))
		for _, one := range p.kit.Lives {
			column.Add(widgets.RowPress(one.Name, widgets.Line(one.Name, look.BodyBold, look.Ink), func() { p.window.Go(place.Route{To: place.Animal, Subject: one.ID.ID}) }))
			for _, g := range one.Goes {
				column.Add(widgets.Para(p.goes(g), look.Body, look.Ink))
			}
		}
		column.Add(widgets.Para(p.say("climate.together-what"), look.Note, look.Soft))
	}
	return column
}

// cut is how long it stays warm in a power cut, and what that rests on.
func (p *Page) cut(t *wording.Text) string {
	c := p.kit.Air.Cooling
	until := model.Temperature{Hundredths: int64(p.window.Tables().Value(knowledge.ValueCoolingTo))}
	switch {
	case c == nil:
		return p.say("climate.cut-unknown", wording.Gaps{"Temperature": until})
	case c.Already:
		return p.say("climate.cut-already", wording.Gaps{"Temperature": until, "From": model.Temperature{Hundredths: int64(c.From)}, "Zone": p.say("climate.zone." + string(c.Zone))})
	case c.Never:
		return p.say("climate.cut-never", wording.Gaps{"Temperature": until})
	}
	how := "climate.cut-straight"
	if c.Curve {
		how = "climate.cut-curve"
	}
	return p.say("climate.cut-hours", wording.Gaps{"Hours": t.Decimal(int64(c.Hours*10), 1), "Temperature": until, "From": model.Temperature{Hundredths: int64(c.From)}, "Zone": p.say("climate.zone." + string(c.Zone))}) +
		" " + t.Count(how, c.Falls)
}

// ends compares the warm and the cool end by their dew points.
func (p *Page) ends() string {
	e := p.kit.Air.Ends
	if e.Hours == 0 {
		return ""
	}
	key := "climate.ends-differ"
	if d := e.Warm - e.Cool; d < 100 && d > -100 {
		key = "climate.ends-alike"
	}
	return p.say(key, wording.Gaps{"Warm": model.Temperature{Hundredths: int64(e.Warm)}, "Cool": model.Temperature{Hundredths: int64(e.Cool)}}) + " " + p.window.Text().Count("climate.ends-hours", e.Hours)
}

// goes tells whether something goes together, or why that cannot be told yet.
func (p *Page) goes(g indoors.Together) string {
	t := p.window.Text()
	kind := string(g.Pair)
	gaps := wording.Gaps{"Bad": len(g.Bad), "Good": len(g.Good), "Zone": p.say("climate.zone." + string(g.Zone)), "P": paper.PSaid(t, g.P), "Days": p.window.Tables().Value(knowledge.ValueShedHumidity)}
	said := ""
	switch {
	case len(g.Bad)+len(g.Good) == 0:
		said = p.say("climate.together.none-" + kind)
	case !g.Told:
		said = p.say("climate.together.untold-"+kind, gaps)
	default:
		key := "climate.together.apart-"
		if !g.Apart() {
			key = "climate.together.alike-"
		}
		m := climate.Humidity
		if g.Pair == indoors.Refusals {
			m = climate.Temperature
		}
		gaps["BadMean"], gaps["GoodMean"] = p.amount(m, middle(g.Bad)), p.amount(m, middle(g.Good))
		said = p.say(key+kind, gaps)
	}
	if g.Older > 0 {
		said += " " + t.Count("climate.together.older", g.Older)
	}
	if g.Left > 0 && len(g.Bad)+len(g.Good) > 0 {
		said += " " + t.Count("climate.together.left-"+kind, g.Left)
	}
	return said
}

// middle is the median, the lower of two.
func middle(all []int) int {
	sorted := slices.Clone(all)
	slices.Sort(sorted)
	return sorted[(len(sorted)-1)/2]
}

// Actions implements place.Actor.
func (p *Page) Actions() []place.Action {
	off := p.window.ReadOnly() || p.of.IsZero() || p.bring != nil
	return []place.Action{
		{Label: p.say("climate.note"), Menu: place.MenuEntry, Key: fyne.KeyN, Off: off || p.form != nil, Do: p.note},
		{Label: p.say("climate.file"), Menu: place.MenuEntry, Key: fyne.KeyL, Off: off, Do: p.choose},
	}
}

// TypedRune implements place.Keys.
func (p *Page) TypedRune(rune) {}

// TypedKey implements place.Keys: Escape leaves a form, Enter keeps it.
func (p *Page) TypedKey(k *fyne.KeyEvent) {
	switch {
	case p.bring != nil:
		p.bring.typed(k)
	case p.form != nil:
		p.form.TypedKey(k)
	}
}
