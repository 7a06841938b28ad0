package plan_test

import (
	"math"
	"math/bits"
	"slices"
)

// world is one choice of figures, written out apart from the program: nothing here
// imports what it is held against.
type world struct {
	se, sp, share, spread, usable float64
	test, swab                    float64        // cents
	grid                          []point        // levels over which means are taken
	margin                        float64        // of the cut-off above the usual cycle, in standard deviations
	asked                         map[again]told // by what was asked before
	other                         *world         // another way of looking; who sheds little does so in both
}

// herd are animals of which the same is known.
type herd struct {
	count   int
	chance  float64
	earlier int
	others  int // earlier samples by the other way
	sees    int // the day from which samples can see
}

// told is what going through everything says of a herd.
type told struct{ after, clear, quiet, cost float64 }

// point is a level of shedding, in standard deviations, with its weight.
type point struct{ z, weight float64 }

// hermite are the points and weights of Gauss and Hermite for a standard normal value: the
// roots of the polynomial of that degree, found by bisection.
func hermite(degree int) (all []point) {
	// the polynomials He of this degree and of the one below
	value := func(x float64) (at, below float64) {
		below, at = 1, x
		for k := 1; k < degree; k++ {
			below, at = at, x*at-float64(k)*below
		}
		return at, below
	}
	factorial := 1.0
	for k := 2; k < degree; k++ {
		factorial *= float64(k)
	}
	const step = 1.0 / 512
	for x := -10 + step/3; x < 10; x += step {
		low, high := x, x+step
		a, _ := value(low)
		b, _ := value(high)
		if a*b >= 0 {
			continue
		}
		for range 60 {
			mid := (low + high) / 2
			if m, _ := value(mid); m*a > 0 {
				low = mid
			} else {
				high = mid
			}
		}
		_, below := value(low)
		all = append(all, point{low, factorial / (float64(degree) * below * below)})
	}
	return all
}

// even is a fine grid of levels; of a smooth bell, means over evenly spaced points are
// exact to many digits.
func even() (all []point) {
	const from, step, points = -7.5, .1, 151
	for n := range points {
		z := from + float64(n)*step
		all = append(all, point{z, math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) * step})
	}
	return all
}

// normal is the chance of a standard normal value below x.
func normal(x float64) float64 { return .5 * math.Erfc(-x/math.Sqrt2) }

// at takes means over these levels, and finds the margin at which a mean over them of one
// own sample is what the figures say.
func (w world) at(grid []point) world {
	w.grid, w.asked = grid, map[again]told{}
	if w.other != nil {
		other := w.other.at(grid)
		w.other = &other
	}
	part := (w.se - (1 - w.sp)) / w.sp / w.usable
	low, high := -60.0, 60.0
	for range 200 {
		w.margin = (low + high) / 2
		mean := 0.0
		for _, p := range grid {
			mean += p.weight * normal((w.margin-math.Sqrt(w.share)*p.z)/math.Sqrt(1-w.share))
		}
		if mean < part {
			low = w.margin
		} else {
			high = w.margin
		}
	}
	return w
}

// detects is the chance of "detected" of a pool with so many carriers in it that can be
// seen.
func (w world) detects(size, carriers int, z float64) float64 {
	if carriers == 0 {
		return 1 - w.sp
	}
	cycles := w.margin*w.spread - math.Log2(float64(size)) + math.Log2(float64(carriers)) - z*w.spread*math.Sqrt(w.share)
	seen := w.usable * normal(cycles/(w.spread*math.Sqrt(1-w.share)))
	return 1 - (1-seen)*w.sp
}

// missedBefore is the chance that all earlier samples of a carrier missed it.
func (w world) missedBefore(h herd, z float64) float64 {
	missed := math.Pow(1-w.detects(1, 1, z), float64(h.earlier))
	if h.others > 0 {
		missed *= math.Pow(1-w.other.detects(1, 1, z), float64(h.others))
	}
	return missed
}

