package evidence

import (
	"maps"
	"math"
	"slices"
)

// MostLinked is how many animals that share pools are worked out together. Of more, each
// is worked out by what the samples of the others alone say of them.
const MostLinked = 12

// mostCounts bounds the memory of working them out together: how many ways there are for
// all pools to have so many carriers in them.
const mostCounts = 1 << 17

// linked are the animals that share pools with one, and with those, itself first.
func (k *known) linked(animal int) []int {
	all := []int{animal}
	for i := 0; i < len(all); i++ {
		for _, s := range k.samples {
			if len(s.Of) > 1 && slices.Contains(s.Of, all[i]) {
				for _, other := range s.Of {
					if !slices.Contains(all, other) {
						all = append(all, other)
					}
				}
			}
		}
	}
	return all
}

// pools are those of some animals, by their places in known.samples.
func (k *known) pools(of []int) (all []int) {
	for n, s := range k.samples {
		if len(s.Of) > 1 && slices.ContainsFunc(s.Of, func(a int) bool { return slices.Contains(of, a) }) {
			all = append(all, n)
		}
	}
	return all
}

// counts is how likely it is that so many animals in each of some pools carry the thing
// and can be seen to: one number for each way to have them, the last pool the fastest.
type counts struct {
	pools []int // places in known.samples
	sizes []int // of each, one more than the most that can be in it
	by    []float64
}

// none has nobody in any of the pools; fits is false where there are too many ways.
func (k *known) none(pools []int) (c counts, fits bool) {
	c.pools = pools
	ways := 1
	for _, p := range pools {
		c.sizes = append(c.sizes, len(k.samples[p].Of)+1)
		if ways *= c.sizes[len(c.sizes)-1]; ways > mostCounts {
			return c, false
		}
	}
	c.by = make([]float64, ways)
	c.by[0] = 1
	return c, true
}

// step is how much further the counts lie with one more in each of some pools.
func (c counts) step(pools []int) (far int) {
	stride := 1
	for i := len(c.pools) - 1; i >= 0; i-- {
		if slices.Contains(pools, c.pools[i]) {
			far += stride
		}
		stride *= c.sizes[i]
	}
	return far
}

// with adds an animal: the chances of what it can be, by how far they lie.
func (c counts) with(ways map[int]float64) counts {
	by := make([]float64, len(c.by))
	for _, far := range slices.Sorted(maps.Keys(ways)) {
		for i, chance := range c.by[:len(c.by)-far] {
			by[i+far] += chance * ways[far]
		}
	}
	c.by = by
	return c
}

// answered is the chance of what all pools answered, where one more carrier is in each
// of some. likely is that of an answer by pool and the number of carriers in it.
func (c counts) answered(more []int, likely [][]float64) float64 {
	by := c.by
	for i := len(c.pools) - 1; i >= 0; i-- {
		one := 0
		if slices.Contains(more, c.pools[i]) {
			one = 1
		}
		size := c.sizes[i]
		shorter := make([]float64, len(by)/size)
		for n := range shorter {
			for x, chance := range by[n*size : (n+1)*size] {
				if chance != 0 {
					shorter[n] += chance * likely[i][x+one]
				}
			}
		}
		by = shorter
	}
	return by[0]
}

// likely is the chance of what each of some pools answered, by the number of carriers.
func (k *known) likely(pools []int, level float64) (all [][]float64) {
	for _, p := range pools {
		s := k.samples[p]
		var by []float64
		for x := range len(s.Of) + 1 {
			by = append(by, k.sights[s.By].likely(s.Detected, len(s.Of), x, level))
		}
		all = append(all, by)
	}
	return all
}

// chance is that of an animal to carry the thing.
func (k *known) chance(animal int) float64 {
	never, all := k.cohorts(animal)
	others := k.linked(animal)[1:]
	answered := k.apart
	if len(others) < MostLinked {
		answered = k.together
	}
	clean, carries := answered(animal, others, never, all)
	return carries / (clean + carries)
}

