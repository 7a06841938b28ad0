package bodytime_test

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/ui/widgets/bodytime"
	"coilward/ui/widgets/raster"
)

func show(t *testing.T, o fyne.CanvasObject) {
	win := test.NewTempWindow(t, o)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(800, 300))
}

func at(x, y float64) fyne.PointEvent {
	return fyne.PointEvent{Position: fyne.NewPos(float32(x), float32(y))}
}

// texts are the words that a widget shows.
func texts(o fyne.Widget) map[string]bool {
	out := map[string]bool{}
	for _, s := range test.WidgetRenderer(o).Objects() {
		if text, ok := s.(*canvas.Text); ok && text.Visible() {
			out[text.Text] = true
		}
	}
	return out
}

func TestBodyTimeTellsDaysAndBars(t *testing.T) {
	test.NewTempApp(t)
	data := chart.BodyTimeData{From: 20000, To: 20365, Day: 20300, Bars: []chart.Bar{
		{Number: 1, Text: "lump", Place: body.OnTrunk(5000, 90), Spans: []chart.Span{{From: 20100, To: 20200, Bad: 2}}}}}
	c := bodytime.New(data, raster.Style{Palette: drawing.LightPalette})
	show(t, c)
	layout := chart.NewBodyTime(c.Data, float64(c.Size().Width), float64(c.Size().Height), 12)
	var bar = -1
	var day model.Day
	c.OnBar = func(i int) { bar = i }
	c.OnDay = func(d model.Day) { day = d; c.Data.Day = d; c.Refresh() }
	c.Describe = func(int) string { return "a lump" }
	p := at(layout.Bars[0].Centre().X, layout.Bars[0].Centre().Y)
	c.Tapped(&p)
	if bar != 0 || day != 0 {
		t.Errorf("a tap on the bar told bar %d, day %d", bar, day)
	}
	c.MouseMoved(&desktop.MouseEvent{PointEvent: p})
	if !texts(c)["a lump"] {
		t.Errorf("no tip at the bar: %v", texts(c))
	}
	c.Dragged(&fyne.DragEvent{PointEvent: at(layout.Plot.Min.X, layout.Plot.Min.Y+5)})
	if day != 20000 {
		t.Errorf("dragged to the beginning: day %d", day)
	}
	c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if day != 20001 {
		t.Errorf("right: day %d", day)
	}
	c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
	c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyPageUp})
	if day != 20335 {
		t.Errorf("thirty days before the end: day %d", day)
	}
}
