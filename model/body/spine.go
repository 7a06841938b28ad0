package body

import (
	"math"
	"sort"

	"coilward/model/drawing"
)

// Along the drawn animal, s runs from 0 at the snout over 1 at the vent to
// tailEnd at the tail tip; t runs across from −1 at the animal's right edge to +1
// at its left edge. The drawing gives the head and the tail more room than they
// have, so that they can be clicked; between them its scale is even.
const (
	tailEnd   = 1.16
	neckJoint = 0.094 // where the head's own drawing ends
	samples   = 480
)

// spine is a centre line sampled at equal steps of s, with half-widths.
type spine struct {
	points   []drawing.Point
	normals  []drawing.Point // unit vectors towards the drawing's t = +1
	half     []float64
	mirrored bool // seen from below: the animal's left is at the drawing's t = −1
}

type knot struct{ s, width float64 }

// profile is the drawn half-width along the animal, as a share of the greatest.
func profile() []knot {
	return []knot{
		{0, .30}, {.015, .46}, {.035, .58}, {.055, .56}, {.085, .50}, {.14, .60}, {.24, .78}, {.36, .93},
		{.50, 1}, {.64, .98}, {.78, .88}, {.90, .74}, {1, .60}, {1.05, .47}, {1.10, .31}, {1.14, .14}, {tailEnd, 0},
	}
}

// widthAt goes smoothly through the profile and never overshoots it (monotone
// cubic with harmonic slopes).
func widthAt(k []knot, s float64) float64 {
	i := sort.Search(len(k), func(i int) bool { return k[i].s >= s })
	if i <= 0 {
		return k[0].width
	}
	if i >= len(k) {
		return k[len(k)-1].width
	}
	a, b := k[i-1], k[i]
	h := b.s - a.s
	u := (s - a.s) / h
	ma, mb := slopeAt(k, i-1)*h, slopeAt(k, i)*h
	u2, u3 := u*u, u*u*u
	return (2*u3-3*u2+1)*a.width + (u3-2*u2+u)*ma + (-2*u3+3*u2)*b.width + (u3-u2)*mb
}

func slopeAt(k []knot, i int) float64 {
	if i == 0 {
		return (k[1].width - k[0].width) / (k[1].s - k[0].s)
	}
	if i == len(k)-1 {
		return (k[i].width - k[i-1].width) / (k[i].s - k[i-1].s)
	}
	l := (k[i].width - k[i-1].width) / (k[i].s - k[i-1].s)
	r := (k[i+1].width - k[i].width) / (k[i+1].s - k[i].s)
	if l*r <= 0 {
		return 0
	}
	return 2 * l * r / (l + r)
}

// newSpine lays the animal along a line, snout first; the line is resampled by
// its length.
func newSpine(line []drawing.Point, greatestHalf float64, mirrored bool) *spine {
	sp := &spine{mirrored: mirrored, points: resample(line, samples)}
	k := profile()
	for i := range sp.points {
		sp.half = append(sp.half, greatestHalf*widthAt(k, tailEnd*float64(i)/samples))
		d := sp.points[min(samples, i+1)].Sub(sp.points[max(0, i-1)])
		l := d.Length()
		sp.normals = append(sp.normals, drawing.Point{X: -d.Y / l, Y: d.X / l})
	}
	return sp
}

// resample puts n+1 points at equal distances along the line.
func resample(line []drawing.Point, n int) []drawing.Point {
	length := make([]float64, len(line))
	for i := 1; i < len(line); i++ {
		length[i] = length[i-1] + line[i].Sub(line[i-1]).Length()
	}
	out := make([]drawing.Point, 0, n+1)
	j := 0
	for i := range n + 1 {
		d := length[len(length)-1] * float64(i) / float64(n)
		for j+2 < len(length) && length[j+1] < d {
			j++
		}
		out = append(out, line[j].Lerp(line[j+1], (d-length[j])/(length[j+1]-length[j])))
	}
	return out
}

// meander is a sine-generated curve, the shape of rivers and of resting snakes:
// its heading swings as a sine of the way gone. It is fitted into the box.
func meander(box drawing.Rectangle) []drawing.Point {
	const n, waves, swing, phase = 3000, 2.36, 1.62, 0.42
	line := make([]drawing.Point, 0, n+1)
	var p drawing.Point
	for i := range n + 1 {
		u := float64(i) / n
		line = append(line, p)
		calm := 0.95 + 0.10*math.Sin(math.Pi*u) - 0.28*math.Pow(u, 8)
		s, c := math.Sincos(swing * calm * math.Sin(2*math.Pi*waves*u+phase))
		p = p.Add(drawing.Point{X: c, Y: s})
	}
	b := drawing.Polylines{line}.Bounds()
	k := min(box.Width()/b.Width(), box.Height()/b.Height())
	for i := range line {
		line[i] = line[i].Sub(b.Centre()).Mul(k).Add(box.Centre())
	}
	return line
}

// onPage is t as the drawing has it: mirrored when seen from below.
func (sp *spine) onPage(t float64) float64 {
	if sp.mirrored {
		return -t
	}
	return t
}