// together are the chances that an animal does not carry the thing and that it does,
// each with all answers of the animals linked with it. In the pools, whoever else
// carries it is taken to shed as this animal does.
func (k *known) together(animal int, others []int, never float64, all []cohort) (clean, carries float64) {
	c, fits := k.none(k.pools(append([]int{animal}, others...)))
	if !fits {
		return k.apart(animal, others, never, all)
	}
	for _, other := range others {
		c = c.with(k.ways(other, c))
	}
	return k.over(c, never, all)
}

// ways are the chances of what an animal can be with its own answers, at any level.
func (k *known) ways(animal int, in counts) map[int]float64 {
	never, all := k.cohorts(animal)
	by := map[int]float64{0: never}
	for _, c := range all {
		by[in.step(c.pools)] += c.by.mean()
	}
	return by
}

// over are both chances over the levels of the animal asked about.
func (k *known) over(c counts, never float64, all []cohort) (clean, carries float64) {
	for i, z := range levels {
		likely := k.likely(c.pools, z)
		clean += weights[i] * never * c.answered(nil, likely)
		for _, one := range all {
			if one.by[i] != 0 {
				carries += weights[i] * one.by[i] * c.answered(one.pools, likely)
			}
		}
	}
	return clean, carries
}

// apart are both chances where the animals linked with it are too many: each of them is
// in a pool by what its own samples alone say, and the pools are read one by one.
func (k *known) apart(animal int, others []int, never float64, all []cohort) (clean, carries float64) {
	pools := k.pools([]int{animal})
	in := make([]counts, len(pools))
	for n, p := range pools {
		in[n], _ = k.none([]int{p})
	}
	for _, other := range others {
		for n, p := range pools {
			if slices.Contains(k.samples[p].Of, other) {
				ways := k.ways(other, in[n])
				sum := ways[0] + ways[1]
				in[n] = in[n].with(map[int]float64{0: ways[0] / sum, 1: ways[1] / sum})
			}
		}
	}
	for i, z := range levels {
		without, with := weights[i]*never, make([]float64, len(all))
		for j, one := range all {
			with[j] = weights[i] * one.by[i]
		}
		for n := range in {
			likely := k.likely(in[n].pools, z)
			without *= in[n].answered(nil, likely)
			for j, one := range all {
				with[j] *= in[n].answered(one.pools, likely)
			}
		}
		clean += without
		for _, w := range with {
			carries += w
		}
	}
	return clean, carries
}

// atLeastOne is the chance that at least one of some animals carries the thing. Those
// that are linked are taken to shed alike, which is the cautious side: where the samples
// of one that sheds little find nothing, those of the others do not find it either.
func (k *known) atLeastOne(of []int) float64 {
	none, most, done := 1.0, 0.0, map[int]bool{}
	for _, animal := range of {
		most = max(most, k.chance(animal))
		if done[animal] {
			continue
		}
		group := k.linked(animal)
		for _, a := range group {
			done[a] = true
		}
		none *= k.noneOf(group, of)
	}
	return max(most, 1-none)
}

// noneOf is the chance that none of those asked about in a linked group carries it.
func (k *known) noneOf(group, of []int) float64 {
	asked := func(a int) bool { return slices.Contains(of, a) }
	c, fits := k.none(k.pools(group))
	if len(group) > MostLinked || !fits {
		none := 1.0
		for _, a := range group {
			if asked(a) {
				none *= 1 - k.chance(a)
			}
		}
		return none
	}
	nevers, cohorts := make([]float64, len(group)), make([][]cohort, len(group))
	for n, a := range group {
		nevers[n], cohorts[n] = k.cohorts(a)
	}
	without, all := 0.0, 0.0
	for i, z := range levels {
		likely := k.likely(c.pools, z)
		none, any := c, c
		for n, a := range group {
			ways, never := map[int]float64{0: nevers[n]}, map[int]float64{0: nevers[n]}
			for _, one := range cohorts[n] {
				ways[c.step(one.pools)] += one.by[i]
			}
			if !asked(a) {
				never = ways
			}
			none, any = none.with(never), any.with(ways)
		}
		without += weights[i] * none.answered(nil, likely)
		all += weights[i] * any.answered(nil, likely)
	}
	return math.Min(1, without/all)
}
