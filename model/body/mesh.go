package body

import (
	"strings"

	"coilward/model/drawing"
)

// mesh shares out a drawing among regions by lines that neighbours have in
// common, point for point, so that no gap and no overlap is possible.
type mesh struct {
	lines   map[string][]drawing.Point
	regions []meshRegion
	outline drawing.Polylines
}

type meshRegion struct {
	id     RegionID
	area   drawing.Polylines
	box    drawing.Rectangle
	anchor drawing.Point
}

func newMesh() *mesh { return &mesh{lines: map[string][]drawing.Point{}} }

// line names the smooth line through pts. Names that begin with "-" are taken:
// "-a" is line a run backwards.
func (m *mesh) line(name string, pts ...drawing.Point) {
	if len(pts) == 2 { // straight, and exactly on the axis where both ends are
		m.lines[name] = pts
		return
	}
	m.lines[name] = drawing.Curve(pts...).Flatten(.05)[0]
}

// split names the pieces of one smooth line through pts: each name reaches from
// where the last ended to the point with the given index.
func (m *mesh) split(pts []drawing.Point, ends map[int]string) {
	whole := drawing.Curve(pts...)
	piece := drawing.Path{whole[0]}
	for i := 1; i < len(whole); i++ {
		piece = append(piece, whole[i])
		if name, ok := ends[i]; ok {
			m.lines[name] = piece.Flatten(.05)[0]
			piece = drawing.Path{{Operation: drawing.Move, P: [3]drawing.Point{whole[i].P[2]}}}
		}
	}
}

// splitWhole is split for half of a symmetric line that begins and ends on the
// axis: it meets its mirror image without a kink.
func (m *mesh) splitWhole(by drawing.Matrix, pts []drawing.Point, ends map[int]string) {
	n := len(pts)
	long := append([]drawing.Point{by.Apply(pts[1])}, pts...)
	long = append(long, by.Apply(pts[n-2]))
	shifted := map[int]string{1: "before", n + 1: "after"}
	for i, name := range ends {
		shifted[i+1] = name
	}
	m.split(long, shifted)
	delete(m.lines, "before")
	delete(m.lines, "after")
}

// reflect adds a mirror image "name'" of every line so far.
func (m *mesh) reflect(by drawing.Matrix) {
	for name, line := range m.lines {
		image := make([]drawing.Point, len(line))
		for i, p := range line {
			image[i] = by.Apply(p)
		}
		m.lines[name+"'"] = image
	}
}

// ring joins lines end to end to a closed ring: "a -b c'".
func (m *mesh) ring(names string) []drawing.Point {
	out := m.chain(names)
	if out[0] != out[len(out)-1] {
		panic("body: open ring " + names)
	}
	return out
}

// chain joins lines end to end.
func (m *mesh) chain(names string) []drawing.Point {
	var out []drawing.Point
	for _, name := range strings.Fields(names) {
		line := m.lines[strings.TrimPrefix(name, "-")]
		if line == nil {
			panic("body: no line " + name)
		}
		for i := range line {
			p := line[i]
			if name[0] == '-' {
				p = line[len(line)-1-i]
			}
			switch {
			case len(out) == 0 || i > 0:
				out = append(out, p)
			case out[len(out)-1] != p:
				panic("body: " + name + " does not begin where the line before it ends, in " + names)
			}
		}
	}
	return out
}

// region adds a region: a ring, less holes.
func (m *mesh) region(id RegionID, ring string, holes ...string) {
	area := drawing.Polylines{oriented(m.ring(ring), true)}
	for _, hole := range holes {
		area = append(area, oriented(m.ring(hole), false))
	}
	m.regions = append(m.regions, meshRegion{id, area, area.Bounds(), middle(area)})
}

// pair adds a region of the right side and its mirror image on the left.
func (m *mesh) pair(right, left RegionID, ring string, holes ...string) {
	m.region(right, ring, holes...)
	for i, h := range holes {
		holes[i] = primed(h)
	}
	m.region(left, primed(ring), holes...)
}

func primed(names string) string {
	f := strings.Fields(names)
	for i := range f {
		if strings.HasSuffix(f[i], "'") {
			f[i] = strings.TrimSuffix(f[i], "'")
		} else {
			f[i] += "'"
		}
	}
	return strings.Join(f, " ")
}

func (m *mesh) bound(ring string) { m.outline = drawing.Polylines{oriented(m.ring(ring), true)} }

func oriented(ring []drawing.Point, positive bool) []drawing.Point {
	if (drawing.Polylines{ring}.Area() > 0) == positive {
		return ring
	}
	out := make([]drawing.Point, len(ring))
	for i := range ring {
		out[i] = ring[len(ring)-1-i]
	}
	return out
}

// middle is a point well inside the area: of a grid's points, the one farthest
// from every edge.
func middle(area drawing.Polylines) drawing.Point {
	box := area.Bounds()
	best, at := -1.0, box.Centre()
	const n = 14
	for i := 1; i < n; i++ {
		for j := 1; j < n; j++ {
			p := drawing.Point{X: box.Min.X + box.Width()*float64(i)/n, Y: box.Min.Y + box.Height()*float64(j)/n}
			if !area.Inside(p) {
				continue
			}
			if d := area.Distance(p); d > best+1e-9 {
				best, at = d, p
			}
		}
	}
	return at
}

// find is the region that p lies in.
func (m *mesh) find(p drawing.Point) (RegionID, bool) {
	for i := range m.regions {
		if r := &m.regions[i]; r.box.Contains(p) && r.area.Inside(p) {
			return r.id, true
		}
	}
	return "", false
}

func (m *mesh) get(id RegionID) *meshRegion {
	for i := range m.regions {
		if m.regions[i].id == id {
			return &m.regions[i]
		}
	}
	return nil
}

// transformed is the mesh mapped by a matrix, for another frame of the same drawing.
func (m *mesh) transformed(by drawing.Matrix, rename func(RegionID) RegionID) *mesh {
	apply := func(l drawing.Polylines) drawing.Polylines {
		out := make(drawing.Polylines, len(l))
		for i, line := range l {
			out[i] = make([]drawing.Point, len(line))
			for j, p := range line {
				out[i][j] = by.Apply(p)
			}
		}
		return out
	}
	out := &mesh{outline: apply(m.outline)}
	for _, r := range m.regions {
		area := apply(r.area)
		out.regions = append(out.regions, meshRegion{rename(r.id), area, area.Bounds(), by.Apply(r.anchor)})
	}
	return out
}

func pathOf(lines drawing.Polylines) drawing.Path {
	var p drawing.Path
	for _, line := range lines {
		p.Append(drawing.Polygon(line[:len(line)-1]...))
	}
	return p
}
