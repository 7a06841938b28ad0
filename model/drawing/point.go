package drawing

import "math"

// Point is a point of a drawing, in the drawing's own units; y grows downward.
type Point struct{ X, Y float64 }

// Add is the sum of both as vectors.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub is the vector from q to p.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Mul is p stretched by k.
func (p Point) Mul(k float64) Point { return Point{p.X * k, p.Y * k} }

// Dot is the scalar product.
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }

// Length is the distance from the origin.
func (p Point) Length() float64 { return math.Hypot(p.X, p.Y) }

// Lerp is the point a share k of the way from p to q.
func (p Point) Lerp(q Point, k float64) Point {
	return Point{p.X + (q.X-p.X)*k, p.Y + (q.Y-p.Y)*k}
}

// Points makes points of pairs of numbers: x, y, x, y …; a last odd number is dropped.
func Points(xy ...float64) []Point {
	out := make([]Point, 0, len(xy)/2)
	for i := 0; i+1 < len(xy); i += 2 {
		out = append(out, Point{xy[i], xy[i+1]})
	}
	return out
}

// Rectangle is an upright box from its least to its greatest corner.
type Rectangle struct{ Min, Max Point }

// Box is the rectangle between two corners, x0 <= x1 and y0 <= y1.
func Box(x0, y0, x1, y1 float64) Rectangle {
	return Rectangle{Point{x0, y0}, Point{x1, y1}}
}

// Width is the box's extent along x.
func (r Rectangle) Width() float64 { return r.Max.X - r.Min.X }

// Height is the box's extent along y.
func (r Rectangle) Height() float64 { return r.Max.Y - r.Min.Y }

// Centre is the middle of the box.
func (r Rectangle) Centre() Point { return r.Min.Lerp(r.Max, .5) }

// Contains reports whether the point lies in the box or on its edge.
func (r Rectangle) Contains(p Point) bool {
	return p.X >= r.Min.X && p.X <= r.Max.X && p.Y >= r.Min.Y && p.Y <= r.Max.Y
}

// Empty reports whether the box encloses no area.
func (r Rectangle) Empty() bool { return !(r.Max.X > r.Min.X && r.Max.Y > r.Min.Y) }

// Union is the smallest box around both.
func (r Rectangle) Union(s Rectangle) Rectangle {
	return Box(min(r.Min.X, s.Min.X), min(r.Min.Y, s.Min.Y), max(r.Max.X, s.Max.X), max(r.Max.Y, s.Max.Y))
}

// Grow is the box with d added on every side.
func (r Rectangle) Grow(d float64) Rectangle {
	return Box(r.Min.X-d, r.Min.Y-d, r.Max.X+d, r.Max.Y+d)
}

// Matrix is the affine map x' = A·x + C·y + E, y' = B·x + D·y + F.
type Matrix struct{ A, B, C, D, E, F float64 }

// Translate moves by (x, y).
func Translate(x, y float64) Matrix { return Matrix{1, 0, 0, 1, x, y} }

// Scale stretches by x and y about the origin.
func Scale(x, y float64) Matrix { return Matrix{x, 0, 0, y, 0, 0} }

// Rotate turns by an angle in radians about the origin, from x towards y.
func Rotate(angle float64) Matrix {
	s, c := math.Sincos(angle)
	return Matrix{c, s, -s, c, 0, 0}
}

// Then is the map that applies m first and n after it.
func (m Matrix) Then(n Matrix) Matrix {
	return Matrix{
		n.A*m.A + n.C*m.B, n.B*m.A + n.D*m.B,
		n.A*m.C + n.C*m.D, n.B*m.C + n.D*m.D,
		n.A*m.E + n.C*m.F + n.E, n.B*m.E + n.D*m.F + n.F,
	}
}

// Apply maps a point.
func (m Matrix) Apply(p Point) Point {
	return Point{m.A*p.X + m.C*p.Y + m.E, m.B*p.X + m.D*p.Y + m.F}
}

// Inverse is the map back. A map that flattens the plane has none; its inverse
// maps everything to not-a-number.
func (m Matrix) Inverse() Matrix {
	det := m.A*m.D - m.B*m.C
	i := Matrix{A: m.D / det, B: -m.B / det, C: -m.C / det, D: m.A / det}
	i.E = -(i.A*m.E + i.C*m.F)
	i.F = -(i.B*m.E + i.D*m.F)
	return i
}

// Factor is the mean stretch of lengths.
func (m Matrix) Factor() float64 { return math.Sqrt(math.Abs(m.A*m.D - m.B*m.C)) }

// Fit maps the box into width × height, as large as it goes, centred, with a
// margin all round.
func Fit(box Rectangle, width, height, margin float64) Matrix {
	k := max(min((width-2*margin)/box.Width(), (height-2*margin)/box.Height()), 0)
	c := box.Centre()
	return Translate(-c.X, -c.Y).Then(Scale(k, k)).Then(Translate(width/2, height/2))
}
