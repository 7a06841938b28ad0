package raster_test

import (
	"bytes"
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

	"coilward/export/pdf"
	"coilward/model"
	"coilward/model/body"
	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/ui/widgets/raster"
)

// dotsPerInch is the density that both pictures are compared at.
const dotsPerInch = 100

// onScreen draws on a white picture of whole pixels.
func onScreen(w, h int, draws func(drawing.Pen)) *image.RGBA {
	picture := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(picture, picture.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
	draws(raster.NewPen(picture, drawing.LightPalette()))
	return picture
}

// onPaper draws the same on a page of a PDF and makes a picture of the page.
func onPaper(t *testing.T, w, h int, draws func(drawing.Pen)) image.Image {
	t.Helper()
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		t.Skip("pdftoppm is not installed: paper and screen cannot be compared")
	}
	const millimetres = 25.4 / dotsPerInch
	var page bytes.Buffer
	err := pdf.Drawing(&page, float64(w)*millimetres, float64(h)*millimetres, drawing.Scale(millimetres, millimetres), drawing.LightPalette(), draws)
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "page")
	if err := os.WriteFile(name+".pdf", page.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("pdftoppm", "-png", "-singlefile", "-r", fmt.Sprint(dotsPerInch), name+".pdf", name).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	file, err := os.Open(name + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	picture, err := png.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	return picture
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

// TestPaperEqualsScreen: every view on paper differs from its screen picture by
// less than 1 % (root mean square), and not by nothing but an empty page.
func TestPaperEqualsScreen(t *testing.T) {
	for _, id := range body.Views() {
		t.Run(string(id), func(t *testing.T) {
			const w = 1600
			box := body.Bounds(id)
			h := int(w * box.Height() / box.Width())
			draws := func(pen drawing.Pen) {
				body.Draw(drawing.Through(pen, drawing.Fit(box, w, float64(h), 0)), id, body.Options{Flat: true})
			}
			screen := onScreen(w, h, draws)
			difference := apart(t, screen, onPaper(t, w, h, draws))
			t.Logf("%.3f %%", 100*difference)
			if difference >= .01 {
				t.Errorf("paper and screen differ by %.2f %%", 100*difference)
			}
			if blank := apart(t, screen, onScreen(w, h, func(drawing.Pen) {})); blank < .05 {
				t.Errorf("the drawing differs from an empty page by only %.2f %%", 100*blank)
			}
		})
	}
}

// TestChartsOnPaper does the same for a chart's lines and areas, within 2 %: the
// page's renderer moves hairlines to whole pixels. Letters are set by different
// means and left out.
func TestChartsOnPaper(t *testing.T) {
	values := make([]chart.Value, 40)
	for i := range values {
		values[i] = chart.Value{Day: 20000 + model.Day(17*i), Amount: 100 + float64(i*i)}
	}
	line := chart.NewLine(chart.LineData{Values: values, Unit: "g"}, 900, 420, 14)
	draws := func(pen drawing.Pen) { line.Draw(wordless{pen}) }
	if d := apart(t, onScreen(900, 420, draws), onPaper(t, 900, 420, draws)); d >= .02 {
		t.Errorf("paper and screen differ by %.2f %%", 100*d)
	}
}

// wordless is a pen that leaves texts out.
type wordless struct{ drawing.Pen }

func (wordless) Text(drawing.Text) {}
