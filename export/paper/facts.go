package paper

import (
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// Facts are all that a health record states: what is stored of one animal, and
// nothing that is not. Lists run from the oldest to the newest.
type Facts struct {
	Animal   animals.Animal
	Portrait Photo
	Photos   []Photo // the newest, those that are printed
	// AllPhotos is how many there are, and Unread how many of those to be
	// printed could not be read.
	AllPhotos, Unread int
	Problems          []exam.StoredProblem
	Checks            []Checked
	Weights           []Dated[care.Weight]
	Meals             []Dated[care.Meal]
	Sheds             []Dated[care.Shed]
	Waste             []Dated[care.Waste]
	Notes             []Dated[care.Note]
	// Unknown counts the entries of kinds that this version cannot read.
	Unknown map[string]int
	Entries int
	First   model.Day // of the entries; meaningless without any
	Last    model.Day
	Issued  model.Moment
	Version string // of the program
	Tables  *knowledge.Tables
}

// Checked is one check and who made it.
type Checked struct {
	ID model.EntryID
	At model.Moment
	By string
	exam.Check
}

// Dated is what one entry of everyday care says, and when and by whom.
type Dated[B care.Body] struct {
	At   model.Moment
	By   string
	Body B
}

// Photo is a picture ready to print: an upright JPEG.
type Photo struct {
	ID            model.PhotoID
	JPEG          []byte
	Width, Height int // pixels
	Day           model.Day
	Caption       string
	Problem       model.ProblemID // what it shows, if anything
}

// standing is one problem as the record states it.
type standing struct {
	exam.StoredProblem
	number int // as drawn; 0: gone
	level  knowledge.Level
	again  model.Day // day to look again; only where level is LookAgain and hasAgain
	rule   exam.Reason
	asked  bool // some rule spoke
	peak   knowledge.Level
	peakOn model.Day
}

// quiet reports whether the finding is this animal's own or asks for nothing.
func (s standing) quiet() bool {
	return s.Baseline && s.level <= knowledge.NoAction || s.level == knowledge.NoAction
}

// standings numbers the problems: open ones first, most urgent first, then
// quiet ones; those gone have no number and follow by the day they were gone.
func (f Facts) standings() []standing {
	var all []standing
	for _, p := range f.Problems {
		all = append(all, f.standing(p))
	}
	rank := func(s standing) int {
		switch {
		case !s.Open():
			return 2
		case s.quiet():
			return 1
		}
		return 0
	}
	slices.SortStableFunc(all, func(a, b standing) int {
		if r := rank(a) - rank(b); r != 0 {
			return r
		}
		if rank(a) == 0 && a.level != b.level {
			return int(b.level) - int(a.level)
		}
		return int(a.First().At.UTC-b.First().At.UTC) / 60
	})
	for i := range all {
		if all[i].Open() {
			all[i].number = i + 1
		}
	}
	return all
}

// standing is what the tables said of a problem at its looks.
func (f Facts) standing(p exam.StoredProblem) standing {
	s := standing{StoredProblem: p}
	for _, look := range p.Glimpses {
		if reason, day, ok := f.reasonAt(p, look); ok {
			s.judge(reason, day)
		}
	}
	if reason, ok := f.reasonNow(p); ok && reason.Level > s.level {
		s.judge(reason, p.Last().At.Day())
	}
	return s
}

// judge keeps what the tables said of the look of that day.
func (s *standing) judge(reason exam.Reason, day model.Day) {
	s.level, s.rule, s.asked = reason.Level, reason, true
	s.again = day + model.Day(reason.Again)
	if reason.Level > s.peak {
		s.peak, s.peakOn = reason.Level, day
	}
}

// reasonNow is what the tables say today of an open problem as it was last
// seen; the record states the graver of that and of what was said on its day.
func (f Facts) reasonNow(p exam.StoredProblem) (best exam.Reason, ok bool) {
	verdict := exam.Stand(f.Tables, []exam.StoredProblem{p}, f.context(), f.Issued)
	for _, r := range verdict.Reasons {
		if r.Level > best.Level {
			best, ok = r, true
		}
	}
	return best, ok
}

// context is what the records tell of the circumstances; the rest is unknown.
func (f Facts) context() exam.Context {
	var c exam.Context
	if n := len(f.Weights); n > 0 {
		c.Mass = f.Weights[n-1].Body.Mass
	}
	for _, m := range f.Meals {
		if m.Body.Outcome == care.Took {
			c.LastMeal = m.At
		}
	}
	return c
}

// reasonAt is the most urgent reason that a look at a problem got.
func (f Facts) reasonAt(p exam.StoredProblem, look exam.Glimpse) (best exam.Reason, day model.Day, ok bool) {
	for _, c := range f.Checks {
		if c.ID != look.Check || look.Check.IsZero() {
			continue
		}
		for _, r := range c.Verdict.Reasons {
			if r.Level > best.Level && c.points(r, p) {
				best, ok = r, true
			}
		}
		return best, c.At.Day(), ok
	}
	return best, 0, false
}

// points reports whether a reason of the check speaks of the problem.
func (c Checked) points(r exam.Reason, p exam.StoredProblem) bool {
	for _, i := range r.Signs {
		if i < 0 || i >= len(c.Verdict.Signs) {
			continue
		}
		sign := c.Verdict.Signs[i]
		if sign.Problem == p.ID || sign.Problem.IsZero() && sign.Stop == p.Stop && sign.What == p.What {
			return true
		}
	}
	return false
}

// look is what a check answered at a stop.
func (c Checked) look(stop knowledge.StopID) exam.Look {
	for _, a := range c.Stops {
		if a.Stop == stop {
			return a.Look
		}
	}
	return exam.NotYet
}

// walked are the stops of the check in their order, without what is no stop of
// the walk.
func walked(tables *knowledge.Tables) []knowledge.Stop {
	var out []knowledge.Stop
	for _, s := range tables.Stops() {
		if s.Way != knowledge.Noted {
			out = append(out, s)
		}
	}
	return out
}
