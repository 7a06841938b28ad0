package quarantine

import (
	"slices"

	"coilward/model"
)

// Undated reports whether a line that is not met has no day of its own: it takes the
// vet, or the animal, and not time. One of which nothing is known is dated: it takes a
// look.
func (l Line) Undated() bool {
	return l.NoDay || l.State == NotMet && (l.Item == NothingUp || l.Item == NoneFound || l.Item == Weighed)
}

// Undated reports whether something holds a release that has no day of its own, and
// must be mended first: what is a matter for the vet, or a weight that was lost.
func (g Gate) Undated() bool { return slices.ContainsFunc(g.Lines, Line.Undated) }

// Next is the step of a plan that is to be done next: one that goes first, else the one
// that is due first.
func Next(steps []Step) (next Step, there bool) {
	for _, s := range steps {
		if !s.Done && (!there || s.First || s.By < next.By && !next.First) {
			next, there = s, true
		}
	}
	return next, there
}

// With is a step with the things of the other steps of its kind that can be done on the
// same day, which is its own first one, or today where that has gone by.
func With(steps []Step, s Step, today model.Day) Step {
	day := max(s.From, today)
	s.Agents = slices.Clone(s.Agents)
	for _, other := range steps {
		if other.Kind != s.Kind || other.Done || other.From > day {
			continue
		}
		for _, a := range other.Agents {
			if !slices.Contains(s.Agents, a) {
				s.Agents = append(s.Agents, a)
			}
		}
	}
	return s
}
