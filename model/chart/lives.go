package chart

import "coilward/model/drawing"

// Life is one stage of a life: how long it lasts at the least and at the most, in
// days.
type Life struct {
	Name        string
	Least, Most float64
	Said        string // both in words
	Sum         bool   // it is reckoned from others
}

// LivesData is what a chart of the stages of a life shows, all from day 0, beside
// how long something is watched.
type LivesData struct {
	Lives []Life
	// Days is how long is watched, Now how far the watch has come; Now < 0: not begun.
	Days, Now         float64
	DaysSaid, NowSaid string
	Words             Words
}

// LivesHeight is how high the chart is, by the size of its type.
func LivesHeight(lives int, size float64) float64 { return size * (2.4 + 1.75*float64(lives)) }

// DrawLives draws the chart in a width: full to the shortest time, faint to the
// longest, and what is left to the end of the watch is the margin.
func DrawLives(pen drawing.Pen, data LivesData, width, size float64) {
	unit, height := size/12, LivesHeight(len(data.Lives), size)
	names, said, most := 0.0, 0.0, data.Days
	for _, l := range data.Lives {
		names = max(names, data.Words.width(l.Name, size, l.Sum))
		said = max(said, data.Words.width(l.Said, size, l.Sum))
		most = max(most, l.Most)
	}
	x0, x1 := names+size, width-said-size
	x := func(days float64) float64 { return x0 + (x1-x0)*days/max(most, 1) }
	if x1-x0 < size*4 {
		return
	}
	top := size * 1.7
	if data.Now >= 0 {
		area := drawing.Box(x0, top, x(min(data.Now, data.Days)), height)
		if !area.Empty() {
			pen.Fill(drawing.RoundedBox(area, 0), drawing.Wash, 1)
		}
	}
	for i, l := range data.Lives {
		y := top + size*1.75*(float64(i)+.6)
		role := drawing.LitLine
		if l.Sum {
			role = drawing.InkSoft
		}
		pen.Text(drawing.Text{String: l.Name, At: drawing.Point{X: names, Y: y}, Align: drawing.End, Size: size, Strong: l.Sum, Role: drawing.Ink})
		pen.Text(drawing.Text{String: l.Said, At: drawing.Point{X: width, Y: y}, Align: drawing.End, Size: size, Strong: l.Sum, Role: drawing.InkSoft})
		pen.Fill(drawing.RoundedBox(drawing.Box(x0, y-4*unit, max(x(l.Most), x0+2*unit), y+4*unit), 2*unit), role, .35)
		if l.Least > 0 {
			pen.Fill(drawing.RoundedBox(drawing.Box(x0, y-4*unit, max(x(l.Least), x0+2*unit), y+4*unit), 2*unit), role, 1)
		}
	}
	line := func(days float64, role drawing.Role, said string, taken float64) float64 {
		at := x(days)
		pen.Stroke(drawing.Polyline(drawing.Point{X: at, Y: top - size*.3}, drawing.Point{X: at, Y: height}), 2*unit, role, 1)
		half := data.Words.width(said, size, true) / 2
		middle := max(taken+half, min(width-half, at))
		pen.Text(drawing.Text{String: said, At: drawing.Point{X: middle, Y: size * .7}, Align: drawing.Middle, Size: size, Strong: true, Role: role})
		return middle + half + size*.7
	}
	taken := 0.0
	if data.Now >= 0 {
		taken = line(min(data.Now, most), drawing.Ink, data.NowSaid, taken)
	}
	line(data.Days, drawing.Accent, data.DaysSaid, taken)
}
