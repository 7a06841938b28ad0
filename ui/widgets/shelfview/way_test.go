package shelfview

import (
	"testing"

	"pgregory.net/rapid"

	"coilward/ui/look"
)

// The way goes through all stations in their order, whatever stands between them; a part
// of it is gone only where both its ends are answered.
func TestLegs(t *testing.T) {
	rows := []Row{{Boxes: []Box{{Station: 2, State: Good}, {}, {Station: 1, State: Passed}}}, {Boxes: []Box{{Station: 4}, {Station: 3, State: Good}}}}
	want := []leg{{At{0, 2}, At{0, 0}, true}, {At{0, 0}, At{1, 1}, true}, {At{1, 1}, At{1, 0}, false}}
	got := legs(rows)
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i, l := range got {
		if l != want[i] {
			t.Errorf("leg %d: %+v, want %+v", i, l, want[i])
		}
	}
	if n := len(legs([]Row{{Boxes: []Box{{}, {Station: 1}}}})); n != 0 {
		t.Errorf("one station has %d legs", n)
	}
}

// In whatever order boxes stand, the parts of the way hang together: each line goes on where
// the one above ended, and every station but the first and last has two ends at it.
func TestSegments_HangTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := drawnRows(t)
		n := 0
		for r := range rows {
			n += len(rows[r].Boxes)
		}
		order := rapid.Permutation(numbers(n)).Draw(t, "order")
		i := 0
		for r := range rows {
			for b := range rows[r].Boxes {
				rows[r].Boxes[b].Station = order[i] + 1
				i++
			}
		}
		p := arrange(rows, [2]float32{900, 700}, 100, focus{})
		way := legs(rows)
		ends := 0
		for _, l := range p.lines {
			parts := segments(l, way)
			if len(l.cells) == 0 { // an empty shelf
				continue
			}
			board := l.boardY - l.y + l.boardH/2
			up, down := false, false
			for _, s := range parts {
				if s.x0 != s.x1 && (s.y0 != board || s.y1 != board) {
					t.Fatalf("a part of the way is crooked: %+v", s)
				}
				if s.x0 == s.x1 && s.x0 != l.end+lane && s.y0 != s.y1 {
					t.Fatalf("a part of the way goes up or down among the boxes: %+v", s)
				}
				for _, y := range []float32{s.y0, s.y1} {
					up, down = up || y == -above, down || y == l.height+beneath
				}
			}
			first, last := l.cells[0].at, l.cells[len(l.cells)-1].at
			for _, g := range way {
				over := before(g.from, first) != before(g.to, first)
				under := before(last, g.from) != before(last, g.to)
				if over && !up || under && !down {
					t.Fatalf("the way from %v to %v does not reach the next line", g.from, g.to)
				}
			}
			ends += len(parts)
		}
		if n > 1 && ends == 0 {
			t.Fatal("there is no way")
		}
	})
}

// The disc of a station covers none of the words of its box, however the picture is sized.
func TestStation_CoversNoWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := []Row{{}, {}, {}}
		for r := range rows {
			for i := range rapid.IntRange(1, 12).Draw(t, "boxes") {
				rows[r].Boxes = append(rows[r].Boxes, Box{Station: i + 1, Word: "6 · look again", Dwellers: []Dweller{{Name: "Ash"}}, State: rapid.SampledFrom([]State{Resting, Good, Passed}).Draw(t, "state")})
			}
		}
		size := [2]float32{float32(rapid.IntRange(700, 1800).Draw(t, "w")), float32(rapid.IntRange(480, 1000).Draw(t, "h"))}
		small := 0
		for _, l := range arrange(rows, size, 100, focus{at: At{1, 0}, walk: true}).lines {
			for _, c := range l.cells {
				box, bottom := rows[c.at.Row].Boxes[c.at.Box], float32(0)
				switch {
				case c.current:
					continue
				case l.form == compact:
					small++
					_, word := compactLines(c, box)
					bottom = word + look.Tiny.Line/2
				default:
					bottom = tallWord(c, box) + look.Note.Line/2
				}
				if top := discY(l) - discHeight/2; bottom > top {
					t.Fatalf("%+v: words down to %g, its disc from %g", c, bottom, top)
				}
			}
		}
		if small == 0 {
			t.Fatal("no line is compact")
		}
	})
}

func numbers(n int) (all []int) {
	for i := range n {
		all = append(all, i)
	}
	return all
}
