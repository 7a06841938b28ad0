package paper

import (
	"math"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/model/exam"
)

// chartType is the size of the type of charts, in millimetres.
var chartType = tinyStyle.Pt * millimetresPerPoint

// lead is the room before the first day of a chart: so that what was on it does
// not stand on the edge.
func lead(from, to model.Day) model.Day { return max((to-from)/60, 2) }

// growth draws weights over meals and sheds on one axis of time.
func (r record) growth() Draw {
	text, unit := r.text, r.text.MassUnit()
	data := chart.LineData{To: r.Issued.Day(), Words: chart.Words{Calendar: text, Measure: Measure},
		Amount: func(amount float64) string {
			return text.Mass(model.Mass{Milligrams: int64(math.Round(amount * unit))})
		}}
	for _, w := range r.Weights {
		data.Values = append(data.Values, chart.Value{Day: w.At.Day(), Amount: float64(w.Body.Mass.Milligrams) / unit, Apart: !w.Body.Comparable(), Doubtful: r.doubt(w) != ""})
	}
	records := r.records()
	data.Breaks = records.Breaks(r.Tables, r.Issued.Day())
	if fast, fasts := records.Fasting(r.Tables, r.Issued.Day()); fasts {
		for _, e := range fast.Days {
			data.Expected = append(data.Expected, chart.Expected{Day: e.Day, Amount: float64(e.Measured.Milligrams) / unit,
				Low: float64(e.Least.Milligrams) / unit, High: float64(e.Most.Milligrams) / unit})
		}
	}
	last := r.Weights[len(r.Weights)-1]
	data.Last = []string{r.mass(last), text.DayShort(last.At.Day())}
	meals := chart.Row{Name: r.say("chart.meals"), Total: text.Count("chart.meals.taken", len(r.Meals), gaps{"Taken": r.taken()})}
	for _, m := range r.Meals {
		mark := chart.Mark{Day: m.At.Day(), Shape: chart.Ring}
		if m.Body.Outcome == care.Took {
			mark.Shape = chart.Dot
		}
		meals.Marks = append(meals.Marks, mark)
	}
	sheds := chart.Row{Name: r.say("chart.sheds"), Total: text.Count("chart.sheds.seen", len(r.Sheds))}
	for _, s := range r.Sheds {
		sheds.Marks = append(sheds.Marks, chart.Mark{Day: s.At.Day(), Shape: chart.Diamond})
	}
	data.Rows = []chart.Row{meals, sheds}
	data.From = data.Values[0].Day
	for _, row := range data.Rows {
		for _, m := range row.Marks {
			data.From = min(data.From, m.Day)
		}
	}
	data.From -= lead(data.From, data.To)
	return Drawn(func(pen drawing.Pen, w, h float64) { chart.NewLine(data, w, h, chartType).Draw(pen) })
}

// taken is how many of the meals offered were taken.
func (f Facts) taken() int {
	n := 0
	for _, m := range f.Meals {
		if m.Body.Outcome == care.Took {
			n++
		}
	}
	return n
}

// lastTaken is when a meal was last taken and not brought up.
func (f Facts) lastTaken() (at model.Moment, took bool) {
	if kept := care.Kept(f.Tables, entriesOf(f.Meals)); len(kept) > 0 {
		return kept[0].At, true
	}
	return at, false
}

// bodyTime lays the findings out by place, downwards, and time, across.
func (r record) bodyTime() Draw {
	today := r.Issued.Day()
	data := chart.BodyTimeData{From: today, To: today, Day: today, Words: chart.Words{Calendar: r.text, Measure: Measure},
		CameBack: r.say("chart.came-back"), ChecksAs: r.say("chart.checks"), Zones: chart.Zones(func(id string) string { return r.say("zone." + id) })}
	quiet := map[model.ProblemID]bool{}
	for _, s := range r.all {
		quiet[s.ID] = s.quiet()
	}
	numbers := exam.Numbers(r.Problems)
	for _, b := range exam.Bars(r.Problems, today) {
		bar := chart.Bar{Number: numbers[b.Problem], Text: r.say("finding." + string(b.What)), Place: b.Place, Open: b.Open, Quiet: quiet[b.Problem]}
		for _, s := range b.Spans {
			bar.Spans = append(bar.Spans, chart.Span{From: s.From, To: s.To, Bad: int(s.Grade)})
		}
		data.Bars, data.From = append(data.Bars, bar), min(data.From, bar.Spans[0].From)
	}
	for _, c := range r.Checks {
		data.Checks, data.From = append(data.Checks, c.At.Day()), min(data.From, c.At.Day())
	}
	data.From -= lead(data.From, data.To)
	return Drawn(func(pen drawing.Pen, w, h float64) { chart.NewBodyTime(data, w, h, chartType).Draw(pen) })
}