// frame is the centre, the normal and the half-width at s.
func (sp *spine) frame(s float64) (centre, normal drawing.Point, half float64) {
	f := s / tailEnd * samples
	i := max(0, min(samples-1, int(math.Floor(f))))
	k := f - float64(i)
	return sp.points[i].Lerp(sp.points[i+1], k), sp.normals[i].Lerp(sp.normals[i+1], k),
		max(sp.half[i]+(sp.half[i+1]-sp.half[i])*k, 0)
}

// at is the drawing's point at (s, t).
func (sp *spine) at(s, t float64) drawing.Point {
	c, n, w := sp.frame(s)
	return c.Add(n.Mul(w * sp.onPage(t)))
}

// heading is the unit vector from snout to tail at s.
func (sp *spine) heading(s float64) drawing.Point {
	_, n, _ := sp.frame(s)
	return drawing.Point{X: n.Y, Y: -n.X}.Mul(1 / n.Length())
}

// locate is the inverse of at: the (s, t) of a point on the body or near it.
func (sp *spine) locate(p drawing.Point) (s, t float64) {
	s = sp.nearest(p)
	g := func(s float64) float64 {
		c, n, _ := sp.frame(s)
		d := p.Sub(c)
		return d.X*n.Y - d.Y*n.X
	}
	const e = 1e-7
	for range 6 {
		slope := (g(s+e) - g(s-e)) / (2 * e)
		if slope == 0 {
			break
		}
		step := max(-.01, min(.01, g(s)/slope))
		s = max(0, min(tailEnd, s-step))
		if math.Abs(step) < 1e-9 {
			break
		}
	}
	c, n, w := sp.frame(s)
	if w == 0 {
		return s, math.Copysign(math.Inf(1), p.Sub(c).Dot(n))
	}
	return s, sp.onPage(p.Sub(c).Dot(n) / (w * n.Dot(n)))
}

// nearest is s of the sample nearest to p: first among every eighth, then around it.
func (sp *spine) nearest(p drawing.Point) float64 {
	best, at := math.Inf(1), 0
	look := func(i int) {
		d := p.Sub(sp.points[i])
		if dd := d.Dot(d); dd < best {
			best, at = dd, i
		}
	}
	for i := 0; i <= samples; i += 8 {
		look(i)
	}
	for i, to := max(0, at-8), min(samples, at+8); i <= to; i++ {
		look(i)
	}
	return tailEnd * float64(at) / samples
}

// edge is a row of points from s0 to s1 at t, fine enough to be joined smoothly.
func (sp *spine) edge(s0, s1, t float64) []drawing.Point {
	n := max(2, int(math.Ceil(math.Abs(s1-s0)/0.010)))
	out := make([]drawing.Point, 0, n+1)
	for i := range n + 1 {
		out = append(out, sp.at(s0+(s1-s0)*float64(i)/float64(n), t))
	}
	return out
}

// band is the closed outline of s0..s1 × t0..t1.
func (sp *spine) band(s0, s1, t0, t1 float64) drawing.Path {
	a, b := sp.edge(s0, s1, t0), sp.edge(s1, s0, t1)
	p := drawing.Curve(a...)
	p.LineTo(b[0])
	p.SmoothTo(b)
	p.Close()
	return p
}

// exactEdge is edge with every sample of the spine in it: joined straight, it is
// what locate reckons with, to within a hundredth of a unit.
func (sp *spine) exactEdge(s0, s1, t float64) []drawing.Point {
	const step = tailEnd / samples
	out := []drawing.Point{sp.at(s0, t)}
	for i := int(s0/step) + 1; float64(i)*step < s1; i++ {
		out = append(out, sp.at(float64(i)*step, t))
	}
	return append(out, sp.at(s1, t))
}

// exactBand is band with exact edges.
func (sp *spine) exactBand(s0, s1, t0, t1 float64) drawing.Path {
	a, b := sp.exactEdge(s0, s1, t0), sp.exactEdge(s0, s1, t1)
	for i := len(b) - 1; i >= 0; i-- {
		a = append(a, b[i])
	}
	return drawing.Polygon(a...)
}

// silhouette is the outline from s to the tail tip, open at s.
func (sp *spine) silhouette(from float64) drawing.Path {
	a, b := sp.edge(from, tailEnd, 1), sp.edge(tailEnd, from, -1)
	p := drawing.Curve(a...)
	p.SmoothTo(b)
	return p
}

// blob is a closed smooth shape through pairs of (s, t).
func (sp *spine) blob(st ...float64) drawing.Path { return drawing.Blob(sp.through(st)...) }

// curve is an open smooth line through pairs of (s, t).
func (sp *spine) curve(st ...float64) drawing.Path { return drawing.Curve(sp.through(st)...) }

func (sp *spine) through(st []float64) []drawing.Point {
	out := make([]drawing.Point, 0, len(st)/2)
	for i := 0; i+1 < len(st); i += 2 {
		out = append(out, sp.at(st[i], st[i+1]))
	}
	return out
}
