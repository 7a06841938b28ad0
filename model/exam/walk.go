package exam

import (
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
)

// At is the answer of a stop; NotYet where the walk does not have that stop.
func (w Walk) At(stop knowledge.StopID) Answered {
	for _, s := range w.Stops {
		if s.Stop == stop {
			return s
		}
	}
	return Answered{Stop: stop}
}

// Answers is how many stops have an answer.
func (w Walk) Answers() int {
	n := 0
	for _, s := range w.Stops {
		if s.Look != NotYet {
			n++
		}
	}
	return n
}

// LookedAt is how many stops were seen or felt.
func (w Walk) LookedAt() int {
	n := 0
	for _, s := range w.Stops {
		if s.Look.Looked() {
			n++
		}
	}
	return n
}

// Clear reports whether a stop was seen or felt and nothing stands there. A stop
// that was not looked at is not clear, and neither is one with an earlier
// finding that was not asked about.
func (w Walk) Clear(stop knowledge.StopID) bool {
	return w.At(stop).Look.Looked() && !w.found(stop) && !slices.ContainsFunc(w.Earlier, func(e Earlier) bool {
		return e.Stop == stop && e.Now.Standing.Present()
	})
}

// found reports whether this walk noted something new at the stop.
func (w Walk) found(stop knowledge.StopID) bool {
	return slices.ContainsFunc(w.Findings, func(f Finding) bool { return f.Stop == stop })
}

// asked reports whether an earlier finding at the stop was answered.
func (w Walk) asked(stop knowledge.StopID) bool {
	return slices.ContainsFunc(w.Earlier, func(e Earlier) bool { return e.Stop == stop && e.Now.Standing != Unasked })
}

// Signs are the findings of this walk and all earlier ones that it did not call
// gone: one that was not asked about counts as it last stood.
func (w Walk) Signs() []Sign {
	var signs []Sign
	for _, f := range w.Findings {
		signs = append(signs, Sign{
			Stop: f.Stop, What: f.What, Grade: f.Grade, Standing: f.Standing, Baseline: f.Baseline && f.worded(),
			Differs: f.Differs, Old: f.Old, Sheds: max(1, f.Sheds), Place: f.Place, Rough: f.Rough, Problem: f.Problem, Seen: f.At.Day(), VetBy: f.VetBy,
		})
	}
	for _, e := range w.Earlier {
		g := e.Now
		if g.Standing == Unasked {
			g = e.Before
			g.Standing = Unasked
		}
		if g.Standing.Present() {
			signs = append(signs, Sign{
				Stop: e.Stop, What: e.What, Grade: g.Grade, Standing: g.Standing, Baseline: e.Baseline,
				Worsened:   e.Worsened && (g.Standing == Same || g.Standing == Unasked),
				WorseAgain: e.Worsened && g.Standing == Worse || e.WorsenedAgain && (g.Standing == Same || g.Standing == Unasked),
				Differs:    g.Differs, Old: g.Old, Sheds: e.Sheds, Place: g.Place, Rough: g.Rough, Problem: e.Problem, Seen: g.At.Day(), VetBy: e.VetBy,
			})
		}
	}
	return signs
}

// Facts are what a verdict at that moment rests on.
func (w Walk) Facts(at model.Moment) Facts {
	c := w.Context
	again := func(f Finding) bool { return f.What == knowledge.Regurgitated }
	if slices.ContainsFunc(w.Findings, again) {
		c.Regurgitations = slices.Clone(c.Regurgitations)
		for _, e := range w.Earlier {
			if e.What == knowledge.Regurgitated {
				c.Regurgitations = append(c.Regurgitations, e.Since)
			}
		}
	}
	return Facts{At: at, Signs: w.Signs(), Context: c}
}

// Extent is how much the check says about the whole animal. A check in which
// nothing was found and that took less than the tables' shortest is a brief
// look, whatever its stops say; an earlier finding that is still there is
// nothing found. One that left all to the vet is part of a check.
func (c Check) Extent(t *knowledge.Tables) Extent {
	timed := c.Begun.Precision != model.ToDay // of one that was written on paper nobody knows how long it took
	if timed && len(c.Findings) == 0 && c.Finished.UTC-c.Begun.UTC < int64(t.Value(knowledge.ValueBriefLook)) {
		return BriefLook
	}
	if c.LookedAt() == 0 {
		return PartCheck
	}
	for _, s := range t.Stops() {
		if look := c.At(s.ID).Look; !look.Looked() && look != LeftToVet {
			return PartCheck
		}
	}
	return FullCheck
}

