package raster_test

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"coilward/export/paper"
	"coilward/export/pdf"
	"coilward/model"
	"coilward/model/body"
	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/model/pixel"
)

// dotsPerInch is the density that both pictures are compared at. The page is
// made into a picture finer times as dense and averaged: what makes it moves
// edges to whole dots, which the screen's pen does not.
const (
	dotsPerInch = 100
	finer       = 3
)

// onScreen draws on a white picture of whole pixels, in the colours for paper.
func onScreen(w, h int, draws func(drawing.Pen)) *image.RGBA {
	picture := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(picture, picture.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
	draws(pixel.NewPen(picture, drawing.PrintPalette()))
	return picture
}

// onPaper draws the same as a figure of a paper, as the health record does, and
// makes a picture of the figure on the finished page.
func onPaper(t *testing.T, w, h int, draws func(drawing.Pen)) image.Image {
	t.Helper()
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		t.Skip("pdftoppm is not installed: paper and screen cannot be compared")
	}
	const millimetres, foot = 25.4 / dotsPerInch, 20
	width, height := float64(w)*millimetres, float64(h)*millimetres
	figure := paper.Figure{H: height, Draw: paper.Drawn(func(pen drawing.Pen, _, _ float64) {
		draws(drawing.Through(pen, drawing.Scale(millimetres, millimetres)))
	})}
	name := filepath.Join(t.TempDir(), "page")
	document := paper.Document{Title: "figure", Size: paper.Size{W: width, H: height + foot}, Sections: []paper.Section{{Blocks: []paper.Block{figure}}}}
	if err := pdf.WriteFile(name+".pdf", document, time.Unix(0, 0)); err != nil {
		t.Fatal(err)
	}
	cut := []string{"-x", "0", "-y", "0", "-W", fmt.Sprint(finer * w), "-H", fmt.Sprint(finer * h)}
	if out, err := exec.Command("pdftoppm", append(cut, "-png", "-singlefile", "-r", fmt.Sprint(finer*dotsPerInch), name+".pdf", name)...).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	file, err := os.Open(name + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	fine, err := png.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	picture := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			picture.SetRGBA(x, y, average(fine, x, y))
		}
	}
	return picture
}

// average is the colour of a dot of a picture made finer times as dense.
func average(fine image.Image, x, y int) color.RGBA {
	var r, g, b int
	for k := range finer * finer {
		c := color.RGBAModel.Convert(fine.At(x*finer+k%finer, y*finer+k/finer)).(color.RGBA)
		r, g, b = r+int(c.R), g+int(c.G), b+int(c.B)
	}
	const n = finer * finer
	return color.RGBA{uint8((r + n/2) / n), uint8((g + n/2) / n), uint8((b + n/2) / n), 255}
}

// apart is the root mean square of the differences of all colour parts, as a
// share of the full range.
func apart(t *testing.T, a, b image.Image) float64 {
	t.Helper()
	if d := a.Bounds().Size().Sub(b.Bounds().Size()); d.X < -1 || d.X > 1 || d.Y < -1 || d.Y > 1 {
		t.Fatalf("pictures of %v and %v", a.Bounds().Size(), b.Bounds().Size())
	}
	box := image.Rectangle{Max: a.Bounds().Size()}.Intersect(image.Rectangle{Max: b.Bounds().Size()})
	var sum float64
	for y := range box.Max.Y {
		for x := range box.Max.X {
			p := color.RGBAModel.Convert(a.At(x, y)).(color.RGBA)
			q := color.RGBAModel.Convert(b.At(x, y)).(color.RGBA)
			for _, d := range []int{int(p.R) - int(q.R), int(p.G) - int(q.G), int(p.B) - int(q.B)} {
				sum += float64(d * d)
			}
		}
	}
	return math.Sqrt(sum/float64(3*box.Dx()*box.Dy())) / 255
}

// same fails where paper and screen differ by 1 % or more (root mean square), or
// where what is drawn differs from an empty page by less than blank.
func same(t *testing.T, w, h int, draws func(drawing.Pen), blank float64) {
	t.Helper()
	screen := onScreen(w, h, draws)
	difference := apart(t, screen, onPaper(t, w, h, draws))
	t.Logf("%.3f %%", 100*difference)
	if difference >= .01 {
		t.Errorf("paper and screen differ by %.2f %%", 100*difference)
	}
	if d := apart(t, screen, onScreen(w, h, func(drawing.Pen) {})); d < blank {
		t.Errorf("the drawing differs from an empty page by only %.2f %%", 100*d)
	}
}

// TestPaperEqualsScreen: every view on paper is as on the screen.
func TestPaperEqualsScreen(t *testing.T) {
	for _, id := range body.Views() {
		t.Run(string(id), func(t *testing.T) {
			const w = 800
			box := body.Bounds(id)
			h := int(w * box.Height() / box.Width())
			same(t, w, h, func(pen drawing.Pen) {
				body.Draw(drawing.Through(pen, drawing.Fit(box, w, float64(h), 0)), id, body.Options{Flat: true})
			}, .05)
		})
	}
}

// TestChartsOnPaper does the same for both charts that the papers have. Letters
// are set by different means and left out.
func TestChartsOnPaper(t *testing.T) {
	line := chart.LineData{Rows: []chart.Row{{Name: "meals"}, {Name: "sheds"}}}
	time := chart.BodyTimeData{From: 20000, To: 20700, Day: 20700, Zones: chart.Zones(func(id string) string { return id })}
	for i := range 40 {
		day := 20000 + model.Day(17*i)
		line.Values = append(line.Values, chart.Value{Day: day, Amount: 100 + float64(i*i), Apart: i%9 == 4})
		for k := range line.Rows {
			line.Rows[k].Marks = append(line.Rows[k].Marks, chart.Mark{Day: day, Shape: chart.Shape((i + k) % 3)})
		}
		time.Checks = append(time.Checks, day)
		if i%5 == 0 {
			time.Bars = append(time.Bars, chart.Bar{Place: body.OnTrunk(250*i, 0), Open: i%2 == 0, Quiet: i%4 == 0,
				Spans: []chart.Span{{From: day - 200, To: day - 90, Bad: i % 4}, {From: day - 30, To: day + 9, Bad: 1}, {From: day + 9, To: 20700, Bad: 3}}})
		}
	}
	const w, h, size = 1400, 700, 24
	for name, draws := range map[string]func(drawing.Pen){
		"line":          chart.NewLine(line, w, h, size).Draw,
		"body and time": chart.NewBodyTime(time, w, h, size).Draw,
	} {
		t.Run(name, func(t *testing.T) { same(t, w, h, func(pen drawing.Pen) { draws(wordless{pen}) }, .04) })
	}
}

// wordless is a pen that leaves texts out.
type wordless struct{ drawing.Pen }

func (wordless) Text(drawing.Text) {}
