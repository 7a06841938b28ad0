// Package trial measures how often the alarm of a loss is wrong and how soon it is
// right: animals whose true mass is known are weighed on a noisy scale, and the rule
// is asked at each weighing. It knows the rule by its answer alone; noise, animals and
// seeds stand here and were not chosen with the rule.
package trial

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"
)

// Noise is what a weighing errs by: the share of the mass, as the standard deviation
// of its logarithm. It holds what gut, bladder, scale and a restless animal add.
type Noise struct {
	Percent float64 // 1, 2 or 3
	// Tails are the degrees of freedom of Student's distribution that wild values come
	// from, above 2; 0: the normal distribution.
	Tails float64
}

// drawing draws errors of a noise, as logarithms of the factor.
func (n Noise) drawing(source rand.Source) func() float64 {
	deviation := math.Log1p(n.Percent / 100)
	if n.Tails == 0 {
		return distuv.Normal{Sigma: deviation, Src: source}.Rand
	}
	scale := deviation / math.Sqrt(n.Tails/(n.Tails-2)) // of the same standard deviation
	return distuv.StudentsT{Sigma: scale, Nu: n.Tails, Src: source}.Rand
}
