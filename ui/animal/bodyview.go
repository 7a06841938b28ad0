package animal

import (
	"strconv"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/chart"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
	"coilward/ui/look"
	"coilward/ui/widgets"
	"coilward/ui/widgets/bodychart"
	"coilward/ui/widgets/bodytime"
	"coilward/ui/widgets/raster"
)

// bodyView is the animal's body as it stood on a chosen day: the drawing, the
// list beside it that says the same, and body and time below.
type bodyView struct {
	page   *Page
	day    model.Day // 0: today
	span   int       // days shown before the last; 0: all
	view   body.ViewID
	closed bool // those gone are shown too
	chosen model.ProblemID
	spots  []Spot

	drawing *bodychart.Chart
	time    *bodytime.Chart
	bars    []model.ProblemID // of the bars in the chart
	views   *fyne.Container
	head    *fyne.Container // over the chart
	back    *fyne.Container // the way back to today
	list    *fyne.Container
}

func newBodyView(p *Page) *bodyView {
	style := raster.Style{Palette: look.Palette}
	v := &bodyView{page: p, view: body.Above, closed: true, span: 365, views: widgets.Stack(), list: widgets.Stack()}
	v.drawing = bodychart.New(v.view, style)
	v.drawing.Describe = v.describe
	v.drawing.OnPin = func(pin bodychart.Pin) { v.chooseNumber(pin.Number) }
	v.time = bodytime.New(chart.BodyTimeData{}, style)
	v.time.OnDay = v.toDay
	v.time.OnBar = func(i int) { v.choose(v.bars[i]) }
	v.time.Describe = v.describeBar
	return v
}

// forget drops what belongs to another animal.
func (v *bodyView) forget() {
	v.day, v.chosen, v.view, v.span = 0, model.ProblemID{}, body.Above, 365
}

func (v *bodyView) load() {
	if v.page.open == PageBody {
		v.show()
	}
}

func (v *bodyView) on() model.Day {
	if v.day == 0 {
		return v.page.today
	}
	return v.day
}

// toDay slides to a day.
func (v *bodyView) toDay(day model.Day) {
	v.day = min(day, v.page.today)
	v.show()
}

// show brings drawing, list and chart to the chosen day.
func (v *bodyView) show() {
	life := v.page.life
	v.spots = SpotsOn(life.Problems, v.on(), v.stands())
	v.showDrawing()
	v.showList()
	v.showTime()
	if v.head != nil {
		setVisible(v.back, v.on() != v.page.today)
		v.head.Refresh()
	}
}

// stands is how the animal stands today, or stood on an earlier day.
func (v *bodyView) stands() history.Standing {
	if v.on() == v.page.today {
		return v.page.standing()
	}
	life, t, now := v.page.life, v.page.window.Tables(), v.page.window.Now()
	at := model.MomentOn(now, v.on(), 24*60-1, model.ToMinute)
	return life.Records(t, now).StandOn(t, history.WhoseOf(life.Stored), life.Problems, at)
}

func (v *bodyView) showDrawing() {
	v.drawing.SetView(v.view)
	v.drawing.Pins, v.drawing.Lit = nil, nil
	for _, s := range v.spots {
		if s.Last().Place.Region == "" || !s.Open() && !v.closed {
			continue
		}
		kind := bodychart.Now
		switch {
		case !s.Open():
			kind = bodychart.Gone
		case s.Last().Rough:
			kind = bodychart.Rough
		}
		v.drawing.Pins = append(v.drawing.Pins, bodychart.Pin{Number: s.Number, Kind: kind, Place: s.Last().Place})
		if s.ID == v.chosen {
			v.drawing.Lit = []body.RegionID{s.Last().Place.Region}
		}
	}
	v.drawing.Refresh()
	v.views.Objects = []fyne.CanvasObject{v.viewChoice()}
	v.views.Refresh()
}

// viewChoice are the six views.
func (v *bodyView) viewChoice() fyne.CanvasObject {
	row := widgets.Wrap(look.S8)
	for _, view := range body.Views() {
		row.Add(widgets.Chip("", v.page.say("view."+string(view)), view == v.view, func() { v.view = view; v.showDrawing() }))
	}
	return row
}

func (v *bodyView) chooseNumber(number int) {
	for _, s := range v.spots {
		if s.Number == number {
			v.choose(s.ID)
		}
	}
}

// choose lights one problem up, in the view that shows it best.
func (v *bodyView) choose(id model.ProblemID) {
	v.chosen = id
	for _, s := range v.spots {
		if s.ID == id && s.Last().Place.Region != "" {
			if _, seen := body.Point(v.view, s.Last().Place); !seen {
				v.view = s.Last().Place.Best()
			}
		}
	}
	v.showDrawing()
	v.showList()
}

