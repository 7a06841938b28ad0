package plan

import (
	"slices"

	"coilward/model/evidence"
)

// end is a choice within each of the ranges: -1 its low end, 0 what is assumed, 1 its high
// end.
type end [parts]int

// The ranges that there are.
const (
	chance = iota
	sensitivity
	share
	latent
	parts
)

func at(r evidence.Range, end int) float64 { return [3]float64{r.Low, r.Mid, r.High}[end+1] }

// ends are what is assumed, first; then each end alone with the rest as it is assumed; then
// all ends together. Package evidence takes its ranges over the same.
func (f Facts) ends() []end {
	ranged := [parts]bool{
		chance:      slices.ContainsFunc(f.Animals, func(a Animal) bool { return a.Chance.Low < a.Chance.High }),
		sensitivity: f.Way.Sensitivity.Low < f.Way.Sensitivity.High,
		share:       f.Way.Share.Low < f.Way.Share.High,
		latent:      f.Latent.Low < f.Latent.High,
	}
	all, corners := []end{{}}, []end{{}}
	for of, is := range ranged {
		if !is {
			continue
		}
		var next []end
		for _, side := range []int{-1, 1} {
			for _, e := range corners {
				e[of] = side
				next = append(next, e)
			}
			alone := end{}
			alone[of] = side
			all = append(all, alone)
		}
		corners = next
	}
	for _, e := range corners {
		if !slices.Contains(all, e) {
			all = append(all, e)
		}
	}
	return all
}
