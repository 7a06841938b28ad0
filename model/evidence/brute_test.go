package evidence_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/evidence"
)

// brute works a case out at its middle by going through every way in which every animal
// can have caught the thing, day by day, and over a fine grid of levels; it shares no
// code with the program.
type brute struct {
	evidence.Case
	day    int
	asked  int
	missed map[string]float64 // what pools miss, worked out once
	margin []float64          // of the cut-off above the usual cycle, by way
}

// chance is that of the animal asked about.
func (b brute) chance() float64 {
	var clean, carries float64
	const from, to, step = -7.0, 7.0, .1
	caught := make([]int, len(b.Animals))
	for z := from; z <= to; z += step {
		density := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) * step
		b.days(0, caught, 1, func(chance float64) {
			all := density * chance * b.answers(caught, z)
			if caught[b.asked] == neverCaught {
				clean += all
			} else {
				carries += all
			}
		})
	}
	return carries / (clean + carries)
}

const neverCaught = math.MaxInt32

// days goes through the days on which the animals can have caught it.
func (b brute) days(animal int, caught []int, chance float64, each func(float64)) {
	if animal == len(caught) {
		each(chance)
		return
	}
	a := b.Animals[animal]
	caught[animal] = int(a.Arrived)
	b.days(animal+1, caught, chance*a.Prior.Mid, each)
	left := chance * (1 - a.Prior.Mid)
	for day := int(a.Arrived); day <= b.day; day++ {
		stays := 1.0
		for _, e := range a.Exposed {
			if int(e.From) <= day && day <= int(e.To) {
				stays *= 1 - e.Daily.Mid
			}
		}
		if stays < 1 {
			caught[animal] = day
			b.days(animal+1, caught, left*(1-stays), each)
			left *= stays
		}
	}
	caught[animal] = neverCaught
	b.days(animal+1, caught, left, each)
}

// answers is the chance of them all; the levels of the animals not asked about are
// averaged over each by itself.
func (b brute) answers(caught []int, z float64) float64 {
	all := 1.0
	for i := range b.Animals {
		if i != b.asked {
			all *= b.own(i, caught)
		}
	}
	for _, s := range b.Samples {
		switch {
		case len(s.Of) > 1:
			all *= b.pool(s, caught, z)
		case s.Of[0] == b.asked:
			all *= b.answer(s, caught, z)
		}
	}
	return all
}

// pool is the chance of what a pool said: of the others' carriers over all levels of theirs;
// and where the animal asked about is one that can be seen, of its being missed too.
func (b brute) pool(s evidence.Sample, caught []int, z float64) float64 {
	if int(s.Day) > b.day {
		return 1
	}
	w := b.Ways[s.By]
	without, alone := slices.Clone(caught), s
	without[b.asked] = neverCaught
	others := b.carriers(s, without)
	key := fmt.Sprint(s.By, len(s.Of), others)
	missed, known := b.missed[key]
	if !known {
		alone.Detected = false
		missed = b.mean([]evidence.Sample{alone}, without)
		b.missed[key] = missed
	}
	if b.carriers(s, caught) > others {
		useless := w.Specificity * (1 - w.Usable)
		own := b.misses(s, math.Pow(2, b.cycles(s, z)))
		missed = useless + (own-useless)*(missed-useless)/(w.Specificity*w.Usable)
	}
	if s.Detected {
		return 1 - missed
	}
	return missed
}

// cycles are those by which the load of an animal is above the usual one.
func (b brute) cycles(s evidence.Sample, z float64) float64 {
	w := b.Ways[s.By]
	return -w.Spread * math.Sqrt(w.Share.Mid) * z
}

// misses is the chance that a sample with such a load is not detected; that of a usual
// carrier is 1.
func (b brute) misses(s evidence.Sample, load float64) float64 {
	w := b.Ways[s.By]
	missed := w.Specificity
	if load > 0 {
		at := (b.margin[s.By]*w.Spread + math.Log2(load/float64(len(s.Of)))) / (w.Spread * math.Sqrt(1-w.Share.Mid))
		missed *= 1 - w.Usable*.5*math.Erfc(-at/math.Sqrt2)
	}
	return missed
}

// own is the chance of what the samples of one of the others alone said.
func (b brute) own(animal int, caught []int) float64 {
	var own []evidence.Sample
	for _, s := range b.Samples {
		if len(s.Of) == 1 && s.Of[0] == animal {
			own = append(own, s)
		}
	}
	return b.mean(own, caught)
}

