package evidence

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// points is how many levels of shedding are told apart.
const points = 20

// perLevel is a value for each level.
type perLevel [points]float64

// levels are the points and weights of Gauss and Hermite for a standard normal value.
var levels, weights = standardNormal()

func standardNormal() (at, weight perLevel) {
	quad.Hermite{}.FixedLocations(at[:], weight[:], math.Inf(-1), math.Inf(1))
	sum := 0.0
	for i := range at {
		at[i] *= math.Sqrt2
		sum += weight[i]
	}
	for i := range weight {
		weight[i] /= sum
	}
	return at, weight
}

// Levels are the levels of shedding over which means are taken, in standard deviations,
// with the weight of each; the weights sum to 1.
func Levels() (at, weight []float64) {
	a, w := levels, weights
	return a[:], w[:]
}

// mean is that of a value over all levels.
func (p *perLevel) mean() (m float64) {
	for i, v := range p {
		m += weights[i] * v
	}
	return m
}
