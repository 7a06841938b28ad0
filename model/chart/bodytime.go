package chart

import (
	"math"
	"strconv"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/drawing"
)

// Bar is one problem through the days, as the records told on the day shown.
type Bar struct {
	Number int // the pin's
	Text   string
	Place  body.Place // where it was last seen; none: the whole animal
	Open   bool       // it still stands: it has a pin
	Quiet  bool       // it asks for nothing: its pin is a ring
	Spans  []Span     // at least one, in the order of time; between two that do not join it was gone
}

// Span is a stretch of days over which a problem was equally bad.
type Span struct {
	From, To model.Day
	Bad      int // 1 slight, 2 marked, 3 severe; 0 not said
}

// Zone is a stretch of the body that is named beside the axis.
type Zone struct {
	Text     string
	From, To body.Place // none: the whole animal, which has a row of its own
}

// Zones are the zones of the body under the names that their ids have.
func Zones(name func(id string) string) []Zone {
	var zones []Zone
	for _, z := range body.Zones() {
		zones = append(zones, Zone{name(z.ID), z.From, z.To})
	}
	return zones
}

// BodyTimeData is what a body–time chart shows.
type BodyTimeData struct {
	Bars     []Bar
	Checks   []model.Day
	Zones    []Zone // the whole animal's first, if it has a row, then from snout to tail
	From, To model.Day
	Day      model.Day // the time cursor; what lies after it is not drawn
	Words    Words
	CameBack string // words at a dotted line
	ChecksAs string // words beside the row of checks
	Cursor   string // words at the cursor; empty: it is not drawn
}

// BodyTime is a body–time chart laid out in a box: the animal stands upright as
// the axis, snout at the top, and time runs to the right. A bar is thicker the
// worse the problem; it lies in the zone of its place, beside others there.
type BodyTime struct {
	Plot   drawing.Rectangle
	X      []Tick
	Bars   []drawing.Rectangle // one for each bar of the data, around all its spans
	data   BodyTimeData
	size   float64
	time   timeAxis
	strip  *body.Strip
	corner drawing.Point // where the strip's corner stands
	half   float64       // the strip's greatest half-width
	pins   []pinned
}

type pinned struct {
	bar     Bar
	end, at drawing.Point
}

// NewBodyTime lays the chart out; size is the size of its type.
func NewBodyTime(data BodyTimeData, width, height, size float64) *BodyTime {
	c := &BodyTime{data: data, size: size, half: size * .75}
	c.data.To = max(data.To, data.From+1)
	c.data.Day = max(c.data.From, min(c.data.To, data.Day))
	left, top := 0.0, size*.7
	for _, z := range data.Zones {
		left = max(left, data.Words.width(z.Text, size, false))
	}
	c.corner = drawing.Point{X: left + size*1.2, Y: top}
	if len(data.Zones) > 0 && data.Zones[0].From.Whole() {
		c.corner.Y += size * 1.7
	}
	c.Plot = drawing.Box(c.corner.X+c.half*2.6+size, top, max(width-c.names(width*.3), width*.5), height-size*3.4)
	c.time = timeAxis{c.data.From, c.data.To, c.Plot.Min.X, c.Plot.Max.X, c.Plot.Min.X - size, width}
	c.X = c.time.ticks(data.Words, size)
	c.strip = body.Straight(c.Plot.Max.Y-c.corner.Y, c.half, true, false)
	c.placeBars()
	c.pin()
	return c
}

// names cuts the names of the open problems to the room they may have, and is
// how much room right of the plot they need with their pins.
func (c *BodyTime) names(most float64) float64 {
	widest, pins := 0.0, c.data.Cursor != ""
	bars := make([]Bar, len(c.data.Bars))
	for i, b := range c.data.Bars {
		if b.Open {
			b.Text, pins = c.data.Words.cut(b.Text, c.size, false, most), true
			widest = max(widest, c.data.Words.width(b.Text, c.size, false))
		}
		bars[i] = b
	}
	c.data.Bars = bars
	if !pins {
		return c.size
	}
	return widest + c.size*4.2
}

