package pixel

import (
	"image"
	"math"

	"coilward/model/drawing"
)

// sweep finds how far an area covers each pixel of a box. Every edge leaves in
// each row that it crosses how the cover changes there; the sum along the row is
// the cover itself. Rows are cut into blocks: where no edge has been the cover
// stays what it was, so that a long thin animal costs its edges and its inside and
// not the box around it. It is not safe for concurrent use.
type sweep struct {
	width, height int
	stride        int       // of a row of changes
	blocks        int       // in a row
	changes       []float32 // all zero between two areas
	touched       []bool    // by row and block
	row           []uint8
}

// block is how many pixels of a row are passed by together.
const block = 32

// reset begins an area in a box of that size.
func (s *sweep) reset(width, height int) {
	s.width, s.height = width, height
	s.blocks = (width+1)/block + 1 // an edge at the right border leaves a change behind it
	s.stride = s.blocks * block
	if n := s.stride * height; cap(s.changes) < n {
		s.changes = make([]float32, n)
	} else {
		s.changes = s.changes[:n]
	}
	if n := s.blocks * height; cap(s.touched) < n {
		s.touched = make([]bool, n)
	} else {
		s.touched = s.touched[:n]
	}
	if cap(s.row) < s.stride {
		s.row = make([]uint8, s.stride)
	}
	s.row = s.row[:s.stride]
}

// load begins an area with the lines, which are closed, seen from the box.
func (s *sweep) load(lines drawing.Polylines, box image.Rectangle) {
	s.reset(box.Dx(), box.Dy())
	x, y := float64(box.Min.X), float64(box.Min.Y)
	for _, line := range lines {
		if len(line) == 0 {
			continue
		}
		last := line[len(line)-1]
		ax, ay := float32(last.X-x), float32(last.Y-y)
		for _, p := range line {
			bx, by := float32(p.X-x), float32(p.Y-y)
			s.edge(ax, ay, bx, by)
			ax, ay = bx, by
		}
	}
}

// edge adds the edge from a to b.
func (s *sweep) edge(ax, ay, bx, by float32) {
	way := float32(1)
	if ay > by {
		way, ax, ay, bx, by = -1, bx, by, ax, ay
	}
	if by-ay <= 1e-6 || by <= 0 || ay >= float32(s.height) {
		return
	}
	slope := (bx - ax) / (by - ay)
	if ay < 0 {
		ax, ay = ax-ay*slope, 0
	}
	x := ax
	end := min(int(math.Ceil(float64(by))), s.height)
	for y := int(ay); y < end; y++ {
		dy := min(float32(y+1), by) - max(float32(y), ay)
		next := x + dy*slope
		s.cross(y, min(x, next), max(x, next), way*dy)
		x = next
	}
}

// cross notes an edge that runs in row y from x0 to x1, left to right, and changes
// the cover behind it by d. What lies beside the box counts at its border.
func (s *sweep) cross(y int, x0, x1, d float32) {
	right := float32(s.width)
	per := d / max(x1-x0, 1e-9)
	if x0 < 0 && x1 > 0 {
		s.within(y, 0, 0, -x0*per)
		d, x0 = d+x0*per, 0
	}
	if x0 < right && x1 > right {
		s.within(y, right, right, (x1-right)*per)
		d, x1 = d-(x1-right)*per, right
	}
	s.within(y, max(0, min(right, x0)), max(0, min(right, x1)), d)
}

// within is cross for an edge in the box.
func (s *sweep) within(y int, x0, x1, d float32) {
	first, last := int(x0), int(x1)
	row := s.changes[y*s.stride:][:s.stride]
	for b := first / block; b <= (last+1)/block; b++ {
		s.touched[y*s.blocks+b] = true
	}
	if first == last {
		behind := d * ((x0+x1)/2 - float32(first))
		row[first] += d - behind
		row[first+1] += behind
		return
	}
	// the part of d that each pixel passed takes, and how much of it falls behind it
	per := d / (x1 - x0)
	part := per * (float32(first+1) - x0)
	behind := part * (x0 - float32(first) + 1) / 2
	row[first] += part - behind
	row[first+1] += behind
	for x := first + 1; x < last; x++ {
		row[x] += per / 2
		row[x+1] += per / 2
	}
	part = per * (x1 - float32(last))
	behind = part * (x1 - float32(last)) / 2
	row[last] += part - behind
	row[last+1] += behind
}

// runs tells of every run of pixels that the area may cover: its row, where it
// begins and how far each pixel is covered. It ends the area.
func (s *sweep) runs(tell func(y, x int, cover []uint8)) {
	for y := range s.height {
		row, touched := s.changes[y*s.stride:][:s.stride], s.touched[y*s.blocks:][:s.blocks]
		begun, sum := -1, float32(0)
		for b := range touched {
			x := b * block
			switch {
			case touched[b]:
				sum = s.settle(row[x:x+block], s.row[x:x+block], sum)
				touched[b] = false
			case coverOf(sum) == 0:
				if begun >= 0 {
					tell(y, begun, s.row[begun:min(x, s.width)])
				}
				begun = -1
				continue
			default:
				same(s.row[x:x+block], coverOf(sum))
			}
			if begun < 0 {
				begun = x
			}
		}
		if begun >= 0 && begun < s.width {
			tell(y, begun, s.row[begun:s.width])
		}
	}
}

// settle sums changes up to covers, and leaves no change behind.
func (s *sweep) settle(changes []float32, covers []uint8, sum float32) float32 {
	covers = covers[:len(changes)]
	for i, c := range changes {
		sum += c
		covers[i] = coverOf(sum)
		changes[i] = 0
	}
	return sum
}

func coverOf(sum float32) uint8 { return uint8(min(max(sum, -sum), 1)*255 + .5) }

func same(covers []uint8, c uint8) {
	for i := range covers {
		covers[i] = c
	}
}