func (v *bodyView) describe(p body.Place) string {
	side := ""
	if s := p.Side(); s != "" {
		side = v.page.say("side." + string(s))
	}
	share := ""
	if p.Part == body.Trunk {
		share = v.page.window.Text().Percent(p.Along)
	}
	return joined(v.page.say("region."+string(p.Region)), share, side)
}

// showList is the twin of the drawing: the same problems in words.
func (v *bodyView) showList() {
	t := v.page.window.Text()
	open := 0
	for _, s := range v.spots {
		if s.Open() {
			open++
		}
	}
	gone := len(v.spots) - open
	title := t.Say("animal.body.today")
	if v.on() != v.page.today {
		title = t.Say("animal.body.on", map[string]any{"Day": t.Day(v.on())})
	}
	head := widgets.Row(look.S8, widgets.Grow(widgets.Line(title, look.Section, look.Ink)),
		widgets.Chip("", t.Count("animal.body.gone", gone), v.closed, func() { v.closed = !v.closed; v.showDrawing(); v.showList() }))
	rows := widgets.Col(0)
	for _, s := range v.spots {
		if s.Open() || v.closed {
			if len(rows.Objects) > 0 {
				rows.Add(widgets.HLine())
			}
			rows.Add(v.row(s))
		}
	}
	var below fyne.CanvasObject = widgets.Scroll(rows)
	if len(rows.Objects) == 0 {
		below = widgets.Para(v.nothing(), look.Body, look.Soft)
	}
	v.list.Objects = []fyne.CanvasObject{widgets.Col(look.S12, head, widgets.Grow(below))}
	v.list.Refresh()
}

// nothing says that nothing stands there, and since which check that is known.
func (v *bodyView) nothing() string {
	t := v.page.window.Text()
	for _, c := range v.page.life.Checks() {
		if c.Begun.Day() <= v.on() {
			return t.Say("animal.body.nothing", map[string]any{"Day": t.DayShort(c.Begun.Day())})
		}
	}
	return t.Say("animal.body.never")
}

func (v *bodyView) row(s Spot) fyne.CanvasObject {
	kind := widgets.PinNow
	if !s.Open() {
		kind = widgets.PinGone
	}
	name := v.page.say("finding." + string(s.What))
	lines := []fyne.CanvasObject{widgets.Para(name, look.Body, look.Ink), widgets.Para(joined(v.where(s), v.state(s)), look.Note, look.Soft)}
	if s.Level > knowledge.Nothing {
		u := urgencyOf(s.Level)
		urgent := v.page.say("urgency." + s.Level.String())
		if !s.Open() {
			urgent = joined(urgent, v.page.say("stands.no-word"))
		}
		lines = append(lines, widgets.Row(look.S4, widgets.NewSign(u.Sign(), 14, u.Tone(), look.Paper), widgets.Grow(widgets.Para(urgent, look.NoteBold, u.Tone()))))
	}
	row := widgets.RowTop(look.S12, widgets.Pin(strconv.Itoa(s.Number), kind), widgets.Grow(widgets.Col(0, lines...)))
	press := widgets.NewPress(name, widgets.Pad(row, look.S8), func(st widgets.State) widgets.Ground {
		switch {
		case st.On:
			return widgets.Ground{Fill: look.Wash, Radius: look.RBase}
		case st.Pointed:
			return widgets.Ground{Fill: look.Well, Radius: look.RBase}
		}
		return widgets.Ground{Radius: look.RBase}
	}, func() { v.choose(s.ID) })
	press.SetOn(s.ID == v.chosen)
	if s.ID == v.chosen && v.on() == v.page.today {
		return widgets.Col(0, press, widgets.Pad(v.page.wordActs(s.StoredProblem), 0, look.S8, look.S8, 44))
	}
	return press
}

func (v *bodyView) where(s Spot) string {
	if s.Last().Place.Region == "" {
		return ""
	}
	return v.page.regionWords(s.Last())
}

// regionWords is the region of a look, or that nobody pointed to its place.
func (p *Page) regionWords(g exam.Glimpse) string {
	region := p.say("region." + string(g.Place.Region))
	if g.Rough {
		return p.say("animal.rough", map[string]any{"Region": region})
	}
	return region
}

