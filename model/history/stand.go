package history

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/weight"
	"coilward/model/welfare"
)

// Origin tells what made a verdict that still stands.
type Origin uint8

// The origins.
const (
	FromCheck Origin = iota // a check said so of what is still open
	FromEntry               // an entry of everyday care
	FromGone                // what was for the vet is gone, and no vet has said a word of it
	FromLook                // open, and no check that can be read has judged it
)

// Part is one verdict that still stands, as it was said on its day.
type Part struct {
	From    Origin
	Entry   model.EntryID // the check or entry that it was said of; none: FromLook
	Day     model.Day     // on which it was said
	Gone    model.Day     // FromGone: since when
	Verdict exam.Verdict  // only what still stands of it
}

// Level is how urgent the part is now: what is gone without a vet's word is no
// emergency any more, but it goes on asking for the vet.
func (p Part) Level() knowledge.Level { return p.now(p.Verdict.Level) }

// Noted reports whether it was said of an entry of everyday care, and of no
// problem of a check.
func (p Part) Noted() bool {
	return p.From == FromEntry || p.From == FromGone && !slices.ContainsFunc(p.Verdict.Signs, func(s exam.Sign) bool { return !s.Problem.IsZero() })
}

func (p Part) now(l knowledge.Level) knowledge.Level {
	if p.From == FromGone {
		return min(l, knowledge.VetWithinDays)
	}
	return l
}

// Standing is how an animal stands at a moment: the one judgement that every
// page and paper tells.
type Standing struct {
	Day   model.Day
	Parts []Part // most urgent first, then the latest
	// Loss is what the weights tell. It is named beside the parts and raises no level.
	Loss weight.Loss
	// Unfed is a young animal that has kept no meal for so long that a vet should
	// hear of it: named beside the parts too.
	Unfed Unfed
	// Breathing is what was seen on visits of its breathing that a vet should hear of:
	// named beside the parts too.
	Breathing welfare.Breathes
}

// ForVet reports whether anything of it is a matter for the vet.
func (s Standing) ForVet() bool {
	return s.Level() >= knowledge.VetWithinDays || s.Loss.ForVet() || !s.Unfed.IsZero() || !s.Breathing.IsZero()
}

// Emergency reports whether anything of it is an emergency.
func (s Standing) Emergency() bool {
	return max(s.Level(), s.Breathing.Level) >= knowledge.EmergencyToday
}

// Owed is one thing that is due, with what it is for.
type Owed struct {
	exam.Obligation
	For   []knowledge.FindingID
	Level knowledge.Level // of what made it due
	From  Origin
	Said  model.Day // on which it was said
	Part  int       // index into Standing.Parts: the one that made it due
}

// Day is the day on which it is due, as of a day: an emergency is due today,
// whenever it was said.
func (o Owed) Day(today model.Day) model.Day {
	if o.Level == knowledge.EmergencyToday {
		return today
	}
	return o.By
}

// Stand judges an animal at a moment. Open problems stand as the last check said
// of them, in its own circumstances; entries of everyday care as they were
// judged on their day until others say the contrary; and what was for the vet
// and is gone goes on asking for the vet, for as many days as the tables say,
// until a vet has closed it.
func (r Records) Stand(t *knowledge.Tables, problems []exam.StoredProblem, at model.Moment) Standing {
	s := Standing{Day: at.Day()}
	s.Parts = append(s.Parts, r.open(t, problems, at)...)
	stands, ended := r.still(t, at)
	s.Parts = append(s.Parts, ended...)
	for _, said := range stands {
		if said.Verdict.Level > knowledge.Nothing && !s.tells(said.Verdict) {
			s.Parts = append(s.Parts, Part{From: FromEntry, Entry: said.Entry, Day: said.Verdict.Day, Verdict: said.Verdict})
		}
	}
	for _, p := range problems {
		if part, asks := r.gone(t, p, at); asks {
			s.Parts = append(s.Parts, part)
		}
	}
	slices.SortStableFunc(s.Parts, func(a, b Part) int {
		return cmp.Or(cmp.Compare(b.Level(), a.Level()), cmp.Compare(b.Day, a.Day))
	})
	s.Loss = r.Loss(t, at.Day())
	s.Unfed = r.unfed(t, at.Day())
	s.Breathing = welfare.ForVet(t, welfare.Visits(t, r.visits), at.Day())
	return s
}

// BreathingSince is the day of the first visit on which its breathing was a matter for the vet; 0:
// there is none.
func (r Records) BreathingSince(t *knowledge.Tables) model.Day {
	all := welfare.Breathings(t, welfare.Visits(t, r.visits))
	if i := slices.IndexFunc(all, welfare.Breathing.ForVet); i >= 0 {
		return all[i].At.Day()
	}
	return 0
}

