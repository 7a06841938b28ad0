package positives

import (
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// Kits are the samples that are laid out for some animals, each alone: of the material
// in which the thing was detected, for the same lab. Who is not here gets none, nor one
// for whom such a kit waits already, laid out and not taken yet, though not for a day ahead:
// waiting is how many those are. Where the sample cannot be read there are none.
func (t Trace) Kits(of []model.AnimalID) (each []samples.New, waiting int) {
	i := slices.IndexFunc(t.world.samples, func(s samples.Stored) bool { return s.ID == t.Sample })
	if i < 0 {
		return nil, 0
	}
	source := t.world.samples[i]
	for _, a := range of {
		waits := slices.ContainsFunc(t.world.samples, func(s samples.Stored) bool {
			return s.Stage() == samples.ToTake && !s.Ahead(t.world.now.Day()) && slices.Equal(s.Animals, []model.AnimalID{a}) && slices.Contains(s.For, t.Agent)
		})
		switch here, there := t.Animal(a); {
		case !there || !here.Status.Here():
		case waits:
			waiting++
		default:
			each = append(each, samples.New{Animals: []model.AnimalID{a}, Sample: samples.Sample{Material: source.Material, For: []knowledge.AgentID{t.Agent}, Lab: source.Lab}})
		}
	}
	return each, waiting
}
