package widgets

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/ui/look"
)

// What follows a line stands close to it where it is short, and keeps its room where it
// is long; the row needs no more than what follows.
func TestRowHug(t *testing.T) {
	for words, short := range map[string]bool{"Ash": true, "Ash, who was called otherwise where she came from": false} {
		line, after := Line(words, look.Display, look.Ink), Space(40, 20)
		r := RowHug(look.S12, line, after)
		if least := r.MinSize().Width; least > 40+look.S12+look.Display.Width("…") {
			t.Errorf("%q: needs %v", words, least)
		}
		r.Resize(fyne.NewSize(300, 40))
		if at := after.Position().X; short && at > look.Display.Width(words)+look.S12+2 || !short && at != 260 || after.Size().Width != 40 {
			t.Errorf("%q: what follows stands at %v, %v wide", words, at, after.Size().Width)
		}
	}
}
