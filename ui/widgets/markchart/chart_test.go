package markchart_test

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/ui/widgets/markchart"
	"coilward/ui/widgets/raster"
)

func shown(t *testing.T, looks ...chart.Look) (*markchart.Chart, fyne.Window) {
	test.NewTempApp(t)
	c := markchart.New(len(looks), func(measure drawing.Measure, width, height, size float64) markchart.Marks {
		return chart.NewWatch(chart.WatchData{Looks: looks, Today: 20040, TodaySaid: "today", Words: chart.Words{Measure: measure}}, width, height, size)
	}, raster.Style{Palette: drawing.LightPalette})
	win := test.NewTempWindow(t, c)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(700, 200))
	return c, win
}

func TestKeysAndTapsOpenLooks(t *testing.T) {
	c, win := shown(t, chart.Look{Day: 20001}, chart.Look{Day: 20010, Grade: 3}, chart.Look{Day: 20030, Grade: 1})
	var opened []int
	c.OnMark = func(i int) { opened = append(opened, i) }
	win.Canvas().Focus(c)
	for _, k := range []fyne.KeyName{fyne.KeyReturn, fyne.KeyLeft, fyne.KeySpace, fyne.KeyLeft, fyne.KeyLeft, fyne.KeyEnter} {
		c.TypedKey(&fyne.KeyEvent{Name: k})
	}
	c.Tapped(&fyne.PointEvent{Position: c.PlaceOf(1).AddXY(6, 3)})
	if !slices.Equal(opened, []int{2, 1, 0, 1}) {
		t.Errorf("opened %v", opened)
	}
}

func TestWithoutLooksNothingOpens(t *testing.T) {
	c, win := shown(t)
	c.OnMark = func(i int) { t.Errorf("opened %d", i) }
	win.Canvas().Focus(c)
	for _, k := range []fyne.KeyName{fyne.KeyRight, fyne.KeyReturn, fyne.KeyLeft, fyne.KeyReturn} {
		c.TypedKey(&fyne.KeyEvent{Name: k})
	}
	c.Tapped(&fyne.PointEvent{Position: fyne.NewPos(300, 100)})
}
