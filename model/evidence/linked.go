package evidence

import (
	"maps"
	"math"
	"slices"
)

// mostCounts bounds the time of working animals that share pools out together: how many
// ways there are at a time for their pools to have so many carriers in them, of those that can
// be. Twelve animals in pools of four hardly come to more in four rounds, however they are put
// together and whenever they may have caught it.
const mostCounts = 1 << 14

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
// and can be seen to, of all that can be. Of a pool all of whose animals are in, its answer
// is counted, and no more how many they are.
type counts struct {
	pools []int // places in known.samples
	of    []Sample
	looks []*look // of each pool
	left  []int   // how many of each are not in yet
	ways  []way   // each with other counts
}

// way is one way to have carriers in pools.
type way struct {
	in     string // how many, a byte for each pool
	chance float64
}

// look is what a pool of one size misses: by how many in it carry the thing, usually; and by
// how many others do where the animal asked about carries it, at each level of its own.
type look struct {
	usual  []float64
	beside []perLevel
}

// look is that of a pool, worked out once.
func (e *sighting) look(size int) *look {
	if known := e.looks[size]; known != nil {
		return known
	}
	l := &look{usual: make([]float64, size+1), beside: make([]perLevel, size)}
	for x := range l.usual {
		l.usual[x] = e.Usual(size, x)
	}
	for y := range l.beside {
		for i, z := range levels {
			l.beside[y][i] = e.Beside(size, y, z)
		}
	}
	e.looks[size] = l
	return l
}

