package paper

import (
	"time"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/care"
	"coilward/model/drawing"
)

// span is the days a chart shows.
type span struct{ from, to model.Day }

// x is where a day lies between x0 and x1.
func (s span) x(d model.Day, x0, x1 float64) float64 {
	return x0 + (x1-x0)*float64(d-s.from)/float64(max(s.to-s.from, 1))
}

// axis draws the months or years of a span as hairlines from top to bottom,
// with their names under them where there is room.
func (s span) axis(c Canvas, text Text, plot Box, bottom, baseline float64) {
	step := s.step()
	year, month, _ := s.from.Date()
	month = time.Month((int(month)-1)/step*step + 1)
	free := plot.X0 - 1
	for n := 0; ; n++ {
		d := model.NewDay(year, month+time.Month(n*step), 1)
		if d > s.to {
			return
		}
		if d < s.from {
			continue
		}
		x := s.x(d, plot.X0, plot.X1)
		c.Path(segment(x, plot.Y0, x, bottom), Paint{Stroke: Hair, Width: .13})
		name, year := text.MonthShort(d), d.String()[:4]
		if _, month, _ := d.Date(); month == time.January || free < plot.X0 {
			name += " " + year
		}
		if step >= 12 {
			name = year
		}
		if w := lineWidth(tinyStyle, name); x >= free && x+.8+w < plot.X1+12 {
			put(c, x+.8, baseline, AlignLeft, tinyStyle, name)
			free = x + w + 3
		}
	}
}

// step is how many months lie between the lines of the axis.
func (s span) step() int {
	switch months := int(s.to-s.from) / 30; {
	case months <= 9:
		return 1
	case months <= 30:
		return 3
	case months <= 54:
		return 6
	}
	return 12
}

// growth draws weights over meals and sheds on one axis of time.
func growth(f Facts, text Text) Draw {
	return func(c Canvas, b Box) {
		days := f.charted()
		plot := Box{b.X0 + 15, b.Y0 + 2, b.X1 - 26, b.Y1 - 18}
		ticks := massTicks(f.Weights)
		low, high := float64(ticks[0]), float64(ticks[len(ticks)-1])
		y := func(m model.Mass) float64 {
			return plot.Y1 - plot.H()*(float64(m.Milligrams)-low)/(high-low)
		}
		days.axis(c, text, plot, b.Y1-3.4, b.Y1-.6)
		for _, tick := range ticks {
			m := model.Mass{Milligrams: tick}
			c.Path(segment(plot.X0, y(m), plot.X1, y(m)), Paint{Stroke: Hair, Width: .13})
			put(c, plot.X0-1.4, y(m)+.85, AlignRight, tinyStyle, text.Mass(m))
		}
		f.weightLine(c, text, days, plot, y)
		f.mealRow(c, text, days, plot, plot.Y1+5)
		f.shedRow(c, text, days, plot, plot.Y1+10)
	}
}

// charted is the days of the growth chart.
func (f Facts) charted() span {
	s := span{f.Issued.Day(), f.Issued.Day()}
	for _, w := range f.Weights {
		s.from = min(s.from, w.At.Day())
	}
	for _, m := range f.Meals {
		s.from = min(s.from, m.At.Day())
	}
	for _, m := range f.Sheds {
		s.from = min(s.from, m.At.Day())
	}
	s.from -= max((s.to-s.from)/60, 2)
	return s
}

// massTicks are the lines of a weight axis in milligrams: round numbers that
// enclose all weights.
func massTicks(weights []Dated[care.Weight]) []int64 {
	low, high := weights[0].Body.Mass.Milligrams, weights[0].Body.Mass.Milligrams
	for _, w := range weights {
		low, high = min(low, w.Body.Mass.Milligrams), max(high, w.Body.Mass.Milligrams)
	}
	step := int64(1000)
	for k := 0; (high-low)/step > 4 || (high-low) == 0 && high/step > 20; k++ {
		step = step * [...]int64{2, 5, 2}[k%3] / [...]int64{1, 2, 1}[k%3]
	}
	var ticks []int64
	for tick := low / step * step; len(ticks) < 2 || ticks[len(ticks)-1] < high; tick += step {
		ticks = append(ticks, tick)
	}
	return ticks
}

