package pixel_test

import (
	"image"
	"image/color"
	"math"
	"testing"

	"coilward/model/body"
	"coilward/model/drawing"
	"coilward/model/pixel"
)

func blank(w, h int) *image.RGBA { return image.NewRGBA(image.Rect(0, 0, w, h)) }

// cover is the sum of all opacities: the area painted, in pixels.
func cover(p *image.RGBA) float64 {
	sum := 0.0
	for i := 3; i < len(p.Pix); i += 4 {
		sum += float64(p.Pix[i])
	}
	return sum / 255
}

func TestPenPaintsTheRightArea(t *testing.T) {
	circle := drawing.Circle(drawing.Point{X: 50, Y: 50}, 30)
	line := drawing.Polyline(drawing.Points(20, 20, 80, 20)...)
	for name, c := range map[string]struct {
		draw func(*pixel.Pen)
		want float64
	}{
		"disc":          {func(p *pixel.Pen) { p.Fill(circle, drawing.Ink, 1) }, math.Pi * 900},
		"half opaque":   {func(p *pixel.Pen) { p.Fill(circle, drawing.Ink, .5) }, math.Pi * 450},
		"ring":          {func(p *pixel.Pen) { p.Stroke(circle, 6, drawing.Ink, 1) }, math.Pi * (33*33 - 27*27)},
		"line, round":   {func(p *pixel.Pen) { p.Stroke(line, 10, drawing.Ink, 1) }, 600 + math.Pi*25},
		"thinnest line": {func(p *pixel.Pen) { p.Stroke(line, .01, drawing.Ink, 1) }, 60 * .7},
		"clipped": {func(p *pixel.Pen) {
			p.Clip(drawing.Polygon(drawing.Points(0, 0, 50, 0, 50, 100, 0, 100)...))
			p.Fill(circle, drawing.Ink, 1)
		}, math.Pi * 450},
		"unclipped": {func(p *pixel.Pen) { p.Clip(line); p.Unclip(); p.Fill(circle, drawing.Ink, 1) }, math.Pi * 900},
		"clip beside": {func(p *pixel.Pen) {
			p.Clip(circle.Transform(drawing.Translate(500, 0)))
			p.Fill(circle, drawing.Ink, 1)
		}, 0},
		"beside":        {func(p *pixel.Pen) { p.Fill(circle.Transform(drawing.Translate(500, 0)), drawing.Ink, 1) }, 0},
		"partly beside": {func(p *pixel.Pen) { p.Fill(circle.Transform(drawing.Translate(50, 0)), drawing.Ink, 1) }, math.Pi * 450},
		"nothing":       {func(p *pixel.Pen) { p.Fill(nil, drawing.Ink, 1) }, 0},
		"overlapping twice": {func(p *pixel.Pen) {
			both := append(drawing.Path{}, circle...)
			both.Append(circle)
			p.Fill(both, drawing.Ink, 1)
		}, math.Pi * 900},
	} {
		picture := blank(100, 100)
		c.draw(pixel.NewPen(picture, drawing.LightPalette()))
		if got := cover(picture); math.Abs(got-c.want) > 3+c.want*.012 {
			t.Errorf("%s: %.1f pixels painted, want %.1f", name, got, c.want)
		}
	}
}

func TestPenKeepsTexts(t *testing.T) {
	pen := pixel.NewPen(blank(10, 10), drawing.LightPalette())
	body := drawing.Through(pen, drawing.Scale(2, 2))
	body.Text(drawing.Text{String: "62 %", At: drawing.Point{X: 3, Y: 4}, Size: 6})
	if len(pen.Texts) != 1 || pen.Texts[0].At != (drawing.Point{X: 6, Y: 8}) || pen.Texts[0].Size != 12 {
		t.Errorf("%+v", pen.Texts)
	}
}

// TestLampFadesTheRest: within the lit part colours stay nearly as they are,
// outside they fade, and no line runs between two parts that touch.
func TestLampFadesTheRest(t *testing.T) {
	picture := blank(100, 40)
	pen := pixel.NewPen(picture, drawing.LightPalette())
	pen.Fill(drawing.Polygon(drawing.Points(0, 0, 100, 0, 100, 40, 0, 40)...), drawing.Ink, 1)
	box := func(x0, x1 float64) drawing.Path {
		return drawing.Polygon(drawing.Points(x0, 10, x1, 10, x1, 30, x0, 30)...)
	}
	pixel.Lamp(picture, drawing.LightPalette(), []drawing.Path{box(20, 40), box(40, 60)}, 2)
	if a := picture.RGBAAt(90, 20).A; a < 110 || a > 125 {
		t.Errorf("unlit opacity %d, want about 46 %%", a)
	}
	within, seam := picture.RGBAAt(30, 20), picture.RGBAAt(40, 20)
	if within != seam || within.A != 255 {
		t.Errorf("within %v, on the seam %v", within, seam)
	}
	want := drawing.LightPalette()[drawing.LitLine]
	if got := picture.RGBAAt(19, 20); got != (color.RGBA{want.R, want.G, want.B, 255}) {
		t.Errorf("the outline is %v, want %v", got, want)
	}
}

// BenchmarkRedraw is one whole drawing of a view after a change of size or
// theme, at 1600×900.
func BenchmarkRedraw(b *testing.B) {
	for _, id := range body.Views() {
		b.Run(string(id), func(b *testing.B) {
			for b.Loop() {
				pen := pixel.NewPen(blank(1600, 900), drawing.LightPalette())
				body.Draw(drawing.Through(pen, drawing.Fit(body.Bounds(id), 1600, 900, 14)), id, body.Options{})
			}
		})
	}
}

// BenchmarkRedrawAndLamp is a redraw with one region under the lamp.
func BenchmarkRedrawAndLamp(b *testing.B) {
	fit := drawing.Fit(body.Bounds(body.Above), 1600, 900, 14)
	outline := body.Outline(body.Above, body.HindLeft).Transform(fit)
	for b.Loop() {
		picture := blank(1600, 900)
		body.Draw(drawing.Through(pixel.NewPen(picture, drawing.LightPalette()), fit), body.Above, body.Options{})
		pixel.Lamp(picture, drawing.LightPalette(), []drawing.Path{outline}, 2.4)
	}
}
