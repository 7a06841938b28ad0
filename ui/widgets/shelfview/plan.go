package shelfview

import "math"

// form is how much a line of boxes can say.
type form uint8

const (
	dense   form = iota // a name, a coil, signs
	roomy               // class lines above, words below
	compact             // a line that is not walked just now
	lit                 // the line with the current box
)

// cell is a placed box.
type cell struct {
	at         At
	x, y, w, h float32
	current    bool
}

func (c cell) holds(x, y float32) bool { return x >= c.x && x < c.x+c.w && y >= c.y && y < c.y+c.h }

// line is a placed shelf, or a part of one that is too long for one line.
type line struct {
	form              form
	row               int
	first             bool // the row begins here
	room              bool // its room is said here
	y, height         float32
	boxY, boxH        float32
	boardY, boardH    float32
	tagY, end, gutter float32
	cells             []cell
}

// plan is where everything stands.
type plan struct {
	lines        []line
	height       float32
	above, below int // shelves that a walk leaves out
}

// Measures of the picture, in pixels.
const (
	usualWidth  = 60 // of a box, in centimetres, where none is said
	narrowest   = 60 // box
	addWidth    = 84 // place where a box is added
	widest      = 320
	wideGap     = 8
	tightGap    = 6
	between     = 8  // more, where two classes meet
	crowded     = 10 // boxes of a line: they stand closer
	breakH      = 22 // class line
	tagH        = 30
	denseTagH   = 22
	boardH      = 5
	lineGap     = 8
	topMargin   = 6   // for the ring round a box of the first line
	leastRoomy  = 76  // box
	leastTall   = 170 // wide and high, to show the animal below its name
	leastDense  = 46
	compactH    = 56
	compactLine = compactH + 4
	platesH     = 92
	leastLit    = 250 // box
	mostLit     = 420
	litShare    = .64
	moreH       = 22
)

// focus is the current box of a walk.
type focus struct {
	at    At
	walk  bool
	needs float32 // height of its box; as far as the picture has it
}

// arrange places the rows in a size; gutter is what names need at the left.
func arrange(rows []Row, size [2]float32, gutter float32, f focus) plan {
	width := size[0] - gutter
	if len(rows) == 0 || width < narrowest {
		return plan{}
	}
	lines, unit := broken(rows, width)
	for i := range lines {
		lines[i].gutter = gutter
	}
	if f.walk {
		return walked(rows, lines, size, gutter, unit, f)
	}
	return atRest(lines, size, gutter)
}

func centimetres(b Box) float32 {
	if b.Width <= 0 {
		return usualWidth
	}
	return float32(b.Width)
}

// gapBefore is the room before box i of a row.
func gapBefore(boxes []Box, i int) float32 {
	if len(boxes) > crowded {
		return tightGap
	}
	if a, b := boxes[i-1], boxes[i]; !a.Empty() && !b.Empty() && a.Class != b.Class {
		return wideGap + between
	}
	return wideGap
}

// broken gives all boxes one scale, so that sizes compare, and breaks what is
// longer than the picture is wide.
func broken(rows []Row, width float32) ([]line, float32) {
	unit, largest, least := float32(math.Inf(1)), float32(1), float32(math.Inf(1))
	for _, r := range rows {
		var cm, between float32
		for i, b := range r.Boxes {
			if i > 0 {
				between += gapBefore(r.Boxes, i)
			}
			if b.Adds {
				if len(r.Boxes) > crowded {
					between += narrowest
				} else {
					between += addWidth
				}
				continue
			}
			cm += centimetres(b)
			largest, least = max(largest, centimetres(b)), min(least, centimetres(b))
		}
		if cm > 0 {
			unit = min(unit, (width-between)/cm)
		}
	}
	unit = min(unit, widest/largest)
	if unit*least < narrowest {
		each := float32(math.Floor(float64((width + tightGap) / (narrowest + tightGap)))) // of the narrow ones in a line
		unit = min((width-tightGap*(each-1))/max(1, each)/least, width/largest)
	}
	shares, grow := make([]int, len(rows)), float32(widest/narrowest)
	for i, r := range rows {
		shares[i] = len(r.Boxes)
		parts := brokenRow(rows, i, unit, width, shares[i])
		if n := len(parts); n > 1 { // no lonely box at the end
			shares[i] = (len(r.Boxes) + n - 1) / n
			parts = brokenRow(rows, i, unit, width, shares[i])
		}
		for _, l := range parts {
			grow = min(grow, l.spare(r, width))
		}
	}
	unit = min(unit*max(1, grow), max(unit, widest/largest))
	var lines []line
	for i := range rows {
		lines = append(lines, brokenRow(rows, i, unit, width, shares[i])...)
	}
	return lines, unit
}