// y is the height of a place; that of the whole animal is in the middle of its row.
func (c *BodyTime) y(p body.Place) float64 {
	if p.Whole() {
		return (c.Plot.Min.Y + c.corner.Y) / 2
	}
	return c.corner.Y + c.strip.Distance(p)
}

// limits are where a zone begins and ends.
func (c *BodyTime) limits(z Zone) (from, to float64) {
	if z.From.Whole() {
		return c.Plot.Min.Y, c.corner.Y
	}
	return c.y(z.From), c.y(z.To)
}

// thick tells how bad without colour.
func (c *BodyTime) thick(bad int) float64 {
	return c.size / 12 * (3 + 2*float64(max(1, min(3, bad))))
}

// placeBars gives each bar its box. Those of one zone stand beside each other
// within it, as near to their places as they can.
func (c *BodyTime) placeBars() {
	c.Bars = make([]drawing.Rectangle, len(c.data.Bars))
	zones := c.data.Zones
	if len(zones) == 0 {
		zones = []Zone{{From: body.OnTrunk(0, 0), To: body.OnTail(body.Full, 0)}}
	}
	placed := make([]bool, len(c.data.Bars))
	for _, z := range zones {
		from, to := c.limits(z)
		var here []int
		var at, sizes []float64
		for i, b := range c.data.Bars {
			if y := c.y(b.Place); !placed[i] && c.shown(b) && b.Place.Whole() == z.From.Whole() && y >= from-1e-6 && y <= to+1e-6 {
				placed[i], here, at = true, append(here, i), append(at, y)
				sizes = append(sizes, c.thickest(b)+c.size/6)
			}
		}
		for k, y := range drawing.Spread(at, sizes, from, to) {
			c.Bars[here[k]] = c.box(c.data.Bars[here[k]], y)
		}
	}
	for i, b := range c.data.Bars {
		if !placed[i] {
			c.Bars[i] = c.box(b, c.y(b.Place))
		}
	}
}

func (c *BodyTime) thickest(b Bar) (most float64) {
	for _, s := range b.Spans {
		most = max(most, c.thick(s.Bad))
	}
	return most
}

func (c *BodyTime) box(b Bar, y float64) drawing.Rectangle {
	half := c.thickest(b) / 2
	x0, _ := c.reach(b.Spans[0])
	_, x1 := c.reach(b.Spans[len(b.Spans)-1])
	return drawing.Box(x0, y-half, x1, y+half)
}

// reach is from where to where a span is drawn.
func (c *BodyTime) reach(s Span) (x0, x1 float64) {
	x0 = c.time.x(max(s.From, c.data.From))
	return x0, max(c.time.x(min(s.To, c.data.Day)), x0+c.size*.25)
}

// shown reports whether any of the bar lies in the days shown.
func (c *BodyTime) shown(b Bar) bool {
	return b.Spans[0].From <= c.data.Day && b.Spans[len(b.Spans)-1].To >= c.data.From
}

// pin puts the pins of open problems in one column right of the cursor, where
// they do not touch.
func (c *BodyTime) pin() {
	x := c.time.x(c.data.Day)
	var at, sizes []float64
	for i, b := range c.data.Bars {
		if b.Open && c.shown(b) {
			y := c.Bars[i].Centre().Y
			c.pins = append(c.pins, pinned{b, drawing.Point{X: x, Y: y}, drawing.Point{X: x + c.size*2, Y: y}})
			at, sizes = append(at, y), append(sizes, c.size*1.75)
		}
	}
	for i, y := range drawing.Spread(at, sizes, c.Plot.Min.Y-c.size*.1, c.Plot.Max.Y+c.size*.1) {
		c.pins[i].at.Y = y
	}
}

// BarAt is the index of the bar at a point or within reach of it; −1 for none.
func (c *BodyTime) BarAt(p drawing.Point) int {
	best, at := c.size*.7, -1
	for i, b := range c.Bars {
		if !c.shown(c.data.Bars[i]) || p.X < b.Min.X-2 || p.X > b.Max.X+2 {
			continue
		}
		if d := math.Abs(p.Y - b.Centre().Y); d <= best {
			best, at = d, i
		}
	}
	return at
}

