package plan_test

import (
	"math"
	"slices"
)

// wanted is what a search is asked for.
type wanted struct {
	target                      float64
	lab, largest, rounds, apart int
	budget                      float64 // cents; 0: no limit
	latest                      int     // days from today; 0: no limit
}

// reached is a plan that reaches the target.
type reached struct {
	known int // days from today
	cost  float64
}

const hair = 1e-9

// tryAll tries all days of the grid, all sizes of pools, and for each herd every one of
// those days on which it can be seen. It gives the plans of which none is both cheaper
// and sooner, without the limits of money and time, the cheapest first.
func (w world) tryAll(herds []herd, want wanted) (best []reached) {
	start := math.MaxInt
	for _, h := range herds {
		start = min(start, max(0, h.sees))
	}
	// the last day on which the last herd can take its last round
	last := start
	for _, h := range herds {
		last = max(last, max(0, h.sees)+6+want.rounds*(want.apart+6))
	}
	known := map[int]float64{}
	var days []int
	var choose func(from int)
	choose = func(from int) {
		if cost, ok := w.cheapest(herds, days, want); ok {
			at := want.lab
			if len(days) > 0 {
				at += days[len(days)-1]
			}
			if old, there := known[at]; !there || cost < old {
				known[at] = cost
			}
		}
		if len(days) == want.rounds {
			return
		}
		for day := from; day <= last; day += 7 {
			days = append(days, day)
			next := day + 7
			for next-day < want.apart {
				next += 7
			}
			choose(next)
			days = days[:len(days)-1]
		}
	}
	choose(start)
	for at, cost := range known {
		best = append(best, reached{at, cost})
	}
	slices.SortFunc(best, func(a, b reached) int { return a.known - b.known })
	least := math.Inf(1)
	best = slices.DeleteFunc(best, func(r reached) bool {
		if r.cost >= least-hair {
			return true
		}
		least = r.cost
		return false
	})
	slices.Reverse(best)
	return best
}

// cheapest is what it costs at least to reach the target for all herds on some of these
// days, the last of them among those that are taken.
func (w world) cheapest(herds []herd, days []int, want wanted) (cost float64, ok bool) {
	for _, h := range herds {
		least := math.Inf(1)
		for which := range 1 << len(days) {
			var taken []int
			for i, day := range days {
				if which>>i&1 == 1 {
					taken = append(taken, day)
				}
			}
			if len(taken) > 0 && taken[0] < h.sees {
				continue
			}
			for size := 1; size <= min(h.count, want.largest); size++ {
				if t := w.often(h, size, taken); t.after <= want.target*(1+hair) {
					least = min(least, t.cost)
				}
			}
		}
		if math.IsInf(least, 1) {
			return 0, false
		}
		cost += least
	}
	return cost, true
}

// often is herded, which is asked again and again; all days can be seen, so that only
// their number counts.
func (w world) often(h herd, largest int, days []int) told {
	key := again{h, largest, len(days)}
	if t, ok := w.asked[key]; ok {
		return t
	}
	w.asked[key] = w.herded(h, largest, days)
	return w.asked[key]
}

type again struct {
	herd
	largest, rounds int
}
