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

// MostLinked is how many animals may hang together by pools to be worked out together, beyond
// those that share pools with the one that is asked about. More of them have far more ways than
// can be worked out, and finding them would take the time of all pools there are.
const MostLinked = 64

// linked are the animals that share pools with one, and with those, itself first; fits is
// false where they are too many: then they are those of its own pools.
func (k *known) linked(animal int) (all []int, fits bool) {
	all = []int{animal}
	own := 0
	for i := 0; i < len(all); i++ {
		for _, s := range k.samples {
			if slices.Contains(s.Of, all[i]) {
				for _, other := range s.Of {
					if !slices.Contains(all, other) {
						all = append(all, other)
					}
				}
			}
		}
		if i == 0 {
			own = len(all)
		}
		if len(all) > max(MostLinked, own) {
			return all[:own], false
		}
	}
	return all, true
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
	ways  []way // each with other counts
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
	sum.pools = c.pools
	at := make(map[string]int, len(c.ways))
	one := make([]byte, len(c.pools))
	for _, step := range slices.Sorted(maps.Keys(more)) {
		for _, w := range c.ways {
			chance := w.chance * more[step]
			if chance <= 0 {
				continue
			}
			for i := range one {
				one[i] = w.in[i] + step[i]
			}
			n, known := at[string(one)]
			if !known {
				if n = len(sum.ways); n == mostCounts {
					return c, false
				}
				sum.ways = append(sum.ways, way{in: string(one)})
				at[sum.ways[n].in] = n
			}
			sum.ways[n].chance += chance
		}
	}
	return sum, true
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
	if linked, fits := k.linked(animal); fits {
		if clean, carries, fits := k.together(animal, k.pools(linked), never, all); fits {
			return carries / (clean + carries)
		}
	}
	if clean, carries, fits := k.together(animal, k.pools([]int{animal}), never, all); fits {
		k.read(Own)
		return carries / (clean + carries)
	}
	k.read(Single)
	clean, carries := k.apart(animal, never, all)
	return carries / (clean + carries)
}

// read notes how much was worked out together.
func (k *known) read(l Linkage) {
	if k.linkage != nil {
		*k.linkage = max(*k.linkage, l)
	}
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
	if len(pools) == 0 {
		for _, one := range all {
			carries += one.by.mean()
		}
		return never, carries, true
	}
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
		group, fits := k.linked(animal)
		rest := slices.DeleteFunc(slices.Clone(group), func(a int) bool { return done[a] })
		for _, a := range rest {
			done[a] = true
		}
		if fits { // then none of them is done: who shares pools with all was reached from each
			none *= k.noneOf(group, of)
		} else {
			none *= k.noneApart(rest, of)
		}
	}
	return max(most, 1-none)
}

// noneOf is the chance that none of those asked about in a linked group carries it.
func (k *known) noneOf(group, of []int) float64 {
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
			if !slices.Contains(of, a) {
				never = ways
			}
			if any, fits = any.with(ways); !fits {
				return k.noneApart(group, of)
			}
			nobody, _ = nobody.with(never) // no more than those of any
		}
		without += weights[i] * nobody.answered(nil, likely)
		all += weights[i] * any.answered(nil, likely)
	}
	return math.Min(1, without/all)
}

// noneApart is the same where there are too many ways: as if they were not linked.
func (k *known) noneApart(group, of []int) float64 {
	k.read(Own)
	none := 1.0
	for _, a := range group {
		if slices.Contains(of, a) {
			none *= 1 - k.chance(a)
		}
	}
	return none
}
