package chart

import (
	"coilward/model"
	"coilward/model/drawing"
)

// Standing is how a thing that is asked stands.
type Standing uint8

// The standings, told by shape: a ticked disc, a ring, a diamond; a ring with a dot where
// it is not known yet.
const (
	IsMet Standing = iota
	ToCome
	Holds
	NotKnown
)

// Milestone is one thing that is asked, on its day: the day since which it is met, or
// the earliest on which it can be. One that is undated holds and has no day: it stands
// behind all others. Where something happened that holds, it stands on the day of that.
type Milestone struct {
	Day      model.Day
	Said     string
	Standing Standing
	Undated  bool
	Happened bool // on a day up to today; such a one is not undated
}

// past reports whether it stands left of today, or on it.
func (m Milestone) past(today model.Day) bool {
	return m.Happened || m.Standing == IsMet && m.Day <= today
}

// Break is a day from which on everything counted anew.
type Break struct {
	Day  model.Day
	Said string
}

// StayData is what the bar of a stay shows, from its first day to the earliest
// release.
type StayData struct {
	From, To   model.Day // the days shown
	Begun      model.Day
	Today      model.Day
	Earliest   model.Day // of the release
	Undated    bool      // what holds it has no day of its own
	Breaks     []Break   // oldest first
	Milestones []Milestone
	// End and EndBelow stand beside the earliest release, Open where it has no day.
	End, EndBelow, Open string
	Words               Words
}

// Stay is the bar of a stay laid out in a box.
type Stay struct {
	// Points are the middles of the milestones, in the order of the data; those of
	// one day stand beside each other. None is left of the beginning, and none that is
	// still to come left of today; the undated ones lie behind the end.
	Points []drawing.Point
	data   StayData
	width  float64
	height float64
	size   float64
	axis   timeAxis
	labels []drawing.Text
	// open is where what has no day stands, from left to right.
	open [2]float64
}

// NewStay lays the bar out; size is the size of its type.
func NewStay(data StayData, width, height, size float64) *Stay {
	s := &Stay{data: data, width: width, height: height, size: size, axis: stayAxis(data, width, size)}
	s.Points = make([]drawing.Point, len(data.Milestones))
	left := s.spread(func(m Milestone) bool { return m.past(data.Today) }, s.axis.x(data.Begun))
	right := s.spread(func(m Milestone) bool { return !m.Undated && !m.past(data.Today) }, max(left, s.axis.x(data.Today)))
	s.gather(right)
	s.lay()
	return s
}

// gather puts the undated milestones side by side behind the end, and not left of from;
// the words that say it come after them.
func (s *Stay) gather(from float64) {
	step, count := s.size*1.4, 0
	for _, m := range s.data.Milestones {
		if m.Undated {
			count++
		}
	}
	least := s.axis.x(s.data.Today)
	if count > 0 {
		least = max(least+s.size*.4, from-step/2) // beside the line, and what has a day
	}
	wide := max(s.size*4, float64(count)*step+s.size*.4)
	left := max(least, s.endX())
	left = max(least, min(left, s.width-s.size-s.data.Words.width(s.data.Open, s.size, true)-wide))
	s.open = [2]float64{left, min(left+wide, s.width-s.size*.5)}
	x := left + s.size*.2 + step/2
	for i, m := range s.data.Milestones {
		if m.Undated {
			s.Points[i] = drawing.Point{X: x, Y: s.middle()}
			x += step
		}
	}
}

// spread puts some milestones on their days, beside each other and not left of from; it
// tells where the next would stand.
func (s *Stay) spread(which func(Milestone) bool, from float64) (end float64) {
	step := s.size * 1.4
	var at, sizes []float64
	var of []int
	for i, m := range s.data.Milestones {
		if which(m) {
			at, sizes, of = append(at, s.axis.x(m.Day)), append(sizes, step), append(of, i)
		}
	}
	for i, x := range drawing.Spread(at, sizes, from-step/2, s.width) {
		s.Points[of[i]] = drawing.Point{X: x, Y: s.middle()}
		end = max(end, x+step)
	}
	return end
}

// stayAxis is the axis of time of all bars that show the same days.
func stayAxis(data StayData, width, size float64) timeAxis {
	to := max(data.To, data.From+1)
	return timeAxis{from: data.From, to: to, x0: size * .5, x1: max(size*8, width-size*8.5), left: 0, right: width}
}

func (s *Stay) middle() float64 { return s.height / 2 }

// endX is where the bar ends.
func (s *Stay) endX() float64 { return s.axis.x(max(s.data.Earliest, s.data.Begun)) }

