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

// ends are those of all ranges, as package evidence takes them; what is assumed comes first.
func (f Facts) ends() (all []end) {
	ranged := [parts]bool{
		chance:      slices.ContainsFunc(f.Animals, func(a Animal) bool { return a.Chance.Low < a.Chance.High }),
		sensitivity: f.Way.Sensitivity.Low < f.Way.Sensitivity.High,
		share:       f.Way.Share.Low < f.Way.Share.High,
		latent:      f.Latent.Low < f.Latent.High,
	}
	for _, e := range evidence.Ends(ranged[:]) {
		all = append(all, end(e))
	}
	return all
}
