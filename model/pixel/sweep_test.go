package pixel

import (
	"image"
	"image/draw"
	"math"
	"testing"

	"golang.org/x/image/vector"
	"pgregory.net/rapid"

	"coilward/model/drawing"
)

// exact is how another rasteriser covers a box, drawn on a board so large that the
// whole area lies on it.
func exact(line []drawing.Point, box image.Rectangle) *image.Alpha {
	w, h := box.Dx(), box.Dy()
	var r vector.Rasterizer
	r.Reset(max(9*w, 600), 9*h) // below 512 it reckons less exactly
	r.DrawOp = draw.Src
	for i, p := range line {
		if x, y := float32(p.X)+float32(4*w), float32(p.Y)+float32(4*h); i == 0 {
			r.MoveTo(x, y)
		} else {
			r.LineTo(x, y)
		}
	}
	r.ClosePath()
	board, out := image.NewAlpha(image.Rect(0, 0, max(9*w, 600), 9*h)), image.NewAlpha(box)
	r.Draw(board, board.Rect, image.Opaque, image.Point{})
	draw.Draw(out, box, board, image.Point{X: 4 * w, Y: 4 * h}, draw.Src)
	return out
}

// TestSweepCoversAsTheReference compares covers with those of another rasteriser,
// pixel by pixel, for areas that reach over the box on every side.
func TestSweepCoversAsTheReference(t *testing.T) {
	var s sweep // one for all: nothing of an area may stay for the next
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 80).Draw(t, "width"), rapid.IntRange(1, 12).Draw(t, "height")
		reach := rapid.SampledFrom([]float64{.2, 1, 3}).Draw(t, "reach")
		var line []drawing.Point
		for range rapid.IntRange(1, 9).Draw(t, "corners") {
			line = append(line, drawing.Point{
				X: rapid.Float64Range(-reach, 1+reach).Draw(t, "x") * float64(w),
				Y: rapid.Float64Range(-reach, 1+reach).Draw(t, "y") * float64(h),
			})
		}
		box := image.Rect(0, 0, w, h)
		got, want := image.NewAlpha(box), exact(line, box)
		s.load(drawing.Polylines{line}, box)
		s.runs(func(y, x int, cover []uint8) { copy(got.Pix[got.PixOffset(x, y):], cover) })
		for i := range want.Pix {
			if math.Abs(float64(got.Pix[i])-float64(want.Pix[i])) > 3 {
				t.Fatalf("pixel %d, %d of %v: covered by %d, want %d", i%w, i/w, line, got.Pix[i], want.Pix[i])
			}
		}
		for i, c := range s.changes[:cap(s.changes)] {
			if c != 0 {
				t.Fatalf("a change stays at %d", i)
			}
		}
	})
}