// LeftToVetBy are the stops that the newest check left to the vet that looked at
// more than a brief look does; one that a newer look has seen is left out. The
// checks come newest first.
func LeftToVetBy(t *knowledge.Tables, newestFirst []StoredCheck) []knowledge.StopID {
	seen := map[knowledge.StopID]bool{}
	for _, c := range newestFirst {
		var left []knowledge.StopID
		for _, s := range c.Stops {
			if s.Look == LeftToVet && !seen[s.Stop] {
				left = append(left, s.Stop)
			}
			seen[s.Stop] = seen[s.Stop] || s.Look.Looked()
		}
		if c.Extent(t) != BriefLook {
			return left
		}
	}
	return nil
}

// Whole reports whether a check has asked about the whole animal: it was no brief
// look, and every stop of the tables has an answer, if only that it was not looked
// at or left to the vet. Only such a check puts the next one off. Source: common
// practice, no source.
func (c Check) Whole(t *knowledge.Tables) bool {
	return c.Extent(t) != BriefLook && !slices.ContainsFunc(t.Stops(), func(s knowledge.Stop) bool { return c.At(s.ID).Look == NotYet })
}

// Changed is one thing of which a check says how it stands against the last look.
type Changed struct {
	Finding  int // index into Findings, or -1
	Problem  model.ProblemID
	Stop     knowledge.StopID
	What     knowledge.FindingID
	Standing Standing
	Before   Glimpse // the zero Glimpse of what is new
	Now      Glimpse // as Before where it was not asked about
}

// Changes is what changed since the last check: first what is new or came back,
// then the earlier findings, each in the order of the walk.
func (w Walk) Changes() []Changed {
	var changes []Changed
	for i, f := range w.Findings {
		changes = append(changes, Changed{Finding: i, Problem: f.Problem, Stop: f.Stop, What: f.What, Standing: f.Standing, Now: f.glimpse()})
	}
	for _, e := range w.Earlier {
		now := e.Now
		if now.Standing == Unasked {
			now = e.Before
		}
		changes = append(changes, Changed{Finding: -1, Problem: e.Problem, Stop: e.Stop, What: e.What, Standing: e.Now.Standing, Before: e.Before, Now: now})
	}
	place := map[knowledge.StopID]int{}
	for i, s := range w.Stops {
		place[s.Stop] = i
	}
	slices.SortStableFunc(changes, func(a, b Changed) int {
		if isNew, other := a.Before.At.IsZero(), b.Before.At.IsZero(); isNew != other {
			return -compareFlags(isNew, other)
		}
		return place[a.Stop] - place[b.Stop]
	})
	return changes
}

// glimpse is the finding as one look at its problem.
func (f Finding) glimpse() Glimpse {
	return Glimpse{At: f.At, Standing: f.Standing, Grade: f.Grade, Place: f.Place, Rough: f.Rough, Size: f.Size, Note: f.Note, Photos: f.Photos, Differs: f.Differs, Old: f.Old}
}

// worded reports whether something is written of the finding: what is an
// animal's own says since when, or which vet said so.
func (f Finding) worded() bool { return strings.TrimSpace(f.Note) != "" }

// Missing is what one finding still lacks.
type Missing struct {
	Finding int // index into Findings, or -1
	Earlier int // index into Earlier, or -1
	Place   bool
	Size    bool
	Photo   bool
	Note    bool
}

// ToFinish lists what is still missing: places that nobody pointed to, sizes and
// photos where the tables say that they are worth having, and in words what "something else" is. Nothing of
// it keeps a check from being finished.
func (w Walk) ToFinish(t *knowledge.Tables) []Missing {
	var list []Missing
	for i, f := range w.Findings {
		row, _ := t.Finding(f.What)
		list = appendMissing(list, Missing{
			Finding: i, Earlier: -1, Place: f.Rough, Size: row.Measured && f.Size.IsZero(), Photo: row.Pictured && len(f.Photos) == 0,
			Note: f.What == knowledge.Other && f.Note == "",
		})
	}
	for i, e := range w.Earlier {
		if e.Now.Standing == Unasked || !e.Now.Standing.Present() {
			continue
		}
		list = appendMissing(list, Missing{
			Finding: -1, Earlier: i, Size: !e.Before.Size.IsZero() && e.Now.Size.IsZero(),
			Photo: e.Now.Standing == Worse && len(e.Now.Photos) == 0,
		})
	}
	return list
}

func appendMissing(list []Missing, m Missing) []Missing {
	if m.Place || m.Size || m.Photo || m.Note {
		return append(list, m)
	}
	return list
}