// none has nobody in any of the pools.
func (k *known) none(pools []int) counts {
	c := counts{pools: pools, ways: []way{{string(make([]byte, len(pools))), 1}}}
	for _, p := range pools {
		s := k.samples[p]
		c.of, c.looks, c.left = append(c.of, s), append(c.looks, k.sightings[s.By].look(len(s.Of))), append(c.left, len(s.Of))
	}
	return c
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
func (c counts) with(animal int, more map[string]float64) (sum counts, fits bool) {
	sum = c
	sum.left, sum.ways = slices.Clone(c.left), nil
	var full []int
	for i, s := range c.of {
		if slices.Contains(s.Of, animal) {
			if sum.left[i]--; sum.left[i] == 0 {
				full = append(full, i)
			}
		}
	}
	at := make(map[string]int, len(c.ways))
	one := make([]byte, len(c.pools))
	for _, step := range slices.Sorted(maps.Keys(more)) {
		for _, w := range c.ways {
			chance := w.chance * more[step]
			for i := range one {
				one[i] = w.in[i] + step[i]
			}
			for _, i := range full {
				chance *= answered(c.of[i].Detected, c.looks[i].usual[one[i]])
				one[i] = 0
			}
			if chance <= 0 {
				continue
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

// answered is the chance of an answer, of that of "not detected".
func answered(detected bool, missed float64) float64 {
	if detected {
		return 1 - missed
	}
	return missed
}

// clean is the chance of what all pools answered where those that are not in do not carry
// the thing.
func (c counts) clean() (sum float64) {
	for _, w := range c.ways {
		chance := w.chance
		for i, s := range c.of {
			if c.left[i] > 0 {
				chance *= answered(s.Detected, c.looks[i].usual[w.in[i]])
			}
		}
		sum += chance
	}
	return sum
}

// beside is the same at each level of one that is not in, carries it and can be seen to in
// some of the pools.
func (c counts) beside(pools []int) (sum perLevel) {
	for _, w := range c.ways {
		var at perLevel
		for z := range at {
			at[z] = w.chance
		}
		for i, s := range c.of {
			if c.left[i] == 0 {
				continue
			}
			with, sees := &c.looks[i].beside[w.in[i]], slices.Contains(pools, c.pools[i])
			for z := range at {
				missed := c.looks[i].usual[w.in[i]]
				if sees {
					missed = with[z]
				}
				at[z] *= answered(s.Detected, missed)
			}
		}
		for z := range sum {
			sum[z] += at[z]
		}
	}
	return sum
}

// carries is that over all of its levels, with its own answers.
func (c counts) carries(one cohort) float64 {
	at := c.beside(one.pools)
	for z := range at {
		at[z] *= one.by[z]
	}
	return at.mean()
}

// chance is that of an animal to carry the thing: worked out together with all that
// share pools with it and with each other, or where these are too many with those in its
// own pools alone; where these too are too many, its pools are read one by one.
func (k *known) chance(animal int) float64 {
	never, all := k.cohorts(animal)
	if linked, fits := k.linked(animal); fits && !k.elsewhere(linked) {
		if clean, carries, fits := k.together(animal, k.pools(linked), never, all, k.ways); fits {
			return carries / (clean + carries)
		}
	}
	if chance, fits := k.inItsPools(animal, k.pools([]int{animal}), never, all); fits {
		k.read(Own)
		return chance
	}
	k.read(Single)
	clean, carries := k.apart(animal, never, all)
	return carries / (clean + carries)
}

// inItsPools is that chance with its own pools alone. What is left out may speak for the others
// in one in which something was detected, and so against this animal; or say that another in one
// with nothing detected carries it, so that the pool says less of this one: the chance is the
// larger of both.
func (k *known) inItsPools(animal int, own []int, never float64, all []cohort) (chance float64, fits bool) {
	clean, carries, fits := k.together(animal, own, never, all, k.ways)
	if !fits {
		return 0, false
	}
	chance = carries / (clean + carries)
	left := func(a int) bool { return k.foundElsewhere(a, own) }
	if slices.ContainsFunc(own, func(p int) bool { return k.samples[p].Detected }) || slices.ContainsFunc(k.in(own, animal), left) {
		if clean, carries, fits = k.together(animal, own, never, all, k.cautiously); !fits {
			return 0, false
		}
		chance = max(chance, carries/(clean+carries))
	}
	return chance, true
}

// elsewhere reports whether any of some animals were in pools that are not in the case.
func (k *known) elsewhere(of []int) bool {
	return slices.ContainsFunc(of, func(a int) bool { return len(k.animals[a].elsewhere) > 0 })
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
// each with all answers of those pools and of the animals in them.
func (k *known) together(animal int, pools []int, never float64, all []cohort, ways func(int, counts) map[string]float64) (clean, carries float64, fits bool) {
	c := k.none(pools)
	fits = true
	for _, other := range k.inOrder(k.in(pools, animal), c) {
		if c, fits = c.with(other, ways(other, c)); !fits {
			return 0, 0, false
		}
	}
	clean = never * c.clean()
	for _, one := range all {
		carries += c.carries(one)
	}
	return clean, carries, true
}

// inOrder are some animals in such an order that few pools are open at a time.
func (k *known) inOrder(all []int, c counts) (order []int) {
	left := slices.Clone(c.left)
	in := map[int][]int{}
	for i, s := range c.of {
		for _, a := range s.Of {
			in[a] = append(in[a], i)
		}
	}
	all = slices.Sorted(slices.Values(all))
	for len(all) > 0 {
		best, least := 0, math.MaxInt
		for n, a := range all {
			opened := 0
			for _, i := range in[a] {
				switch left[i] {
				case 1:
					opened--
				case len(c.of[i].Of):
					opened++
				}
			}
			if opened < least {
				best, least = n, opened
			}
		}
		for _, i := range in[all[best]] {
			left[i]--
		}
		order = append(order, all[best])
		all = slices.Delete(all, best, best+1)
	}
	return order
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

// cautiously are the same as they make the chance of one in the same pools the greatest: those
// with it in one that was detected are spoken for, the others suspected.
func (k *known) cautiously(animal int, in counts) map[string]float64 {
	if slices.ContainsFunc(in.of, func(s Sample) bool { return s.Detected && slices.Contains(s.Of, animal) }) {
		return k.spokenFor(animal, in)
	}
	return k.suspected(animal, in)
}

// suspected are the same where the animal is taken to carry the thing if it was detected in
// another pool of the animal.
func (k *known) suspected(animal int, in counts) map[string]float64 {
	if !k.foundElsewhere(animal, in.pools) {
		return k.ways(animal, in)
	}
	_, all := k.cohorts(animal)
	by := map[string]float64{}
	for _, c := range all {
		by[in.step(c.pools)] += c.by.mean()
	}
	return by
}

// foundElsewhere reports whether something was detected in a pool of an animal beside some.
func (k *known) foundElsewhere(animal int, beside []int) bool {
	for _, p := range k.pools([]int{animal}) {
		if k.samples[p].Detected && !slices.Contains(beside, p) {
			return true
		}
	}
	return slices.ContainsFunc(k.animals[animal].elsewhere, func(e Elsewhere) bool { return e.Detected && e.Day <= k.day })
}

// spokenFor are the same where all other pools of the animal that were not detected speak
// for it as much as they can: as if nobody else in them carried the thing. Those that were
// detected are left out.
func (k *known) spokenFor(animal int, in counts) map[string]float64 {
	never, all := k.cohorts(animal)
	by := map[string]float64{in.step(nil): never}
	for _, c := range all {
		chance := c.by.mean()
		for _, p := range c.pools {
			if s := k.samples[p]; !s.Detected && !slices.Contains(in.pools, p) {
				chance *= k.sightings[s.By].look(len(s.Of)).speaks()
			}
		}
		for _, e := range k.animals[animal].elsewhere {
			if e.Day <= k.day && !e.Detected {
				chance *= k.sightings[e.By].look(e.Size).speaks()
			}
		}
		by[in.step(c.pools)] += chance
	}
	return by
}

// speaks is how many times less often such a pool misses one carrier than none.
func (l *look) speaks() float64 { return l.usual[1] / l.usual[0] }

// apart are both chances where the pools are read one by one, each with the others in it
// by what their own samples alone say, as one that carries it where it was detected in another
// pool of theirs; in a detected one by all that speaks for them. One
// that was not detected is left out where another of its animals is in a detected one: if that
// is the reason, the pool says little of this animal.
func (k *known) apart(animal int, never float64, all []cohort) (clean, carries float64) {
	var detected []int
	for _, p := range k.pools([]int{animal}) {
		if k.samples[p].Detected {
			detected = append(detected, p)
		}
	}
	suspects := k.in(detected, animal)
	pools := slices.DeleteFunc(k.pools([]int{animal}), func(p int) bool {
		return !k.samples[p].Detected && slices.ContainsFunc(suspects, func(a int) bool { return slices.Contains(k.samples[p].Of, a) })
	})
	in := make([]counts, len(pools))
	for n, p := range pools {
		in[n] = k.none([]int{p})
		of := k.suspected
		if k.samples[p].Detected {
			of = k.spokenFor
		}
		for _, other := range k.in([]int{p}, animal) {
			ways := of(other, in[n])
			sum := 0.0
			for _, chance := range ways {
				sum += chance
			}
			for step := range ways {
				ways[step] /= sum
			}
			in[n], _ = in[n].with(other, ways) // one pool has no more ways than animals
		}
	}
	clean = never
	for n := range in {
		clean *= in[n].clean()
	}
	for _, one := range all {
		with := one.by
		for n := range in {
			at := in[n].beside(one.pools)
			for z := range with {
				with[z] *= at[z]
			}
		}
		carries += with.mean()
	}
	return clean, carries
}

// atLeastOne is the chance that at least one of some animals carries the thing.
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

// noneOf is the chance that none of those asked about in a linked group carries it: that the
// first of them does not, that then the second does not, and so on.
func (k *known) noneOf(group, of []int) float64 {
	c, fits := k.none(k.pools(group)), true
	var asked, rest []int
	for _, a := range group {
		if slices.Contains(of, a) {
			asked = append(asked, a)
		} else {
			rest = append(rest, a)
		}
	}
	slices.Sort(asked) // whatever the pools, so that one more of them does not change whom it is said of
	none := 1.0
	for _, a := range append(k.inOrder(rest, c), asked...) {
		if slices.Contains(of, a) { // those that are not in yet do not carry it
			never, all := k.cohorts(a)
			clean, carries := never*c.clean(), 0.0
			for _, one := range all {
				carries += c.carries(one)
			}
			none *= clean / (clean + carries)
		}
		if c, fits = c.with(a, k.ways(a, c)); !fits {
			return k.noneApart(group, of)
		}
	}
	return none
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
