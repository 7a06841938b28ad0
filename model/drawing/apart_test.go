package drawing_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model/drawing"
)

func TestSpread(t *testing.T) {
	for _, c := range []struct {
		name      string
		at, sizes []float64
		from, to  float64
		want      []float64
	}{
		{"none", nil, nil, 0, 10, nil},
		{"apart already", []float64{2, 8}, []float64{2, 2}, 0, 10, []float64{2, 8}},
		{"one spot", []float64{5, 5}, []float64{2, 2}, 0, 10, []float64{4, 6}},
		{"at an end", []float64{0, 0, 9}, []float64{2, 2, 2}, 0, 10, []float64{1, 3, 9}},
		{"unlike sizes", []float64{5, 5}, []float64{1, 3}, 0, 10, []float64{4, 6}},
		{"not in order", []float64{6, 4}, []float64{4, 4}, 0, 10, []float64{7, 3}},
		{"no room", []float64{5, 5, 5, 5}, []float64{4, 4, 4, 4}, 0, 8, []float64{1, 3, 5, 7}},
	} {
		got := drawing.Spread(c.at, c.sizes, c.from, c.to)
		for i, want := range c.want {
			if math.Abs(got[i]-want) > 1e-9 {
				t.Errorf("%s: %v, want %v", c.name, got, c.want)
				break
			}
		}
		if len(got) != len(c.at) {
			t.Errorf("%s: %d labels of %d", c.name, len(got), len(c.at))
		}
	}
}

func TestSpreadKeepsLabelsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const to = 400.0
		at := rapid.SliceOfN(rapid.Float64Range(-50, 450), 1, 20).Draw(t, "at")
		sizes := rapid.SliceOfN(rapid.Float64Range(1, 20), len(at), len(at)).Draw(t, "sizes")
		got := drawing.Spread(at, sizes, 0, to)
		order := make([]int, len(at))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return int(math.Copysign(1, got[a]-got[b])) })
		end := 0.0
		for k, i := range order {
			if got[i]-sizes[i]/2 < end-1e-6 {
				t.Fatalf("label %d begins at %.3f, before %.3f", i, got[i]-sizes[i]/2, end)
			}
			end = got[i] + sizes[i]/2
			if k > 0 && at[order[k-1]] > at[i] {
				t.Fatalf("order is not kept: %v → %v", at, got)
			}
		}
		if end > to+1e-6 {
			t.Fatalf("the last ends at %.3f", end)
		}
	})
}

func TestApart(t *testing.T) {
	within := drawing.Box(0, 0, 200, 200)
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		var points []drawing.Point
		for range n {
			points = append(points, drawing.Point{X: rapid.Float64Range(0, 200).Draw(t, "x"), Y: rapid.Float64Range(0, 200).Draw(t, "y")})
		}
		got := drawing.Apart(points, 10, within)
		for i, p := range got {
			if !within.Grow(1e-9).Contains(p) {
				t.Fatalf("%v lies outside", p)
			}
			for k := range i {
				if d := p.Sub(got[k]).Length(); d < 9 {
					t.Fatalf("%d and %d are %.2f apart, want 10", k, i, d)
				}
			}
		}
	})
	spot := []drawing.Point{{X: 50, Y: 50}, {X: 50, Y: 50}, {X: 120, Y: 50}}
	got := drawing.Apart(spot, 10, within)
	if got[2] != spot[2] || spot[0] != spot[1] || got[0].Sub(got[1]).Length() < 9.9 {
		t.Errorf("%v from %v", got, spot)
	}
}
