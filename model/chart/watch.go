package chart

import (
	"fmt"

	"coilward/model"
	"coilward/model/drawing"
)

// Look is one look for mites.
type Look struct {
	Day   model.Day
	Grade int  // 0 none seen, 1 a speck, 2 to 4 mites
	Other bool // at another animal of the room
	// Passing is that none were seen and it does not count: the animal itself was not
	// looked at.
	Passing bool
}

// Gap is a stretch of days without a look that was too long.
type Gap struct{ From, To model.Day }

// WatchData is what a chart of looks for mites shows. Looks are in order of their
// days.
type WatchData struct {
	Looks []Look
	Gaps  []Gap // each made the watch begin again at its end
	Today model.Day
	// From, Ends and Over are of the watch: from when it counts, the first day on
	// which a look that sees none can end it, and the day on which one did; 0: not.
	From, Ends, Over model.Day
	Grades           [5]string // the words of the grades
	TodaySaid        string
	FromSaid         string // what the watch counts from
	EndsSaid         string // when it ends, or ended
	GapSaid          string // what a gap did
	Words            Words
}

// Watch is a chart of looks for mites, laid out in a box.
type Watch struct {
	Plot   drawing.Rectangle
	Points []drawing.Point // one for each look
	data   WatchData
	size   float64
	axis   timeAxis
	ticks  []Tick
}

// NewWatch lays the chart out; size is the size of its type.
func NewWatch(data WatchData, width, height, size float64) *Watch {
	w := &Watch{data: data, size: size}
	gutter := data.Words.widest(size, data.Grades[:]...) + size*2.2
	w.Plot = drawing.Box(gutter, size*2.6, width-size*.8, height-size*2.2)
	from, to := data.Today, max(data.Today, data.Ends, data.Over)
	for _, l := range data.Looks {
		from, to = min(from, l.Day), max(to, l.Day)
	}
	if data.From > 0 {
		from = min(from, data.From)
	}
	pad := max(2, (to-from)/30)
	w.axis = timeAxis{from: from - pad, to: to + pad, x0: w.Plot.Min.X, x1: w.Plot.Max.X, left: 0, right: width}
	w.ticks = w.axis.ticks(data.Words, size)
	for _, l := range data.Looks {
		w.Points = append(w.Points, drawing.Point{X: w.axis.x(l.Day), Y: w.level(l.Grade)})
	}
	return w
}

// level is the height of a grade.
func (w *Watch) level(grade int) float64 {
	return w.Plot.Max.Y - w.Plot.Height()*float64(grade)/4
}

// Places are the places of the looks.
func (w *Watch) Places() []drawing.Point { return w.Points }

// Nearest is the index of the look nearest to a point; −1: there is none.
func (w *Watch) Nearest(p drawing.Point) int { return nearest(w.Points, p) }

// nearest is the index of the point nearest to another, where the day counts more than the
// height; −1: there is none.
func nearest(points []drawing.Point, p drawing.Point) int {
	best, far := -1, 0.0
	for i, at := range points {
		if d := at.Sub(p); best < 0 || d.X*d.X+d.Y*d.Y/9 < far {
			best, far = i, d.X*d.X+d.Y*d.Y/9
		}
	}
	return best
}

// Draw draws the chart: the watch as a ground, as far as it has come full and what is
// to come hatched; each look as a mark whose shape tells what it saw.
func (w *Watch) Draw(pen drawing.Pen) {
	unit := w.size / 12
	w.ground(pen, unit)
	for g, said := range w.data.Grades {
		y := w.level(g)
		pen.Stroke(drawing.Polyline(drawing.Point{X: w.Plot.Min.X, Y: y}, drawing.Point{X: w.Plot.Max.X, Y: y}), unit, gridRole(g), 1)
		pen.Text(drawing.Text{String: fmt.Sprint(g), At: drawing.Point{X: w.Plot.Min.X - w.size*.7, Y: y}, Align: drawing.End, Size: w.size, Strong: true, Role: drawing.InkSoft})
		pen.Text(drawing.Text{String: said, At: drawing.Point{X: w.Plot.Min.X - w.size*1.8, Y: y}, Align: drawing.End, Size: w.size, Role: drawing.InkSoft})
	}
	w.axis.draw(pen, w.ticks, w.data.Words, w.size, w.Plot.Max.Y, w.Plot.Max.Y+4*unit, w.Plot.Max.Y+w.size*1.3, w.axis.to)
	w.gaps(pen, unit)
	if w.data.Today > 0 {
		x := w.axis.x(w.data.Today)
		pen.Stroke(drawing.Polyline(drawing.Point{X: x, Y: w.Plot.Min.Y - w.size*.4}, drawing.Point{X: x, Y: w.Plot.Max.Y}), 2*unit, drawing.Ink, 1)
	}
	for i, l := range w.data.Looks {
		w.mark(pen, w.Points[i], l, unit)
	}
	w.captions(pen)
}

func gridRole(grade int) drawing.Role {
	if grade == 0 {
		return drawing.Edge
	}
	return drawing.Hair
}