// mean is the chance of what some samples said, over all levels.
func (b brute) mean(all []evidence.Sample, caught []int) (mean float64) {
	if len(all) == 0 {
		return 1
	}
	const step = .1
	for z := -7.0; z <= 7; z += step {
		one := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) * step
		for _, s := range all {
			one *= b.answer(s, caught, z)
		}
		mean += one
	}
	return mean
}

func (b brute) answer(s evidence.Sample, caught []int, z float64) float64 {
	if int(s.Day) > b.day {
		return 1
	}
	missed := b.misses(s, float64(b.carriers(s, caught))*math.Pow(2, b.cycles(s, z)))
	if s.Detected {
		return 1 - missed
	}
	return missed
}

// carriers are those in a sample that can be seen.
func (b brute) carriers(s evidence.Sample, caught []int) (n int) {
	for _, a := range s.Of {
		if caught[a] != neverCaught && caught[a]+b.Latent.Mid <= int(s.Day) {
			n++
		}
	}
	return n
}

// quantile of the standard normal distribution, by bisection.
func quantile(p float64) float64 {
	low, high := -9.0, 9.0
	for range 80 {
		if mid := (low + high) / 2; .5*math.Erfc(-mid/math.Sqrt2) < p {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// small draws a case, with shares up to one: beyond .7 twenty levels are too few to tell what a
// fine grid does, that can be gone through one by one.
func small(t *rapid.T, most int, share float64) evidence.Case {
	var c evidence.Case
	latent := rapid.IntRange(0, 12).Draw(t, "latent")
	c.Latent.Low, c.Latent.Mid, c.Latent.High = latent, latent, latent
	c.Ways = []evidence.Way{drawWay(t, share), drawWay(t, share)}
	for range rapid.IntRange(1, most).Draw(t, "animals") {
		a := evidence.Animal{Arrived: model.Day(rapid.IntRange(0, 5).Draw(t, "arrived")), Prior: evidence.Exactly(rapid.Float64Range(.01, .9).Draw(t, "prior"))}
		if rapid.Bool().Draw(t, "exposed") {
			from := rapid.IntRange(0, 15).Draw(t, "from")
			a.Exposed = append(a.Exposed, evidence.Exposure{From: model.Day(from), To: model.Day(from + rapid.IntRange(0, 3).Draw(t, "for")), Daily: evidence.Exactly(rapid.Float64Range(0, .2).Draw(t, "daily"))})
		}
		c.Animals = append(c.Animals, a)
	}
	everyone := make([]int, len(c.Animals))
	for i := range everyone {
		everyone[i] = i
	}
	for range rapid.IntRange(0, 4).Draw(t, "samples") {
		c.Samples = append(c.Samples, drawSample(t, everyone))
	}
	return c
}

func drawWay(t *rapid.T, share float64) evidence.Way {
	w := evidence.Way{Specificity: rapid.Float64Range(.8, .9999).Draw(t, "specificity"), Usable: rapid.Float64Range(.5, .99).Draw(t, "usable"), Spread: rapid.Float64Range(.5, 6).Draw(t, "spread")}
	sees := rapid.Float64Range(.05, .95).Draw(t, "sees") * w.Usable
	w.Sensitivity = evidence.Exactly(1 - (1-sees)*w.Specificity)
	w.Share = evidence.Exactly(rapid.Float64Range(0, share).Draw(t, "share"))
	return w
}

func drawSample(t *rapid.T, everyone []int) evidence.Sample {
	of := rapid.Permutation(everyone).Draw(t, "of")[:rapid.IntRange(1, len(everyone)).Draw(t, "in the pool")]
	return evidence.Sample{Day: model.Day(rapid.IntRange(0, 30).Draw(t, "day")), Of: of, By: rapid.IntRange(0, 1).Draw(t, "by"), Detected: rapid.Bool().Draw(t, "detected")}
}

func TestChance_EqualsGoingThroughEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := small(t, 3, .7)
		if refused := c.Check(); refused != nil {
			t.Fatalf("refused: %v", refused)
		}
		day := rapid.IntRange(10, 32).Draw(t, "as of")
		got := c.Chance(0, model.Day(day)).Mid
		b := brute{Case: c, day: day, missed: map[string]float64{}}
		for _, w := range c.Ways {
			b.margin = append(b.margin, quantile((w.Sensitivity.Mid-(1-w.Specificity))/w.Specificity/w.Usable))
		}
		want := b.chance()
		if math.Abs(got-want) > 2e-4+.002*want {
			t.Fatalf("got %.6f, going through everything gives %.6f", got, want)
		}
	})
}
