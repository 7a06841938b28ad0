package evidence

import (
	"cmp"
	"math"
	"slices"

	"coilward/model"
)

// known is a case at one choice within its ranges, by a day.
type known struct {
	latent    int
	sightings []*sighting
	animals   []carrier
	samples   []Sample // by day
	day       model.Day
	linkage   *Linkage // the least that was worked out together so far; nil: nobody asks
}

// carrier is an animal at that choice.
type carrier struct {
	arrived   model.Day
	prior     float64
	exposed   []exposed
	elsewhere []Elsewhere
}

type exposed struct {
	from, to model.Day
	kept     float64 // log of the chance that a day brings nothing
}

// escaped is the chance that an animal without the thing on arrival caught it on no day
// up to this one.
func (c carrier) escaped(day model.Day) float64 {
	sum := 0.0
	for _, e := range c.exposed {
		if last := min(e.to, day); last >= e.from {
			sum += float64(last-e.from+1) * e.kept
		}
	}
	if sum == 0 {
		return 1
	}
	return math.Exp(sum)
}

// choice is which end of each range is meant: the low one (-1), what is assumed (0) or the
// high one (1).
type choice [parts]int

// The ranges that a chance rests on.
const (
	ofPrior = iota
	ofSensitivity
	ofShare
	ofLatent
	ofDaily
	parts
)

// at is the case at one choice, with all samples.
func (c Case) at(o choice, seen sightings) *known {
	k := &known{latent: [3]int{c.Latent.Low, c.Latent.Mid, c.Latent.High}[o[ofLatent]+1]}
	for _, w := range c.Ways {
		k.sightings = append(k.sightings, seen.by(w, o))
	}
	for _, a := range c.Animals {
		one := carrier{arrived: a.Arrived, prior: a.Prior.At(o[ofPrior]), elsewhere: a.Elsewhere}
		for _, e := range a.Exposed {
			one.exposed = append(one.exposed, exposed{max(e.From, a.Arrived), e.To, math.Log1p(-e.Daily.At(o[ofDaily]))})
		}
		k.animals = append(k.animals, one)
	}
	for _, n := range c.order() {
		k.samples = append(k.samples, c.Samples[n])
	}
	return k
}

// sighting is a sight with what is worked out of it once: the log of the chance of each
// answer from a carrier's own sample, and what pools miss, by their size.
type sighting struct {
	Sight
	single [2]perLevel // not detected and detected
	looks  map[int]*look
}

// sightings are those of ways at their ends, each worked out once.
type sightings map[Figures]*sighting

// by is that of a way at one choice.
func (s sightings) by(w Way, o choice) *sighting {
	f := w.figures(w.Sensitivity.At(o[ofSensitivity]), w.Share.At(o[ofShare]))
	if known := s[f]; known != nil {
		return known
	}
	one := &sighting{Sight: f.Sight(), looks: map[int]*look{}}
	for i, z := range levels {
		one.single[0][i], one.single[1][i] = math.Log(one.likely(false, 1, 1, z)), math.Log(one.likely(true, 1, 1, z))
	}
	s[f] = one
	return one
}

// order are the places of the samples by the day on which they were taken.
func (c Case) order() (all []int) {
	for n := range c.Samples {
		all = append(all, n)
	}
	slices.SortStableFunc(all, func(a, b int) int { return cmp.Compare(c.Samples[a].Day, c.Samples[b].Day) })
	return all
}

// by is what is known by a day.
func (k *known) by(day model.Day) *known {
	then := *k
	then.day = day
	n, _ := slices.BinarySearchFunc(k.samples, day+1, func(s Sample, d model.Day) int { return cmp.Compare(s.Day, d) })
	then.samples = k.samples[:n]
	return &then
}

// cohort are the ways in which an animal may carry the thing that the same samples can
// see.
type cohort struct {
	pools []int    // places in known.samples of the pools that can see it
	by    perLevel // the chance of it and of the animal's own answers, at each level
}

// cohorts are the chance that an animal does not carry the thing, and the ways in which
// it may, each with the chance of its own answers; all are the larger by one factor, so that
// thousands of answers that contradict each other are no 0 of both.
func (k *known) cohorts(animal int) (never float64, all []cohort) {
	a := k.animals[animal]
	of := make([]int, 0, len(k.samples))
	for n, s := range k.samples {
		if slices.Contains(s.Of, animal) {
			of = append(of, n)
		}
	}
	// more is what each sample can see first, blind the log of the chance of what was answered
	// before; at the end stands what none of them can.
	blind, caught, more := make([]float64, len(of)+1), 0.0, make([]float64, len(of)+1)
	for n := range more {
		by := a.prior*boolean(n == len(of) || a.arrived+model.Day(k.latent) <= k.samples[of[n]].Day) + (1-a.prior)*(1-a.escaped(k.until(of, n)))
		more[n], caught = by-caught, by
		if n < len(of) {
			blind[n+1] = blind[n]
			if s := k.samples[of[n]]; len(s.Of) == 1 {
				blind[n+1] += math.Log(k.sightings[s.By].likely(s.Detected, 1, 0, 0))
			}
		}
	}
	all = make([]cohort, 0, 4) // most samples are of days on which nothing new can be seen
	// after is the log of the chance of the answers from each sample on, seen at each level.
	var after perLevel
	most := blind[len(of)]
	for n := len(of); n >= 0; n-- {
		if n < len(of) {
			if s := k.samples[of[n]]; len(s.Of) == 1 {
				single := &k.sightings[s.By].single[index(s.Detected)]
				for i := range after {
					after[i] += single[i]
				}
			}
		}
		if more[n] <= 0 {
			continue
		}
		c := cohort{}
		for i, chance := range after {
			c.by[i] = math.Log(more[n]) + blind[n] + chance
			most = max(most, c.by[i])
		}
		for _, at := range of[n:] {
			if len(k.samples[at].Of) > 1 {
				c.pools = append(c.pools, at)
			}
		}
		all = append(all, c)
	}
	for n := range all {
		for i, log := range all[n].by {
			all[n].by[i] = math.Exp(log - most)
		}
	}
	return (1 - a.prior) * a.escaped(k.day) * math.Exp(blind[len(of)]-most), all
}

// until is the last day of catching the thing that the nth of an animal's samples can
// see; past the last of them, the day on which all is known.
func (k *known) until(of []int, n int) model.Day {
	if n == len(of) {
		return k.day
	}
	return min(k.day, k.samples[of[n]].Day-model.Day(k.latent))
}

func index(detected bool) int {
	if detected {
		return 1
	}
	return 0
}

func boolean(b bool) float64 { return float64(index(b)) }
