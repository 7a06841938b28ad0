package chart

import (
	"cmp"
	"math"
	"slices"

	"coilward/model"
	"coilward/model/drawing"
)

// Offer is something that costs and is done on a day.
type Offer struct {
	Done   model.Day
	Cost   float64
	Enough bool // else it does not reach what is wanted
	// Best is that nothing is both cheaper and done sooner; Chosen that it is the one in sight.
	Best, Chosen bool
}

// CostsData is what a chart of costs against days shows.
type CostsData struct {
	Offers    []Offer
	Today     model.Day
	TodaySaid string
	Amount    func(cost float64) string
	Words     Words
}

// Costs is a chart of costs against days, laid out in a box.
type Costs struct {
	Plot   drawing.Rectangle
	Points []drawing.Point // one for each offer
	data   CostsData
	size   float64
	axis   timeAxis
	ticks  []Tick
	lines  []float64
	most   float64
}

// NewCosts lays the chart out; size is the size of its type.
func NewCosts(data CostsData, width, height, size float64) *Costs {
	c := &Costs{data: data, size: size}
	for _, o := range data.Offers {
		c.most = max(c.most, o.Cost)
	}
	c.most = max(c.most*1.08, 1)
	c.lines, _ = RoundValues(0, c.most, 5)
	c.lines = slices.DeleteFunc(c.lines, func(l float64) bool { return l > c.most })
	var said []string
	for _, l := range c.lines {
		said = append(said, data.Amount(l))
	}
	c.Plot = drawing.Box(data.Words.widest(size, said...)+size*1.2, size*1.4, width-size*1.2, height-size*2.2)
	from, to := data.Today, data.Today+14
	for _, o := range data.Offers {
		to = max(to, o.Done)
	}
	c.axis = timeAxis{from: from, to: to + max(2, (to-from)/30), x0: c.Plot.Min.X, x1: c.Plot.Max.X, left: 0, right: width}
	c.ticks = c.axis.ticks(data.Words, size)
	for _, o := range data.Offers {
		c.Points = append(c.Points, drawing.Point{X: c.axis.x(o.Done), Y: c.y(o.Cost)})
	}
	return c
}

func (c *Costs) y(cost float64) float64 {
	return c.Plot.Max.Y - c.Plot.Height()*math.Min(1, cost/c.most)
}

// Places are the places of the offers.
func (c *Costs) Places() []drawing.Point { return c.Points }

// Nearest is the index of the offer nearest to a point; −1: there is none.
func (c *Costs) Nearest(p drawing.Point) int {
	best, far := -1, 0.0
	for i, at := range c.Points {
		if d := at.Sub(p); best < 0 || d.X*d.X+d.Y*d.Y < far {
			best, far = i, d.X*d.X+d.Y*d.Y
		}
	}
	return best
}

// Draw draws the chart: what is not enough as a ring, what is as a dot; what nothing
// beats is joined by a line, and what is in sight stands in a larger ring.
func (c *Costs) Draw(pen drawing.Pen) {
	unit := c.size / 12
	for _, l := range c.lines {
		y := c.y(l)
		pen.Stroke(drawing.Polyline(drawing.Point{X: c.Plot.Min.X, Y: y}, drawing.Point{X: c.Plot.Max.X, Y: y}), unit, drawing.Hair, 1)
		pen.Text(drawing.Text{String: c.data.Amount(l), At: drawing.Point{X: c.Plot.Min.X - c.size*.6, Y: y}, Align: drawing.End, Size: c.size, Role: drawing.InkSoft})
	}
	c.axis.draw(pen, c.ticks, c.data.Words, c.size, c.Plot.Max.Y, c.Plot.Max.Y+4*unit, c.Plot.Max.Y+c.size*1.3, c.axis.to)
	c.front(pen, unit)
	for i, o := range c.data.Offers {
		at := c.Points[i]
		switch {
		case !o.Enough:
			drawMark(pen, at, Ring, drawing.Faint, 3.4*unit)
		case o.Best:
			drawMark(pen, at, Dot, drawing.Accent, 5.5*unit)
		default:
			drawMark(pen, at, Dot, drawing.Accent, 3.2*unit)
		}
		if o.Chosen {
			pen.Stroke(drawing.Circle(at, 10*unit), 2*unit, drawing.Accent, 1)
		}
	}
}

// front joins what nothing beats, as steps from the soonest to the cheapest.
func (c *Costs) front(pen drawing.Pen, unit float64) {
	var best []drawing.Point
	for i, o := range c.data.Offers {
		if o.Best {
			best = append(best, c.Points[i])
		}
	}
	slices.SortFunc(best, func(a, b drawing.Point) int { return cmp.Compare(a.X, b.X) })
	if len(best) == 0 {
		return
	}
	line := []drawing.Point{{X: best[0].X, Y: c.Plot.Min.Y}}
	for i, p := range best {
		if i > 0 {
			line = append(line, drawing.Point{X: p.X, Y: best[i-1].Y})
		}
		line = append(line, p)
	}
	line = append(line, drawing.Point{X: c.Plot.Max.X, Y: best[len(best)-1].Y})
	ground := append([]drawing.Point{}, line...)
	ground = append(ground, drawing.Point{X: c.Plot.Max.X, Y: c.Plot.Min.Y})
	pen.Fill(drawing.Polygon(ground...), drawing.Accent, .12)
	pen.Stroke(drawing.Polyline(line...), 1.4*unit, drawing.Accent, 1)
}
