package chart

import (
	"math"
	"slices"

	"coilward/model"
	"coilward/model/drawing"
)

// Likely is how likely something is as of a day. Two of one day are an upright: before
// and after something that moved it.
type Likely struct {
	Day            model.Day
	Low, Mid, High float64 // above 0 and below 1
}

// Answer is an answer that moved a chance, or did not.
type Answer struct {
	Day      model.Day
	At       float64 // the chance after it
	Detected bool
	Early    bool // it could not say much
}

// Days are those from one to another.
type Days struct{ From, To model.Day }

// ChanceData is what a chart of a chance over the days shows. Course is in order of its
// days.
type ChanceData struct {
	Course    []Likely
	Answers   []Answer
	Near      []Days // in which it may have been caught
	NearSaid  string
	Goal      float64 // 0: none
	GoalSaid  string
	Today     model.Day
	TodaySaid string
	Said      func(chance float64) string // writes a chance beside the axis
	Words     Words
}

// Chance is a chart of a chance over the days, laid out in a box, on an OddsScale.
type Chance struct {
	Plot   drawing.Rectangle
	Points []drawing.Point // one for each answer
	data   ChanceData
	size   float64
	axis   timeAxis
	ticks  []Tick
	lines  []float64 // the chances at which there is a line
	scale  OddsScale
}

// lineSpace is how far apart lines of type stand, in sizes of it.
const lineSpace = 1.4

// NewChance lays the chart out; size is the size of its type.
func NewChance(data ChanceData, width, height, size float64) *Chance {
	c := &Chance{data: data, size: size}
	low, high := .01, .2
	if data.Goal > 0 {
		low = data.Goal
	}
	for _, l := range data.Course {
		low, high = min(low, l.Low), max(high, l.High)
	}
	for _, s := range steps {
		if s >= low*.7 && odds(s) <= odds(high)+.3 {
			c.lines = append(c.lines, s)
		}
	}
	c.scale = oddsScale(low, high, .35)
	gutter := size * 3
	if data.Said != nil {
		var all []string
		for _, l := range c.lines {
			all = append(all, data.Said(l))
		}
		gutter = data.Words.widest(size, all...) + size*1.2
	}
	c.Plot = drawing.Box(gutter, size*1.6, width-size*.8, height-size*(2.2+c.rows()))
	c.lines = c.apart(c.lines)
	from, to := data.Today, data.Today
	for _, l := range data.Course {
		from, to = min(from, l.Day), max(to, l.Day)
	}
	for _, a := range data.Answers {
		from, to = min(from, a.Day), max(to, a.Day)
	}
	pad := max(2, (to-from)/40)
	c.axis = timeAxis{from: from - pad, to: to + pad, x0: c.Plot.Min.X, x1: c.Plot.Max.X, left: 0, right: width}
	c.ticks = c.axis.ticks(data.Words, size)
	for _, a := range data.Answers {
		c.Points = append(c.Points, drawing.Point{X: c.axis.x(a.Day), Y: c.y(a.At)})
	}
	return c
}

// apart are those lines whose chances can be written without touching one another; what is
// wanted goes before all others, and stands among them or not.
func (c *Chance) apart(all []float64) (some []float64) {
	var written []float64 // their heights
	if c.data.Goal > 0 {
		written = append(written, c.y(c.data.Goal))
	}
	for _, l := range all {
		y := c.y(l)
		touches := slices.ContainsFunc(written, func(o float64) bool { return math.Abs(o-y) < lineSpace*c.size })
		if l == c.data.Goal || !touches {
			some, written = append(some, l), append(written, y)
		}
	}
	return some
}

// rows is how much type the row below the plot takes.
func (c *Chance) rows() float64 {
	if len(c.data.Near) > 0 {
		return 2.2
	}
	return 0
}

// y is the height of a chance.
func (c *Chance) y(p float64) float64 {
	return c.Plot.Max.Y - c.Plot.Height()*c.scale.At(p)
}

// Places are the places of the answers.
func (c *Chance) Places() []drawing.Point { return c.Points }

// Nearest is the index of the answer nearest to a point; −1: there is none.
func (c *Chance) Nearest(p drawing.Point) int { return nearest(c.Points, p) }

// Draw draws the chart: the range as a band, what is assumed as a line in it, the answers
// as marks on that.
func (c *Chance) Draw(pen drawing.Pen) {
	unit := c.size / 12
	for _, l := range c.lines {
		y := c.y(l)
		c.level(pen, y, unit, drawing.Hair)
		if c.data.Said != nil && l != c.data.Goal {
			pen.Text(drawing.Text{String: c.data.Said(l), At: drawing.Point{X: c.Plot.Min.X - c.size*.6, Y: y}, Align: drawing.End, Size: c.size, Role: drawing.InkSoft})
		}
	}
	below := c.Plot.Max.Y + c.size*c.rows()
	c.axis.draw(pen, c.ticks, c.data.Words, c.size, below, below+4*unit, below+c.size*1.3, c.axis.to)
	c.level(pen, c.Plot.Max.Y, unit, drawing.Edge)
	c.band(pen, unit)
	c.goal(pen, unit)
	c.near(pen, unit)
	c.today(pen, unit)
	for i, a := range c.data.Answers {
		c.mark(pen, c.Points[i], a, unit)
	}
}