// spare is by how much the boxes of a line may grow until it is full.
func (l *line) spare(r Row, width float32) float32 {
	var boxes, end float32
	for _, c := range l.cells {
		if !r.Boxes[c.at.Box].Adds {
			boxes += c.w
		}
		end = c.x + c.w
	}
	if boxes == 0 {
		return float32(math.Inf(1))
	}
	return (width - (end - boxes)) / boxes
}

// brokenRow lays a row out in lines of at most so many boxes.
func brokenRow(rows []Row, i int, unit, width float32, most int) (lines []line) {
	r := rows[i]
	l := line{row: i, first: true, room: i == 0 || rows[i-1].Room != r.Room}
	var x float32
	for k, b := range r.Boxes {
		w := max(centimetres(b)*unit, min(narrowest, width))
		if b.Adds {
			w = min(addWidth, width)
			if len(r.Boxes) > crowded {
				w = min(narrowest, width)
			}
		}
		before := float32(0)
		if len(l.cells) > 0 {
			before = gapBefore(r.Boxes, k)
		}
		if n := len(l.cells); n > 0 && (x+before+w > width+.5 || n >= most) {
			lines = append(lines, l)
			l, x, before = line{row: i}, 0, 0
		}
		x += before
		l.cells = append(l.cells, cell{at: At{i, k}, x: x, w: w})
		x += w
	}
	return append(lines, l)
}

// atRest shares the height among all lines; what does not fit is scrolled.
func atRest(lines []line, size [2]float32, gutter float32) plan {
	n := float32(len(lines))
	each := float32(math.Floor(float64((size[1] - topMargin + lineGap) / n)))
	most := float32(140)
	if n <= 2 && lines[0].widest() >= leastTall {
		most = 240
	}
	f, box := roomy, min(each-breakH-boardH-tagH-lineGap, most)
	if box < leastRoomy {
		f, box = dense, max(leastDense, min(each-4-denseTagH-lineGap, 92))
	}
	p := plan{}
	y, end := float32(topMargin), float32(0)
	for i := range lines {
		l := &lines[i]
		l.form, l.y, l.boxH = f, y, box
		if f == roomy {
			l.boxY, l.boardH, l.height = y+breakH, boardH, breakH+box+boardH+tagH
		} else {
			l.boxY, l.boardH, l.height = y, 4, box+4+denseTagH
		}
		l.boardY = l.boxY + box
		l.tagY = l.boardY + l.boardH
		l.settle(gutter)
		end = max(end, l.end)
		y += l.height + lineGap
	}
	for i := range lines {
		lines[i].end = end
	}
	p.lines, p.height = lines, y-lineGap
	return p
}

// widest is how wide the widest box of the line is.
func (l *line) widest() (w float32) {
	for _, c := range l.cells {
		w = max(w, c.w)
	}
	return w
}

// settle moves the cells behind the gutter; edges are rounded, not widths, so
// that the line ends where it should.
func (l *line) settle(gutter float32) {
	for i := range l.cells {
		c := &l.cells[i]
		left, right := round(gutter+c.x), round(gutter+c.x+c.w)
		c.x, c.w, c.y, c.h = left, right-left, l.boxY, l.boxH
		l.end = right
	}
	if len(l.cells) == 0 {
		l.end = gutter + narrowest
	}
}

func round(v float32) float32 { return float32(math.Round(float64(v))) }

// walked lets the current box grow in its own place, as high as it needs. Its neighbours grow
// narrow, the other lines shrink, and nobody changes order. Lines that find no
// room are counted.
func walked(rows []Row, lines []line, size [2]float32, gutter, unit float32, f focus) plan {
	at, least := f.at, max(leastLit, f.needs)
	here := 0
	for i, l := range lines {
		for _, c := range l.cells {
			if c.at == at {
				here = i
			}
		}
	}
	const other = compactLine + lineGap
	room := size[1] - (least + 10 + platesH)
	from, to := here, here+1
	fits := func(from, to int) bool {
		need := float32(to-from-1) * other
		if from > 0 {
			need += moreH
		}
		if to < len(lines) {
			need += moreH
		}
		return need <= room
	}
	for grown := true; grown; {
		grown = false
		if to < len(lines) && fits(from, to+1) {
			to, grown = to+1, true
		}
		if from > 0 && fits(from-1, to) {
			from, grown = from-1, true
		}
	}
	p := plan{above: shelves(lines[:from]), below: shelves(lines[to:])}
	taken := float32(to-from-1) * other
	var y float32
	if p.above > 0 {
		y, taken = moreH, taken+moreH
	}
	if p.below > 0 {
		taken += moreH
	}
	box := max(leastLit/2, min(size[1]-taken-10-platesH, max(mostLit, least)))
	for i := from; i < to; i++ {
		l := lines[i]
		l.y = y
		l.room = l.room || i == from
		l.first = l.first || i == from
		if i == here {
			l.form, l.boxY, l.boxH, l.boardH = lit, y+10, box, 8
			l.boardY = l.boxY + box
			l.tagY, l.height = l.boardY+8, 10+box+platesH
			l.grow(rows[l.row].Boxes, at, size[0]-gutter, unit)
		} else {
			l.form, l.boxY, l.boxH, l.boardH = compact, y, compactH, 4
			l.boardY, l.height = y+compactH, compactLine
			l.tagY = l.boardY + 4
		}
		l.settle(gutter)
		l.end = size[0]
		p.lines = append(p.lines, l)
		y += l.height + lineGap
	}
	p.height = size[1]
	return p
}

