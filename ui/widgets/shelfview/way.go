package shelfview

import (
	"cmp"
	"slices"
	"strconv"

	"coilward/ui/look"
)

// leg is the way from one station to the next.
type leg struct {
	from, to At
	gone     bool // both are answered
}

// legs are the way through all stations, in their order.
func legs(rows []Row) (way []leg) {
	type stop struct {
		at     At
		number int
		gone   bool
	}
	var stops []stop
	for r, row := range rows {
		for b, box := range row.Boxes {
			if box.Station > 0 {
				stops = append(stops, stop{At{r, b}, box.Station, box.State.answered()})
			}
		}
	}
	slices.SortFunc(stops, func(a, b stop) int { return cmp.Compare(a.number, b.number) })
	for i := 1; i < len(stops); i++ {
		way = append(way, leg{stops[i-1].at, stops[i].at, stops[i-1].gone && stops[i].gone})
	}
	return way
}

// answered reports whether something became of the box.
func (s State) answered() bool { return s == Good || s == Bad || s == Passed }

// segment is a straight part of the way as a line shows it; y is counted from its top.
type segment struct {
	x0, y0, x1, y1 float32
	gone           bool
}

// lane is how far right of the last box the way goes from line to line.
const lane = 5

// segments are the parts of the way in a line: along its board, and at its end up and down
// to the lines before and after. What is gone stands over what lies ahead.
func segments(l line, way []leg) (all []segment) {
	if len(l.cells) == 0 {
		return nil
	}
	board, turn := l.boardY-l.y+l.boardH/2, l.end+lane
	for _, g := range way {
		from, to := l.side(g.from), l.side(g.to)
		switch {
		case from == 0 && to == 0:
			all = append(all, segment{l.station(g.from), board, l.station(g.to), board, g.gone})
		case from == 0:
			all = append(all, segment{l.station(g.from), board, turn, board, g.gone}, segment{turn, board, turn, l.edge(to), g.gone})
		case to == 0:
			all = append(all, segment{turn, l.edge(from), turn, board, g.gone}, segment{turn, board, l.station(g.to), board, g.gone})
		case from != to:
			all = append(all, segment{turn, l.edge(from), turn, l.edge(to), g.gone})
		}
	}
	slices.SortStableFunc(all, func(a, b segment) int {
		switch {
		case a.gone == b.gone:
			return 0
		case b.gone:
			return -1
		}
		return 1
	})
	return slices.Compact(all)
}

// side tells where a box stands: before the line, which is -1, in it, or behind it. The line
// has boxes.
func (l line) side(at At) int {
	switch {
	case before(at, l.cells[0].at):
		return -1
	case before(l.cells[len(l.cells)-1].at, at):
		return 1
	}
	return 0
}

// station is where the way stops at a box, across; at one of another line, where it turns.
func (l line) station(at At) float32 {
	for _, c := range l.cells {
		if c.at == at {
			return c.x + c.w/2
		}
	}
	return l.end + lane
}

// edge is where the way leaves the line for what stands on a side of it.
func (l line) edge(side int) float32 {
	if side < 0 {
		return -above
	}
	return l.height + beneath
}

func before(a, b At) bool { return cmp.Or(cmp.Compare(a.Row, b.Row), cmp.Compare(a.Box, b.Box)) < 0 }

// way draws the parts of the way and the discs of its stations on the board.
func (b *brush) way(l line, row Row, all []segment) {
	for _, s := range all {
		path := polyline(s.x0, l.y+s.y0, s.x1, l.y+s.y1)
		if s.gone {
			b.stroke(path, 2.5, look.Accent)
		} else {
			b.dashed(path, 1.5, look.Soft)
		}
	}
	for _, c := range l.cells {
		box := row.Boxes[c.at.Box]
		if box.Station == 0 {
			continue
		}
		x, y, w := c.x+c.w/2, discY(l), discWidth(box.Station)
		fill, line := look.Sheet, look.Soft
		switch {
		case box.State.answered():
			fill, line = look.Accent, look.Accent
		case c.current:
			line = look.Accent
		}
		b.fill(rounded(x-w/2, y-discHeight/2, w, discHeight, discHeight/2), fill)
		b.stroke(rounded(x-w/2, y-discHeight/2, w, discHeight, discHeight/2), 1.5, line)
	}
}

// station writes the number on the disc of a box.
func (p *page) station(l line, c cell, box Box) {
	if box.Station == 0 {
		return
	}
	tone := look.Ink
	if box.State.answered() {
		tone = look.OnAccent
	}
	p.set(strconv.Itoa(box.Station), discNumber, tone, c.x+c.w/2, discY(l), discWidth(box.Station), middle)
}

const discHeight float32 = 16

var discNumber = look.Type{Size: 11, Line: 16, Face: look.SansBold}

// discY is the middle of the discs: as low as the line's picture reaches.
func discY(l line) float32 { return l.boardY + l.boardH + beneath - 1 - discHeight/2 }

func discWidth(n int) float32 {
	return max(discHeight, ceil(discNumber.Width(strconv.Itoa(n)))+6)
}
