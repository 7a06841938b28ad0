package quarantine

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// StepKind is what a step of the plan asks to be done. Values are frozen; the text is
// "quarantine.step." + value.
type StepKind string

// The kinds of step.
const (
	StepWeigh   StepKind = "weigh"
	StepMites   StepKind = "mites"
	StepSwab    StepKind = "swab"
	StepFaecal  StepKind = "faecal"
	StepCheck   StepKind = "check"
	StepRelease StepKind = "release"
)

// StepKinds are all of them.
func StepKinds() []StepKind {
	return []StepKind{StepWeigh, StepMites, StepSwab, StepFaecal, StepCheck, StepRelease}
}

// Step is one thing that the plan of days asks.
type Step struct {
	Kind   StepKind
	Agents []knowledge.AgentID // of StepSwab and StepFaecal
	N, Of  int                 // the first of three
	// From is the first day for it, By the last.
	From, By model.Day
	// First is that it goes before all others that are to be done, whatever their days.
	First bool
	// TooOld is the day of the last sample, where this one is taken once more because that
	// one is older at the release than the protocol allows; 0: it is not.
	TooOld model.Day
	Done   bool
	On     []model.ID // what it was done with
}

// plan lays steps out.
type plan struct {
	t     *knowledge.Tables
	p     Protocol
	f     Facts
	g     Gate
	steps []Step
}

// Plan is what the days of a quarantine ask, by day: what was done, and what is still
// to do so that the list is met as early as it can be. Source of its days: common
// practice, no source.
func Plan(t *knowledge.Tables, f Facts, g Gate) []Step {
	pl := plan{t: t, p: g.Protocol, f: f, g: g}
	pl.often(StepWeigh, knowledge.ValueWeighNewcomer, lastOf(f.Weighings, f.Today))
	if pl.p.Mites {
		last := f.Mites.Last
		pl.often(StepMites, knowledge.ValueLookMites, last)
		if n := len(pl.steps) - 1; f.Mites.Next != 0 {
			pl.steps[n].By = min(pl.steps[n].By, f.Mites.Next)
			pl.steps[n].From = min(pl.steps[n].From, pl.steps[n].By)
		}
		pl.steps[len(pl.steps)-1].First = f.Mites.unanswered()
	}
	for _, a := range pl.p.For {
		pl.samples(StepSwab, a, pl.p.Within, knowledge.ValueSwabFrom, knowledge.ValueSwabBy, func(Result) bool { return true })
	}
	if pl.p.Faecal > 0 {
		of := knowledge.Asked{Agents: []knowledge.AgentID{knowledge.FaecalAgent}, NotDetected: pl.p.Faecal, Apart: pl.p.FaecalApart}
		pl.samples(StepFaecal, of, 0, knowledge.ValueFaecalFrom, knowledge.ValueFaecalFrom, func(r Result) bool { return r.Faeces })
	}
	pl.lastCheck()
	switch {
	case g.Undated(): // no day leads there
	case g.Met:
		pl.steps = append(pl.steps, Step{Kind: StepRelease, N: 1, Of: 1, From: g.Earliest, By: f.Today})
	default:
		pl.steps = append(pl.steps, Step{Kind: StepRelease, N: 1, Of: 1, From: g.Earliest, By: g.Earliest})
	}
	slices.SortStableFunc(pl.steps, func(a, b Step) int { return cmp.Compare(a.From, b.From) })
	first, done := slices.IndexFunc(pl.steps, func(s Step) bool { return s.First }), slices.IndexFunc(pl.steps, func(s Step) bool { return !s.Done })
	if first > done {
		look := pl.steps[first]
		pl.steps = slices.Insert(slices.Delete(pl.steps, first, first+1), done, look)
	}
	return pl.steps
}

// unanswered reports whether mites were seen, and no look at the animal since saw none:
// until one did, that look, and what the vet says, go before a sample. Source:
// common practice, no source.
func (m Mites) unanswered() bool { return m.Why == FromMites && m.Over == 0 && m.Last <= m.From }

// lastOf is the last of some days by a day; 0: there is none.
func lastOf(days []model.Day, on model.Day) (last model.Day) {
	for _, day := range days {
		if day <= on {
			last = max(last, day)
		}
	}
	return last
}

// often adds the next of what is done every so many days.
func (pl *plan) often(kind StepKind, every knowledge.ValueID, last model.Day) {
	next := pl.f.Arrived
	if last >= pl.f.Arrived {
		next = last + model.Day(pl.t.Value(every))
	}
	pl.steps = append(pl.steps, Step{Kind: kind, N: 1, Of: 1, From: next, By: next})
}

