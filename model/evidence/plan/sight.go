package plan

import (
	"math"

	"coilward/model/evidence"
)

// levels of shedding, and the weight of each.
var levels, weights = evidence.Levels()

// sight is what one choice of figures misses, worked out once.
type sight struct {
	evidence.Sight
	pools [MostPool + 1][][]float64 // by animals in a pool, carriers among them, and level
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

// sheds is how likely each level is of an animal that carries the thing and was missed so
// many times, against one of which nothing is known.
func (s *sight) sheds(earlier int) []float64 {
	var u []float64
	mean := 0.0
	for i, m := range s.missed(1)[1] {
		u = append(u, math.Pow(m, float64(earlier)))
		mean += weights[i] * u[i]
	}
	for i := range u {
		u[i] /= mean
	}
	return u
}

// sights are those of all ends, made when they are asked for.
type sights struct {
	way evidence.Way
	of  map[[2]int]*sight
}

func (s *sights) at(e end) *sight {
	key := [2]int{e[sensitivity], e[share]}
	if s.of[key] == nil {
		figures := s.way.Figures()
		figures.Sensitivity, figures.Share = s.way.Sensitivity.At(e[sensitivity]), s.way.Share.At(e[share])
		s.of[key] = &sight{Sight: figures.Sight()}
	}
	return s.of[key]
}
