package evidence

import (
	"maps"
	"math"
	"slices"
)

// mostCounts bounds the time of working animals that share pools out together: how many
// ways there are for all their pools to have so many carriers in them, of those that can be.
// Twelve animals come to no more where all of them carried the thing before the first pool.
const mostCounts = 1 << 12

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
// and can be seen to, of all that can be.
type counts struct {
	pools []int // places in known.samples
	ways  []way // in the order of their counts
}

// way is one way to have carriers in pools.
type way struct {
	in     string // how many, a byte for each pool
	chance float64
}

// none has nobody in any of the pools.
func none(pools []int) counts {
	return counts{pools, []way{{string(make([]byte, len(pools))), 1}}}
}

// step is one more in each of some pools.
func (c counts) step(pools []int) string {
	one := make([]byte, len(c.pools))
	for i, p := range c.pools {
		if slices.Contains(pools, p) {
			one[i] = 1
		}
	}
	return string(one)
}

// with adds an animal: the chances of what it can be, by the pools in which it is one more.
// What has no chance is left out. fits is false where there are too many ways.
func (c counts) with(more map[string]float64) (sum counts, fits bool) {
	by := map[string]float64{}
	steps := slices.Sorted(maps.Keys(more))
	for _, w := range c.ways {
		for _, step := range steps {
			if chance := w.chance * more[step]; chance > 0 {
				by[added(w.in, step)] += chance
			}
		}
	}
	if len(by) > mostCounts {
		return c, false
	}
	sum.pools = c.pools
	for _, in := range slices.Sorted(maps.Keys(by)) {
		sum.ways = append(sum.ways, way{in, by[in]})
	}
	return sum, true
}

func added(a, b string) string {
	sum := []byte(a)
	for i := range sum {
		sum[i] += b[i]
	}
	return string(sum)
}

// answered is the chance of what all pools answered, where one more carrier is in each
// of some. likely is that of an answer by pool and the number of carriers in it.
func (c counts) answered(more []int, likely [][]float64) (sum float64) {
	one := c.step(more)
	for _, w := range c.ways {
		chance := w.chance
		for i := range c.pools {
			chance *= likely[i][w.in[i]+one[i]]
		}
		sum += chance
	}
	return sum
}

// likely is the chance of what a pool answered at a level, by the number of carriers.
func (k *known) likely(pool int, level float64) (by []float64) {
	s := k.samples[pool]
	for x := range len(s.Of) + 1 {
		by = append(by, k.sights[s.By].likely(s.Detected, len(s.Of), x, level))
	}
	return by
}

// likelyOf is that of each of some pools, at each level of one animal; a pool that it is
// not in is read over all levels, for it says nothing of how this animal sheds.
func (k *known) likelyOf(animal int, pools []int) (at [points][][]float64) {
	for _, p := range pools {
		var each [points][]float64
		for i, z := range levels {
			each[i] = k.likely(p, z)
		}
		if !slices.Contains(k.samples[p].Of, animal) {
			each = averaged(each)
		}
		for i := range levels {
			at[i] = append(at[i], each[i])
		}
	}
	return at
}

func averaged(each [points][]float64) (all [points][]float64) {
	mean := make([]float64, len(each[0]))
	for i, by := range each {
		for x, chance := range by {
			mean[x] += weights[i] * chance
		}
	}
	for i := range all {
		all[i] = mean
	}
	return all
}

// chance is that of an animal to carry the thing: worked out together with all that
// share pools with it and with each other, or where these are too many with those in its
// own pools alone; where these too are too many, its pools are read one by one.
func (k *known) chance(animal int) float64 {
	never, all := k.cohorts(animal)
	for _, pools := range [][]int{k.pools(k.linked(animal)), k.pools([]int{animal})} {
		if clean, carries, fits := k.together(animal, pools, never, all); fits {
			return carries / (clean + carries)
		}
	}
	clean, carries := k.apart(animal, never, all)
	return carries / (clean + carries)
}

