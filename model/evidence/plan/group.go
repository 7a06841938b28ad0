package plan

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/evidence"
)

// week is the step of the days that are searched.
const week = 7

// group are animals of which the same is known, and which samples can see from the same
// week on: those that may share pools.
type group struct {
	animals []int
	chance  evidence.Range
	earlier int
	others  []Missed
	alone   bool      // each is sampled singly
	past    int       // the first group with the same earlier samples
	first   model.Day // of the days that are searched, the first on which all of them can be seen
	exposed model.Day // the last of their days
}

// latent are the latent days that a plan waits for.
func (f Facts) latent() model.Day {
	if f.Cautious {
		return model.Day(f.Latent.High)
	}
	return model.Day(f.Latent.Mid)
}

// start is the first day on which a sample of any of them can see, and of the days that
// are searched.
func (f Facts) start() model.Day {
	first := f.Animals[0].Exposed
	for _, a := range f.Animals {
		first = min(first, a.Exposed)
	}
	return max(f.Today, first+f.latent())
}

// groups are the animals by what is known of them, in the order in which they came.
func (f Facts) groups() (all []group) {
	start := f.start()
	for i, a := range f.Animals {
		first := start
		if late := a.Exposed + f.latent() - start; late > 0 {
			first += (late + week - 1) / week * week
		}
		at := slices.IndexFunc(all, func(g group) bool {
			return g.chance == a.Chance && g.missed(a) && g.first == first && g.alone == a.Alone
		})
		if at < 0 {
			at = len(all)
			all = append(all, group{chance: a.Chance, earlier: a.Earlier, others: a.Others, alone: a.Alone, first: first, exposed: a.Exposed})
			all[at].past = slices.IndexFunc(all, func(g group) bool { return g.missed(a) })
		}
		all[at].animals = append(all[at].animals, i)
		all[at].exposed = max(all[at].exposed, a.Exposed)
	}
	return all
}

// missed reports whether an animal has the same earlier samples as those of a group.
func (g group) missed(a Animal) bool {
	return g.earlier == a.Earlier && slices.Equal(g.others, a.Others)
}

// largest is the most animals of a group in a pool.
func (f Facts) largest(g group) int {
	if g.alone {
		return 1
	}
	return f.Largest
}

// last is the first day of the search on which all of them can be seen.
func last(groups []group) model.Day {
	return slices.MaxFunc(groups, func(a, b group) int { return cmp.Compare(a.first, b.first) }).first
}

// divided is how many pools of which sizes so many animals make when none is larger than
// wanted: as few as can be, as even as can be. The larger ones come first.
func divided(animals, largest int) (sizes []int) {
	pools := (animals + largest - 1) / largest
	for i := range pools {
		size := animals / pools
		if i < animals%pools {
			size++
		}
		sizes = append(sizes, size)
	}
	return sizes
}

// sizes are those of pools that so many animals can be divided into, each once.
func sizes(animals, largest int) (all []int) {
	for size := 1; size <= min(animals, largest); size++ {
		if divided(animals, size)[0] == size {
			all = append(all, size)
		}
	}
	return all
}
