package widgets

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"coilward/ui/look"
)

// lineRow is a row of one text.
type lineRow struct{ *Text }

func (l lineRow) Object() fyne.CanvasObject { return l.Text }

// rollOf is a list of n rows in a window, that counts the cells it makes.
func rollOf(t *testing.T, n int, least float32) (*Roll, *int, *[]int) {
	t.Helper()
	app := test.NewTempApp(t)
	app.Settings().SetTheme(look.NewTheme(look.ByDay))
	made, opened := 0, []int{}
	r := NewRoll(least, 0, RollKind{Height: 40}, RollKind{Height: 60, Still: true})
	r.Make = func(int) RollRow { made++; return lineRow{Line("", look.Body, look.Ink)} }
	r.FillCell = func(i int, row RollRow) { row.(lineRow).SetText(fmt.Sprint(i)) }
	r.OnOpen = func(i int) { opened = append(opened, i) }
	r.SetCount(n)
	w := test.NewTempWindow(t, r)
	w.Resize(fyne.NewSize(400, 400))
	w.Canvas().Focus(r)
	return r, &made, &opened
}

func press(r *Roll, keys ...fyne.KeyName) {
	for _, k := range keys {
		r.TypedKey(&fyne.KeyEvent{Name: k})
	}
}

func TestRoll_MakesOnlyWhatIsInSight(t *testing.T) {
	r, made, _ := rollOf(t, 100_000, 0)
	if *made > 14 {
		t.Errorf("%d cells for ten rows in sight", *made)
	}
	press(r, fyne.KeyEnd)
	if r.Current() != 99_999 || *made > 28 {
		t.Errorf("at the end: current %d, %d cells made", r.Current(), *made)
	}
	if _, there := r.cells[99_999]; !there {
		t.Error("the last row is not in sight after End")
	}
}

func TestRoll_KeysMoveAndOpen(t *testing.T) {
	r, _, opened := rollOf(t, 20, 0)
	press(r, fyne.KeyDown, fyne.KeyDown, fyne.KeyUp, fyne.KeyReturn, fyne.KeyHome, fyne.KeyUp, fyne.KeyEnter)
	if fmt.Sprint(*opened) != "[1 0]" {
		t.Errorf("opened %v, want [1 0]", *opened)
	}
	r.SetItems([]int{1, 0, 1, 0})
	press(r, fyne.KeyHome, fyne.KeyDown, fyne.KeyReturn)
	if got := (*opened)[2]; got != 3 {
		t.Errorf("Down went to %d, want 3, over the heading", got)
	}
	press(r, fyne.KeyUp)
	if r.Current() != 1 {
		t.Errorf("Up went to %d, want 1, over the heading", r.Current())
	}
	r.Tap(2)
	if len(*opened) != 3 {
		t.Error("a heading was opened")
	}
}

func TestRoll_GridFillsItsWidth(t *testing.T) {
	r, _, _ := rollOf(t, 7, 120)
	press(r, fyne.KeyRight, fyne.KeyDown)
	if r.columns != 3 || r.Current() != 4 {
		t.Errorf("%d columns, current %d; want 3 and 4", r.columns, r.Current())
	}
	right := r.cells[2].Position().X + r.cells[2].Size().Width
	if free := r.Size().Width - right; free != look.S8 {
		t.Errorf("the last column leaves %.0f for the bar, want %.0f", free, look.S8)
	}
}
