package evidence

import "coilward/model"

// Chance is the chance that an animal carries the thing, as of a day, over all ends of
// the ranges that it rests on. Case.Check has to accept the case.
func (c Case) Chance(animal int, day model.Day) Range {
	return c.over(day, func(k *known) float64 { return k.chance(animal) })
}

// AtLeastOne is the chance that at least one of some animals carries the thing; never
// below the chance of any of them.
func (c Case) AtLeastOne(of []int, day model.Day) Range {
	return c.over(day, func(k *known) float64 { return k.atLeastOne(of) })
}

// over is a chance at what is assumed, and the lowest and the highest of it at all ends.
func (c Case) over(day model.Day, chance func(*known) float64) Range {
	mid := chance(c.at(choice{}, day))
	r := Exactly(mid)
	for _, o := range c.ends() {
		at := chance(c.at(o, day))
		r.Low, r.High = min(r.Low, at), max(r.High, at)
	}
	return r
}

// ends are the choices of a low or a high end of everything that is a range.
func (c Case) ends() []choice {
	both, fixed := []int{-1, 1}, []int{0}
	pick := func(ranged bool) []int {
		if ranged {
			return both
		}
		return fixed
	}
	var prior, sensitivity, share, daily bool
	for _, a := range c.Animals {
		prior = prior || a.Prior.Low < a.Prior.High
		for _, e := range a.Exposed {
			daily = daily || e.Daily.Low < e.Daily.High
		}
	}
	for _, w := range c.Ways {
		sensitivity = sensitivity || w.Sensitivity.Low < w.Sensitivity.High
		share = share || w.Share.Low < w.Share.High
	}
	var all []choice
	for _, p := range pick(prior) {
		for _, s := range pick(sensitivity) {
			for _, r := range pick(share) {
				for _, l := range pick(c.Latent.Low < c.Latent.High) {
					for _, d := range pick(daily) {
						all = append(all, choice{p, s, r, l, d})
					}
				}
			}
		}
	}
	return all
}
