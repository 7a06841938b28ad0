package plan

import "coilward/model/evidence"

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
	ranged := [parts]bool{latent: f.Latent.Low < f.Latent.High}
	of := func(w evidence.Way) {
		ranged[sensitivity] = ranged[sensitivity] || w.Sensitivity.Low < w.Sensitivity.High
		ranged[share] = ranged[share] || w.Share.Low < w.Share.High
	}
	of(f.Way)
	for _, a := range f.Animals {
		ranged[chance] = ranged[chance] || a.Chance.Low < a.Chance.High
		for _, o := range a.Others {
			of(o.By)
		}
	}
	for _, e := range evidence.Ends(ranged[:]) {
		all = append(all, end(e))
	}
	return all
}