// lay finds a place for each label: over or under the bar, next to its mark, where it
// covers none; one without a place is left out, its mark tells it.
func (s *Stay) lay() {
	line := s.size * 1.25
	rows := []float64{s.middle() - s.size*1.7, s.middle() + s.size*1.7, s.middle() - s.size*1.7 - line, s.middle() + s.size*1.7 + line}
	taken := make([][][2]float64, len(rows))
	today := s.axis.x(s.data.Today)
	clear := s.size * .4 // of a label to today's line
	put := func(said string, x float64, align drawing.Align, role drawing.Role, strong bool, from int) {
		w := s.data.Words.width(said, s.size, strong)
		left := x - w/2
		if align == drawing.End {
			left = x - w
		}
		if left < today+clear && left+w > today-clear { // beside the line, on the side of its mark
			if left = today + clear; x < today {
				left = today - clear - w
			}
		}
		left = max(0, min(s.width-w, left))
		for i := from; i < len(rows); i++ {
			if y := rows[i]; y < s.size*.5 || y > s.height-s.size*.5 || !vacant(taken[i], left, left+w) {
				continue
			}
			taken[i] = append(taken[i], [2]float64{left - s.size*.5, left + w + s.size*.5})
			s.labels = append(s.labels, drawing.Text{String: said, At: drawing.Point{X: left, Y: rows[i]}, Size: s.size, Strong: strong, Role: role})
			return
		}
	}
	for _, b := range s.data.Breaks[max(0, len(s.data.Breaks)-1):] { // earlier ones were counted over
		put(b.Said, s.axis.x(b.Day)-s.size*.3, drawing.End, drawing.LitLine, false, 1)
	}
	for _, holding := range []bool{true, false} { // what holds is said first
		for i, m := range s.data.Milestones {
			if (m.Standing == Holds) == holding {
				role := [...]drawing.Role{IsMet: drawing.Accent, ToCome: drawing.InkSoft, Holds: drawing.LitLine, NotKnown: drawing.InkSoft}[m.Standing]
				put(m.Said, s.Points[i].X, drawing.Middle, role, m.Standing == Holds, 0)
			}
		}
	}
}

func vacant(taken [][2]float64, from, to float64) bool {
	for _, t := range taken {
		if from < t[1] && to > t[0] {
			return false
		}
	}
	return true
}

// Nearest is the index of the milestone at a point; −1: there is none so near.
func (s *Stay) Nearest(p drawing.Point) int {
	best, far := -1, s.size*1.3
	for i, at := range s.Points {
		if d := at.Sub(p).Length(); d < far {
			best, far = i, d
		}
	}
	return best
}

// Draw draws the bar.
func (s *Stay) Draw(pen drawing.Pen) {
	unit := s.size / 12
	s.scale(pen, unit)
	half := 6 * unit
	bar := func(from, to float64) drawing.Rectangle {
		return drawing.Box(from, s.middle()-half, to, s.middle()+half)
	}
	fill := func(b drawing.Rectangle, role drawing.Role, opacity float64) {
		if !b.Empty() {
			pen.Fill(drawing.RoundedBox(b, 2*unit), role, opacity)
		}
	}
	counted := s.data.Begun
	for _, b := range s.data.Breaks {
		counted = max(counted, b.Day)
	}
	x0, xc, xt, xe := s.axis.x(s.data.Begun), s.axis.x(counted), s.axis.x(s.data.Today), s.endX()
	if before := bar(x0, xc); !before.Empty() {
		fill(before, drawing.Well, 1)
		hatch(pen, before, drawing.InkSoft, .6, unit)
	}
	fill(bar(max(xc, min(xt, xe)), xe), drawing.Wash, 1)
	fill(bar(xc, min(xt, max(xe, xc))), drawing.Accent, .55)
	if xt > xe && !s.data.Undated {
		fill(bar(xe, xt), drawing.Wash, 1)
	}
	if s.data.Undated {
		fill(bar(xt, s.open[0]), drawing.Wash, 1)
		hatch(pen, bar(s.open[0], s.open[1]), drawing.Warn, .8, unit)
	}
	for _, b := range s.data.Breaks {
		x := s.axis.x(b.Day)
		pen.Stroke(drawing.Polyline(drawing.Point{X: x, Y: s.middle() - 2.2*half}, drawing.Point{X: x, Y: s.middle() + 2.2*half}), 2*unit, drawing.LitLine, 1)
	}
	pen.Stroke(drawing.Polyline(drawing.Point{X: xt, Y: 0}, drawing.Point{X: xt, Y: s.height}), 2*unit, drawing.Ink, 1)
	s.end(pen, xe, unit)
	for i, m := range s.data.Milestones {
		drawMilestone(pen, s.Points[i], m.Standing, unit)
	}
	for _, l := range s.labels {
		w := s.data.Words.width(l.String, l.Size, l.Strong)
		pen.Fill(drawing.RoundedBox(drawing.Box(l.At.X-2*unit, l.At.Y-s.size*.6, l.At.X+w+2*unit, l.At.Y+s.size*.6), 2*unit), drawing.Sheet, .85)
		pen.Text(l)
	}
}

