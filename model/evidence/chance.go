package evidence

import (
	"slices"

	"coilward/model"
)

// Linkage is how much of what shares pools is worked out together. The higher, the less: what
// is left out makes a chance wider of the truth, which has to be said.
type Linkage int

// How much.
const (
	Whole  Linkage = iota // all that share pools, and those that share pools with them
	Own                   // the animals of the animal's own pools, and no others
	Single                // its pools one by one, the others in each by their own samples alone
)

// Chance is the chance that an animal carries the thing, as of a day, over all ends of
// the ranges that it rests on. Case.Check has to accept the case.
func (c Case) Chance(animal int, day model.Day) Range {
	chance, _ := c.Linked(animal, day)
	return chance
}

// Linked is that chance, and how much of what shares pools was worked out together, at the
// end of the ranges at which it was least.
func (c Case) Linked(animal int, day model.Day) (Range, Linkage) {
	all, worst := c.over([]model.Day{day}, func(k *known) float64 { return k.chance(animal) })
	return all[0], worst
}

// Course is the chance of an animal as of each of some days.
func (c Case) Course(animal int, days []model.Day) []Range {
	all, _ := c.over(days, func(k *known) float64 { return k.chance(animal) })
	return all
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
	seen := sightings{}
	for n, o := range c.ends() {
		k := c.at(o, seen)
		for i := range all {
			then := *k
			then.day = days[i]
			for j, r := range []*Range{&all[i].Before, &all[i].After} {
				then.samples = k.samples[:ends[i]+j]
				r.Widen(then.chance(animal), n == 0)
			}
		}
	}
	return all
}

// AtLeastOne is the chance that at least one of some animals carries the thing, never below
// the chance of any of them; and how much of what shares pools was worked out together.
func (c Case) AtLeastOne(of []int, day model.Day) (Range, Linkage) {
	all, worst := c.over([]model.Day{day}, func(k *known) float64 { return k.atLeastOne(of) })
	return all[0], worst
}

// over is a chance as of each of some days at what is assumed, and the lowest and the
// highest of it at the ends of the ranges; and how it was worked out at worst.
func (c Case) over(days []model.Day, chance func(*known) float64) ([]Range, Linkage) {
	all := make([]Range, len(days))
	seen, worst := sightings{}, Whole
	for n, o := range c.ends() {
		k := c.at(o, seen)
		k.linkage = &worst
		for i, day := range days {
			all[i].Widen(chance(k.by(day)), n == 0)
		}
	}
	return all, worst
}

// ends are the choices of an end of everything that is a range.
func (c Case) ends() (all []choice) {
	ranged := c.ranged()
	for _, o := range Ends(ranged[:]) {
		all = append(all, choice(o))
	}
	return all
}

// ranged says of each part of a choice whether there is anything to choose.
func (c Case) ranged() (is [parts]bool) {
	wide := func(r Range) bool { return r.Low != r.High }
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
	is[ofLatent] = c.Latent.Low != c.Latent.High
	return is
}
