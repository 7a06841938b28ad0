package drawing

import "math"

// Operation is one step of a path.
type Operation uint8

// The operations of a path.
const (
	Move  Operation = iota // begin a new outline at P[0]
	Line                   // straight to P[0]
	Cubic                  // Bézier curve by controls P[0], P[1] to P[2]
	Close                  // straight back to where the outline began
)

// Segment is one step of a path with its points.
type Segment struct {
	Operation Operation
	P         [3]Point
}

// Path is a list of outlines. Filling counts windings (non-zero).
type Path []Segment

// MoveTo begins a new outline.
func (p *Path) MoveTo(a Point) { *p = append(*p, Segment{Move, [3]Point{a}}) }

// LineTo goes straight to a; in an empty path it begins an outline.
func (p *Path) LineTo(a Point) {
	if len(*p) == 0 {
		p.MoveTo(a)
		return
	}
	*p = append(*p, Segment{Line, [3]Point{a}})
}

// CubicTo goes to c by the controls a and b.
func (p *Path) CubicTo(a, b, c Point) { *p = append(*p, Segment{Cubic, [3]Point{a, b, c}}) }

// Close ends the outline where it began.
func (p *Path) Close() { *p = append(*p, Segment{Operation: Close}) }

// Append adds the outlines of q.
func (p *Path) Append(q Path) { *p = append(*p, q...) }

// SmoothTo goes on smoothly (Catmull–Rom) through pts; pts[0] is where the path stands.
func (p *Path) SmoothTo(pts []Point) {
	for i := 0; i+1 < len(pts); i++ {
		a, b := pts[i], pts[i+1]
		before, after := pts[max(i-1, 0)], pts[min(i+2, len(pts)-1)]
		p.CubicTo(a.Add(b.Sub(before).Mul(1.0/6)), b.Sub(after.Sub(a).Mul(1.0/6)), b)
	}
}

// Polygon is a closed outline of straight edges.
func Polygon(pts ...Point) Path {
	p := Polyline(pts...)
	if len(p) > 0 {
		p.Close()
	}
	return p
}

// Polyline is an open line of straight edges.
func Polyline(pts ...Point) Path {
	var p Path
	for _, a := range pts {
		p.LineTo(a)
	}
	return p
}

// Curve is an open smooth line through pts.
func Curve(pts ...Point) Path {
	var p Path
	if len(pts) > 0 {
		p.MoveTo(pts[0])
		p.SmoothTo(pts)
	}
	return p
}

// Blob is a closed smooth outline through pts.
func Blob(pts ...Point) Path {
	var p Path
	n := len(pts)
	if n == 0 {
		return p
	}
	at := func(i int) Point { return pts[(i+n)%n] }
	p.MoveTo(pts[0])
	for i := range n {
		a, b := at(i), at(i+1)
		p.CubicTo(a.Add(b.Sub(at(i-1)).Mul(1.0/6)), b.Sub(at(i+2).Sub(a).Mul(1.0/6)), b)
	}
	p.Close()
	return p
}

// The control length that makes four cubics the best circle.
const roundness = 0.5522847498

// Ellipse is a closed ellipse about c, turned by an angle in radians.
func Ellipse(c Point, rx, ry, angle float64) Path {
	const k = roundness
	var p Path
	p.MoveTo(Point{1, 0})
	p.CubicTo(Point{1, k}, Point{k, 1}, Point{0, 1})
	p.CubicTo(Point{-k, 1}, Point{-1, k}, Point{-1, 0})
	p.CubicTo(Point{-1, -k}, Point{-k, -1}, Point{0, -1})
	p.CubicTo(Point{k, -1}, Point{1, -k}, Point{1, 0})
	p.Close()
	return p.Transform(Scale(rx, ry).Then(Rotate(angle)).Then(Translate(c.X, c.Y)))
}

// Circle is a closed circle about c.
func Circle(c Point, r float64) Path { return Ellipse(c, r, r, 0) }

// Arc is an open piece of a circle about c, from one angle to another in radians.
func Arc(c Point, r, from, to float64) Path {
	n := max(1, int(math.Ceil(math.Abs(to-from)/(math.Pi/2))))
	step := (to - from) / float64(n)
	k := 4.0 / 3 * math.Tan(step/4)
	var p Path
	on := func(a float64) (at, along Point) {
		s, co := math.Sincos(a)
		return Point{c.X + r*co, c.Y + r*s}, Point{-r * s * k, r * co * k}
	}
	a, da := on(from)
	p.MoveTo(a)
	for i := range n {
		b, db := on(from + step*float64(i+1))
		p.CubicTo(a.Add(da), b.Sub(db), b)
		a, da = b, db
	}
	return p
}

// RoundedBox is a box with round corners of radius r, less where it is too small.
func RoundedBox(b Rectangle, r float64) Path {
	r = max(min(r, b.Width()/2, b.Height()/2), 0)
	k := r * (1 - roundness)
	x0, y0, x1, y1 := b.Min.X, b.Min.Y, b.Max.X, b.Max.Y
	var p Path
	p.MoveTo(Point{x0 + r, y0})
	p.LineTo(Point{x1 - r, y0})
	p.CubicTo(Point{x1 - k, y0}, Point{x1, y0 + k}, Point{x1, y0 + r})
	p.LineTo(Point{x1, y1 - r})
	p.CubicTo(Point{x1, y1 - k}, Point{x1 - k, y1}, Point{x1 - r, y1})
	p.LineTo(Point{x0 + r, y1})
	p.CubicTo(Point{x0 + k, y1}, Point{x0, y1 - k}, Point{x0, y1 - r})
	p.LineTo(Point{x0, y0 + r})
	p.CubicTo(Point{x0, y0 + k}, Point{x0 + k, y0}, Point{x0 + r, y0})
	p.Close()
	return p
}

