package shelfview_test

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"coilward/ui/look"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
	"coilward/ui/widgets/coil"
	. "coilward/ui/widgets/shelfview"
)

func words() Words {
	more := func(n int) string { return fmt.Sprintf("%d shelves more", n) }
	return Words{Class: [5]string{"resident", "look again", "near a positive", "newcomer", "ill"}, Empty: "empty", Above: more, Below: more}
}

// room is so many shelves of so many boxes.
func room(shelves, boxes int) (rows []Row) {
	names := []string{"Alder", "Brook", "Celandine", "Dunnock", "Élodie", "Finch", "Gorse", "Harrier", "Ivy"}
	for r := range shelves {
		row := Row{Room: "Grain loft", Name: fmt.Sprintf("Shelf %d", r+1)}
		for b := range boxes {
			n := r*boxes + b
			box := Box{Name: fmt.Sprintf("%c%d", 'A'+r%26, b+1), Note: fmt.Sprintf("%d g", 400+n*7), Width: 60}
			switch {
			case n%17 == 9:
				box.Dirty = n%2 == 0
				box.Note = ""
			case n%19 == 5:
				box.Dwellers = []Dweller{{Name: "Plover", Coat: coil.Coat{Ground: 2}}, {Name: "Thistle", Coat: coil.Coat{Ground: 4, Markings: 3}}}
				box.Note = "2 animals"
			default:
				box.Dwellers = []Dweller{{Name: names[n%len(names)], Coat: coil.Coat{Ground: uint8(n % 8), Markings: uint8(n / 3 % 8)}}}
			}
			if !box.Empty() {
				box.Class = []Class{Resident, Resident, Resident, Resident, Resident, Resident, LookAgain, NearPositive, Newcomer, Ill}[n*3/7%10]
			}
			if n%3 == 0 {
				box.Due = append(box.Due, Due{Sign: SignFeed, Word: "feed"})
			}
			if n%5 == 1 {
				box.Due = append(box.Due, Due{Sign: SignWeigh, Word: "weigh", Late: n%2 == 0})
			}
			if n%7 == 2 {
				box.Due = append(box.Due, Due{Sign: SignLook, Word: "check", Done: n%3 == 1})
			}
			box.Tip = box.Called()
			row.Boxes = append(row.Boxes, box)
		}
		rows = append(rows, row)
	}
	return rows
}

func show(t testing.TB, l uitest.Look, rows []Row) (*View, fyne.Window) {
	t.Helper()
	uitest.App(t, l)
	v := New(words())
	w := test.NewTempWindow(t, widgets.Stack(widgets.Filled(look.Paper, 0), v))
	w.SetPadded(false)
	uitest.Dress(w, l)
	v.Set(rows)
	return v, w
}

// keep writes a picture of the window where COILWARD_PICTURES says, for a person
// to look at.
func keep(t testing.TB, w fyne.Window, name string) {
	if folder := os.Getenv("COILWARD_PICTURES"); folder != "" {
		uitest.Keep(t, w, filepath.Join(folder, name+".png"))
	}
}

func panel() fyne.CanvasObject {
	return widgets.Middle(widgets.Line("Kestrel", look.FarName, look.Ink))
}

// No word is cut that may not be, in any look, at rest and in a walk.
func TestEveryLookFits(t *testing.T) {
	for i, l := range uitest.Looks() {
		l.Width, l.Height = l.Width-150, l.Height-220
		for _, size := range [][2]int{{1, 3}, {4, 6}, {8, 15}, {25, 20}} {
			v, w := show(t, l, room(size[0], size[1]))
			for _, cut := range uitest.Clipped(w.Content(), w.Canvas().Size()) {
				t.Errorf("%d shelves of %d: %s", size[0], size[1], cut)
			}
			keep(t, w, fmt.Sprintf("shelf-%d-%d-%d", size[0], size[1], i))
			rows := room(size[0], size[1])
			for r := range rows {
				for b := range rows[r].Boxes {
					rows[r].Boxes[b].State = State((r + b) % 6)
					rows[r].Boxes[b].Word = [...]string{"not due", "to do", "1 day late", "took", "refused", "skipped"}[(r+b)%6]
				}
			}
			v.Set(rows)
			v.Walk(At{size[0] / 2, size[1] / 2}, panel(), widgets.Big(widgets.Button(widgets.Plain, widgets.Act{Label: "Took", Key: "1"})))
			for _, cut := range uitest.Clipped(w.Content(), w.Canvas().Size()) {
				t.Errorf("walk through %d shelves of %d: %s", size[0], size[1], cut)
			}
			keep(t, w, fmt.Sprintf("walk-%d-%d-%d", size[0], size[1], i))
		}
	}
}

func TestArrowsAndEnter(t *testing.T) {
	v, w := show(t, uitest.Look{Width: 1000, Height: 600, Scale: 1}, room(4, 6))
	var opened []At
	v.OnOpen = func(at At) { opened = append(opened, at) }
	w.Canvas().Focus(v)
	for _, k := range []fyne.KeyName{fyne.KeyDown, fyne.KeyRight, fyne.KeyRight, fyne.KeyUp, fyne.KeyLeft} {
		uitest.Key(w.Canvas(), k)
	}
	if v.Current() != (At{0, 1}) {
		t.Errorf("the arrows led to %v", v.Current())
	}
	uitest.Key(w.Canvas(), fyne.KeyEnd)
	uitest.Key(w.Canvas(), fyne.KeyRight) // there is nothing more that way
	if v.Current() != (At{3, 5}) {
		t.Errorf("End leads to %v", v.Current())
	}
	pos, size, _ := v.PlaceOf(At{2, 3})
	test.TapCanvas(w.Canvas(), pos.AddXY(size.Width/2, size.Height/2))
	if len(opened) != 1 || opened[0] != (At{2, 3}) || v.Current() != (At{2, 3}) {
		t.Errorf("the tap opened %v, the keys are at %v", opened, v.Current())
	}
}