// tells reports whether open problems say all that a verdict of an entry says, and
// as urgently: what is seen twice is said once.
func (s Standing) tells(of exam.Verdict) bool {
	for i, sign := range of.Signs {
		if !slices.ContainsFunc(s.Parts, func(p Part) bool { return !p.Noted() && p.levelOf(sign.What) >= int(of.Of(i)) }) {
			return false
		}
	}
	return true
}

// levelOf is how urgent the part is by a finding; below every level where it does
// not speak of it.
func (p Part) levelOf(what knowledge.FindingID) int {
	level := -1
	for i, s := range p.Verdict.Signs {
		if s.What == what {
			level = max(level, int(p.now(p.Verdict.Of(i))))
		}
	}
	return level
}

// open are the parts of open problems: what the newest check said of those it
// knew, what the check of its last look said of any other, and what the tables
// say today of those that no check has judged as they are.
func (r Records) open(t *knowledge.Tables, problems []exam.StoredProblem, at model.Moment) []Part {
	var parts []Part
	left := slices.DeleteFunc(slices.Clone(problems), func(p exam.StoredProblem) bool { return !p.Open() })
	for i, c := range r.Checks {
		var here, rest []exam.StoredProblem
		for _, p := range left {
			if asked := i == 0 || p.Last().Check == c.ID; asked && judges(c.Verdict, p) {
				here = append(here, p)
			} else {
				rest = append(rest, p)
			}
		}
		left = rest
		if v := narrowed(c.Verdict, here...); v.Level > knowledge.Nothing {
			parts = append(parts, Part{From: FromCheck, Entry: c.ID, Day: c.Verdict.Day, Verdict: v})
		}
	}
	if v := exam.Stand(t, left, r.Context, at, r.Sheds...); v.Level > knowledge.Nothing {
		parts = append(parts, Part{From: FromLook, Day: v.Day, Verdict: v})
	}
	return parts
}

// Besides is what still stands beside a check once it is kept, of the days before
// it: what everyday entries tell that the check does not say as urgently itself,
// and what is gone without a vet's word.
func (r Records) Besides(t *knowledge.Tables, c exam.StoredCheck, problems []exam.StoredProblem, at model.Moment) Standing {
	older := slices.DeleteFunc(slices.Clone(r.Checks), func(o exam.StoredCheck) bool { return o.ID == c.ID })
	r.Checks = append([]exam.StoredCheck{c}, older...)
	s := r.Stand(t, c.After(problems, c.ID), at)
	s.Parts = slices.DeleteFunc(s.Parts, func(p Part) bool {
		return p.From != FromGone && (p.From != FromEntry || saidIn(c.Verdict, p.Verdict))
	})
	return s
}

// saidIn reports whether a verdict says of each sign of another what that says,
// at least as urgently, and sends it to the vet no later.
func saidIn(v, other exam.Verdict) bool {
	for i, s := range other.Signs {
		by, vet := other.VetFor(i)
		told := false
		for j, known := range v.Signs {
			said, sees := v.VetFor(j)
			told = told || known.What == s.What && v.Of(j) >= other.Of(i) && (!vet || sees && said <= by)
		}
		if !told && other.Of(i) > knowledge.Nothing {
			return false
		}
	}
	return true
}

// judges reports whether a verdict speaks of a problem as it is: not where it
// was said to be the animal's own, or not, only later.
func judges(v exam.Verdict, p exam.StoredProblem) bool {
	return slices.ContainsFunc(v.Signs, func(s exam.Sign) bool { return about(s, p) && s.Baseline == p.Baseline })
}

// about reports whether a sign is a look at the problem; verdicts of old did not
// name it.
func about(s exam.Sign, p exam.StoredProblem) bool {
	return s.Problem == p.ID || s.Problem.IsZero() && s.Stop == p.Stop && s.What == p.What
}

// narrowed is what a verdict says of some problems, and of nothing else.
func narrowed(v exam.Verdict, problems ...exam.StoredProblem) exam.Verdict {
	out := exam.Verdict{Day: v.Day, VetWithin: v.VetWithin, Tables: v.Tables}
	at := map[int]int{}
	for i, s := range v.Signs {
		for _, p := range problems {
			if about(s, p) {
				s.Problem, at[i] = p.ID, len(out.Signs)
				out.Signs = append(out.Signs, s)
				break
			}
		}
	}
	for _, reason := range v.Reasons {
		var signs []int
		for _, i := range reason.Signs {
			if to, stays := at[i]; stays {
				signs = append(signs, to)
			}
		}
		if len(signs) > 0 {
			reason.Signs = signs
			out.Reasons = append(out.Reasons, reason)
			out.Level = max(out.Level, reason.Level)
		}
	}
	return out
}

