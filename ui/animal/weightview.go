package animal

import (
	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/chart"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
	"coilward/ui/widgets/linechart"
	"coilward/ui/widgets/raster"
)

// The marks of a weight chart: kinds of chart.Event.
const (
	mealEvent = 2 // a tick
	shedEvent = 1 // a diamond
)

// weightView is the line of weights with meals and sheds, and their list.
type weightView struct {
	page  *Page
	chart *linechart.Chart
	list  *widgets.Roll
	order []int // of the values in the chart: index into Weights
	span  int   // 0: all, else the last so many days
}

func newWeightView(p *Page) *weightView {
	v := &weightView{page: p}
	v.chart = linechart.New(chart.LineData{}, raster.Style{Palette: look.Palette})
	v.chart.Describe = v.describe
	v.chart.OnValue = func(i int) { p.edit(p.life.Weights()[v.order[i]].Entry) }
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

// words are the texts of charts.
func words(t *wording.Text) chart.Words {
	return chart.Words{Date: func(d model.Day, s chart.Step) string {
		year, month, _ := d.Date()
		switch {
		case s == chart.ByDay:
			return t.DayOfYear(d)
		case s == chart.ByMonth && month != 1:
			return t.MonthShort(d)
		case s == chart.ByMonth:
			return t.MonthShort(d) + " " + model.NewDay(year, 1, 1).String()[:4]
		}
		return d.String()[:4]
	}}
}

// draw fills the chart.
func (v *weightView) draw() {
	t, weights := v.page.window.Text(), v.page.life.Weights()
	data := chart.LineData{Unit: t.Say("animal.unit.grams"), Words: words(t)}
	perUnit := 1000.0
	if t.Units().Imperial {
		data.Unit, perUnit = t.Say("animal.unit.ounces"), milligramsPerOunce
	}
	if v.span > 0 {
		data.From, data.To = v.page.today-model.Day(v.span), v.page.today
	}
	v.order = v.order[:0]
	for i := len(weights) - 1; i >= 0; i-- {
		w := weights[i]
		v.order = append(v.order, i)
		// a full gut and an empty one make no line between them
		apart := i+1 < len(weights) && w.Comparable() != weights[i+1].Comparable()
		data.Values = append(data.Values, chart.Value{Day: w.At.Day(), Amount: float64(w.Mass.Milligrams) / perUnit, Apart: apart})
	}
	data.Events = v.events()
	v.chart.Data = data
	v.chart.Refresh()
}

// milligramsPerOunce is an avoirdupois ounce: 28.349523125 g by definition.
const milligramsPerOunce = 28349.523125

// events are meals taken and sheds, oldest first.
func (v *weightView) events() []chart.Event {
	var events []chart.Event
	entries := v.page.life.Days.Entries
	for i := len(entries) - 1; i >= 0; i-- {
		switch entries[i].Kind {
		case care.KindMeal:
			if m, err := care.DecodeMeal(entries[i]); err == nil && m.Outcome == care.Took {
				events = append(events, chart.Event{Day: entries[i].At.Day(), Kind: mealEvent})
			}
		case care.KindShed:
			events = append(events, chart.Event{Day: entries[i].At.Day(), Kind: shedEvent})
		}
	}
	return events
}

func (v *weightView) describe(i int) string {
	t, weights := v.page.window.Text(), v.page.life.Weights()
	w := weights[v.order[i]]
	return joined(t.Mass(w.Mass), t.DayShort(w.At.Day()), v.change(v.order[i]))
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
	legend := widgets.Row(look.S16, legendMark(mealEvent, p.say("animal.weight.meals")), legendMark(shedEvent, p.say("animal.weight.sheds")))
	left := widgets.Col(look.S12, widgets.Wrap(look.S16, widgets.Line(p.say("animal.weight.title"), look.Section, look.Ink), choice.Container), widgets.Grow(v.chart), legend)
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

// fill puts a weighing into a line: mass and change, day and what was typed.
func (v *weightView) fill(i int, cell widgets.RollRow) {
	t, w := v.page.window.Text(), v.page.life.Weights()[i]
	typed := ""
	if w.Mass.Typed != "" {
		typed = t.Say("animal.weight.typed", map[string]any{"Typed": w.Mass.Typed})
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