// pooled goes through every set of carriers in one pool, every level and every answer. What
// is left of the first animal is told of it at that level, with the others over all of theirs,
// anew in each sample; all else with all of them at one level.
func (w world) pooled(size int, h herd, days []int) (all told) {
	before := 0.0
	for _, p := range w.grid {
		before += p.weight * w.missedBefore(h, p.z)
	}
	samples := 0
	for _, day := range days {
		if day >= h.sees {
			samples++
		}
	}
	usual := make([]float64, size) // what a pool misses, by the others in it that carry the thing
	for x := range usual {
		for _, p := range w.grid {
			usual[x] += p.weight * (1 - w.detects(size, x, p.z))
		}
	}
	var carries, clean, sum float64
	for _, p := range w.grid {
		shed := w.missedBefore(h, p.z) / before
		for carriers := range 1 << size {
			others := bits.OnesCount(uint(carriers >> 1))
			asked, joint := p.weight, p.weight
			for animal := range size {
				has := carriers>>animal&1 == 1
				if !has {
					asked, joint = asked*(1-h.chance), joint*(1-h.chance)
					continue
				}
				joint *= h.chance * shed
				if asked *= h.chance; animal == 0 {
					asked *= shed
				}
			}
			t := (&tree{world: w, size: size, carriers: carriers, z: p.z, days: days, sees: h.sees}).from(0, false)
			if carriers&1 == 1 {
				useless := w.sp * (1 - w.usable)
				both := useless + (1-w.detects(size, 1, p.z)-useless)*(usual[others]-useless)/(w.sp*w.usable)
				carries += asked * math.Pow(both, float64(samples))
			} else {
				clean += asked * math.Pow(usual[others], float64(samples))
			}
			sum += joint
			all.clear += joint * t.clear
			all.quiet += joint * t.quiet
			all.cost += joint * t.cost
		}
	}
	all.after, all.clear, all.quiet, all.cost = carries/(carries+clean), all.clear/sum, all.quiet/sum, all.cost/sum
	return all
}

// tree goes through every answer of a pool whose carriers and level are known.
type tree struct {
	world
	size, carriers int
	z              float64
	days           []int
	sees           int
	known          map[branch]told
}

type branch struct {
	round   int
	alarmed bool
}

// from are the rounds from this one on.
func (t *tree) from(round int, alarmed bool) (sum told) {
	if round == len(t.days) {
		sum.clear = 1
		if !alarmed {
			sum.quiet = 1
		}
		return sum
	}
	if known, ok := t.known[branch{round, alarmed}]; ok {
		return known
	}
	carriers := t.carriers
	if t.days[round] < t.sees {
		carriers = 0
	}
	t.round(carriers, func(chance float64, detected, left, wrong bool, samples, swabs int) {
		cost := float64(samples)*t.test + float64(swabs)*t.swab
		next := told{clear: 1}
		if wrong = wrong || alarmed; !wrong {
			next.quiet = 1
		}
		if !left {
			next = t.from(round+1, wrong)
		}
		if detected {
			next.clear = 0
		}
		sum.clear += chance * next.clear
		sum.quiet += chance * next.quiet
		sum.cost += chance * (cost + next.cost)
	})
	if t.known == nil {
		t.known = map[branch]told{}
	}
	t.known[branch{round, alarmed}] = sum
	return sum
}

// round goes through the answers of one round. seen are the carriers past their latent
// days; who carries the thing is no false alarm, seen or not.
func (t *tree) round(seen int, each func(chance float64, detected, left, wrong bool, samples, swabs int)) {
	count := 0
	for animal := range t.size {
		count += seen >> animal & 1
	}
	pool := t.detects(t.size, count, t.z)
	each(1-pool, false, false, false, 1, t.size)
	own := func(animal int) float64 { return t.detects(1, seen>>animal&1, t.z) }
	if t.size == 1 {
		wrong := t.carriers == 0
		each(pool*own(0), true, true, wrong, 2, 2)
		each(pool*(1-own(0)), true, false, wrong, 2, 2)
		return
	}
	// of each animal: 0 not detected, 1 detected and not confirmed, 2 detected and confirmed
	answers := make([]int, t.size)
	for {
		chance, wrong, left, samples := pool, t.carriers == 0, false, 1+t.size
		for animal, a := range answers {
			d := own(animal)
			chance *= [3]float64{1 - d, d * (1 - d), d * d}[a]
			wrong = wrong || a > 0 && t.carriers>>animal&1 == 0
			left = left || a == 2
			if a > 0 {
				samples++
			}
		}
		each(chance, true, left, wrong, samples, t.size-1+samples)
		at := slices.IndexFunc(answers, func(a int) bool { return a < 2 })
		if at < 0 {
			return
		}
		for i := range at {
			answers[i] = 0
		}
		answers[at]++
	}
}

// herded is a herd in pools no larger than wanted, as few and as even as can be; the
// chance is the highest of any animal.
func (w world) herded(h herd, largest int, days []int) told {
	all := told{clear: 1, quiet: 1}
	pools := int(math.Ceil(float64(h.count) / float64(largest)))
	left := h.count
	for n := pools; n > 0; n-- {
		size := int(math.Ceil(float64(left) / float64(n)))
		left -= size
		t := w.pooled(size, h, days)
		all.after = max(all.after, t.after)
		all.clear *= t.clear
		all.quiet *= t.quiet
		all.cost += t.cost
	}
	return all
}