// crowd is the number of marks above which each is drawn small.
const crowd = 90

func (f Facts) weightLine(c Canvas, text Text, days span, plot Box, y func(model.Mass) float64) {
	var p drawing.Path
	for _, w := range f.Weights {
		if w.Body.Comparable() {
			p.LineTo(drawing.Point{X: days.x(w.At.Day(), plot.X0, plot.X1), Y: y(w.Body.Mass)})
		}
	}
	c.Path(p, Paint{Stroke: Accent, Width: .5})
	r := .95
	if len(f.Weights) > crowd {
		r = .5
	}
	for _, w := range f.Weights {
		sign := Ring
		if w.Body.Comparable() {
			sign = Dot
		}
		drawSign(c, sign, days.x(w.At.Day(), plot.X0, plot.X1), y(w.Body.Mass), r, Accent)
	}
	last := f.Weights[len(f.Weights)-1]
	put(c, plot.X1+2, y(last.Body.Mass)+.1, AlignLeft, smallBold, text.Mass(last.Body.Mass))
	put(c, plot.X1+2, y(last.Body.Mass)+3.1, AlignLeft, tinyStyle, text.DayShort(last.At.Day()))
}

func chartRow(c Canvas, plot Box, y float64, name, total string) {
	putIn(c, plot.X0-1.4, y+.85, 13, AlignRight, tinyStyle, name)
	c.Path(segment(plot.X0, y, plot.X1, y), Paint{Stroke: Hair, Width: .13})
	putIn(c, plot.X1+2, y+.85, 24, AlignLeft, smallStyle, total)
}

