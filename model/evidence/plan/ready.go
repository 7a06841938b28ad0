package plan

import "coilward/model"

// Kind is one of the ready plans.
type Kind uint8

// The ready plans.
const (
	// TwoSwabs: each animal singly, twice, Facts.Apart days apart: six weeks by the table (common
	// practice, no source).
	TwoSwabs Kind = iota
	// PoolThenSingles: one round in pools, of the size that is expected to cost least (Dorfman
	// 1943 Ann Math Stat 14:436); the animals of a pool that is detected then singly.
	PoolThenSingles
	// AsLab: what the laboratory asks for.
	AsLab
)

// Ready is a plan that needs no search.
type Ready struct {
	Kind Kind
	Plan
	// Pool is how many animals the laboratory asks for in a pool; 0: it is not its plan. The
	// largest of the plan may have fewer, for only animals of which the same is known share one,
	// and they are divided as evenly as can be.
	Pool int
}

// Ready are the plans that need no search, whether they are enough or not. All animals
// take part, from the first day on which all can be seen. There are none while a
// contact goes on, none in pools where nobody can share one, and the laboratory's only
// where it asks for something. Facts that Check refuses are an error.
func (f Facts) Ready() ([]Ready, error) {
	if refused := f.Check(); refused != nil {
		return nil, refused
	}
	if len(f.ongoing()) > 0 {
		return nil, nil
	}
	p := f.planner()
	all := []Ready{{Kind: TwoSwabs, Plan: p.alike(2, p.Apart, func(group) int { return 1 })}}
	if pooled := p.alike(1, 0, p.cheapest); pooled.Tests < pooled.Swabs {
		all = append(all, Ready{Kind: PoolThenSingles, Plan: pooled})
	}
	if f.Lab.Rounds > 0 {
		all = append(all, Ready{Kind: AsLab, Plan: p.alike(f.Lab.Rounds, f.Lab.Apart, func(group) int { return f.Lab.Pool }), Pool: f.Lab.Pool})
	}
	return all, nil
}

// alike is a plan with so many rounds for all, and the size of pools for each group.
func (p *planner) alike(rounds, apart int, size func(group) int) Plan {
	var days []model.Day
	for n := range rounds {
		days = append(days, last(p.groups)+model.Day(n*apart))
	}
	var acts []act
	for _, g := range p.groups {
		acts = append(acts, act{min(size(g), len(g.animals), p.largest(g)), rounds})
	}
	return p.plan(days, acts)
}

// cheapest is the size of pools, two or more, of which one round of a group is expected
// to cost least; 1 where it has no two animals for one.
func (p *planner) cheapest(g group) int {
	best, least := 1, 0.0
	for _, size := range sizes(len(g.animals), p.largest(g))[1:] {
		if cost := p.rounds(g, size, 1)[1]; best == 1 || cost < least-tie {
			best, least = size, cost
		}
	}
	return best
}

// rounds are what none, one and more rounds of a group in pools of this size are expected
// to cost, in cents.
func (p *planner) rounds(g group, size, rounds int) []float64 {
	costs := make([]float64, rounds+1)
	for _, n := range divided(len(g.animals), size) {
		for r, o := range p.outlooks(g, n, 0, rounds, end{}) {
			costs[r] += o.cost(n, p.Price)
		}
	}
	return costs
}
