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
	entries := slices.DeleteFunc(slices.Clone(r.Entries), func(e care.Entry) bool { return later(e.At) })
	checks := slices.DeleteFunc(slices.Clone(r.Checks), func(c exam.StoredCheck) bool { return later(c.Begun) })
	whose.Moves = r.moves
	whose.Visits = slices.DeleteFunc(slices.Clone(r.visits), func(e welfare.Entry) bool { return later(e.At) })
	doubts := func(with model.InstrumentID, at model.Moment) bool {
		return slices.ContainsFunc(r.Weights, func(w care.Weighed) bool { return w.Doubtful && w.With == with && w.At == at })
	}
	return made(t, whose, doubts, entries, checks, at).Stand(t, exam.KnownOn(problems, at.Day()), at)
}