// ground is the watch behind everything.
func (w *Watch) ground(pen drawing.Pen, unit float64) {
	if w.data.From == 0 {
		return
	}
	end := w.data.Ends
	if w.data.Over > 0 {
		end = w.data.Over
	}
	past := drawing.Box(w.axis.x(w.data.From), w.Plot.Min.Y, w.axis.x(max(w.data.From, min(end, w.data.Today))), w.Plot.Max.Y)
	if !past.Empty() {
		pen.Fill(drawing.RoundedBox(past, 0), drawing.Wash, 1)
	}
	if ahead := drawing.Box(past.Max.X, w.Plot.Min.Y, w.axis.x(end), w.Plot.Max.Y); !ahead.Empty() {
		hatch(pen, ahead, drawing.Accent, .45, unit)
	}
	x := w.axis.x(end)
	pen.Stroke(drawing.Polyline(drawing.Point{X: x, Y: w.Plot.Min.Y - w.size*.4}, drawing.Point{X: x, Y: w.Plot.Max.Y}), 1.5*unit, drawing.Accent, 1)
}

// hatch rules an area with slanting lines.
func hatch(pen drawing.Pen, area drawing.Rectangle, role drawing.Role, opacity, unit float64) {
	pen.Clip(drawing.RoundedBox(area, 0))
	h := area.Height()
	for x := area.Min.X - h; x < area.Max.X; x += 6 * unit {
		pen.Stroke(drawing.Polyline(drawing.Point{X: x, Y: area.Max.Y}, drawing.Point{X: x + h, Y: area.Min.Y}), unit, role, opacity)
	}
	pen.Unclip()
}

// gaps stand as brackets over the line of none seen.
func (w *Watch) gaps(pen drawing.Pen, unit float64) {
	for _, g := range w.data.Gaps {
		x0, x1 := w.axis.x(g.From), w.axis.x(g.To)
		y := w.Plot.Max.Y - w.size*1.5
		pen.Stroke(drawing.Polyline(drawing.Point{X: x0, Y: y + 5*unit}, drawing.Point{X: x0, Y: y}, drawing.Point{X: x1, Y: y}, drawing.Point{X: x1, Y: y + 5*unit}), 1.5*unit, drawing.LitLine, 1)
		if said := w.data.GapSaid; said != "" && w.data.Words.width(said, w.size, false) < x1-x0 {
			pen.Text(drawing.Text{String: said, At: drawing.Point{X: (x0 + x1) / 2, Y: y - w.size*.8}, Align: drawing.Middle, Size: w.size, Role: drawing.LitLine})
		}
	}
}

// mark is one look: a ring where none were seen, a small grey one where that does not
// count, a diamond for a speck, and a disc on a stem for mites; at others of the room a
// square.
func (w *Watch) mark(pen drawing.Pen, at drawing.Point, l Look, unit float64) {
	if l.Grade > 1 {
		pen.Stroke(drawing.Polyline(drawing.Point{X: at.X, Y: w.Plot.Max.Y}, at), 2*unit, drawing.Warn, 1)
	}
	r := 4.6 * unit
	switch {
	case l.Other:
		pen.Fill(drawing.RoundedBox(drawing.Box(at.X-r*.8, at.Y-r*.8, at.X+r*.8, at.Y+r*.8), 0), drawing.Sheet, 1)
		pen.Stroke(drawing.RoundedBox(drawing.Box(at.X-r*.8, at.Y-r*.8, at.X+r*.8, at.Y+r*.8), 0), 1.6*unit, drawing.Warn, 1)
	case l.Grade == 0 && l.Passing:
		drawMark(pen, at, Ring, drawing.InkSoft, r*.55)
	case l.Grade == 0:
		drawMark(pen, at, Ring, drawing.Accent, r)
	case l.Grade == 1:
		drawMark(pen, at, Diamond, drawing.LitLine, r*1.2)
	default:
		drawMark(pen, at, Dot, drawing.Warn, r)
	}
}

// captions stand above the plot: today, what the watch counts from, and its end; each
// over its day, moved aside so far that none covers another.
func (w *Watch) captions(pen drawing.Pen) {
	end := w.data.Ends
	if w.data.Over > 0 {
		end = w.data.Over
	}
	type caption struct {
		said string
		day  model.Day
		role drawing.Role
	}
	all := []caption{}
	if w.data.From > 0 {
		all = append(all, caption{w.data.FromSaid, w.data.From, drawing.InkSoft}, caption{w.data.EndsSaid, end, drawing.Accent})
	}
	all = append(all, caption{w.data.TodaySaid, w.data.Today, drawing.Ink})
	var at, sizes []float64
	for _, c := range all {
		at = append(at, w.axis.x(c.day))
		sizes = append(sizes, w.data.Words.width(c.said, w.size, true)+w.size)
	}
	total := 0.0
	for _, s := range sizes {
		total += s
	}
	for i, x := range drawing.Spread(at, sizes, 0, w.Plot.Max.X+w.size*.8) {
		said := all[i].said
		if total > w.Plot.Max.X {
			said = w.data.Words.cut(said, w.size, true, sizes[i]*w.Plot.Max.X/total-w.size)
		}
		pen.Text(drawing.Text{String: said, At: drawing.Point{X: x, Y: w.Plot.Min.Y - w.size*1.3}, Align: drawing.Middle, Size: w.size, Strong: true, Role: all[i].role})
	}
}
