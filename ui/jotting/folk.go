package jotting

import (
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/jot"
	"coilward/model/knowledge"
)

// folk are those whom a line may name: the animals that are here, and the rooms,
// racks, shelves and boxes with those that live there now.
type folk struct {
	names   jot.Names
	first   []string // the names of the first two animals, for examples
	species map[model.AnimalID]knowledge.SpeciesID
}

func readFolk(v model.View, now model.Moment) (*folk, error) {
	all, err := animals.All(v)
	if err != nil {
		return nil, err
	}
	house, err := husbandry.ReadHouse(v)
	if err != nil {
		return nil, err
	}
	f := &folk{species: map[model.AnimalID]knowledge.SpeciesID{}}
	var here []jot.Animal
	for _, a := range all {
		if a.Status.Here() {
			here = append(here, jot.Animal{ID: a.ID, Name: a.Name, Code: a.Code})
			f.species[a.ID] = a.Species
		}
	}
	for _, a := range here[:min(2, len(here))] {
		f.first = append(f.first, a.Name)
	}
	var places []jot.Place
	for _, p := range house.Places() {
		if !p.Kind.Houses() {
			places = append(places, jot.Place{Name: p.Name, Animals: house.Living(p.ID, now)})
		} else if _, closed := house.Closed(p.ID); !closed {
			places = append(places, jot.Place{Name: p.Name, Code: p.Code, Title: house.Title(p.ID), Animals: house.Living(p.ID, now), Box: p.ID})
		}
	}
	f.names = jot.Known(here, places)
	return f, nil
}
