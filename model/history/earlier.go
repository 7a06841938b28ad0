package history

import (
	"slices"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/welfare"
)

// StandOn judges an animal as the records of a day told of it: what was noted of
// later days is left out. at is a moment of that day, by the clock that it is read
// by.
func (r Records) StandOn(t *knowledge.Tables, whose Whose, problems []exam.StoredProblem, at model.Moment) Standing {
	later := func(m model.Moment) bool { return m.Day() > at.Day() }
	entries := without(r.Entries, func(e care.Entry) bool { return later(e.At) })
	checks := without(r.Checks, func(c exam.StoredCheck) bool { return later(c.Begun) })
	whose.Moves = r.moves
	whose.Visits = without(r.visits, func(e welfare.Entry) bool { return later(e.At) })
	type weighed struct {
		with model.InstrumentID
		at   model.Moment
	}
	doubtful := map[weighed]bool{}
	for _, w := range r.Weights {
		if w.Doubtful {
			doubtful[weighed{w.With, w.At}] = true
		}
	}
	doubts := func(with model.InstrumentID, at model.Moment) bool { return doubtful[weighed{with, at}] }
	return made(t, whose, doubts, entries, checks, at).Stand(t, exam.KnownOn(problems, at.Day()), at)
}

// without are those of a list, newest first, that are not later.
func without[E any](newestFirst []E, later func(E) bool) []E {
	for len(newestFirst) > 0 && later(newestFirst[0]) {
		newestFirst = newestFirst[1:]
	}
	if slices.ContainsFunc(newestFirst, later) { // by another clock
		newestFirst = slices.DeleteFunc(slices.Clone(newestFirst), later)
	}
	return slices.Clip(newestFirst)
}
