package evidence

import "coilward/model"

// Apart is the chance of an animal as it is worked out where too many are linked.
func (c Case) Apart(animal int, day model.Day) float64 {
	k := c.at(choice{}, sightings{}).by(day)
	never, all := k.cohorts(animal)
	clean, carries := k.apart(animal, never, all)
	return carries / (clean + carries)
}

// InItsPools is the chance of an animal as it is worked out with its own pools alone.
func (c Case) InItsPools(animal int, day model.Day) float64 {
	k := c.at(choice{}, sightings{}).by(day)
	never, all := k.cohorts(animal)
	chance, _ := k.inItsPools(animal, k.pools([]int{animal}), never, all)
	return chance
}
