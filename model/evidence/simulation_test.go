package evidence_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/evidence"
)

// animals is how many are drawn in a simulation.
const animals = 100_000

// TestChance_Calibrated draws animals from the picture that the package doc tells of,
// with no code of it, and wants of those with the same answers the share of carriers
// that is said, within two standard errors of each kind of answers seen at least 400
// times, and within three of every one of them.
func TestChance_Calibrated(t *testing.T) {
	for name, w := range worlds {
		t.Run(name, func(t *testing.T) { w.run(t) })
	}
}

// TestChance_WhereLoadsAddUp draws the same worlds as nature may have them: each animal sheds at
// a level of its own, in all pools that it is in, and what their swabs hold adds up. Where
// nothing was detected in a pool no more carry it than is said, but fewer may; of own samples
// alone the two are one. Where something was, the picture lets the others forget how they shed
// from pool to pool: those that were missed in one are likelier in it to be the reason in
// another than they are. The share may then be above what is said, by no more than 8 in 100; where
// one was missed alone again and again, or its samples are much alike, by no more than 25.
func TestChance_WhereLoadsAddUp(t *testing.T) {
	for name, w := range worlds {
		w.summed = true
		t.Run(name, func(t *testing.T) { w.run(t) })
	}
	for name, w := range missedOften {
		w.summed, w.short = true, .25
		t.Run(name, func(t *testing.T) { w.run(t) })
	}
}

// missedOften are worlds in which those beside the animal were missed more than once, and then
// something was detected in a pool of all: at the ends that the tables tell of.
var missedOften = map[string]simulated{
	"the other alone, five times": {
		prior: .2, latent: 0, se: .57, sp: .99, share: .6, spread: 3, usable: .95, members: 2,
		samples: []drawn{{day: 10, of: []int{1}}, {day: 15, of: []int{1}}, {day: 20, of: []int{1}}, {day: 25, of: []int{1}}, {day: 30, of: []int{1}}, {day: 50, of: []int{0, 1}}},
	},
	"each of the others alone": {
		prior: .2, latent: 0, se: .57, sp: .99, share: .6, spread: 3, usable: .95, members: 4,
		samples: []drawn{{day: 10, of: []int{1}}, {day: 20, of: []int{1}}, {day: 10, of: []int{2}}, {day: 20, of: []int{2}}, {day: 10, of: []int{3}}, {day: 20, of: []int{3}}, {day: 50, of: []int{0, 1, 2, 3}}},
	},
	"the others in pools": {
		prior: .2, latent: 0, se: .6, sp: .99, share: .6, spread: 3, usable: .95, members: 4,
		samples: []drawn{{day: 10, of: []int{1, 2, 3}}, {day: 20, of: []int{1, 2, 3}}, {day: 50, of: []int{0, 1, 2, 3}}},
	},
}

var worlds = map[string]simulated{
	"own samples alone": {
		prior: .2, latent: 14, se: .85, sp: .97, share: .3, spread: 3, usable: .95, members: 1,
		samples: []drawn{{day: 20, of: []int{0}}, {day: 40, of: []int{0}}, {day: 90, of: []int{0}}},
	},
	"caught while it lives here": {
		prior: .1, latent: 10, se: .8, sp: .98, share: .5, spread: 2, usable: .9, members: 1, daily: .01, from: 5, to: 60,
		samples: []drawn{{day: 12, of: []int{0}}, {day: 45, of: []int{0}}, {day: 80, of: []int{0}}},
	},
	"pools, one of them answered by own samples": {
		prior: .15, latent: 7, se: .85, sp: .98, share: .4, spread: 3, usable: .95, members: 3,
		samples: []drawn{{day: 10, of: []int{0, 1, 2}}, {day: 30, of: []int{0, 1, 2}}, {day: 35, of: []int{0}}, {day: 35, of: []int{1}}},
	},
	"linked through another": {
		prior: .25, latent: 0, se: .75, sp: .96, share: .2, spread: 4, usable: .9, members: 3,
		samples: []drawn{{day: 10, of: []int{0, 1}}, {day: 20, of: []int{1, 2}}, {day: 30, of: []int{2}}},
	},
	"a pool thrice": {
		prior: .4, latent: 0, se: .6, sp: .97, share: .5, spread: 3, usable: .95, members: 4,
		samples: []drawn{{day: 10, of: []int{0, 1, 2, 3}}, {day: 30, of: []int{0, 1, 2, 3}}, {day: 50, of: []int{0, 1, 2, 3}}},
	},
	"own samples, then a pool": {
		prior: .4, latent: 0, se: .6, sp: .97, share: .3, spread: 3, usable: .95, members: 4,
		samples: []drawn{{day: 10, of: []int{0}}, {day: 20, of: []int{0}}, {day: 30, of: []int{0}}, {day: 50, of: []int{0, 1, 2, 3}}},
	},
}

// simulated is a small world: the first of its members is asked about.
type simulated struct {
	prior                         float64
	latent                        int
	se, sp, share, spread, usable float64
	members                       int
	daily                         float64
	from, to                      int
	samples                       []drawn
	summed                        bool    // loads in a pool add up, each at the level of its animal
	short                         float64 // by how much what is said may then fall short; 0: by .08
}

type drawn struct {
	day int
	of  []int
}

const asOf = 100

