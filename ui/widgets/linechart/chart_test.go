package linechart_test

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/ui/widgets/linechart"
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

func TestLineChartTellsValues(t *testing.T) {
	test.NewTempApp(t)
	data := chart.LineData{Values: []chart.Value{{Day: 20000, Amount: 100}, {Day: 20010, Amount: 120}, {Day: 20100, Amount: 180}}}
	c := linechart.New(data, raster.Style{Palette: drawing.LightPalette})
	show(t, c)
	got := -1
	c.OnValue = func(i int) { got = i }
	c.Describe = func(i int) string { return []string{"first", "second", "last"}[i] }
	p := at(790, 40)
	c.Tapped(&p)
	if got != 2 {
		t.Errorf("a tap at the right end told value %d", got)
	}
	c.MouseMoved(&desktop.MouseEvent{PointEvent: p})
	if !texts(c)["last"] {
		t.Errorf("no words at the last value: %v", texts(c))
	}
	c.MouseOut()
	if texts(c)["last"] {
		t.Error("words stay when the pointer has left")
	}
}
