package plan

import (
	"coilward/model"
	"coilward/model/evidence"
)

// Plan is who is sampled on which days, and what comes of it. All ranges go from the
// lowest to the highest over all ends of what is known, with what is assumed between.
type Plan struct {
	Days  []model.Day // on which samples are taken, in their order
	Parts []Part
	Known model.Day // on which the last answer is there, if nothing is detected
	Tests int       // if nothing is detected
	Swabs int
	Cost  int64 // if nothing is detected, in cents
	// Expected is what it costs with all samples that follow something detected, in cents.
	Expected evidence.Range
	// Clear is the chance that nothing is detected in any sample.
	Clear evidence.Range
	// FalseAlarm is the chance that at least once a pool without carriers, or an animal that
	// does not carry the thing, is detected.
	FalseAlarm evidence.Range
	// Most is the highest chance of any of the animals, if nothing is detected.
	Most evidence.Range
	// Enough: that is at most the target, at what is assumed or, of a cautious plan, at the
	// worst end.
	Enough bool
	// Verdict is how surely it is.
	Verdict Verdict
	// Late: it is known after the last day that is wanted. Dear: it is expected to cost more than
	// is wanted, at what is assumed.
	Late, Dear bool
}

// Verdict is how surely a plan is enough. Values are frozen.
type Verdict string

// How surely.
const (
	NotEnough  Verdict = "not-enough"
	IfAssumed  Verdict = "enough-assumed" // if what is assumed is right
	AtTheWorst Verdict = "enough"         // at the worst end of all that is known, too
)

// Wanted reports whether the plan is enough, in time and within what is to be paid.
func (p Plan) Wanted() bool { return p.Enough && !p.Late && !p.Dear }

// Largest is how many animals the largest of its pools has; 1: each is sampled singly.
func (p Plan) Largest() int {
	most := 1
	for _, part := range p.Parts {
		for _, pool := range part.Pools {
			if part.Rounds > 0 {
				most = max(most, len(pool.Animals))
			}
		}
	}
	return most
}

// Part is what is done with animals of which the same is known.
type Part struct {
	Animals []int // as places in Facts.Animals
	Size    int   // of the largest pool; 1: each singly
	Rounds  int   // the last so many of the plan's days; 0: enough is known of them
	Pools   []Pool
}

// Pool are animals that are sampled together; one: singly.
type Pool struct {
	Animals []int          // as places in Facts.Animals
	After   evidence.Range // the chance of each of them, if nothing is detected
}

// act is a size of pools and a number of rounds for a group.
type act struct{ size, rounds int }

// planner works plans out of facts.
type planner struct {
	Facts
	groups []group
	ends   []end
	sights sights
	levels map[asked][]float64 // what those of a group shed, by its past
	known  map[asked][]outlook
}

// asked is what an outlook depends on.
type asked struct {
	pool
	sensitivity, share, blind, rounds int
}

func (f Facts) planner() *planner {
	return &planner{Facts: f, groups: f.groups(), ends: f.ends(), sights: sights{}, levels: map[asked][]float64{}, known: map[asked][]outlook{}}
}

// outlooks are those of a pool of a group at one end; each is worked out once.
func (p *planner) outlooks(g group, size, blind, rounds int, e end) []outlook {
	one := pool{size, g.chance.At(e[chance]), g.past}
	key := asked{one, e[sensitivity], e[share], blind, rounds}
	if p.known[key] == nil {
		p.known[key] = one.outlooks(p.sights.at(p.Way, e), p.sheds(g, e), blind, rounds)
	}
	return p.known[key]
}

// plan works out all that comes of what is done with each group on the last of its days,
// of which there is at least one.
func (p *planner) plan(days []model.Day, acts []act) Plan {
	plan := Plan{Days: days, Known: days[len(days)-1] + model.Day(p.LabDays)}
	for i, g := range p.groups {
		plan.Parts = append(plan.Parts, g.part(acts[i]))
		plan.Tests += acts[i].rounds * len(plan.Parts[i].Pools)
		plan.Swabs += acts[i].rounds * len(g.animals)
	}
	plan.Cost = int64(plan.Tests)*p.Price.Test + int64(plan.Swabs)*p.Price.Swab
	for n, e := range p.ends {
		p.end(&plan, e, n == 0)
	}
	most := plan.Most.Mid
	if p.Cautious {
		most = plan.Most.High
	}
	plan.Enough, plan.Verdict = reached(most, p.Target), NotEnough
	switch {
	case reached(plan.Most.High, p.Target):
		plan.Verdict = AtTheWorst
	case plan.Enough:
		plan.Verdict = IfAssumed
	}
	plan.Late, plan.Dear = p.after(plan.Known), p.above(plan.Expected.Mid)
	return plan
}

// part divides a group into its pools, in their order.
func (g group) part(a act) Part {
	part := Part{Animals: g.animals, Size: a.size, Rounds: a.rounds}
	from := 0
	for _, size := range divided(len(g.animals), max(1, a.size)) {
		part.Pools = append(part.Pools, Pool{Animals: g.animals[from : from+size]})
		from += size
	}
	return part
}

// end works the plan out at one end of the ranges, and widens what it says.
func (p *planner) end(plan *Plan, e end, mid bool) {
	days := model.Day([3]int{p.Latent.Low, p.Latent.Mid, p.Latent.High}[e[latent]+1])
	cost, clear, quiet, most := 0.0, 1.0, 1.0, 0.0
	for i, g := range p.groups {
		part := &plan.Parts[i]
		blind := 0
		for _, day := range plan.Days[len(plan.Days)-part.Rounds:] {
			if day < g.exposed+days {
				blind++
			}
		}
		for n := range part.Pools {
			size := len(part.Pools[n].Animals)
			o := p.outlooks(g, size, blind, part.Rounds, e)[part.Rounds]
			part.Pools[n].After.Widen(o.after, mid)
			cost += o.cost(size, p.Price)
			clear *= o.clear
			quiet *= o.quiet
			most = max(most, o.after)
		}
	}
	plan.Expected.Widen(cost, mid)
	plan.Clear.Widen(clear, mid)
	plan.FalseAlarm.Widen(1-quiet, mid)
	plan.Most.Widen(most, mid)
}

// tie is how near two numbers lie that are the same but for rounding.
const tie = 1e-9

// reached reports whether a chance is at most the target.
func reached(chance, target float64) bool { return chance <= target*(1+tie) }