func (f Facts) mealRow(c Canvas, text Text, days span, plot Box, y float64) {
	chartRow(c, plot, y, text.Say("paper.chart.meals"), text.Count("paper.chart.taken", len(f.Meals), map[string]any{"Taken": f.taken()}))
	r := 1.1
	if len(f.Meals) > crowd {
		r = .6
	}
	for _, m := range f.Meals {
		sign := Ring
		if m.Body.Outcome == care.Took {
			sign = Dot
		}
		drawSign(c, sign, days.x(m.At.Day(), plot.X0, plot.X1), y, r, Ink)
	}
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

func (f Facts) shedRow(c Canvas, text Text, days span, plot Box, y float64) {
	chartRow(c, plot, y, text.Say("paper.chart.sheds"), text.Count("paper.chart.seen", len(f.Sheds)))
	for _, m := range f.Sheds {
		drawSign(c, Diamond, days.x(m.At.Day(), plot.X0, plot.X1), y, 1.1, Ink)
	}
}

// The bands of the chart of body and time, from the whole animal at the top to
// the tail. Head and tail are drawn larger than they are, so that what stands
// on them can be told apart; along the trunk the scale is even.
const (
	bandWhole = -.12
	bandHead  = .12
	bandVent  = 1.0
	bandTail  = 1.16
	// trunkFrom is where the trunk begins, as a share of the length to the vent.
	trunkFrom = .05
)

// bodyBand is a band of the body in that chart, with the key of its name.
type bodyBand struct {
	from, to float64
	key      string
}

func bodyBands() []bodyBand {
	front, middle := onTrunk(1.0/3), onTrunk(2.0/3)
	return []bodyBand{
		{bandWhole, 0, "paper.band.whole"}, {0, bandHead, "paper.band.head"}, {bandHead, front, "paper.band.front"},
		{front, middle, "paper.band.middle"}, {middle, bandVent, "paper.band.hind"}, {bandVent, bandTail, "paper.band.tail"},
	}
}

// onTrunk is where on the chart a share of the length to the vent lies.
func onTrunk(share float64) float64 {
	return bandHead + (bandVent-bandHead)*max(share-trunkFrom, 0)/(1-trunkFrom)
}

// along is where on the chart a place lies.
func along(p body.Place) float64 {
	switch {
	case p.Region == "":
		return bandWhole / 2
	case p.Part == body.Tail:
		return bandVent + (bandTail-bandVent)*float64(p.Along)/10000
	case p.Part == body.Trunk:
		return onTrunk(float64(p.Along) / 10000)
	}
	return bandHead / 2
}

// bodyTime lays the findings out by place, downwards, and time, across. What
// comes back to its place shows as bars on one line.
func bodyTime(f Facts, all []standing, text Text) Draw {
	return func(c Canvas, b Box) {
		days := span{f.Issued.Day(), f.Issued.Day()}
		for _, ch := range f.Checks {
			days.from = min(days.from, ch.At.Day())
		}
		for _, s := range all {
			days.from = min(days.from, s.First().At.Day())
		}
		days.from -= max((days.to-days.from)/60, 2)
		plot := Box{b.X0 + 27, b.Y0 + 2, b.X1 - 52, b.Y1 - 9}
		y := func(share float64) float64 {
			return plot.Y0 + plot.H()*(share-bandWhole)/(bandTail-bandWhole)
		}
		for i, band := range bodyBands() {
			if i%2 == 0 {
				c.Path(Box{b.X0, y(band.from), plot.X1, y(band.to)}.Path(), Paint{Fill: Tint})
			}
			putIn(c, b.X0+1, y((band.from+band.to)/2)+.9, 25, AlignLeft, tinyStyle, text.Say(band.key))
		}
		days.axis(c, text, plot, plot.Y1+5, b.Y1-.6)
		r := .8
		if len(f.Checks) > crowd/2 {
			r = .35
		}
		for _, ch := range f.Checks {
			drawSign(c, Felt, days.x(ch.At.Day(), plot.X0, plot.X1), plot.Y1+2.6, r, Ink2)
		}
		putIn(c, plot.X0-2, plot.Y1+3.4, 24, AlignRight, tinyStyle, text.Say("paper.chart.checks"))
		drawBars(c, all, text, days, plot, y)
	}
}

// drawBars draws a bar for each problem, thicker where it was worse; the names
// of those still there stand at the right, spread so that none touch.
func drawBars(c Canvas, all []standing, text Text, days span, plot Box, y func(float64) float64) {
	var labels []barLabel
	for _, s := range all {
		tone := Ink
		if !s.Open() {
			tone = Line
		}
		at := y(along(s.Last().Place))
		for i, look := range s.Glimpses {
			if !look.Standing.Present() {
				continue
			}
			end := days.to
			if i+1 < len(s.Glimpses) {
				end = s.Glimpses[i+1].At.Day()
			}
			x0, x1 := days.x(look.At.Day(), plot.X0, plot.X1), days.x(end, plot.X0, plot.X1)
			c.Path(segment(x0, at, max(x1, x0+.8), at), Paint{Stroke: tone, Width: [...]float64{.6, .8, 1.2, 1.8}[min(int(look.Grade), 3)]})
		}
		if s.Open() {
			labels = append(labels, barLabel{s, at, at})
		}
	}
	spread(labels, plot)
	for _, l := range labels {
		c.Path(polyline(plot.X1+.5, l.y, plot.X1+2, l.at), Paint{Stroke: Ink3, Width: .13})
		drawNumber(c, plot.X1+3.9, l.at, 1.6, l.s.number, !l.s.quiet())
		putIn(c, plot.X1+6.6, l.at+.9, 45, AlignLeft, smallStyle, text.Say("finding."+string(l.s.What)))
	}
}

type barLabel struct {
	s     standing
	y, at float64
}

// spread puts labels under each other so that none touch and all stay beside
// the plot where there is room.
func spread(labels []barLabel, plot Box) {
	const height = 3.9
	order := make([]*barLabel, len(labels))
	for i := range labels {
		order[i] = &labels[i]
	}
	sortBy(order, func(l *barLabel) float64 { return l.y })
	floor := plot.Y0 - 2
	for _, l := range order {
		l.at = max(l.y, floor)
		floor = l.at + height
	}
	ceiling := plot.Y1 + 4
	for i := len(order) - 1; i >= 0; i-- {
		order[i].at = min(order[i].at, ceiling)
		ceiling = order[i].at - height
	}
}