// Transform is the path mapped by m.
func (p Path) Transform(m Matrix) Path {
	q := make(Path, len(p))
	for i, s := range p {
		q[i] = Segment{s.Operation, [3]Point{m.Apply(s.P[0]), m.Apply(s.P[1]), m.Apply(s.P[2])}}
	}
	return q
}

// Bounds is the smallest upright box around the path's points and controls; the
// curves lie within it. An empty path has an empty box.
func (p Path) Bounds() Rectangle {
	r := nothing()
	for _, s := range p {
		for _, q := range s.points() {
			r = r.Union(Rectangle{q, q})
		}
	}
	if r.Min.X > r.Max.X {
		return Rectangle{}
	}
	return r
}

func nothing() Rectangle {
	return Box(math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1))
}

func (s *Segment) points() []Point {
	switch s.Operation {
	case Cubic:
		return s.P[:]
	case Close:
		return nil
	}
	return s.P[:1]
}

// Flatten is the path as polylines that keep within tolerance of it. Closed
// outlines end with the point they began with.
func (p Path) Flatten(tolerance float64) Polylines {
	var out Polylines
	var line []Point
	flush := func() {
		if len(line) > 1 {
			out = append(out, line)
		}
		line = nil
	}
	for _, s := range p {
		switch s.Operation {
		case Move:
			flush()
			line = []Point{s.P[0]}
		case Line:
			line = append(line, s.P[0])
		case Cubic:
			line = flattenCubic(line, s.P, tolerance)
		case Close:
			if len(line) > 0 {
				line = append(line, line[0])
			}
		}
	}
	flush()
	return out
}

// flattenCubic cuts the curve into as many even pieces as its second
// difference asks for: the error of n pieces is at most √3/18·|d|·6/n² < 3/4·|d|/n².
func flattenCubic(line []Point, c [3]Point, tolerance float64) []Point {
	a := line[len(line)-1]
	d1 := a.Sub(c[0].Mul(2)).Add(c[1])
	d2 := c[0].Sub(c[1].Mul(2)).Add(c[2])
	n := int(math.Ceil(math.Sqrt(math.Sqrt(max(d1.Dot(d1), d2.Dot(d2))) * 0.75 / tolerance)))
	n = max(1, min(n, 64))
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		u := 1 - t
		w0, w1, w2, w3 := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
		line = append(line, Point{
			w0*a.X + w1*c[0].X + w2*c[1].X + w3*c[2].X,
			w0*a.Y + w1*c[0].Y + w2*c[1].Y + w3*c[2].Y,
		})
	}
	return append(line, c[2])
}

// Polylines are lines of straight edges. As an area, each is closed by a
// straight edge from its last point to its first.
type Polylines [][]Point

// Bounds is the smallest upright box around all points.
func (l Polylines) Bounds() Rectangle {
	r := nothing()
	for _, line := range l {
		for _, p := range line {
			r = r.Union(Rectangle{p, p})
		}
	}
	if r.Min.X > r.Max.X {
		return Rectangle{}
	}
	return r
}

// Inside reports whether the winding number round p is not zero. Areas that
// share an edge point for point share out the points on it: each is inside
// exactly one of them.
func (l Polylines) Inside(p Point) bool {
	winding := 0
	for _, line := range l {
		for i := range line {
			winding += crossing(line[i], line[(i+1)%len(line)], p)
		}
	}
	return winding != 0
}

// crossing is ±1 if the edge crosses the ray from p to the right. The edge is
// always measured from its upper end, so that both directions round alike.
func crossing(a, b, p Point) int {
	if (a.Y <= p.Y) == (b.Y <= p.Y) {
		return 0
	}
	direction := 1
	if a.Y > b.Y {
		a, b, direction = b, a, -1
	}
	if a.X+(p.Y-a.Y)*(b.X-a.X)/(b.Y-a.Y) > p.X {
		return direction
	}
	return 0
}

// Area is the signed area, positive where the outline runs from x towards y.
func (l Polylines) Area() float64 {
	var sum float64
	for _, line := range l {
		for i, a := range line {
			b := line[(i+1)%len(line)]
			sum += a.X*b.Y - b.X*a.Y
		}
	}
	return sum / 2
}

// Distance is how far p is from the nearest edge; infinite without edges.
func (l Polylines) Distance(p Point) float64 {
	best := math.Inf(1)
	for _, line := range l {
		for i := 0; i+1 < len(line); i++ {
			best = min(best, squaredDistance(line[i], line[i+1], p))
		}
	}
	return math.Sqrt(best)
}

func squaredDistance(a, b, p Point) float64 {
	d := b.Sub(a)
	k := 0.0
	if n := d.Dot(d); n > 0 {
		k = max(0, min(1, p.Sub(a).Dot(d)/n))
	}
	e := p.Sub(a.Add(d.Mul(k)))
	return e.Dot(e)
}