// state is how bad it was, since when it is there, how it changed, and its size.
func (v *bodyView) state(s Spot) string {
	t := v.page.window.Text()
	grade, standing, size := "", "", ""
	if s.Last().Grade > exam.Ungraded && s.Open() {
		grade = t.Say("grade." + s.Last().Grade.String())
	}
	since := t.Say("animal.body.since", map[string]any{"Ago": t.Ago(s.Since(), v.on())})
	if !s.Open() {
		since = t.Say("animal.body.gone-on", map[string]any{"Day": t.DayShort(s.Last().At.Day())})
	} else if s.Last().Standing != exam.Unasked {
		standing = t.Say("standing." + string(s.Last().Standing))
	}
	if !s.Last().Size.IsZero() && s.Open() {
		size = t.Length(s.Last().Size)
	}
	return joined(grade, size, standing, since)
}

// showTime fills the chart of body and time with what was known on the day.
func (v *bodyView) showTime() {
	t, life := v.page.window.Text(), v.page.life
	data := chart.BodyTimeData{From: v.first(), To: v.page.today, Day: v.on(), Words: chart.Words{Calendar: t},
		CameBack: t.Say("chart.came-back"), ChecksAs: t.Say("chart.checks"), Cursor: t.DayOfYear(v.on()),
		Zones: chart.Zones(func(id string) string { return t.Say("zone." + id) })}
	numbers := exam.Numbers(life.Problems)
	v.bars = v.bars[:0]
	for _, b := range exam.Bars(life.Problems, v.on()) {
		bar := chart.Bar{Number: numbers[b.Problem], Text: t.Say("finding." + string(b.What)), Place: b.Place, Open: b.Open}
		for _, s := range b.Spans {
			bar.Spans = append(bar.Spans, chart.Span{From: s.From, To: s.To, Bad: int(s.Grade)})
		}
		data.Bars = append(data.Bars, bar)
		v.bars = append(v.bars, b.Problem)
	}
	for _, c := range life.Checks() {
		data.Checks = append(data.Checks, c.Begun.Day())
	}
	v.time.Data = data
	v.time.Refresh()
}

// first is the first day that the chart shows.
func (v *bodyView) first() model.Day {
	first := v.page.today - 90
	if v.span > 0 {
		return v.page.today - model.Day(v.span)
	}
	for _, p := range v.page.life.Problems {
		first = min(first, p.First().At.Day()-14)
	}
	for _, c := range v.page.life.Checks() {
		first = min(first, c.Begun.Day()-14)
	}
	return first
}

func (v *bodyView) describeBar(i int) string {
	for _, s := range v.spots {
		if s.ID == v.bars[i] {
			return joined(v.page.say("finding."+string(s.What)), v.where(s), v.state(s))
		}
	}
	return v.time.Data.Bars[i].Text
}

func (v *bodyView) content() fyne.CanvasObject {
	p := v.page
	v.show()
	if len(p.life.Checks()) == 0 && len(p.life.Problems) == 0 {
		empty := widgets.EmptyPage(nil, p.say("animal.body.empty"), p.say("animal.body.empty-what"), widgets.Act{Label: p.say("animal.act.check"), Icon: "check", Do: p.check})
		return widgets.Pad(widgets.Col(look.S16, widgets.Grow(v.drawing), widgets.Fix(0, 180, empty)), look.S16, look.S24)
	}
	spans := []int{90, 365, 0}
	chosen := 1
	for i, s := range spans {
		if s == v.span {
			chosen = i
		}
	}
	choice := widgets.NewSegments(28, chosen, func(i int) { v.span = spans[i]; v.showTime() },
		widgets.Choice{Label: p.say("animal.span.months")}, widgets.Choice{Label: p.say("animal.span.year")}, widgets.Choice{Label: p.say("animal.span.all")})
	v.back = widgets.Fix(0, 28, widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("animal.body.to-today"), Do: func() { v.toDay(p.today) }}))
	setVisible(v.back, v.on() != p.today)
	v.head = widgets.Row(look.S12, widgets.Line(p.say("animal.body.time"), look.Section, look.Ink),
		widgets.Grow(widgets.Line(p.say("animal.body.time-how"), look.Note, look.Soft).Cuts()), v.back, choice.Container)
	drawn := widgets.Col(look.S8, v.views, widgets.Grow(v.drawing))
	above := widgets.RowFill(look.S24, widgets.Grow(drawn), widgets.Fix(416, 0, v.list))
	return widgets.Pad(widgets.Col(look.S12, widgets.GrowBy(1.7, above), widgets.HLine(), v.head, widgets.GrowBy(1, v.time)), look.S12, look.S24, look.S8, look.S24)
}
