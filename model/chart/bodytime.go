package chart

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/drawing"
)

// Bar is one stretch of a problem: from first seen to gone.
type Bar struct {
	Number   int // the pin's
	Text     string
	Place    body.Place
	From, To model.Day
	Open     bool // still open: To is ignored and the bar reaches the day shown
	Bad      int  // how bad: 1 slight, 2 marked, 3 severe
	// Back says that the problem came back: a dotted line joins it with the bar
	// before it in the list.
	Back bool
}

// Zone is a stretch of the body that is named beside the axis.
type Zone struct {
	Text     string
	From, To body.Place
}

// BodyTimeData is what a body–time chart shows.
type BodyTimeData struct {
	Bars     []Bar
	Checks   []model.Day
	Zones    []Zone // from snout to tail
	From, To model.Day
	Day      model.Day // the time cursor; what lies after it is not drawn
	Words    Words
	CameBack string // words at a dotted line
	ChecksAs string // words beside the row of checks
	Cursor   string // words at the cursor
}

// BodyTime is a body–time chart laid out in a box: the animal stands upright as
// the axis, snout at the top, and time runs to the right. A bar is thicker the
// worse the problem.
type BodyTime struct {
	Plot  drawing.Rectangle
	Bars  []drawing.Rectangle // one for each bar of the data
	data  BodyTimeData
	size  float64
	strip *body.Strip
	axis  drawing.Point // where the strip's corner stands
	half  float64
	pins  []pinned
	zoneW float64
}

type pinned struct {
	bar     Bar
	end, at drawing.Point
}

// NewBodyTime lays the chart out; size is the size of its type.
func NewBodyTime(data BodyTimeData, width, height, size float64) *BodyTime {
	c := &BodyTime{data: data, size: size, half: size * .75}
	if c.data.To <= c.data.From {
		c.data.To = c.data.From + 1
	}
	c.data.Day = max(c.data.From, min(c.data.To, c.data.Day))
	names := 0.0
	for _, z := range data.Zones {
		c.zoneW = max(c.zoneW, data.Words.width(z.Text, size, false))
	}
	for _, b := range data.Bars {
		if b.Open {
			names = max(names, data.Words.width(b.Text, size, true))
		}
	}
	right := names + size*4.2
	c.Plot = drawing.Box(c.zoneW+size*1.2+c.half*2.6+size, size*.7, max(width-right, width*.5), height-size*3.4)
	c.strip = body.Straight(c.Plot.Height(), c.half, true, false)
	c.axis = drawing.Point{X: c.zoneW + size*1.2, Y: c.Plot.Min.Y}
	for _, b := range data.Bars {
		c.Bars = append(c.Bars, c.box(b))
	}
	c.pin()
	return c
}

func (c *BodyTime) x(d model.Day) float64 {
	return c.Plot.Min.X + c.Plot.Width()*float64(d-c.data.From)/float64(c.data.To-c.data.From)
}

func (c *BodyTime) y(p body.Place) float64 { return c.Plot.Min.Y + c.strip.Distance(p) }

// thick tells how bad without colour.
func (c *BodyTime) thick(bad int) float64 {
	return c.size / 12 * (3 + 2*float64(max(1, min(3, bad))))
}

func (c *BodyTime) box(b Bar) drawing.Rectangle {
	to := min(b.To, c.data.Day)
	if b.Open {
		to = c.data.Day
	}
	y, half := c.y(b.Place), c.thick(b.Bad)/2
	x0 := c.x(max(b.From, c.data.From))
	return drawing.Box(x0, y-half, max(c.x(to), x0+c.size*.25), y+half)
}

// shown reports whether any of the bar lies in the days shown.
func (c *BodyTime) shown(b Bar) bool {
	return b.From <= c.data.Day && (b.Open || b.To >= c.data.From)
}

