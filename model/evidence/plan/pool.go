package plan

import (
	"math"

	"gonum.org/v1/gonum/stat/combin"
)

// pool is some animals that are sampled together; one: singly. All have the same chance
// and the same earlier samples.
type pool struct {
	size   int
	chance float64
	past   int // their earlier samples: of the first group that has the same
}

// outlook is what becomes of a pool in so many rounds.
type outlook struct {
	after   float64 // the chance of each animal, if nothing was detected
	clear   float64 // that nothing is detected
	quiet   float64 // that nobody is alarmed for nothing
	tests   float64 // that are expected, but for the retests
	retests float64 // of one animal each, that are expected
}

// cost is what a pool of so many is expected to cost, in cents.
func (o outlook) cost(size int, p Price) float64 {
	return o.tests*float64(p.Test+int64(size)*p.Swab) + o.retests*float64(p.Test+p.Swab)
}

// outlooks are what becomes of it in none, one and more rounds, of which the first blind
// ones come before the latent days are over and see nothing. sheds is how likely each level
// of shedding is of those that carry the thing.
func (p pool) outlooks(s *sight, sheds []float64, blind, rounds int) []outlook {
	all := make([]outlook, rounds+1)
	left := p.left(s, sheds, max(0, rounds-blind))
	for i := range all {
		all[i].after = left[max(0, i-blind)]
	}
	p.watched(s, sheds, blind, all)
	return all
}

// left is the chance of one of the animals when none, one and more samples that could see
// the thing have not detected it. Of the others nothing is known but their chance; how they
// shed is any, anew in each sample.
func (p pool) left(s *sight, sheds []float64, samples int) []float64 {
	missed := s.look(p.size)
	carries, clean := make([]float64, samples+1), make([]float64, samples+1)
	for x, by := range binomial(p.size-1, p.chance) {
		without := (1 - p.chance) * by
		for n := range clean {
			clean[n] += without
			without *= missed.without[x]
		}
		for i := range levels {
			with := p.chance * weights[i] * sheds[i] * by
			for n := range carries {
				carries[n] += with
				with *= missed.with[x][i]
			}
		}
	}
	for n := range carries {
		carries[n] /= carries[n] + clean[n]
	}
	return carries
}

// watched goes through all rounds for each number of carriers and each level of their
// shedding, which is the same in all of them.
func (p pool) watched(s *sight, sheds []float64, blind int, all []outlook) {
	missed := s.missed(p.size)
	chances, sum := make([][]float64, p.size+1), 0.0
	for x := range chances {
		ways := float64(combin.Binomial(p.size, x))
		for i := range levels {
			chance := weights[i] * ways * math.Pow(p.chance*sheds[i], float64(x)) * math.Pow(1-p.chance, float64(p.size-x))
			chances[x] = append(chances[x], chance)
			sum += chance
		}
	}
	for x := range chances {
		for i, chance := range chances[x] {
			seen := step(p.size, x, 1-missed[x][i], 1-s.missed(1)[1][i], 1-s.Specificity)
			unseen := step(p.size, x, 1-s.Specificity, 1-s.Specificity, 1-s.Specificity)
			pass(all, chance/sum, func(round int) once {
				if round < blind {
					return unseen
				}
				return seen
			})
		}
	}
}

// once is what one round of a pool does, given the carriers in it and their shedding.
type once struct {
	detected  float64
	retests   float64 // that are expected
	confirmed float64 // that it leaves the plan
	alarmed   float64 // that somebody is alarmed for nothing
	caught    float64 // that it leaves the plan and nobody is
}

// step is one round, by the chance that a pool is detected, and that the own sample of a
// carrier and of another animal is.
func step(size, carriers int, detected, carrier, other float64) once {
	if size == 1 {
		if carriers == 0 {
			return once{detected, detected, detected * other, detected, 0}
		}
		return once{detected, detected, detected * carrier, 0, detected * carrier}
	}
	x, rest := float64(carriers), float64(size-carriers)
	o := once{detected: detected, retests: detected * (x + rest + x*carrier + rest*other)}
	none := math.Pow(1-carrier*carrier, x)
	o.confirmed = detected * (1 - none*math.Pow(1-other*other, rest))
	if carriers == 0 {
		o.alarmed = detected
		return o
	}
	o.alarmed = detected * (1 - math.Pow(1-other, rest))
	o.caught = detected * math.Pow(1-other, rest) * (1 - none)
	return o
}

// pass adds the rounds of a pool in one state, which has this chance, to what is expected
// after none, one and more rounds.
func pass(all []outlook, chance float64, round func(int) once) {
	clear, stays, quiet, caught, tests, retests := 1.0, 1.0, 1.0, 0.0, 0.0, 0.0
	for n := range all {
		all[n].clear += chance * clear
		all[n].quiet += chance * (quiet + caught)
		all[n].tests += chance * tests
		all[n].retests += chance * retests
		if n+1 == len(all) {
			return
		}
		o := round(n)
		tests += stays
		retests += stays * o.retests
		stays *= 1 - o.confirmed
		clear *= 1 - o.detected
		caught += quiet * o.caught
		quiet *= 1 - o.alarmed - o.caught
	}
}

// binomial are the chances of none, one and more among so many, each with the same.
func binomial(n int, chance float64) []float64 {
	all := make([]float64, n+1)
	all[0] = 1
	for i := range n {
		for x := i + 1; x > 0; x-- {
			all[x] = all[x]*(1-chance) + all[x-1]*chance
		}
		all[0] *= 1 - chance
	}
	return all
}
