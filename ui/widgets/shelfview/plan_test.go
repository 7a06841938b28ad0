package shelfview

import (
	"testing"

	"pgregory.net/rapid"
)

func drawnRows(t *rapid.T) []Row {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Row {
		return Row{Boxes: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Box {
			b := Box{Width: rapid.IntRange(0, 180).Draw(t, "width"), Class: Class(rapid.IntRange(0, 4).Draw(t, "class"))}
			if rapid.Bool().Draw(t, "lived in") {
				b.Dwellers = []Dweller{{Name: "Ash"}}
			}
			return b
		}), 0, 40).Draw(t, "boxes")}
	}), 1, 30).Draw(t, "rows")
}

// Boxes keep their order, overlap nowhere, stand within the width, and each
// stands once.
func TestArrange_KeepsOrderAndRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := drawnRows(t)
		width, height := float32(rapid.IntRange(400, 1800).Draw(t, "w")), float32(rapid.IntRange(300, 1000).Draw(t, "h"))
		p := arrange(rows, [2]float32{width, height}, 100, focus{})
		seen := map[At]bool{}
		var bottom float32
		last := At{-1, -1}
		for _, l := range p.lines {
			if l.y < bottom {
				t.Fatalf("a line begins at %g, the one above ends at %g", l.y, bottom)
			}
			bottom = l.y + l.height
			var right float32
			for _, c := range l.cells {
				if c.x < right || c.w < 8 || c.x < 100 || c.x+c.w > width+1.5 {
					t.Fatalf("box %v from %g to %g; the one before ends at %g, the picture at %g", c.at, c.x, c.x+c.w, right, width)
				}
				right = c.x + c.w
				if seen[c.at] || c.at.Row < last.Row || c.at.Row == last.Row && c.at.Box != last.Box+1 {
					t.Fatalf("box %v stands after %v", c.at, last)
				}
				seen[c.at], last = true, c.at
			}
		}
		n := 0
		for _, r := range rows {
			n += len(r.Boxes)
		}
		if len(seen) != n {
			t.Fatalf("%d boxes of %d are placed", len(seen), n)
		}
	})
}

// In a walk the current box is shown, large, with its plates inside the picture;
// nobody changes order, and each shelf is shown or counted.
func TestArrange_WalkShowsTheCurrentBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := drawnRows(t)
		row := rapid.IntRange(0, len(rows)-1).Draw(t, "row")
		if len(rows[row].Boxes) == 0 {
			t.Skip()
		}
		at := At{row, rapid.IntRange(0, len(rows[row].Boxes)-1).Draw(t, "box")}
		width, height := float32(rapid.IntRange(700, 1800).Draw(t, "w")), float32(rapid.IntRange(480, 1000).Draw(t, "h"))
		needs := float32(rapid.IntRange(0, int(height)-platesH-10-2*moreH).Draw(t, "needs"))
		p := arrange(rows, [2]float32{width, height}, 100, focus{at: at, walk: true, needs: needs})
		c, l, ok := p.find(at)
		if !ok || !c.current || c.w < .5*(width-100) || c.h < max(leastLit, needs)-1 || l.tagY+platesH-8 > height+.5 {
			t.Fatalf("the current box %v: %+v, plates to %g of %g", at, c, l.tagY+platesH-8, height)
		}
		var bottom float32
		last := At{-1, -1}
		for _, l := range p.lines {
			if l.y < bottom || l.y+l.height > height+1 {
				t.Fatalf("a line from %g to %g; the one above ends at %g, the picture at %g", l.y, l.y+l.height, bottom, height)
			}
			bottom = l.y + l.height
			var right float32
			for _, c := range l.cells {
				if c.x < right || c.x+c.w > width+1.5 || c.at.Row < last.Row || c.at.Row == last.Row && c.at.Box <= last.Box {
					t.Fatalf("box %v from %g to %g stands after %v", c.at, c.x, c.x+c.w, last)
				}
				right, last = c.x+c.w, c.at
			}
		}
	})
}

// From every box the arrows lead to a box, right and left to each other.
func TestStep_LeadsBackAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := drawnRows(t)
		p := arrange(rows, [2]float32{1200, 600}, 100, focus{})
		for _, l := range p.lines {
			for _, c := range l.cells {
				next := p.step(c.at, 1, 0)
				if next != c.at && p.step(next, -1, 0) != c.at {
					t.Fatalf("right of %v is %v, left of that %v", c.at, next, p.step(next, -1, 0))
				}
				for _, dy := range []int{-1, 1} {
					if _, _, ok := p.find(p.step(c.at, 0, dy)); !ok {
						t.Fatalf("from %v an arrow leads out of the room", c.at)
					}
				}
			}
		}
	})
}
