package shelf

import (
	"cmp"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/round"
	"coilward/model/samples"
)

// Kit is a kit that waits to be used.
type Kit struct {
	samples.Stored
	ForVet bool // the vet takes the sample
}

// Tubes are what the shelf knows of samples.
type Tubes struct {
	waiting []Kit
	last    samples.Stored // prepared last; its ID is zero where there is none
	vets    []model.PersonID
}

// ReadTubes reads the kits that wait, and what the last one was for.
func ReadTubes(v model.View, t *knowledge.Tables) (*Tubes, error) {
	all, _, err := samples.Legible(v)
	if err != nil {
		return nil, err
	}
	persons, err := people.All(v)
	if err != nil {
		return nil, fmt.Errorf("read who takes samples: %w", err)
	}
	tubes := &Tubes{}
	for _, p := range persons {
		if p.Is(people.Vet) {
			tubes.vets = append(tubes.vets, p.ID)
		}
	}
	for _, s := range all {
		if s.At.UTC > tubes.last.At.UTC || s.At.UTC == tubes.last.At.UTC && s.Kit.Number >= tubes.last.Kit.Number || tubes.last.ID.IsZero() {
			tubes.last = s
		}
		if s.Stage() == samples.ToTake && !s.Ahead(v.Now().Day()) {
			tubes.waiting = append(tubes.waiting, Kit{s, tubes.forVet(t, s.Sample)})
		}
	}
	return tubes, nil
}

// forVet reports whether the vet takes a sample: it was left to one, or nobody else
// takes of that material.
func (t *Tubes) forVet(tables *knowledge.Tables, s samples.Sample) bool {
	m, _ := tables.Material(s.Material)
	return slices.Contains(t.vets, s.TakenBy) || m.Takes == knowledge.ByVet
}

// Lay lays the kits that wait before the animals that they are for: that of a pool
// before the first of its animals that is here.
func (h *House) Lay(tubes *Tubes) {
	h.tubes = tubes
	for _, a := range h.animals {
		a.Kits = nil
	}
	for _, k := range tubes.waiting {
		for _, id := range k.Animals {
			if a := h.animals[id]; a != nil {
				a.Kits = append(a.Kits, k)
				break
			}
		}
	}
}

// swabs are the stops at an animal where samples are taken: one for each kit that
// waits for it, else one where a sample is due. A kit that waits for the vet is not
// due.
func swabs(place model.PlaceID, a *Animal, all bool) (stops []Stop) {
	wanted, late := round.Swab.Wants(a.Due)
	for _, k := range a.Kits {
		if all || !k.ForVet {
			stops = append(stops, Stop{Place: place, Animal: a.ID, Kit: k.ID, Late: late && !k.ForVet})
		}
	}
	if len(a.Kits) == 0 && (wanted || all) {
		stops = append(stops, Stop{Place: place, Animal: a.ID, Late: late})
	}
	return stops
}

// served puts stops into the order of the classes, which carries the least from one
// box to the next; those of one class, and those not housed yet, stay as they stand.
func served(stops []Stop, rows []Row) {
	class := map[model.AnimalID]int{}
	for _, row := range rows {
		for _, box := range row.Boxes {
			for _, a := range box.Animals {
				if class[a.ID] = int(a.Class()); row.Loose {
					class[a.ID] += 1 << 8 // behind all that are housed
				}
			}
		}
	}
	slices.SortStableFunc(stops, func(a, b Stop) int { return cmp.Compare(class[a.Animal], class[b.Animal]) })
}
