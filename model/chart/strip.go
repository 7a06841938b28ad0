package chart

import (
	"coilward/model"
	"coilward/model/drawing"
)

// StripDay is one day of the strip of days: how many of its visits showed unease and ease,
// and how often it was lifted.
type StripDay struct {
	Visits, Unease, Ease, Lifts int
	Changed                     bool // a change was tried from this day on
}

// StripData is what the strip of days shows, day by day from the first.
type StripData struct {
	First                       model.Day
	Days                        []StripDay
	UneaseSaid, EaseSaid, Lifts string // what the rows are called
	Words                       Words
}

// StripHeight is how high the strip is, by the size of its type.
func StripHeight(size float64) float64 { return size * 9.5 }

// DrawStrip draws three rows over the days: above a bar for visits with unease, in the
// middle those with ease, below a dot for a day with a lift. A day with a visit that showed
// neither is a short stroke on the line between. Unease and ease have a row of their own, so
// that neither is told by colour alone; a change stands as a line through all.
func DrawStrip(pen drawing.Pen, data StripData, width, size float64) {
	names := max(data.Words.width(data.UneaseSaid, size, false), data.Words.width(data.EaseSaid, size, false), data.Words.width(data.Lifts, size, false))
	x0, n := names+size, len(data.Days)
	if n == 0 || width-x0 < size*6 {
		return
	}
	step := (width - x0) / float64(n)
	most := 1
	for _, d := range data.Days {
		most = max(most, d.Unease, d.Ease)
	}
	unit, middle, reach := size/12, size*3, size*2.4
	below := middle*2 + size*.6
	name := func(said string, y float64, role drawing.Role) {
		pen.Text(drawing.Text{String: said, At: drawing.Point{X: names, Y: y}, Align: drawing.End, Size: size, Role: role})
	}
	name(data.UneaseSaid, middle-reach/2, drawing.InkSoft)
	name(data.EaseSaid, middle+reach/2+size*.3, drawing.InkSoft)
	name(data.Lifts, below+size*.2, drawing.InkSoft)
	pen.Stroke(drawing.Polyline(drawing.Point{X: x0, Y: middle}, drawing.Point{X: width, Y: middle}), unit, drawing.Edge, 1)
	for i, d := range data.Days {
		at := x0 + step*float64(i)
		from, to := at+step*.15, at+step*.85
		if d.Changed {
			pen.Stroke(drawing.Polyline(drawing.Point{X: at, Y: middle - reach}, drawing.Point{X: at, Y: below + size*.6}), 1.5*unit, drawing.Accent, 1)
		}
		if d.Visits > 0 && d.Unease == 0 && d.Ease == 0 {
			pen.Fill(drawing.RoundedBox(drawing.Box(from, middle-1.5*unit, to, middle+1.5*unit), 0), drawing.InkSoft, 1)
		}
		if d.Unease > 0 {
			pen.Fill(drawing.RoundedBox(drawing.Box(from, middle-reach*float64(d.Unease)/float64(most), to, middle-unit), 0), drawing.LitLine, 1)
		}
		if d.Ease > 0 {
			pen.Fill(drawing.RoundedBox(drawing.Box(from, middle+unit, to, middle+reach*float64(d.Ease)/float64(most)), 0), drawing.Accent, .8)
		}
		if d.Lifts > 0 {
			half := min(step*.35, 3*unit)
			pen.Fill(drawing.RoundedBox(drawing.Box(at+step/2-half, below-half, at+step/2+half, below+half), half), drawing.Ink, 1)
		}
	}
	day := func(i int, align drawing.Align) {
		said := dayOf(data.Words, data.First+model.Day(i))
		x := x0
		if align == drawing.End {
			x = width
		}
		pen.Text(drawing.Text{String: said, At: drawing.Point{X: x, Y: below + size*1.7}, Align: align, Size: size, Role: drawing.InkSoft})
	}
	day(0, drawing.Start)
	day(n-1, drawing.End)
}

// dayOf is a day as the words have it, else in the form of ISO 8601.
func dayOf(w Words, d model.Day) string {
	if w.Calendar == nil {
		return d.String()
	}
	return w.Calendar.DayOfYear(d)
}
