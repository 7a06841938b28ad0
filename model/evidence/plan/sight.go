package plan

import (
	"math"
	"slices"

	"coilward/model/evidence"
)

// levels of shedding, and the weight of each.
var levels, weights = evidence.Levels()

// sight is what one choice of figures misses, worked out once.
type sight struct {
	evidence.Sight
	pools [MostPool + 1][][]float64 // by animals in a pool, carriers among them, and level
	looks [MostPool + 1]*look
}

// look is what a pool is said to miss of one of its animals: by how many others carry the
// thing, where it does not; and where it does, at each level of its own.
type look struct {
	without []float64
	with    [][]float64
}

// look is that of a pool of so many.
func (s *sight) look(pool int) *look {
	if s.looks[pool] == nil {
		l := &look{}
		for x := range pool {
			l.without = append(l.without, s.Usual(pool, x))
			var with []float64
			for _, z := range levels {
				with = append(with, s.Beside(pool, x, z))
			}
			l.with = append(l.with, with)
		}
		s.looks[pool] = l
	}
	return s.looks[pool]
}

// missed is the chance that a pool of so many is not detected, by the carriers in it that
// can be seen, and by their level.
func (s *sight) missed(pool int) [][]float64 {
	if s.pools[pool] == nil {
		all := make([][]float64, pool+1)
		for x := range all {
			for _, z := range levels {
				all[x] = append(all[x], s.Missed(pool, x, z))
			}
		}
		s.pools[pool] = all
	}
	return s.pools[pool]
}

// sights are those of ways at their ends, made when they are asked for.
type sights map[sighted]*sight

type sighted struct {
	by                 evidence.Way
	sensitivity, share int
}

func (s sights) at(by evidence.Way, e end) *sight {
	key := sighted{by, e[sensitivity], e[share]}
	if s[key] == nil {
		figures := by.Figures()
		figures.Sensitivity, figures.Share = by.Sensitivity.At(e[sensitivity]), by.Share.At(e[share])
		s[key] = &sight{Sight: figures.Sight()}
	}
	return s[key]
}

// sheds is how likely each level is, at one end, of an animal that carries the thing and was
// missed by all earlier samples of a group, against one of which nothing is known. It sheds
// alike in whatever way it is looked for.
func (p *planner) sheds(g group, e end) []float64 {
	key := asked{pool: pool{past: g.past}, sensitivity: e[sensitivity], share: e[share]}
	if u := p.levels[key]; u != nil {
		return u
	}
	u, mean := make([]float64, len(levels)), 0.0 // first logs, for hundreds of samples would be no more than 0
	for _, o := range append([]Missed{{p.Way, g.earlier}}, g.others...) {
		for i, m := range p.sights.at(o.By, e).missed(1)[1] {
			u[i] += float64(o.Times) * math.Log(m)
		}
	}
	most := slices.Max(u)
	for i := range u {
		u[i] = math.Exp(u[i] - most)
		mean += weights[i] * u[i]
	}
	for i := range u {
		u[i] /= mean
	}
	p.levels[key] = u
	return u
}
