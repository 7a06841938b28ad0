package paper

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/chances"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/powercut"
	"coilward/model/weight"
)

// Facts are all that a health record states: what is stored of one animal, and
// nothing that is not. Lists run from the oldest to the newest.
type Facts struct {
	Animal animals.Animal
	// Begun is the day from which on the records can tell of the animal; 0: it is
	// not here.
	Begun    model.Day
	Portrait Photo
	// Photos are those that are printed: of each standard pose the newest, in the order of
	// the table, then the newest others.
	Photos []Photo
	// AllPhotos is how many there are, and Unread how many of those to be
	// printed could not be read.
	AllPhotos, Unread int
	Problems          []exam.StoredProblem
	Checks            []Checked
	Weights           []Dated[care.Weight]
	Meals             []Dated[care.Meal]
	Sheds             []Dated[care.Shed]
	Waste             []Dated[care.Waste]
	MiteLooks         []Dated[care.MiteLook]
	Beside            []Dated[care.Body] // clutches, in blue, baths, fluids and treatments against mites
	Scales            husbandry.Scales   // on which the weights were taken
	Moves             []model.Day        // on which the animal came to another place, in any order
	Notes             []Dated[care.Note]
	Samples           []Sampled
	// SampleNotes puts what was noted of samples and results on the paper.
	SampleNotes bool
	// Chances are what its samples prove of each thing, in the order of the table; NoChances
	// says that they could not be worked out, for what they rest on cannot be read.
	Chances   []chances.Chance
	NoChances bool
	// WithoutZone: the zone of the clock is not told, as on a paper that goes along with an animal.
	WithoutZone bool
	// UnreadQuarantines is how many quarantines, of whichever animal, could not be read: in the chances
	// they count as not released.
	UnreadQuarantines int
	Quarantine        *Quarantine // the open one, or the last; nil: it never was in one
	Positives         []OpenPositive
	// Unknown counts the entries of kinds that this version cannot read.
	Unknown map[string]int
	// Behaviour is how it is, as far as it was noted; nil: nothing was.
	Behaviour *Behaviour
	Courses   []Prescribed // of medicine, the oldest first
	// PowerCuts are those that it lived through, the newest first.
	PowerCuts []powercut.Stored
	// Chilled are those of them in which it was chilled and which no answer speaks for yet.
	Chilled []powercut.Stored
	Air     Air // what was read of heat and humidity where it lived
	// Visits are those to a vet that were held, Questions all to a vet, the oldest first.
	Visits    []Visited
	Questions []medicine.StoredQuestion
	Entries   int
	First     model.Day // of the entries; meaningless without any
	Last      model.Day
	Issued    model.Moment
	// Seal is the key with which the file of these papers is signed; zero: they are not signed.
	Seal    Seal
	Version string // of the program
	Tables  *knowledge.Tables
	// Organs asks for the layer of organ landmarks on the drawings of the whole
	// animal, for a vet.
	Organs bool
}

// Seal is a key as a paper shows it: its fingerprint for people, and as what a QR code says.
type Seal struct{ Fingerprint, Code string }

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
	Problem       model.ProblemID  // what it shows, if anything
	Pose          knowledge.PoseID // empty: it shows none of the standard poses
}

// standing is one problem as the record states it.
type standing struct {
	exam.StoredProblem
	number int // as drawn; 0: gone
	level  knowledge.Level
	parts  []history.Part // what stands of it, cut down to it; most urgent first
	peak   knowledge.Level
	peakOn model.Day
}

// quiet reports whether the finding is this animal's own or asks for nothing.
func (s standing) quiet() bool {
	return s.Baseline && s.level <= knowledge.NoAction || s.level == knowledge.NoAction
}

// standings are the problems: open ones first, most urgent first, then quiet
// ones, and those gone, without a number. Numbers are those of the screen.
func (f Facts) standings(now history.Standing) []standing {
	var all []standing
	for _, p := range f.Problems {
		s := standing{StoredProblem: p, level: now.Of(p.ID), parts: now.About(p)}
		s.peak, s.peakOn = f.peak(p)
		all = append(all, s)
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
		return cmp.Compare(a.First().At.UTC, b.First().At.UTC)
	})
	numbers := exam.Numbers(f.Problems)
	for i := range all {
		if all[i].Open() {
			all[i].number = numbers[all[i].ID]
		}
	}
	return all
}

// peak is the gravest that any check said of a problem, and on which day.
func (f Facts) peak(p exam.StoredProblem) (level knowledge.Level, on model.Day) {
	for _, c := range f.Checks {
		for i, sign := range c.Verdict.Signs {
			about := sign.Problem == p.ID || sign.Problem.IsZero() && sign.Stop == p.Stop && sign.What == p.What
			if said := c.Verdict.Of(i); about && said > level {
				level, on = said, c.Verdict.Day
			}
		}
	}
	return level, on
}

// Standing is how the animal stands on the day of issue, by the one judgement
// that the program's pages tell too.
func (f Facts) Standing() history.Standing {
	return f.records().Stand(f.Tables, f.Problems, f.Issued)
}

// Trend is how the weights go up to the day of issue.
func (f Facts) Trend() weight.Trend { return f.records().Trend(f.Tables, f.Issued.Day()) }

// records are those that the rules judge by.
func (f Facts) records() history.Records {
	var checks []exam.StoredCheck
	for _, c := range f.Checks {
		checks = append(checks, exam.StoredCheck{ID: c.ID, Check: c.Check})
	}
	slices.Reverse(checks)
	entries := slices.Concat(entriesOf(f.Weights), entriesOf(f.Meals), entriesOf(f.Sheds), entriesOf(f.Waste), entriesOf(f.MiteLooks), entriesOf(f.Beside))
	slices.SortStableFunc(entries, func(a, b care.Entry) int { return cmp.Compare(b.At.UTC, a.At.UTC) })
	whose := history.Whose{Species: f.Animal.Species, Hatched: f.Animal.Hatched, Begun: f.Begun, Scales: f.Scales, Moves: f.Moves}
	if f.Behaviour != nil {
		whose.Visits = f.Behaviour.entries
	}
	return history.Made(f.Tables, whose, entries, checks, f.Issued)
}

// entriesOf are dated bodies as entries, newest first.
func entriesOf[B care.Body](list []Dated[B]) []care.Entry {
	var entries []care.Entry
	backwards(list, func(d Dated[B]) { entries = append(entries, care.Entry{At: d.At, Body: d.Body}) })
	return entries
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

// counted are the checks that count as having looked: a brief look does not.
func (f Facts) counted() []Checked {
	return slices.DeleteFunc(slices.Clone(f.Checks), func(c Checked) bool { return c.Extent(f.Tables) == exam.BriefLook })
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

// unfedKey is the sentence of a young animal that has kept no meal.
func unfedKey(u history.Unfed) string {
	if u.Meal.IsZero() {
		return "paper.sentence.never-fed"
	}
	return "paper.sentence.unfed"
}