func (c *Chance) level(pen drawing.Pen, y, width float64, role drawing.Role) {
	pen.Stroke(drawing.Polyline(drawing.Point{X: c.Plot.Min.X, Y: y}, drawing.Point{X: c.Plot.Max.X, Y: y}), width, role, 1)
}

// band is the range, with what is assumed as a line.
func (c *Chance) band(pen drawing.Pen, unit float64) {
	var low, mid, high []drawing.Point
	for _, l := range c.data.Course {
		x := c.axis.x(l.Day)
		low, mid, high = append(low, drawing.Point{X: x, Y: c.y(l.Low)}), append(mid, drawing.Point{X: x, Y: c.y(l.Mid)}), append(high, drawing.Point{X: x, Y: c.y(l.High)})
	}
	if len(mid) < 2 {
		return
	}
	if n := len(c.data.Course); c.data.Course[n-2].Day == c.data.Course[n-1].Day {
		// what an answer of the last day made of the range would have no width: it goes on a little
		x := min(mid[n-1].X+10*unit, c.Plot.Max.X)
		for _, line := range []*[]drawing.Point{&low, &mid, &high} {
			*line = append(*line, drawing.Point{X: x, Y: (*line)[n-1].Y})
		}
	}
	slices.Reverse(low)
	pen.Fill(drawing.Polygon(append(high, low...)...), drawing.Accent, .2)
	pen.Stroke(drawing.Polyline(mid...), 1.6*unit, drawing.Accent, 1)
}

// goal is the chance that is wanted.
func (c *Chance) goal(pen drawing.Pen, unit float64) {
	if c.data.Goal == 0 {
		return
	}
	y := c.y(c.data.Goal)
	dashed(pen, []drawing.Point{{X: c.Plot.Min.X, Y: y}, {X: c.Plot.Max.X, Y: y}}, 4*unit, 1.2*unit, drawing.Ink)
	if c.data.Said != nil {
		pen.Text(drawing.Text{String: c.data.Said(c.data.Goal), At: drawing.Point{X: c.Plot.Min.X - c.size*.6, Y: y}, Align: drawing.End, Size: c.size, Strong: true, Role: drawing.Ink})
	}
	pen.Text(drawing.Text{String: c.data.GoalSaid, At: drawing.Point{X: c.Plot.Min.X + c.size*.5, Y: y - c.size*.7}, Size: c.size, Role: drawing.InkSoft})
}

// near are the times in which it may have been caught, in a row below the plot.
func (c *Chance) near(pen drawing.Pen, unit float64) {
	if len(c.data.Near) == 0 {
		return
	}
	y := c.Plot.Max.Y + c.size*lineSpace
	pen.Text(drawing.Text{String: c.data.Words.cut(c.data.NearSaid, c.size, false, c.Plot.Min.X-c.size*.6), At: drawing.Point{X: c.Plot.Min.X - c.size*.6, Y: y}, Align: drawing.End, Size: c.size, Role: drawing.InkSoft})
	for _, s := range c.data.Near {
		x0, x1 := c.axis.x(max(s.From, c.axis.from)), c.axis.x(min(s.To, c.axis.to))
		pen.Stroke(drawing.Polyline(drawing.Point{X: x0, Y: y}, drawing.Point{X: max(x1, x0+2*unit), Y: y}), 5*unit, drawing.Warn, .8)
	}
}

func (c *Chance) today(pen drawing.Pen, unit float64) {
	if c.data.Today == 0 {
		return
	}
	x := c.axis.x(c.data.Today)
	pen.Stroke(drawing.Polyline(drawing.Point{X: x, Y: c.Plot.Min.Y - c.size*.3}, drawing.Point{X: x, Y: c.Plot.Max.Y}), 1.6*unit, drawing.Ink, 1)
	half := c.data.Words.width(c.data.TodaySaid, c.size, true) / 2
	pen.Text(drawing.Text{String: c.data.TodaySaid, At: drawing.Point{X: c.axis.middle(x, half), Y: c.size * .7}, Align: drawing.Middle, Size: c.size, Strong: true, Role: drawing.Ink})
}

// mark is a ring where nothing was detected, a diamond where it was; small where the
// answer could not say much.
func (c *Chance) mark(pen drawing.Pen, at drawing.Point, a Answer, unit float64) {
	r := 6 * unit
	if a.Early {
		r = 3.6 * unit
	}
	if a.Detected {
		drawMark(pen, at, Diamond, drawing.Warn, 1.25*r)
		return
	}
	drawMark(pen, at, Ring, drawing.Accent, r)
}
