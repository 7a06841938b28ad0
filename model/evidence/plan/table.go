package plan

import "slices"

// choice is something that may be done with a group, and what comes of it.
type choice struct {
	act
	cost    float64 // expected, in cents
	reaches bool    // the target
}

// table are all choices of a group: nothing, and then by rounds and size.
type table []choice

// table works out all choices of a group.
func (p *planner) table(g group) table {
	t := table{{reaches: reached(p.most(g, 1, 0, p.Rounds), p.Target)}}
	sizes := sizes(len(g.animals), p.largest(g))
	var costs [][]float64
	for _, size := range sizes {
		costs = append(costs, p.rounds(g, size, p.Rounds))
	}
	for n := 1; n <= p.Rounds; n++ {
		for i, size := range sizes {
			t = append(t, choice{act{size, n}, costs[i][n], reached(p.most(g, size, n, p.Rounds), p.Target)})
		}
	}
	return t
}

// most is the highest chance that is left of an animal of a group after so many of some
// rounds, at the end of the ranges that the target is held against.
func (p *planner) most(g group, size, rounds, of int) (most float64) {
	ends := p.ends[:1]
	if p.Cautious {
		ends = p.ends
	}
	for _, e := range ends {
		for _, n := range slices.Compact(divided(len(g.animals), size)) {
			most = max(most, p.outlooks(g, n, 0, of, e)[rounds].after)
		}
	}
	return most
}

// enough reports whether nothing needs to be done with the group.
func (t table) enough() bool { return t[0].reaches }

// best is the cheapest choice that reaches the target in at most so many rounds, of
// several the one with fewest rounds, then with the smallest pools; nil: none does.
func (t table) best(rounds int) (best *choice) {
	for i, c := range t {
		if !c.reaches || c.rounds > rounds {
			continue
		}
		if best == nil || c.cost < best.cost-tie {
			best = &t[i]
		}
	}
	return best
}

// of is the choice of this many rounds in pools of this size, or of the largest size
// below it that the group can be divided into.
func (t table) of(size, rounds int) (of choice) {
	for _, c := range t {
		if c.rounds == rounds && c.size <= size {
			of = c
		}
	}
	return of
}
