package animal

import (
	"math"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/chart"
	"coilward/model/knowledge"
	"coilward/model/weight"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
	"coilward/ui/widgets/linechart"
	"coilward/ui/widgets/raster"
)

// weightView is the line of weights with meals and sheds, and their list.
type weightView struct {
	page  *Page
	chart *linechart.Chart
	list  *widgets.Roll
	signs *widgets.Text
	order []int // of the values in the chart: index into Weights
	span  int   // 0: all, else the last so many days
}

func newWeightView(p *Page) *weightView {
	v := &weightView{page: p}
	v.chart = linechart.New(chart.LineData{}, raster.Style{Palette: look.Palette})
	v.chart.Describe = v.describe
	v.chart.OnValue = func(i int) { p.edit(p.life.Weights()[v.order[i]].Entry) }
	v.signs = widgets.Para("", look.Note, look.Soft)
	v.list = widgets.NewRoll(0, 0, widgets.RollKind{Height: 52})
	v.list.Make = func(int) widgets.RollRow { return newWeightLine() }
	v.list.FillCell = v.fill
	v.list.Name = func(i int) string { return p.window.Text().Mass(p.life.Weights()[i].Mass) }
	v.list.OnOpen = func(i int) { p.edit(p.life.Weights()[i].Entry) }
	return v
}

func (v *weightView) load() {
	if v.page.open != PageWeight {
		return
	}
	v.list.SetCount(len(v.page.life.Weights()))
	v.draw()
}

// draw fills the chart.
func (v *weightView) draw() {
	t, weights := v.page.window.Text(), v.page.life.Weights()
	unit := t.MassUnit()
	data := chart.LineData{Words: chart.Words{Calendar: t}, Rows: v.rows(),
		Amount: func(amount float64) string { return t.Mass(model.Mass{Milligrams: int64(math.Round(amount * unit))}) }}
	if v.span > 0 {
		data.From, data.To = v.page.today-model.Day(v.span), v.page.today
	}
	v.order = v.order[:0]
	for i := len(weights) - 1; i >= 0; i-- {
		w := weights[i]
		v.order = append(v.order, i)
		data.Values = append(data.Values, chart.Value{Day: w.At.Day(), Amount: float64(w.Mass.Milligrams) / unit, Apart: !w.Comparable(), Doubtful: v.doubt(w) != ""})
	}
	records, tables := v.page.life.Records(v.page.window.Tables(), v.page.window.Now()), v.page.window.Tables()
	data.Breaks = records.Breaks(tables, v.page.today)
	if fast, fasts := records.Fasting(tables, v.page.today); fasts {
		for _, e := range fast.Days {
			data.Expected = append(data.Expected, chart.Expected{Day: e.Day, Amount: float64(e.Measured.Milligrams) / unit,
				Low: float64(e.Least.Milligrams) / unit, High: float64(e.Most.Milligrams) / unit})
		}
	}
	if n := len(data.Expected); n > 0 && v.span == 0 && len(data.Values) > 0 { // the fast goes on since the last weight
		data.From, data.To = data.Values[0].Day, data.Expected[n-1].Day
	}
	v.signs.SetText(v.legend(data))
	v.chart.Data = data
	v.chart.Refresh()
}

// legend tells what the signs of the chart are, of those that it has.
func (v *weightView) legend(data chart.LineData) string {
	said := v.page.say("chart.weights.signs")
	if len(data.Expected) > 0 {
		said += " " + v.page.say("chart.weights.fast")
	}
	if len(data.Breaks) > 0 {
		said += " " + v.page.say("chart.weights.breaks")
	}
	return said
}

// rows are the meals and the sheds on the axis of the weights.
func (v *weightView) rows() []chart.Row {
	meals, sheds := chart.Row{Name: v.page.say("chart.meals")}, chart.Row{Name: v.page.say("chart.sheds")}
	for _, e := range v.page.life.Days.Entries {
		switch e.Kind {
		case care.KindMeal:
			if m, err := care.DecodeMeal(e); err == nil {
				meals.Marks = append(meals.Marks, mealMark(e.At.Day(), m.Outcome))
			}
		case care.KindShed:
			sheds.Marks = append(sheds.Marks, chart.Mark{Day: e.At.Day(), Shape: chart.Diamond})
		}
	}
	return []chart.Row{meals, sheds}
}

// mealMark is a dot for a meal taken, a ring for another.
func mealMark(day model.Day, outcome care.Outcome) chart.Mark {
	if outcome == care.Took {
		return chart.Mark{Day: day}
	}
	return chart.Mark{Day: day, Shape: chart.Ring}
}

func (v *weightView) describe(i int) string {
	t, weights := v.page.window.Text(), v.page.life.Weights()
	w := weights[v.order[i]]
	return joined(t.Mass(w.Mass), t.DayShort(w.At.Day()), v.change(v.order[i]), v.doubt(w))
}