// pin puts the pins of open problems in one column right of the cursor, pushed
// apart where they would touch.
func (c *BodyTime) pin() {
	x := c.x(c.data.Day)
	for i, b := range c.data.Bars {
		if b.Open && c.shown(b) {
			y := c.Bars[i].Centre().Y
			c.pins = append(c.pins, pinned{b, drawing.Point{X: x, Y: y}, drawing.Point{X: x + c.size*2, Y: y}})
		}
	}
	slices.SortStableFunc(c.pins, func(a, b pinned) int { return cmp.Compare(a.end.Y, b.end.Y) })
	gap := c.size * 1.75
	for range 60 {
		for i := 1; i < len(c.pins); i++ {
			if d := gap - (c.pins[i].at.Y - c.pins[i-1].at.Y); d > 0 {
				c.pins[i-1].at.Y -= d / 2
				c.pins[i].at.Y += d / 2
			}
		}
		for i := range c.pins {
			p := &c.pins[i].at
			p.Y = max(c.Plot.Min.Y+gap/2, min(c.Plot.Max.Y, p.Y))
		}
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
func (c *BodyTime) DayAt(x float64) model.Day {
	k := (x - c.Plot.Min.X) / c.Plot.Width()
	d := c.data.From + model.Day(math.Round(k*float64(c.data.To-c.data.From)))
	return max(c.data.From, min(c.data.To, d))
}

// Draw draws the chart.
func (c *BodyTime) Draw(pen drawing.Pen) {
	unit := c.size / 12
	c.drawZones(pen)
	c.drawMonths(pen, unit)
	c.strip.Draw(drawing.Through(pen, drawing.Translate(c.axis.X, c.axis.Y)), body.Options{Flat: true})
	for _, d := range c.data.Checks {
		if d >= c.data.From && d <= c.data.Day {
			pen.Fill(drawing.Circle(drawing.Point{X: c.x(d), Y: c.Plot.Max.Y + c.size*.85}, 2.6*unit), drawing.InkSoft, 1)
		}
	}
	c.drawCursor(pen, unit)
	for i, b := range c.data.Bars {
		if c.shown(b) {
			c.drawBar(pen, i, unit)
		}
	}
	c.drawPins(pen, unit)
}

func (c *BodyTime) drawZones(pen drawing.Pen) {
	end := math.Inf(-1)
	for i, z := range c.data.Zones {
		y0, y1 := c.y(z.From), c.y(z.To)
		if i%2 == 0 {
			pen.Fill(drawing.RoundedBox(drawing.Box(c.Plot.Min.X, y0, c.x(c.data.Day), y1), 0), drawing.Well, .5)
		}
		y := max((y0+y1)/2, end)
		end = y + c.size*1.15
		pen.Text(drawing.Text{String: z.Text, At: drawing.Point{X: 0, Y: y}, Size: c.size, Role: drawing.InkSoft})
	}
}

// drawMonths draws the time axis; no lines in the future: names stand there.
func (c *BodyTime) drawMonths(pen drawing.Pen, unit float64) {
	width := max(c.data.Words.width(c.data.Words.date(c.data.From, ByMonth), c.size, false), c.data.Words.width(c.data.Words.date(c.data.From, ByDay), c.size, false)) + c.size
	days, step := CalendarDays(c.data.From, c.data.To, max(2, int(c.Plot.Width()/width)))
	for _, d := range days {
		x := c.x(d)
		if d <= c.data.Day {
			pen.Stroke(drawing.Polyline(drawing.Point{X: x, Y: c.Plot.Min.Y}, drawing.Point{X: x, Y: c.Plot.Max.Y}), unit, drawing.Hair, 1)
		}
		text := c.data.Words.date(d, step)
		x = max(x, c.Plot.Min.X+c.data.Words.width(text, c.size, false)/2-c.size)
		pen.Text(drawing.Text{String: text, At: drawing.Point{X: x, Y: c.Plot.Max.Y + c.size*2.5}, Align: drawing.Middle, Size: c.size, Role: drawing.Faint})
	}
	pen.Text(drawing.Text{String: c.data.ChecksAs, At: drawing.Point{X: c.Plot.Min.X - c.size*.7, Y: c.Plot.Max.Y + c.size*.85}, Align: drawing.End, Size: c.size, Role: drawing.Faint})
}

func (c *BodyTime) drawCursor(pen drawing.Pen, unit float64) {
	x := c.x(c.data.Day)
	foot := drawing.Point{X: x, Y: c.Plot.Max.Y + c.size*.85}
	pen.Stroke(drawing.Polyline(drawing.Point{X: x, Y: c.Plot.Min.Y}, foot), 1.6*unit, drawing.Accent, 1)
	pen.Fill(drawing.Circle(foot, 7*unit), drawing.Sheet, 1)
	pen.Fill(drawing.Circle(foot, 6*unit), drawing.Accent, 1)
	pen.Text(drawing.Text{String: c.data.Cursor, At: foot.Add(drawing.Point{X: c.size}), Size: c.size, Strong: true, Role: drawing.Accent})
}

func (c *BodyTime) drawBar(pen drawing.Pen, i int, unit float64) {
	b, box := c.data.Bars[i], c.Bars[i]
	role := drawing.Edge
	if b.Open {
		role = drawing.Ink
	}
	joined := b.Back && i > 0 && c.shown(c.data.Bars[i-1])
	if joined {
		c.dotted(pen, c.Bars[i-1].Max.X+5*unit, box.Min.X-4*unit, box.Centre().Y, unit)
	}
	pen.Fill(drawing.RoundedBox(box, box.Height()/2), role, 1)
	if !b.Open && !joined {
		c.barName(pen, b, box)
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

// barName stands before the bar, or above it where there is no room.
func (c *BodyTime) barName(pen drawing.Pen, b Bar, box drawing.Rectangle) {
	t := drawing.Text{String: b.Text, At: drawing.Point{X: box.Min.X - c.size*.6, Y: box.Centre().Y}, Align: drawing.End, Size: c.size, Role: drawing.InkSoft}
	if t.At.X-c.data.Words.width(b.Text, c.size, false) < c.Plot.Min.X {
		t.At, t.Align = drawing.Point{X: box.Min.X, Y: box.Min.Y - c.size*.65}, drawing.Start
	}
	pen.Text(t)
}

func (c *BodyTime) drawPins(pen drawing.Pen, unit float64) {
	for _, p := range c.pins {
		pen.Stroke(drawing.Polyline(p.end, p.at), 1.4*unit, drawing.Ink, 1)
		pen.Fill(drawing.Circle(p.end, 3*unit), drawing.Ink, 1)
		pen.Fill(drawing.Circle(p.at, 11*unit), drawing.Sheet, 1)
		pen.Fill(drawing.Circle(p.at, 9*unit), drawing.Ink, 1)
		pen.Text(drawing.Text{String: strconv.Itoa(p.bar.Number), At: p.at, Align: drawing.Middle, Size: c.size * .92, Strong: true, Role: drawing.Sheet})
		pen.Text(drawing.Text{String: p.bar.Text, At: p.at.Add(drawing.Point{X: c.size * 1.25}), Size: c.size, Role: drawing.Ink})
	}
}
