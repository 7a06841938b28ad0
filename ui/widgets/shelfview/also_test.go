package shelfview_test

import (
	"bytes"
	"image"
	"testing"

	"pgregory.net/rapid"

	"coilward/ui/look"
	"coilward/ui/uitest"
	. "coilward/ui/widgets/shelfview"
)

// Of all the classes that apply, in whatever order they are told, the last two in their
// order show, each once; who is nothing else is a resident.
func TestBox_ShowsTheLastTwoClasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		told := rapid.SliceOf(rapid.SampledFrom(Classes())).Draw(t, "told")
		applies := map[Class]bool{}
		var box Box
		for _, c := range told {
			box.Counts(c)
			applies[c] = true
		}
		var want [2]Class
		for _, c := range Classes() {
			if applies[c] && c != Resident {
				want = [2]Class{c, want[0]}
			}
		}
		if got := [2]Class{box.Class, box.Also}; got != want {
			t.Fatalf("%v shows %v, want %v", told, got, want)
		}
	})
}

// Whatever the size of the boxes, a second class is in the picture.
func TestView_DrawsTheSecondClass(t *testing.T) {
	for _, c := range []struct{ shelves, boxes int }{{1, 4}, {3, 6}, {4, 12}, {8, 12}} {
		picture := func(also Class) []byte {
			rows := room(c.shelves, c.boxes)
			for r := range rows {
				for i := range rows[r].Boxes {
					if b := &rows[r].Boxes[i]; !b.Empty() {
						b.Class, b.Also, b.Due = Ill, also, nil
					}
				}
			}
			_, w := show(t, uitest.Look{Shine: look.ByDay, Width: 1150, Height: 560, Scale: 1}, rows)
			return w.Canvas().Capture().(*image.NRGBA).Pix
		}
		if bytes.Equal(picture(Newcomer), picture(Resident)) || bytes.Equal(picture(Newcomer), picture(NearPositive)) {
			t.Errorf("%d shelves of %d boxes: the second class does not show", c.shelves, c.boxes)
		}
	}
}