// in are the animals of some pools but for one.
func (k *known) in(pools []int, but int) (all []int) {
	for _, p := range pools {
		for _, a := range k.samples[p].Of {
			if a != but && !slices.Contains(all, a) {
				all = append(all, a)
			}
		}
	}
	return all
}

// together are the chances that an animal does not carry the thing and that it does,
// each with all answers of those pools and of the animals in them. In its pools, whoever
// else carries it is taken to shed as this animal does.
func (k *known) together(animal int, pools []int, never float64, all []cohort) (clean, carries float64, fits bool) {
	c := none(pools)
	for _, other := range k.in(pools, animal) {
		if c, fits = c.with(k.ways(other, c)); !fits {
			return 0, 0, false
		}
	}
	clean, carries = k.over(animal, c, never, all)
	return clean, carries, true
}

// ways are the chances of what an animal can be with its own answers, at any level.
func (k *known) ways(animal int, in counts) map[string]float64 {
	never, all := k.cohorts(animal)
	by := map[string]float64{in.step(nil): never}
	for _, c := range all {
		by[in.step(c.pools)] += c.by.mean()
	}
	return by
}

// over are both chances over the levels of the animal asked about.
func (k *known) over(animal int, c counts, never float64, all []cohort) (clean, carries float64) {
	for i, likely := range k.likelyOf(animal, c.pools) {
		clean += weights[i] * never * c.answered(nil, likely)
		for _, one := range all {
			if one.by[i] != 0 {
				carries += weights[i] * one.by[i] * c.answered(one.pools, likely)
			}
		}
	}
	return clean, carries
}

// apart are both chances where the pools are read one by one, each with the others in it
// by what their own samples alone say.
func (k *known) apart(animal int, never float64, all []cohort) (clean, carries float64) {
	pools := k.pools([]int{animal})
	in := make([]counts, len(pools))
	for n, p := range pools {
		in[n] = none([]int{p})
	}
	for n, p := range pools {
		for _, other := range k.in([]int{p}, animal) {
			ways := k.ways(other, in[n])
			sum := 0.0
			for _, chance := range ways {
				sum += chance
			}
			for step := range ways {
				ways[step] /= sum
			}
			in[n], _ = in[n].with(ways) // one pool has no more ways than animals
		}
	}
	for i, z := range levels {
		without, with := weights[i]*never, make([]float64, len(all))
		for j, one := range all {
			with[j] = weights[i] * one.by[i]
		}
		for n := range in {
			likely := [][]float64{k.likely(in[n].pools[0], z)}
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
	c := none(k.pools(group))
	nevers, cohorts := make([]float64, len(group)), make([][]cohort, len(group))
	for n, a := range group {
		nevers[n], cohorts[n] = k.cohorts(a)
	}
	without, all := 0.0, 0.0
	for i, z := range levels {
		var likely [][]float64
		for _, p := range c.pools {
			likely = append(likely, k.likely(p, z))
		}
		nobody, any, fits := c, c, true
		for n, a := range group {
			ways, never := map[string]float64{c.step(nil): nevers[n]}, map[string]float64{c.step(nil): nevers[n]}
			for _, one := range cohorts[n] {
				ways[c.step(one.pools)] += one.by[i]
			}
			if !asked(a) {
				never = ways
			}
			if any, fits = any.with(ways); !fits {
				return k.noneApart(group, asked)
			}
			nobody, _ = nobody.with(never) // no more than those of any
		}
		without += weights[i] * nobody.answered(nil, likely)
		all += weights[i] * any.answered(nil, likely)
	}
	return math.Min(1, without/all)
}

// noneApart is the same where there are too many ways: as if they were not linked.
func (k *known) noneApart(group []int, asked func(int) bool) float64 {
	none := 1.0
	for _, a := range group {
		if asked(a) {
			none *= 1 - k.chance(a)
		}
	}
	return none
}