// change is how a weighing stands against the one before it.
func (v *weightView) change(i int) string {
	weights := v.page.life.Weights()
	if i+1 >= len(weights) {
		return ""
	}
	t := v.page.window.Text()
	return joined(particulars.Change(t, weights[i].Mass, weights[i+1].Mass), share(t, weights[i].Mass, weights[i+1].Mass))
}

func (v *weightView) content() fyne.CanvasObject {
	p, t := v.page, v.page.window.Text()
	v.list.SetCount(len(p.life.Weights()))
	v.draw()
	if len(p.life.Weights()) == 0 {
		return widgets.EmptyPage(nil, p.say("animal.weight.empty"), p.say("animal.weight.empty-what"),
			widgets.Act{Label: p.say("animal.act.weigh"), Icon: "weight", Do: func() { p.note(care.KindWeight) }})
	}
	spans := []int{90, 365, 0}
	chosen := 2
	for i, s := range spans {
		if s == v.span {
			chosen = i
		}
	}
	choice := widgets.NewSegments(28, chosen, func(i int) { v.span = spans[i]; v.draw() },
		widgets.Choice{Label: p.say("animal.span.months")}, widgets.Choice{Label: p.say("animal.span.year")}, widgets.Choice{Label: p.say("animal.span.all")})
	course := widgets.Para(v.course(), look.Body, look.Ink)
	left := widgets.Col(look.S12, widgets.Wrap(look.S16, widgets.Line(p.say("animal.weight.title"), look.Section, look.Ink), choice.Container), course, widgets.Grow(v.chart), v.signs)
	head := widgets.Wrap(look.S8, widgets.Line(t.Count("animal.weight.count", len(p.life.Weights())), look.Section, look.Ink))
	width := float32(320)
	if p.form == nil {
		head.Add(widgets.Fix(0, 28, widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("animal.act.weigh"), Icon: "plus", Do: func() { p.note(care.KindWeight) }})))
	} else {
		width = 260
	}
	right := widgets.Col(look.S8, head, widgets.Grow(v.list))
	return widgets.Pad(widgets.RowFill(look.S24, widgets.Grow(left), widgets.Fix(width, 0, right)), look.S16, look.S24, look.S12, look.S24)
}

// course says what the weights tell: a loss, or that it cannot be told; what of them does
// not count; and their trend.
func (v *weightView) course() string {
	p, t := v.page, v.page.window.Text()
	var said []string
	loss := p.standing().Loss
	switch {
	case loss.Level > knowledge.Nothing:
		said = append(said, particulars.Capital(particulars.LossBriefly(t, loss))+".")
	case loss.Reason == weight.FewWeights:
		said = append(said, t.Say("loss.unknown"))
	}
	if loss.Doubtful > 0 {
		said = append(said, t.Count("loss.doubtful", loss.Doubtful))
	}
	for _, label := range p.life.Records(p.window.Tables(), p.window.Now()).Trend(p.window.Tables(), p.today).Words(p.window.Tables()) {
		said = append(said, t.Label(label))
	}
	return strings.Join(said, " ")
}

// fill puts a weighing into a line: mass and change, day and what was typed.
func (v *weightView) fill(i int, cell widgets.RollRow) {
	t, w := v.page.window.Text(), v.page.life.Weights()[i]
	typed := ""
	if w.Mass.Typed != "" {
		typed = t.Say("animal.weight.typed", map[string]any{"Typed": w.Mass.Typed})
	}
	if doubt := v.doubt(w); doubt != "" {
		typed = doubt
	}
	cell.(*weightLine).show(t.Mass(w.Mass), v.change(i), t.DayShort(w.At.Day()), typed)
}

// weightLine is one weighing of the list.
type weightLine struct {
	*fyne.Container
	mass, change, day, typed *widgets.Text
}

func newWeightLine() *weightLine {
	w := &weightLine{mass: widgets.Line("", look.BodyBold, look.Ink), change: widgets.Line("", look.Note, look.Soft).Cuts(),
		day: widgets.Line("", look.Body, look.Ink).Cuts(), typed: widgets.Line("", look.Note, look.Faint).Cuts()}
	w.Container = widgets.Pad(widgets.MiddleUpright(widgets.Col(0, widgets.Row(look.S8, widgets.Grow(w.day), w.mass), widgets.Row(look.S8, widgets.Grow(w.typed), widgets.Grow(w.change.Right())))), 0, look.S12)
	return w
}

// Object implements widgets.RollRow.
func (w *weightLine) Object() fyne.CanvasObject { return w.Container }

func (w *weightLine) show(mass, change, day, typed string) {
	w.mass.SetText(mass)
	w.change.SetText(change)
	w.day.SetText(day)
	w.typed.SetText(typed)
	w.Refresh()
}
