package shelfview

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coilward/ui/look"
	"coilward/ui/uitest"
)

// However narrow a box is and however long its words: the animal is drawn large
// enough to be known again, and no word stands on it.
func TestTheAnimalOfASmallBoxIsSeen(t *testing.T) {
	uitest.App(t, uitest.Looks()[0])
	rapid.Check(t, func(t *rapid.T) {
		box := Box{Dwellers: []Dweller{{Name: rapid.SampledFrom([]string{"Ash", "Plover", "Bramble", "Langnamige vom Steg"}).Draw(t, "name")}}, Note: rapid.SampledFrom([]string{"267 g", "1084 g", "noch nicht gewogen"}).Draw(t, "note")}
		c := cell{x: 100, y: 50, w: float32(rapid.IntRange(110, 300).Draw(t, "width")), h: float32(rapid.IntRange(66, 160).Draw(t, "height"))}
		in := roomyInside(c, box)
		if in.side < 29 {
			t.Errorf("the animal is %.0f wide in a box of %.0f × %.0f", in.side, c.w, c.h)
		}
		if box.Called() == "Plover" && c.w >= 140 && in.side < leastCoil {
			t.Errorf("the animal is %.0f wide beside a short name, in a box of %.0f × %.0f", in.side, c.w, c.h)
		}
		note, below := widestOf(in.note), len(in.note) == 1 && in.coilY-in.side/2 >= c.y+36+look.Note.Line/2-4
		if in.textX < in.coilEnd && !below && in.textX+note > in.coilX {
			t.Errorf("%q reaches to %.0f, the animal begins at %.0f", box.Note, in.textX+note, in.coilX)
		}
		if got := strings.Join(in.note, " "); got != box.Note {
			t.Errorf("%q is said as %q", box.Note, got)
		}
		if in.coilY+in.side/2 > c.y+c.h || in.coilX < c.x || in.coilEnd > c.x+c.w {
			t.Errorf("the animal lies outside: %+v", in)
		}
	})
}
