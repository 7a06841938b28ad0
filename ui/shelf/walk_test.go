package shelf

import (
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/round"
)

func stops(n int) []Stop {
	all := make([]Stop, n)
	for i := range all {
		all[i].Animal.ID[0] = byte(i + 1)
	}
	return all
}

func entry(n int) model.EntryID {
	var id model.EntryID
	id.ID[0], id.ID[1] = byte(n), 1
	return id
}

// Whatever is pressed: each answer stands at the stop where it was given, and
// nowhere else; the counts add up; one stands at a stop or at the end; and the
// end is reached only when every stop has an answer.
func TestWalk_Machine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "stops")
		w, want, given := NewWalk(round.Feed, stops(n)), make([]Answer, n), 0
		t.Repeat(map[string]func(*rapid.T){
			"answer": func(t *rapid.T) {
				at := w.At()
				if at == n {
					t.Skip()
				}
				given++
				a := Answer{Mark: Mark(rapid.IntRange(int(Done), int(Against)).Draw(t, "mark")), Entry: entry(given % 250)}
				want[at] = a
				w.Answer(at, a)
				if w.Left() > 0 && w.At() == at {
					t.Fatal("one stands still after an answer")
				}
			},
			"skip": func(*rapid.T) {
				if at := w.At(); at < n && want[at].Mark == Open {
					want[at].Mark = Skipped
				}
				w.Skip()
			},
			"back": func(t *rapid.T) {
				at := w.At()
				if w.Back(); w.At() != max(0, at-1) {
					t.Fatalf("back from %d leads to %d", at, w.At())
				}
			},
			"jump": func(t *rapid.T) { w.Jump(rapid.IntRange(-2, n+2).Draw(t, "to")) },
			"undo": func(t *rapid.T) {
				i := rapid.IntRange(0, n-1).Draw(t, "of")
				gone := want[i].Entry
				if gone.IsZero() {
					t.Skip()
				}
				for j := range want {
					if want[j].Entry == gone {
						want[j] = Answer{}
					}
				}
				w.Recall(func(a Answer) (Answer, bool) { return a, a.Entry != gone })
				if w.Of(w.At()).Mark != Open {
					t.Fatal("after something was taken back one does not stand at it")
				}
			},
			"": func(t *rapid.T) {
				counted := 0
				for i := range want {
					if w.Of(i) != want[i] {
						t.Fatalf("stop %d: %+v, want %+v", i, w.Of(i), want[i])
					}
				}
				for _, m := range []Mark{Skipped, Done, Against} {
					counted += w.Count(m)
				}
				if counted+w.Left() != n || w.At() < 0 || w.At() > n {
					t.Fatalf("%d answered, %d left of %d; at %d", counted, w.Left(), n, w.At())
				}
				if _, here := w.Here(); here != (w.At() < n) {
					t.Fatal("the end is not the end")
				}
			},
		})
	})
}

// Straight on, every stop is come to once and in order, with one answer each.
func TestWalk_InOrder(t *testing.T) {
	w := NewWalk(round.Feed, stops(20))
	for i := range 20 {
		if w.At() != i {
			t.Fatalf("stop %d comes after %d", w.At(), i-1)
		}
		w.Answer(i, Answer{Mark: Done, Entry: entry(i)})
	}
	if _, here := w.Here(); here || w.Left() != 0 {
		t.Error("after the last answer there is another stop")
	}
}

// One step back and an answer anew leads on to where one was.
func TestWalk_BackAndOnAgain(t *testing.T) {
	w := NewWalk(round.Feed, stops(3))
	w.Answer(0, Answer{Mark: Done, Entry: entry(1)})
	w.Back()
	w.Answer(0, Answer{Mark: Against, Entry: entry(1)})
	if w.At() != 1 || w.Of(0).Mark != Against {
		t.Errorf("at %d, first %+v", w.At(), w.Of(0))
	}
	w.Back()
	w.Skip() // what was noted stays
	if w.At() != 1 || w.Of(0).Mark != Against {
		t.Errorf("after a skip: at %d, first %+v", w.At(), w.Of(0))
	}
}
