package shelf

import (
	"coilward/model"
	"coilward/model/care"
	"coilward/model/round"
)

// Stop is one thing that a walk asks about: an animal in its box, or, for
// cleaning, the box itself.
type Stop struct {
	Place  model.PlaceID  // zero: the animal is not housed yet
	Animal model.AnimalID // zero: the box
	Kit    model.SampleID // that waits for it; zero: none
	Late   bool
}

// Mark is what became of a stop.
type Mark uint8

// The marks.
const (
	Open    Mark = iota // not answered
	Skipped             // passed over; nothing is noted
	Done                // noted: took, weighed, none seen, checked, cleaned, swabbed
	Against             // noted: refused, mites seen, or left to the vet
)

// Answer is what was noted at a stop.
type Answer struct {
	Mark   Mark
	Entry  model.EntryID // zero where nothing was noted
	Mass   model.Mass    // of a weighing
	Grade  care.MiteGrade
	Number string // of a sample's tube
}

// Walk goes through stops in their order. It holds where one is and what became
// of each; it notes nothing itself.
type Walk struct {
	Job     round.Job
	Stops   []Stop
	answers []Answer
	at      int             // len(Stops): at the end
	noted   map[uint64]bool // the changes of the collection that the walk made, by sequence
}

// NewWalk begins at the first stop.
func NewWalk(job round.Job, stops []Stop) *Walk {
	return &Walk{Job: job, Stops: stops, answers: make([]Answer, len(stops)), noted: map[uint64]bool{}}
}

// At is the number of the stop one is at; len(Stops) at the end.
func (w *Walk) At() int { return w.at }

// Here is the stop one is at; false at the end.
func (w *Walk) Here() (Stop, bool) {
	if w.at >= len(w.Stops) {
		return Stop{}, false
	}
	return w.Stops[w.at], true
}

// Of is what became of a stop so far.
func (w *Walk) Of(i int) Answer { return w.answers[i] }

// Left is how many stops have no answer yet, the one one is at included.
func (w *Walk) Left() (n int) {
	for _, a := range w.answers {
		if a.Mark == Open {
			n++
		}
	}
	return n
}

// Count is how many stops came to that.
func (w *Walk) Count(m Mark) (n int) {
	for _, a := range w.answers {
		if a.Mark == m {
			n++
		}
	}
	return n
}

// Answer gives a stop its answer, and goes on to the next without one. A stop
// that was answered before is answered anew.
func (w *Walk) Answer(stop int, a Answer) {
	if stop < 0 || stop >= len(w.Stops) {
		return
	}
	w.answers[stop] = a
	if stop == w.at {
		w.next()
	}
}

// Noted takes down a change that was made by the walk.
func (w *Walk) Noted(sequence uint64) { w.noted[sequence] = true }

// Made reports whether a change was made by the walk: no other one is taken back in
// it.
func (w *Walk) Made(sequence uint64) bool { return w.noted[sequence] }

// Skip passes over the stop one is at. What was noted there before stays.
func (w *Walk) Skip() {
	if w.at >= len(w.Stops) {
		return
	}
	if w.answers[w.at].Mark == Open {
		w.answers[w.at].Mark = Skipped
	}
	w.next()
}

// next goes to the next stop without an answer: those after this one first,
// then those before it that were left out by a jump.
func (w *Walk) next() {
	n := len(w.Stops)
	for i := 1; i <= n; i++ {
		if j := (w.at + i) % n; w.answers[j].Mark == Open {
			w.at = j
			return
		}
	}
	w.at = n
}

// Back goes to the stop before, whatever became of it.
func (w *Walk) Back() { w.at = max(0, w.at-1) }

// Jump goes to a stop.
func (w *Walk) Jump(stop int) {
	if stop >= 0 && stop < len(w.Stops) {
		w.at = stop
	}
}

// Recall asks anew what was noted at each stop, after something was taken back
// or brought back. A stop whose entry is gone is open again, and one stands at it.
func (w *Walk) Recall(read func(Answer) (a Answer, stands bool)) {
	for i, a := range w.answers {
		if a.Entry.IsZero() {
			continue
		}
		now, stands := read(a)
		if w.answers[i] = now; !stands {
			w.answers[i] = Answer{}
			w.at = i
		}
	}
}

// answerOf is the answer that an entry's body stands for.
func answerOf(b care.Body) Answer {
	a := Answer{Mark: Done}
	switch b := b.(type) {
	case care.Meal:
		if b.Outcome != care.Took {
			a.Mark = Against
		}
	case care.Weight:
		a.Mass = b.Mass
	case care.MiteLook:
		if a.Grade = b.Grade; b.Grade != care.NoMites {
			a.Mark = Against
		}
	}
	return a
}

// open are the stops without an answer, in order.
func (w *Walk) open() (stops []int) {
	for i, a := range w.answers {
		if a.Mark == Open {
			stops = append(stops, i)
		}
	}
	return stops
}
