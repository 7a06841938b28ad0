package drawing_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"coilward/model/drawing"
)

func point(t *rapid.T, name string) drawing.Point {
	return drawing.Point{X: rapid.Float64Range(-500, 500).Draw(t, name+"X"), Y: rapid.Float64Range(-500, 500).Draw(t, name+"Y")}
}

func TestMatrixInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawing.Scale(rapid.Float64Range(.1, 9).Draw(t, "k"), -rapid.Float64Range(.1, 9).Draw(t, "l")).
			Then(drawing.Rotate(rapid.Float64Range(-7, 7).Draw(t, "angle"))).
			Then(drawing.Translate(rapid.Float64Range(-90, 90).Draw(t, "x"), 3))
		p := point(t, "p")
		if d := m.Inverse().Apply(m.Apply(p)).Sub(p).Length(); d > 1e-6 {
			t.Fatalf("there and back moves by %g", d)
		}
	})
}

func TestFit(t *testing.T) {
	m := drawing.Fit(drawing.Box(10, 20, 110, 70), 400, 400, 20)
	if a, b := m.Apply(drawing.Point{X: 10, Y: 20}), m.Apply(drawing.Point{X: 110, Y: 70}); a != (drawing.Point{X: 20, Y: 110}) || b != (drawing.Point{X: 380, Y: 290}) {
		t.Errorf("the box lies at %v–%v", a, b)
	}
	if k := drawing.Fit(drawing.Box(0, 0, 1, 1), 10, 10, 20).Factor(); k != 0 {
		t.Errorf("no room, yet factor %g", k)
	}
}

func TestAreas(t *testing.T) {
	for name, c := range map[string]struct {
		path drawing.Path
		want float64
	}{
		"circle":      {drawing.Circle(drawing.Point{X: 5, Y: 5}, 10), math.Pi * 100},
		"ellipse":     {drawing.Ellipse(drawing.Point{}, 10, 4, 1), math.Pi * 40},
		"rounded box": {drawing.RoundedBox(drawing.Box(0, 0, 30, 20), 5), 600 - (4-math.Pi)*25},
		"small box":   {drawing.RoundedBox(drawing.Box(0, 0, 4, 4), 99), math.Pi * 4},
		"square":      {drawing.Polygon(drawing.Points(0, 0, 3, 0, 3, 3, 0, 3)...), 9},
		"half circle": {drawing.Arc(drawing.Point{}, 10, 0, math.Pi), math.Pi * 50},
		"nothing":     {nil, 0},
	} {
		if got := c.path.Flatten(.001).Area(); math.Abs(got-c.want) > .01+c.want*.001 {
			t.Errorf("%s: area %.3f, want %.3f", name, got, c.want)
		}
	}
}

// TestFlattenKeepsWithinTolerance compares with a flattening a hundred times finer.
func TestFlattenKeepsWithinTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawing.Curve(point(t, "a"), point(t, "b"), point(t, "c"), point(t, "d"))
		const tolerance = .5
		coarse, fine := p.Flatten(tolerance), p.Flatten(tolerance/100)
		for _, q := range fine[0] {
			if d := coarse.Distance(q); d > tolerance {
				t.Fatalf("%v lies %.3f from the flattened path", q, d)
			}
		}
		if len(coarse[0]) > len(fine[0]) {
			t.Fatal("coarser has more points")
		}
	})
}

// TestNeighboursShareTheirBorder: of areas that share edges point for point,
// every point lies in exactly one, points on the edges too.
func TestNeighboursShareTheirBorder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c, d := drawing.Point{}, drawing.Point{X: 100}, drawing.Point{X: 100, Y: 100}, drawing.Point{Y: 100}
		m := drawing.Point{X: rapid.Float64Range(1, 99).Draw(t, "x"), Y: rapid.Float64Range(1, 99).Draw(t, "y")}
		parts := []drawing.Polylines{{{a, b, m}}, {{b, c, m}}, {{c, d, m}}, {{d, a, m}}}
		corner := []drawing.Point{a, b, c, d}[rapid.IntRange(0, 3).Draw(t, "corner")]
		p := m.Lerp(corner, rapid.Float64Range(0, .999).Draw(t, "k"))
		in := 0
		for _, l := range parts {
			if l.Inside(p) {
				in++
			}
		}
		if in != 1 {
			t.Fatalf("%v lies in %d parts", p, in)
		}
	})
}

func TestBoundsHoldTheCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawing.Blob(point(t, "a"), point(t, "b"), point(t, "c"))
		box := p.Bounds().Grow(1e-9)
		for _, q := range p.Flatten(.1)[0] {
			if !box.Contains(q) {
				t.Fatalf("%v outside %v", q, box)
			}
		}
	})
	if !(drawing.Path{}).Bounds().Empty() || !(drawing.Polylines{}).Bounds().Empty() {
		t.Error("nothing has bounds")
	}
}

func TestThroughMapsEverything(t *testing.T) {
	var r drawing.Recorder
	pen := drawing.Through(drawing.Through(&r, drawing.Translate(1, 1)), drawing.Scale(3, 3))
	square := drawing.Polygon(drawing.Points(0, 0, 1, 0, 1, 1)...)
	pen.Clip(square)
	pen.Fill(square, drawing.Skin, .5)
	pen.Unclip()
	pen.Stroke(square, 2, drawing.Ink, 1)
	pen.Text(drawing.Text{String: "a", At: drawing.Point{X: 1, Y: 2}, Size: 4})
	if len(r.Steps) != 5 || r.Steps[1].Path.Bounds() != drawing.Box(1, 1, 4, 4) || r.Steps[1].Opacity != .5 || r.Steps[3].Width != 6 {
		t.Errorf("%+v", r.Steps)
	}
	if text := r.Steps[4].Text; text.At != (drawing.Point{X: 4, Y: 7}) || text.Size != 12 {
		t.Errorf("%+v", text)
	}
	var again drawing.Recorder
	r.Replay(&again)
	if again.Bounds() != drawing.Box(-2, -2, 7, 7) || len(again.Steps) != 5 {
		t.Errorf("replayed: %v, %d steps", again.Bounds(), len(again.Steps))
	}
}

func TestPalettesNameEveryRole(t *testing.T) {
	for name, p := range map[string]drawing.Palette{"light": drawing.LightPalette(), "dark": drawing.DarkPalette(), "print": drawing.PrintPalette()} {
		for r := range drawing.RoleCount {
			if p[r].A != 255 {
				t.Errorf("%s: role %d has no colour", name, r)
			}
		}
	}
}