// Letters, figures and Enter go on to the page.
func TestOtherKeysGoOn(t *testing.T) {
	v, w := show(t, uitest.Look{Width: 1000, Height: 600, Scale: 1}, room(2, 3))
	got := ""
	w.Canvas().SetOnTypedRune(func(r rune) { got += string(r) })
	w.Canvas().SetOnTypedKey(func(k *fyne.KeyEvent) { got += string(k.Name) })
	w.Canvas().Focus(v)
	uitest.Type(w.Canvas(), "1m")
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Key(w.Canvas(), fyne.KeyEscape)
	if got != "1mReturnEscape" {
		t.Errorf("the page got %q", got)
	}
}

func TestDragMoves(t *testing.T) {
	v, w := show(t, uitest.Look{Width: 1000, Height: 600, Scale: 1}, room(2, 6))
	var moved []At
	v.OnMove = func(from, to At) { moved = append(moved, from, to) }
	drag := func(from, to At) {
		a, size, _ := v.PlaceOf(from)
		b, _, _ := v.PlaceOf(to)
		half := fyne.NewPos(size.Width/2, 20)
		test.Drag(w.Canvas(), b.Add(half), b.X-a.X, b.Y-a.Y) // where it is let go, and how far it came
	}
	drag(At{0, 1}, At{1, 2})
	if len(moved) != 2 || moved[0] != (At{0, 1}) || moved[1] != (At{1, 2}) {
		t.Fatalf("the drag moved %v", moved)
	}
	drag(At{0, 1}, At{0, 1})
	drag(At{1, 3}, At{0, 0}) // nobody lies in it
	if len(moved) != 2 {
		t.Errorf("dragged nowhere, or from an empty box: %v", moved[2:])
	}
}

func TestPointerSaysWhoItIs(t *testing.T) {
	v, w := show(t, uitest.Look{Width: 1000, Height: 600, Scale: 1}, room(2, 6))
	pos, _, _ := v.PlaceOf(At{1, 0})
	test.MoveMouse(w.Canvas(), pos.AddXY(20, 20))
	if !uitest.Shows(w.Content(), "Gorse") {
		t.Errorf("under the pointer: %q", uitest.Texts(w.Content()))
	}
}

// A room of 500 boxes has only those in sight, and scrolls to the current one.
func TestLongRoomScrolls(t *testing.T) {
	v, w := show(t, uitest.Look{Width: 1100, Height: 560, Scale: 1}, room(25, 20))
	w.Canvas().Focus(v)
	if shown := len(uitest.Texts(w.Content())); shown > 700 {
		t.Errorf("%d texts exist at once", shown)
	}
	uitest.Key(w.Canvas(), fyne.KeyEnd)
	pos, size, ok := v.PlaceOf(v.Current())
	if !ok || v.Current() != (At{24, 19}) || pos.Y < 0 || pos.Y+size.Height > 560 {
		t.Errorf("the last box, %v, stands at %v", v.Current(), pos)
	}
}

func TestOtherColoursAreDrawnAnew(t *testing.T) {
	v, w := show(t, uitest.Looks()[0], room(3, 5))
	before := w.Canvas().Capture()
	fyne.CurrentApp().Settings().SetTheme(look.NewTheme(look.ByNight))
	v.Refresh()
	w.Content().Refresh()
	at := func(p image.Image) color.Color { return p.At(700, 300) }
	if at(before) == at(w.Canvas().Capture()) {
		t.Error("by night a box is as bright as by day")
	}
}

// size of the shelf in a window of 1280 × 800.
const benchWidth, benchHeight = 1150, 560

// 500 boxes from their values to the picture: all values are other ones each
// time. The software painter of the tests is not counted: a screen paints by its
// own.
func BenchmarkShelf500(b *testing.B) {
	v, w := show(b, uitest.Look{Shine: look.ByDay, Width: benchWidth, Height: benchHeight, Scale: 1}, room(25, 20))
	w.Canvas().Capture()
	sets := [][]Row{room(25, 20), room(25, 20)}
	for r := range sets[1] {
		for i := range sets[1][r].Boxes {
			sets[1][r].Boxes[i].Note += "!"
		}
	}
	n := 0
	for b.Loop() {
		v.Set(sets[n%2])
		v.Paint(1)
		n++
	}
}

// The least that any picture of that size takes: the same number of boxes as
// plain rectangles.
func BenchmarkShelf500Raw(b *testing.B) {
	_, w := show(b, uitest.Look{Shine: look.ByDay, Width: benchWidth, Height: benchHeight, Scale: 1}, nil)
	_ = w
	snake := coil.Bare(coil.Coat{}, "Ash", 24, false)
	for b.Loop() {
		picture := image.NewRGBA(image.Rect(0, 0, benchWidth, benchHeight))
		for y := 0; y+72 <= benchHeight; y += 72 {
			for x := 64; x+64 <= benchWidth; x += 72 {
				draw.Draw(picture, image.Rect(x, y, x+64, y+46), image.NewUniform(color.White), image.Point{}, draw.Src)
				draw.Draw(picture, image.Rect(x+6, y+20, x+30, y+44), snake, image.Point{}, draw.Over)
			}
		}
	}
}