// end is the earliest release: a diamond, and its day in words behind it.
func (s *Stay) end(pen drawing.Pen, x, unit float64) {
	role, words := drawing.Ink, x+s.size*1.3
	if s.data.Undated {
		words = s.open[1] + s.size*.5
		if words+s.data.Words.width(s.data.Open, s.size, true) <= s.width { // else the marks tell it
			pen.Text(drawing.Text{String: s.data.Open, At: drawing.Point{X: words, Y: s.middle() - s.size*.1}, Size: s.size, Strong: true, Role: drawing.Warn})
		}
		return
	}
	r := 8 * unit
	at := drawing.Point{X: x, Y: s.middle()}
	pen.Stroke(drawing.Polyline(drawing.Point{X: x, Y: at.Y - 1.7*r}, drawing.Point{X: x, Y: at.Y + 1.7*r}), 3*unit, drawing.Accent, 1)
	most := s.width - words
	pen.Text(drawing.Text{String: s.data.Words.cut(s.data.End, s.size, true, most), At: drawing.Point{X: words, Y: at.Y - s.size*.58}, Size: s.size, Strong: true, Role: role})
	pen.Text(drawing.Text{String: s.data.Words.cut(s.data.EndBelow, s.size, false, most), At: drawing.Point{X: words, Y: at.Y + s.size*.62}, Size: s.size, Role: drawing.InkSoft})
}

// scale are the hairlines of the months.
func (s *Stay) scale(pen drawing.Pen, unit float64) {
	for _, t := range s.axis.ticks(s.data.Words, s.size) {
		pen.Stroke(drawing.Polyline(drawing.Point{X: t.At}, drawing.Point{X: t.At, Y: s.height}), unit, drawing.Hair, 1)
	}
}

func drawMilestone(pen drawing.Pen, at drawing.Point, standing Standing, unit float64) {
	r := 6.4 * unit
	switch standing {
	case IsMet:
		pen.Fill(drawing.Circle(at, r+1.2*unit), drawing.Sheet, 1)
		pen.Fill(drawing.Circle(at, r), drawing.Accent, 1)
		pen.Stroke(drawing.Polyline(at.Add(drawing.Point{X: -3 * unit, Y: .2 * unit}), at.Add(drawing.Point{X: -.8 * unit, Y: 2.4 * unit}), at.Add(drawing.Point{X: 3.2 * unit, Y: -2.4 * unit})), 1.7*unit, drawing.Sheet, 1)
	case ToCome:
		drawMark(pen, at, Ring, drawing.InkSoft, r)
	case NotKnown:
		drawMark(pen, at, Ring, drawing.InkSoft, r)
		pen.Fill(drawing.Circle(at, r*.35), drawing.InkSoft, 1)
	case Holds:
		drawMark(pen, at, Diamond, drawing.Sheet, r*1.5)
		drawMark(pen, at, Diamond, drawing.LitLine, r*1.25)
	}
}

// DrawStayScale draws the days over bars that show the same days: the months, and
// today by its word.
func DrawStayScale(pen drawing.Pen, data StayData, today string, width, height, size float64) {
	drawScale(pen, stayAxis(data, width, size), data.Words, data.Today, today, height, size)
}

func drawScale(pen drawing.Pen, a timeAxis, words Words, now model.Day, today string, height, size float64) {
	unit, y := size/12, size*.7
	for _, t := range a.ticks(words, size) {
		pen.Stroke(drawing.Polyline(drawing.Point{X: t.At, Y: y + size}, drawing.Point{X: t.At, Y: height}), unit, drawing.Hair, 1)
		if t.Text != "" {
			at := a.middle(t.At, words.width(t.Text, size, false)/2)
			pen.Text(drawing.Text{String: t.Text, At: drawing.Point{X: at, Y: y}, Align: drawing.Middle, Size: size, Role: drawing.Faint})
		}
	}
	half := words.width(today, size, true)/2 + size*.6
	x := a.x(now)
	middle := a.middle(x, half)
	y = size * 2.2
	pen.Stroke(drawing.Polyline(drawing.Point{X: x, Y: y}, drawing.Point{X: x, Y: height}), 2*unit, drawing.Ink, 1)
	pen.Fill(drawing.RoundedBox(drawing.Box(middle-half, y-size*.75, middle+half, y+size*.75), size*.75), drawing.Ink, 1)
	pen.Text(drawing.Text{String: today, At: drawing.Point{X: middle, Y: y}, Align: drawing.Middle, Size: size, Strong: true, Role: drawing.Sheet})
}