// gone is the gravest that was said of a problem since it last came, where it is
// gone, that was for the vet, and no vet has said a word of it.
func (r Records) gone(t *knowledge.Tables, p exam.StoredProblem, at model.Moment) (part Part, asks bool) {
	last := p.Last()
	if !WithoutWord(t, p, at) {
		return Part{}, false
	}
	looks := map[model.EntryID]bool{}
	for _, check := range present(p) {
		looks[check] = true
	}
	for _, c := range r.Checks {
		if !looks[c.ID] {
			continue
		}
		if v := narrowed(c.Verdict, p); v.Level >= knowledge.VetWithinDays && v.Level > part.Verdict.Level {
			part = Part{From: FromGone, Entry: c.ID, Day: v.Day, Gone: last.At.Day(), Verdict: v}
		}
	}
	return part, part.Verdict.Level > knowledge.Nothing
}

// WithoutWord reports whether a problem went by the keeper's word alone, and so
// lately that it would go on asking for the vet if it did before.
func WithoutWord(t *knowledge.Tables, p exam.StoredProblem, at model.Moment) bool {
	last := p.Last()
	days := int(at.Day() - last.At.Day())
	return last.Standing == exam.Gone && days >= 0 && days <= t.Value(knowledge.ValueVetWord)
}

// present are the checks that saw a problem since it last came.
func present(p exam.StoredProblem) []model.EntryID {
	var checks []model.EntryID
	for _, g := range p.Glimpses {
		if g.Standing == exam.CameBack {
			checks = nil
		}
		if g.Standing.Present() && !g.Check.IsZero() {
			checks = append(checks, g.Check)
		}
	}
	return checks
}

// Level is the most urgent of all that stands.
func (s Standing) Level() knowledge.Level {
	if len(s.Parts) == 0 {
		return knowledge.Nothing
	}
	return s.Parts[0].Level()
}

// Of is how urgent a problem is now.
func (s Standing) Of(p model.ProblemID) knowledge.Level {
	var level knowledge.Level
	for _, part := range s.Parts {
		for i, sign := range part.Verdict.Signs {
			if sign.Problem == p && !p.IsZero() {
				level = max(level, part.now(part.Verdict.Of(i)))
			}
		}
	}
	return level
}

// About are the parts that speak of a problem, each cut down to it.
func (s Standing) About(p exam.StoredProblem) []Part {
	var parts []Part
	for _, part := range s.Parts {
		if part.Noted() {
			continue
		}
		if part.Verdict = narrowed(part.Verdict, p); part.Verdict.Level > knowledge.Nothing {
			parts = append(parts, part)
		}
	}
	return parts
}

// Due is what is due, the most urgent first, then by day.
func (s Standing) Due() []Owed {
	var due []Owed
	for i, p := range s.Parts {
		for _, o := range p.Verdict.Due() {
			owes := Owed{Obligation: o, From: p.From, Said: p.Day, Part: i}
			for _, i := range o.Signs {
				owes.Level = max(owes.Level, p.now(p.Verdict.Of(i)))
				if what := p.Verdict.Signs[i].What; !slices.Contains(owes.For, what) {
					owes.For = append(owes.For, what)
				}
			}
			if p.From != FromGone || o.Kind == exam.SeeVet {
				due = append(due, owes)
			}
		}
	}
	slices.SortStableFunc(due, func(a, b Owed) int { return cmp.Or(cmp.Compare(b.Level, a.Level), cmp.Compare(a.By, b.By)) })
	return due
}

// VetBy is the last day on which a vet should see the animal, if one should.
func (s Standing) VetBy() (by model.Day, wanted bool) {
	for _, o := range s.Due() {
		if o.Kind == exam.SeeVet && (!wanted || o.By < by) {
			by, wanted = o.By, true
		}
	}
	return by, wanted
}

// VetFor are the days by which a vet is to see each problem, where one is.
func (s Standing) VetFor() map[model.ProblemID]model.Day {
	days := map[model.ProblemID]model.Day{}
	for _, part := range s.Parts {
		for i, sign := range part.Verdict.Signs {
			by, wanted := part.Verdict.VetFor(i)
			if before, set := days[sign.Problem]; wanted && !sign.Problem.IsZero() && (!set || by < before) {
				days[sign.Problem] = by
			}
		}
	}
	return days
}

// VetNoted are the days by which a vet is to see what entries of everyday care
// tell.
func (s Standing) VetNoted() map[knowledge.FindingID]model.Day {
	days := map[knowledge.FindingID]model.Day{}
	for _, part := range s.Parts {
		for i, sign := range part.Verdict.Signs {
			by, wanted := part.Verdict.VetFor(i)
			if before, set := days[sign.What]; part.From == FromEntry && wanted && (!set || by < before) {
				days[sign.What] = by
			}
		}
	}
	return days
}

// Apart reports whether something that stands asks to keep the animal apart.
func (s Standing) Apart() bool {
	return slices.ContainsFunc(s.Parts, func(p Part) bool { return p.Verdict.Isolate() })
}