// DayAt is the day at x, within the days shown: where a dragged cursor stands.
func (c *BodyTime) DayAt(x float64) model.Day { return c.time.day(x) }

// Draw draws the chart.
func (c *BodyTime) Draw(pen drawing.Pen) {
	unit := c.size / 12
	c.drawZones(pen)
	c.time.draw(pen, c.X, c.data.Words, c.size, c.Plot.Min.Y, c.Plot.Max.Y, c.Plot.Max.Y+c.size*2.5, c.data.Day)
	c.strip.Draw(drawing.Through(pen, drawing.Translate(c.corner.X, c.corner.Y)), body.Options{Flat: true})
	c.drawChecks(pen, unit)
	if c.data.Cursor != "" {
		c.drawCursor(pen, unit)
	}
	for i, b := range c.data.Bars {
		if c.shown(b) {
			c.drawBar(pen, i, unit)
		}
	}
	c.drawNames(pen)
	c.drawPins(pen, unit)
}

func (c *BodyTime) drawZones(pen drawing.Pen) {
	var at, sizes []float64
	for i, z := range c.data.Zones {
		y0, y1 := c.limits(z)
		if i%2 == 0 {
			pen.Fill(drawing.RoundedBox(drawing.Box(c.Plot.Min.X, y0, c.time.x(c.data.Day), y1), 0), drawing.Well, .5)
		}
		at, sizes = append(at, (y0+y1)/2), append(sizes, c.size*1.15)
	}
	for i, y := range drawing.Spread(at, sizes, 0, c.Plot.Max.Y+c.size*.3) {
		pen.Text(drawing.Text{String: c.data.Zones[i].Text, At: drawing.Point{X: 0, Y: y}, Size: c.size, Role: drawing.InkSoft})
	}
}

// checksAt is the height of the row of checks.
func (c *BodyTime) checksAt() float64 { return c.Plot.Max.Y + c.size*.95 }

func (c *BodyTime) drawChecks(pen drawing.Pen, unit float64) {
	r := 2.6 * unit
	if float64(len(c.data.Checks))*7*unit > c.Plot.Width() {
		r *= .6
	}
	for _, d := range c.data.Checks {
		if d >= c.data.From && d <= c.data.Day {
			pen.Fill(drawing.Circle(drawing.Point{X: c.time.x(d), Y: c.checksAt()}, r), drawing.InkSoft, 1)
		}
	}
	pen.Text(drawing.Text{String: c.data.ChecksAs, At: drawing.Point{X: 0, Y: c.checksAt()}, Size: c.size, Role: drawing.Faint})
}

func (c *BodyTime) drawCursor(pen drawing.Pen, unit float64) {
	x := c.time.x(c.data.Day)
	foot := drawing.Point{X: x, Y: c.checksAt()}
	pen.Stroke(drawing.Polyline(drawing.Point{X: x, Y: c.Plot.Min.Y}, foot), 1.6*unit, drawing.Accent, 1)
	pen.Fill(drawing.Circle(foot, 7*unit), drawing.Sheet, 1)
	pen.Fill(drawing.Circle(foot, 6*unit), drawing.Accent, 1)
	pen.Text(drawing.Text{String: c.data.Cursor, At: foot.Add(drawing.Point{X: c.size}), Size: c.size, Strong: true, Role: drawing.Accent})
}

// drawBar draws a bar span by span, and a dotted line where it was gone between.
func (c *BodyTime) drawBar(pen drawing.Pen, i int, unit float64) {
	b, y := c.data.Bars[i], c.Bars[i].Centre().Y
	role := drawing.Edge
	if b.Open {
		role = drawing.Ink
	}
	for k, s := range b.Spans {
		if s.To < c.data.From || s.From > c.data.Day {
			continue
		}
		x0, x1 := c.reach(s)
		thick := c.thick(s.Bad)
		joinsBefore, joinsAfter := k > 0 && b.Spans[k-1].To == s.From, k+1 < len(b.Spans) && b.Spans[k+1].From == s.To
		if k > 0 && !joinsBefore {
			_, before := c.reach(b.Spans[k-1])
			c.dotted(pen, max(before, c.Plot.Min.X)+4*unit, x0-4*unit, y, unit)
		}
		round := min(thick, x1-x0) / 2 // the ends of a stroke are round and reach beyond it
		if !joinsBefore {
			x0 += round
		}
		if !joinsAfter {
			x1 -= round
		}
		pen.Stroke(drawing.Polyline(drawing.Point{X: x0, Y: y}, drawing.Point{X: max(x0, x1), Y: y}), thick, role, 1)
	}
}