func shelves(lines []line) (n int) {
	for _, l := range lines {
		if l.first {
			n++
		}
	}
	if n == 0 && len(lines) > 0 {
		return 1
	}
	return n
}

// grow gives the current box its share of the line; of its neighbours as many
// stay as are still wide enough, the nearest.
func (l *line) grow(boxes []Box, at At, width, unit float32) {
	now := 0
	for i, c := range l.cells {
		if c.at == at {
			now = i
		}
	}
	share := round(width * litShare)
	beside := int((width - share) / (narrowest + wideGap))
	from, to := now, now+1
	for to-from-1 < beside && (from > 0 || to < len(l.cells)) {
		if to < len(l.cells) {
			to++
		}
		if from > 0 && to-from-1 < beside {
			from--
		}
	}
	cells := append([]cell(nil), l.cells[from:to]...)
	var cm float32
	for _, c := range cells {
		if c.at != at {
			cm += centimetres(boxes[c.at.Box])
		}
	}
	scale := unit
	if cm > 0 {
		scale = min(unit, (width-share-wideGap*float32(len(cells)-1))/cm)
	}
	var x float32
	for i := range cells {
		c := &cells[i]
		c.x, c.w = x, centimetres(boxes[c.at.Box])*scale
		if c.at == at {
			c.w, c.current = share, true
		}
		x += c.w + wideGap
	}
	l.cells = cells
}

// find is the cell of a box.
func (p plan) find(at At) (cell, *line, bool) {
	for i := range p.lines {
		for _, c := range p.lines[i].cells {
			if c.at == at {
				return c, &p.lines[i], true
			}
		}
	}
	return cell{}, nil, false
}

// under is the box at a place of the picture; what hangs below a box belongs to
// it.
func (p plan) under(x, y float32) (At, bool) {
	for _, l := range p.lines {
		if y < l.y || y >= l.y+l.height {
			continue
		}
		for _, c := range l.cells {
			c.y, c.h = l.boxY, l.height-(l.boxY-l.y)
			if c.holds(x, y) {
				return c.at, true
			}
		}
	}
	return At{}, false
}

// step is the box that an arrow leads to: the next one of the line, or the
// nearest of the line above or below.
func (p plan) step(at At, dx, dy int) At {
	for i, l := range p.lines {
		for k, c := range l.cells {
			if c.at != at {
				continue
			}
			if dx != 0 {
				return p.along(i, k, dx)
			}
			for j := i + dy; j >= 0 && j < len(p.lines); j += dy {
				if near, ok := p.lines[j].nearest(c.x + c.w/2); ok {
					return near
				}
			}
			return at
		}
	}
	for _, l := range p.lines {
		if len(l.cells) > 0 {
			return l.cells[0].at
		}
	}
	return at
}

func (p plan) along(i, k, dx int) At {
	l := p.lines[i]
	if k+dx >= 0 && k+dx < len(l.cells) {
		return l.cells[k+dx].at
	}
	for j := i + dx; j >= 0 && j < len(p.lines); j += dx {
		if n := len(p.lines[j].cells); n > 0 {
			if dx > 0 {
				return p.lines[j].cells[0].at
			}
			return p.lines[j].cells[n-1].at
		}
	}
	return l.cells[k].at
}

func (l line) nearest(x float32) (best At, ok bool) {
	least := float32(math.Inf(1))
	for _, c := range l.cells {
		if d := float32(math.Abs(float64(c.x + c.w/2 - x))); d < least {
			best, least, ok = c.at, d, true
		}
	}
	return best, ok
}