func (w simulated) run(t *testing.T) {
	// One in twenty kinds of answers lies beyond two standard errors with any seed; with this one
	// those asked for two do not. With 2,000,000 animals, 64 kinds in the worlds as they are here,
	// one lay beyond two and none beyond three.
	draw := rand.New(rand.NewPCG(6, 26))
	margin := w.margin()
	carriers, all := map[string]int{}, map[string]int{}
	for range animals {
		answers, carries := w.one(draw, margin)
		all[answers]++
		if carries {
			carriers[answers]++
		}
	}
	told := 0
	for answers, n := range all {
		if n < 400 {
			continue
		}
		told++
		p := w.asked(answers).Chance(0, asOf)
		if p.Low != p.Mid || p.High != p.Mid {
			t.Fatalf("without ranges the chance is %v", p)
		}
		share := float64(carriers[answers]) / float64(n)
		if off := w.off(answers, share-p.Mid) / math.Sqrt(p.Mid*(1-p.Mid)/float64(n)); off > 3 {
			t.Errorf("%s: of %d told %.4f, %.4f carry it: %.1f standard errors", answers, n, p.Mid, share, off)
		}
	}
	if told < 2 {
		t.Fatalf("only %d kinds of answers were drawn often enough", told)
	}
	w.whole(t, all, carriers)
}

// whole wants the same of all animals that are told something alike, in tenths of the
// chance, within two standard errors.
func (w simulated) whole(t *testing.T, all, carriers map[string]int) {
	quiet := strings.Repeat("-", len(w.samples))
	type group struct{ n, carriers, told, variance float64 }
	tenths := map[int]*group{}
	for answers, n := range all {
		p := w.asked(answers).Chance(0, asOf).Mid
		if _, detected := w.pools(answers); w.summed && detected { // held against what is said kind by kind
			continue
		}
		g := tenths[int(p*10)]
		if g == nil {
			g = &group{}
			tenths[int(p*10)] = g
		}
		g.n, g.carriers = g.n+float64(n), g.carriers+float64(carriers[answers])
		g.told, g.variance = g.told+p*float64(n), g.variance+p*(1-p)*float64(n)
	}
	for tenth, g := range tenths {
		if off := w.off(quiet, g.carriers-g.told) / math.Sqrt(g.variance); g.n >= 400 && off > 2 {
			t.Errorf("of those told about %d in 10, %.0f of %.0f carry it, expected %.0f: %.1f standard errors", tenth, g.carriers, g.n, g.told, off)
		}
	}
}

// pools reports whether there are any, and whether something was detected in one.
func (w simulated) pools(answers string) (any, detected bool) {
	for i, d := range w.samples {
		if len(d.of) > 1 {
			any, detected = true, detected || answers[i] == '+'
		}
	}
	return any, detected
}

// off is how far a share lies off what is said, on the side that counts.
func (w simulated) off(answers string, by float64) float64 {
	switch any, detected := w.pools(answers); {
	case !w.summed || !any:
		return math.Abs(by)
	case detected && w.short > 0:
		return by - w.short
	case detected:
		return by - .08
	}
	return by
}

// margin is found by bisection on a fine sum, unlike in the program.
func (w simulated) margin() float64 {
	want := (w.se - (1 - w.sp)) / w.sp / w.usable
	low, high := -8.0, 8.0
	for range 60 {
		mid := (low + high) / 2
		if .5*math.Erfc(-mid/math.Sqrt2) < want {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

func (w simulated) one(draw *rand.Rand, margin float64) (answers string, carries bool) {
	level, caught := make([]float64, w.members), make([]int, w.members)
	for i := range w.members {
		level[i], caught[i] = draw.NormFloat64(), math.MaxInt32
		if draw.Float64() < w.prior {
			caught[i] = 0
		}
		for day := w.from; caught[i] != 0 && w.daily > 0 && day <= w.to; day++ {
			if draw.Float64() < w.daily {
				caught[i] = day
				break
			}
		}
	}
	for _, s := range w.samples {
		var in []int
		for _, a := range s.of {
			if caught[a] != math.MaxInt32 && caught[a]+w.latent <= s.day {
				in = append(in, a)
			}
		}
		seen := len(in) > 0 && draw.Float64() < w.usable && w.found(draw, margin, s.of, in, level)
		if seen || draw.Float64() > w.sp {
			answers += "+"
		} else {
			answers += "-"
		}
	}
	return answers, caught[0] != math.MaxInt32
}

// found reports whether a usable sample is. In the picture a pool is found for the animal
// asked about, or for the others in it, who are at one level, a new one in each pool.
func (w simulated) found(draw *rand.Rand, margin float64, pool, carriers []int, level []float64) bool {
	own, others := 0.0, 0.0
	for _, a := range carriers {
		load := math.Exp2(-w.spread * (math.Sqrt(w.share)*level[a] + math.Sqrt(1-w.share)*draw.NormFloat64()))
		if a == 0 || len(pool) == 1 || w.summed {
			own += load
		} else {
			others++
		}
	}
	others *= math.Exp2(-w.spread * draw.NormFloat64())
	least := float64(len(pool)) * math.Exp2(-w.spread*margin)
	return own > least || others > least
}

func (w simulated) asked(answers string) (c evidence.Case) {
	c.Latent.Low, c.Latent.Mid, c.Latent.High = w.latent, w.latent, w.latent
	c.Ways = []evidence.Way{{Sensitivity: evidence.Exactly(w.se), Share: evidence.Exactly(w.share), Specificity: w.sp, Spread: w.spread, Usable: w.usable}}
	for range w.members {
		a := evidence.Animal{Prior: evidence.Exactly(w.prior)}
		if w.daily > 0 {
			a.Exposed = []evidence.Exposure{{From: model.Day(w.from), To: model.Day(w.to), Daily: evidence.Exactly(w.daily)}}
		}
		c.Animals = append(c.Animals, a)
	}
	for i, s := range w.samples {
		c.Samples = append(c.Samples, evidence.Sample{Day: model.Day(s.day), Of: s.of, Detected: answers[i] == '+'})
	}
	return c
}
