package yearstrip_test

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/ui/widgets/raster"
	"coilward/ui/widgets/yearstrip"
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

func TestYearStripTellsMonths(t *testing.T) {
	test.NewTempApp(t)
	s := yearstrip.New(chart.YearsData{FirstYear: 2025, Counts: make([]int, 24), From: 1}, raster.Style{Palette: drawing.LightPalette})
	show(t, s)
	got := -1
	s.OnMonth = func(i int) { got = i }
	p := at(799, 10)
	s.Tapped(&p)
	if got != 23 {
		t.Errorf("the right end is month %d", got)
	}
	if !texts(s)["2025"] || !texts(s)["2026"] {
		t.Errorf("years named: %v", texts(s))
	}
}
