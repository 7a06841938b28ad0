package evidence

import (
	"slices"

	"coilward/model"
)

// Chance is the chance that an animal carries the thing, as of a day, over all ends of
// the ranges that it rests on. Case.Check has to accept the case.
func (c Case) Chance(animal int, day model.Day) Range { return c.Course(animal, []model.Day{day})[0] }

// Course is the chance of an animal as of each of some days.
func (c Case) Course(animal int, days []model.Day) []Range {
	return c.over(days, func(k *known) float64 { return k.chance(animal) })
}

// Step is what one sample of an animal made of its chance, as of the day on which it was
// taken.
type Step struct {
	Sample        int // its place in Case.Samples
	Before, After Range
}

// Steps are those of all samples of an animal, by the day on which they were taken. What
// others' samples and days make of the chance lies between them.
func (c Case) Steps(animal int) (all []Step) {
	var days []model.Day
	var ends []int // how many of the samples are known before each step
	for n, at := range c.order() {
		if s := c.Samples[at]; slices.Contains(s.Of, animal) {
			all = append(all, Step{Sample: at})
			days, ends = append(days, s.Day), append(ends, n)
		}
	}
	for n, o := range append([]choice{{}}, c.ends()...) {
		k := c.at(o)
		for i := range all {
			then := *k
			then.day = days[i]
			for j, r := range []*Range{&all[i].Before, &all[i].After} {
				then.samples = k.samples[:ends[i]+j]
				r.widen(then.chance(animal), n == 0)
			}
		}
	}
	return all
}

// widen makes a range hold a chance; first is that of what is assumed.
func (r *Range) widen(chance float64, first bool) {
	if first {
		*r = Exactly(chance)
	}
	r.Low, r.High = min(r.Low, chance), max(r.High, chance)
}

// AtLeastOne is the chance that at least one of some animals carries the thing; never
// below the chance of any of them.
func (c Case) AtLeastOne(of []int, day model.Day) Range {
	return c.over([]model.Day{day}, func(k *known) float64 { return k.atLeastOne(of) })[0]
}

// over is a chance as of each of some days at what is assumed, and the lowest and the
// highest of it at the ends of the ranges.
func (c Case) over(days []model.Day, chance func(*known) float64) []Range {
	all := make([]Range, len(days))
	for n, o := range append([]choice{{}}, c.ends()...) {
		k := c.at(o)
		for i, day := range days {
			all[i].widen(chance(k.by(day)), n == 0)
		}
	}
	return all
}

// ends are the choices of a low or a high end of everything that is a range, all together
// and each with the rest as it is assumed.
func (c Case) ends() (all []choice) {
	ranged := c.ranged()
	corners := []choice{{}}
	for of, is := range ranged {
		if !is {
			continue
		}
		var next []choice
		for _, o := range corners {
			for _, end := range []int{-1, 1} {
				o[of] = end
				next = append(next, o)
			}
		}
		corners = next
		for _, end := range []int{-1, 1} {
			var alone choice
			alone[of] = end
			all = append(all, alone)
		}
	}
	if len(all) == 2 { // one range alone: its ends are the corners
		return corners
	}
	return append(all, corners...)
}

// ranged says of each part of a choice whether there is anything to choose.
func (c Case) ranged() (is [parts]bool) {
	wide := func(r Range) bool { return r.Low < r.High }
	for _, a := range c.Animals {
		is[ofPrior] = is[ofPrior] || wide(a.Prior)
		for _, e := range a.Exposed {
			is[ofDaily] = is[ofDaily] || wide(e.Daily)
		}
	}
	for _, w := range c.Ways {
		is[ofSensitivity] = is[ofSensitivity] || wide(w.Sensitivity)
		is[ofShare] = is[ofShare] || wide(w.Share)
	}
	is[ofLatent] = c.Latent.Low < c.Latent.High
	return is
}