// samples adds the samples that a thing asks for: those that were taken and said
// something, and those to take, the last of them not too long before the release.
func (pl *plan) samples(kind StepKind, of knowledge.Asked, within int, from, by knowledge.ValueID, fits func(Result) bool) {
	a := pl.f.answers(of.Agents, pl.f.Today, fits)
	if a.stands {
		return
	}
	links := chain(a.hoped, of.Apart, of.NotDetected)
	total := of.NotDetected
	latest := model.Day(0)
	if within > 0 {
		latest = pl.g.Earliest - model.Day(within)
	}
	after, _, _ := pl.f.after(of.Agents, pl.f.Today)
	again, tooOld := false, model.Day(0) // the last one is too old by then, or somebody came in since
	if n := len(links); n == total && n > 0 && within > 0 {
		last := a.hoped[len(a.hoped)-1].Taken
		if again = last < latest || last < after; last < latest {
			tooOld = last
		}
	}
	for i, r := range links {
		pl.steps = append(pl.steps, Step{Kind: kind, Agents: of.Agents, N: i + 1, Of: total, From: r.Taken, By: r.Taken, Done: true, On: []model.ID{r.Sample.ID}})
	}
	next := pl.f.Arrived + model.Day(pl.t.Value(from))
	until := pl.f.Arrived + model.Day(max(pl.t.Value(by), pl.t.Value(from)))
	if n := len(links); n > 0 {
		next = links[n-1].Taken + model.Day(max(of.Apart, 1))
		until = next
	}
	if d := a.detected.Taken; d > 0 && d >= next {
		next, until = d+1, d+1
	}
	if again {
		total = len(links) + 1
		next = max(latest, after)
		until = next
	}
	for i := len(links); i < total; i++ {
		if i == total-1 {
			next, until = max(next, latest), max(until, latest)
			if within > 0 {
				next, until = max(next, after), max(until, after)
			}
		}
		pl.steps = append(pl.steps, Step{Kind: kind, Agents: of.Agents, N: i + 1, Of: total, From: next, By: until, TooOld: tooOld})
		next = max(next, pl.f.Today) + model.Day(max(of.Apart, 1)) // one that is overdue is taken today at the earliest
		until = next
	}
}

// Planned is the list with the plan's day said on each line that the plan asks a thing
// for on a later day than the line's own: the line tells how soon it can be met, the plan
// when that is best done. A line that is met today, and no more at the release, says
// ahead from when on the thing is done once more.
func (g Gate) Planned(steps []Step) Gate {
	g.Lines = slices.Clone(g.Lines)
	for i, l := range g.Lines {
		kind, reason := l.planned()
		var last Step
		for _, s := range steps {
			if s.Kind == kind && !s.Done && slices.Equal(s.Agents, l.Agents) && s.From >= last.From {
				last = s
			}
		}
		gaps := map[string]model.Gap{"Day": model.DayGap(last.From)}
		if last.TooOld > 0 {
			reason = "plan-again"
			gaps["Taken"], gaps["Days"] = model.DayGap(last.TooOld), model.CountGap(g.Protocol.Within)
		}
		if last.From > 0 && (!l.State.Met() && last.From > l.Earliest || g.Stale(l)) {
			g.Lines[i].Reasons = append(slices.Clone(l.Reasons), why(reason, gaps))
		}
	}
	return g
}

// planned is the kind of step that a line is met by, and the reason that says its day.
func (l Line) planned() (kind StepKind, reason string) {
	switch l.Item {
	case LookedFor:
		return StepSwab, "plan-swab"
	case Faecal:
		return StepFaecal, "plan-faecal"
	case FullCheck:
		return StepCheck, "plan-check"
	}
	return "", ""
}

// lastCheck adds the check before the release.
func (pl *plan) lastCheck() {
	s := Step{Kind: StepCheck, N: 1, Of: 1, From: pl.g.Earliest - model.Day(pl.p.CheckWithin), By: pl.g.Earliest}
	for _, l := range pl.g.Lines {
		if l.Item == FullCheck && l.State.Met() && !pl.g.Stale(l) {
			s.Done, s.On = true, l.On
			s.From = l.Until - model.Day(pl.p.CheckWithin)
			s.By = s.From
		}
	}
	pl.steps = append(pl.steps, s)
}