func (c *BodyTime) dotted(pen drawing.Pen, from, to, y, unit float64) {
	for x := from; x < to; x += 7 * unit {
		pen.Stroke(drawing.Polyline(drawing.Point{X: x, Y: y}, drawing.Point{X: min(x+2*unit, to), Y: y}), 1.6*unit, drawing.InkSoft, 1)
	}
	if c.data.Words.width(c.data.CameBack, c.size, false) < to-from {
		pen.Text(drawing.Text{String: c.data.CameBack, At: drawing.Point{X: (from + to) / 2, Y: y - c.size*.75}, Align: drawing.Middle, Size: c.size, Role: drawing.InkSoft})
	}
}

// drawNames sets the names of the problems that are gone: before their bar,
// behind it, over or under it, where nothing else stands.
func (c *BodyTime) drawNames(pen drawing.Pen) {
	var taken []drawing.Rectangle
	for i, b := range c.data.Bars {
		if c.shown(b) {
			taken = append(taken, c.Bars[i])
		}
	}
	for i, b := range c.data.Bars {
		if b.Open || !c.shown(b) {
			continue
		}
		box, w, h := c.Bars[i], c.data.Words.width(b.Text, c.size, false), c.size*.5
		y := box.Centre().Y
		for _, at := range []drawing.Point{{X: box.Min.X - c.size*.6 - w, Y: y}, {X: box.Max.X + c.size*.6, Y: y},
			{X: box.Min.X, Y: box.Min.Y - c.size*.65}, {X: box.Min.X, Y: box.Max.Y + c.size*.65}} {
			name := drawing.Box(at.X, at.Y-h, at.X+w, at.Y+h)
			if c.free(name, taken) {
				pen.Text(drawing.Text{String: b.Text, At: at, Size: c.size, Role: drawing.InkSoft})
				taken = append(taken, name)
				break
			}
		}
	}
}

func (c *BodyTime) free(name drawing.Rectangle, taken []drawing.Rectangle) bool {
	if name.Min.X < c.Plot.Min.X || name.Max.X > c.time.x(c.data.Day) || name.Max.Y > c.Plot.Max.Y {
		return false
	}
	for _, other := range taken {
		if name.Min.X < other.Max.X && other.Min.X < name.Max.X && name.Min.Y < other.Max.Y && other.Min.Y < name.Max.Y {
			return false
		}
	}
	return true
}

func (c *BodyTime) drawPins(pen drawing.Pen, unit float64) {
	for _, p := range c.pins {
		pen.Stroke(drawing.Polyline(p.end, p.at), 1.4*unit, drawing.Ink, 1)
		pen.Fill(drawing.Circle(p.end, 3*unit), drawing.Ink, 1)
		pen.Fill(drawing.Circle(p.at, 11*unit), drawing.Sheet, 1)
		role := drawing.Sheet
		if p.bar.Quiet {
			pen.Stroke(drawing.Circle(p.at, 8.2*unit), 1.6*unit, drawing.Ink, 1)
			role = drawing.Ink
		} else {
			pen.Fill(drawing.Circle(p.at, 9*unit), drawing.Ink, 1)
		}
		pen.Text(drawing.Text{String: strconv.Itoa(p.bar.Number), At: p.at, Align: drawing.Middle, Size: c.size * .92, Strong: true, Role: role})
		pen.Text(drawing.Text{String: p.bar.Text, At: p.at.Add(drawing.Point{X: c.size * 1.25}), Size: c.size, Role: drawing.Ink})
	}
}
