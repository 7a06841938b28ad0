package quarantinebars_test

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/ui/widgets/quarantinebars"
	"coilward/ui/widgets/raster"
)

func bar(t *testing.T) (*quarantinebars.Bar, fyne.Window) {
	test.NewTempApp(t)
	b := quarantinebars.New(chart.StayData{From: 20000, To: 20120, Begun: 20003, Today: 20040, Earliest: 20090, End: "9 March", EndBelow: "in 50 days",
		Milestones: []chart.Milestone{{Day: 20010, Said: "first", Standing: chart.IsMet}, {Day: 20060, Said: "second", Standing: chart.ToCome}, {Day: 20090, Said: "third", Standing: chart.Holds}}},
		raster.Style{Palette: drawing.LightPalette})
	win := test.NewTempWindow(t, b)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(800, quarantinebars.Height))
	return b, win
}

func key(b *quarantinebars.Bar, names ...fyne.KeyName) {
	for _, n := range names {
		b.TypedKey(&fyne.KeyEvent{Name: n})
	}
}

func TestKeysGoFromMarkToMark(t *testing.T) {
	b, win := bar(t)
	win.Canvas().Focus(b)
	opened, passed := []int{}, []fyne.KeyName{}
	b.OnMark = func(i int) { opened = append(opened, i) }
	b.OnKey = func(k *fyne.KeyEvent) { passed = append(passed, k.Name) }
	key(b, fyne.KeyLeft, fyne.KeyReturn, fyne.KeyRight, fyne.KeyRight, fyne.KeyRight, fyne.KeySpace, fyne.KeyDown, fyne.KeyEscape)
	if len(opened) != 2 || opened[0] != 0 || opened[1] != 2 {
		t.Errorf("opened %v", opened)
	}
	if len(passed) != 2 || passed[0] != fyne.KeyDown {
		t.Errorf("passed %v", passed)
	}
}

func TestATapOpensAMarkOrChoosesTheBar(t *testing.T) {
	b, _ := bar(t)
	opened, chosen := -1, 0
	b.OnMark = func(i int) { opened = i }
	b.OnChoose = func() { chosen++ }
	b.Tapped(&fyne.PointEvent{Position: b.PlaceOf(1)})
	if opened != 1 || chosen != 0 {
		t.Errorf("opened %d, chosen %d times", opened, chosen)
	}
	b.Tapped(&fyne.PointEvent{Position: fyne.NewPos(b.PlaceOf(1).X, 4)})
	if opened != 1 || chosen != 1 {
		t.Errorf("opened %d, chosen %d times", opened, chosen)
	}
}

func TestThePointerWordsAMark(t *testing.T) {
	b, _ := bar(t)
	b.Describe = func(i int) string { return []string{"one", "two", "three"}[i] }
	says := func(word string) bool {
		for _, o := range test.WidgetRenderer(b).Objects() {
			if text, is := o.(*canvas.Text); is && text.Visible() && text.Text == word {
				return true
			}
		}
		return false
	}
	b.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: b.PlaceOf(2)}})
	if !says("three") {
		t.Error("no words at the third mark")
	}
	b.MouseOut()
	if says("three") {
		t.Error("the words stay when the pointer has left")
	}
}
